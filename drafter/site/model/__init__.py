"""The entries a site file may have. Lengths are metres, pressures gauge pascals, temperatures kelvins.

Stand in the room and face a wall: ``from left`` runs from the left-hand corner along the floor line,
heights are above finished floor. Every default names where it comes from; the sheets print those taken.
"""

from drafter.site.model.drawing_data import (
    DISCIPLINES,
    DXF_FILES,
    DXF_VERSIONS,
    PAPERS,
    PLOT_STYLES,
    DrawingData,
    DxfData,
    Revision,
)
from drafter.site.model.piping import LineValve, Main, RouteCosts, Sleeve, SpareTee, WallOf, Waypoint
from drafter.site.model.plant import Compressor, Connection, Treatment
from drafter.site.model.ratings import PartRatings, Rated
from drafter.site.model.rooms import Behind, Column, Crossing, Deck, KeepClear, Opening, Room, Service, Standing
from drafter.site.model.site import FLOW_BASES, Site
from drafter.site.model.tubes import Tube
from drafter.site.model.use import (
    Demand,
    DemandCase,
    Hose,
    InUse,
    Outlet,
    ServiceUnit,
    ToolUse,
    Work,
    WorkPlace,
    WorkRun,
)
from drafter.site.model.walls import Studs, WallBuild

__all__ = [
    "DISCIPLINES",
    "DXF_FILES",
    "DXF_VERSIONS",
    "FLOW_BASES",
    "PAPERS",
    "PLOT_STYLES",
    "Behind",
    "Column",
    "Compressor",
    "Connection",
    "Crossing",
    "Deck",
    "Demand",
    "DemandCase",
    "DrawingData",
    "DxfData",
    "Hose",
    "InUse",
    "KeepClear",
    "LineValve",
    "Main",
    "Opening",
    "Outlet",
    "PartRatings",
    "Rated",
    "Revision",
    "Room",
    "RouteCosts",
    "Service",
    "ServiceUnit",
    "Site",
    "Sleeve",
    "SpareTee",
    "Standing",
    "Studs",
    "ToolUse",
    "Treatment",
    "Tube",
    "WallBuild",
    "WallOf",
    "Waypoint",
    "Work",
    "WorkPlace",
    "WorkRun",
]
