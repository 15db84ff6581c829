"""The entries a site file may have. Lengths are metres, pressures gauge pascals, temperatures kelvins.

Stand in the room and face a wall: ``from left`` runs from the left-hand corner along the floor line,
heights are above finished floor. Every default names where it comes from; the sheets print those taken.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from drafter.quantity import Kind, Quantity, Units
from drafter.reader import (
    CountForm,
    DateForm,
    Entry,
    EntryForm,
    ListForm,
    NamedForm,
    QuantityForm,
    TextForm,
    WordForm,
    key,
)
from drafter.site.wall import Wall, find_wall

PRACTICE = "common practice"

_LENGTH = QuantityForm(Kind.LENGTH, "0 mm", "500 m")
_SIZE = QuantityForm(Kind.LENGTH, "1 mm", "500 m")
_ANY_LENGTH = QuantityForm(Kind.LENGTH, "-500 m", "500 m")
_PRESSURE = QuantityForm(Kind.PRESSURE, "0.1 bar", "40 bar")
_AIR_TEMPERATURE = QuantityForm(Kind.TEMPERATURE, "-40 degC", "70 degC")
_TAG = TextForm("A1", 12)
_POINT = ListForm(_ANY_LENGTH, 2, 2)
_ROOM = TextForm("workshop", 31)
_NAME = TextForm("A. Name", 60)
_WALL = TextForm("north", 40)

PAPERS = ("A4", "A3", "A2", "A1", "Letter", "11x17", "ARCH C", "ARCH D")
FLOW_BASES = (
    "20 degC, 1 bar",
    "68 degF, 14.5 psi",
    "60 degF, 14.7 psi",
    "68 degF, 14.7 psi",
    "0 degC, 1.01325 bar",
)


@dataclass(frozen=True, kw_only=True)
class DrawingData(Entry):
    """What the title block says."""

    number: str = key("number", TextForm("WS-01", 16), "", "drawing number")
    revision: str = key("revision", TextForm("A", 4), "A", "revision index", PRACTICE)
    date: str = key("date", DateForm(), "", "date of issue")
    paper: str = key("paper", WordForm(PAPERS), "", "sheet size", "A3, or 11x17 where lengths are in feet")
    units: str = key("units", WordForm(("metric", "imperial")), "", "units drawn", "as most lengths of the file")
    discipline: str = key("discipline", WordForm(("M", "P")), "M", "letter before sheet numbers", PRACTICE)
    client: str = key("client", _NAME, "", "who it is for")
    address: str = key("address", TextForm("1 Mill Lane, Oxbow", 90), "", "where it is")
    drawn_by: str = key("drawn by", _NAME, "", "who drew it")
    checked_by: str = key("checked by", _NAME, "", "who checked it")
    approved_by: str = key("approved by", _NAME, "", "who approved it")
    installer: str = key("installer", _NAME, "", "who fits it, with licence number")


@dataclass(frozen=True, kw_only=True)
class Opening(Entry):
    """A door, overhead door, window or plain opening in a wall; heights are those of its head and sill."""

    kind: str = key("kind", WordForm(("door", "overhead door", "window", "opening")))
    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _LENGTH)
    width_m: float = key("width", _SIZE)
    height_m: float = key("height", _SIZE, 2.05, "head above floor", PRACTICE)
    sill_m: float = key("sill", _LENGTH, 0.9, "window sill above floor", PRACTICE)
    headroom_m: float = key("headroom", _LENGTH, 0.4, "shaft and springs above an overhead door", "from memory")
    tracks_m: float = key("tracks", _LENGTH, 0.0, "how far the tracks reach in; 0 for door height + 300 mm")
    hinge: str = key("hinge", WordForm(("left", "right")), "left", "side of the hinges, seen from the room")
    swing: str = key("swing", WordForm(("in", "out", "none")), "in", "which way the door opens")

    @property
    def bottom_m(self) -> float:
        """Height of the lower edge of the hole in the wall."""
        return self.sill_m if self.kind == "window" else 0.0

    @property
    def top_m(self) -> float:
        """Up to where it takes up its wall: its head, or the shaft and springs of an overhead door."""
        return self.height_m + (self.headroom_m if self.kind == "overhead door" else 0.0)

    @property
    def track_depth_m(self) -> float:
        """How far the tracks of an overhead door reach into the room (from memory where not given)."""
        return (self.tracks_m or self.height_m + 0.3) if self.kind == "overhead door" else 0.0


@dataclass(frozen=True, kw_only=True)
class Standing(Entry):
    """Something that stands or hangs in the room, placed from a wall like everything else."""

    kind: str = key("kind", WordForm(("bench", "machine", "cabinet", "shelf", "vehicle", "lift", "other")))
    name: str = key("name", TextForm("lathe", 30), "")
    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _LENGTH)
    off_wall_m: float = key("off wall", _LENGTH, 0.0, "gap to the wall", PRACTICE)
    width_m: float = key("width", _SIZE)
    depth_m: float = key("depth", _SIZE, 0.6, "from front to back", PRACTICE)
    height_m: float = key("height", _SIZE, 0.9, "of its top above floor", PRACTICE)
    above_floor_m: float = key("above floor", _LENGTH, 0.0, "of its underside")

    @property
    def leaves_room_behind(self) -> bool:
        """Whether a pipe may come down behind it (common practice)."""
        return self.kind in ("bench", "machine", "vehicle")


@dataclass(frozen=True, kw_only=True)
class Column(Entry):
    """A column or pilaster from floor to ceiling."""

    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _LENGTH)
    off_wall_m: float = key("off wall", _LENGTH, 0.0)
    width_m: float = key("width", _SIZE)
    depth_m: float = key("depth", _SIZE)


@dataclass(frozen=True, kw_only=True)
class KeepClear(Entry):
    """A volume that piping must not enter. An electrical panel brings its working space with it."""

    kind: str = key("kind", WordForm(("electrical panel", "volume")))
    name: str = key("name", TextForm("lathe", 30), "")
    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _LENGTH)
    width_m: float = key("width", _SIZE)
    depth_m: float = key(
        "depth",
        _SIZE,
        0.914,
        "from the wall into the room",
        "36 in: 29 CFR 1910.303 table S-1, to 150 V to ground",
    )
    height_m: float = key(
        "height", _SIZE, 2.0, "of the space, from its underside up", "6.5 ft working space: 29 CFR 1910.303, NEC 110.26"
    )
    above_floor_m: float = key("above floor", _LENGTH, 0.0)


@dataclass(frozen=True, kw_only=True)
class Behind(Entry):
    """Puts a room behind a wall of another; ``from left`` is measured there, to its near corner."""

    room: str = key("room", _ROOM)
    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _ANY_LENGTH)


@dataclass(frozen=True, kw_only=True)
class Room(Entry):
    """A room: a rectangle by its size along the north and the east wall, or any shape by its corners."""

    size_m: tuple[float, ...] = key("size", ListForm(_SIZE, 2, 2), (), "along the north wall, along the east wall")
    corners_m: Mapping[str, tuple[float, float]] = key(
        "corners",
        NamedForm(_POINT, "A", r"[A-Za-z0-9]{1,4}", "1 to 4 letters or digits", 3),
        None,
        "clockwise, each east and north of a common point",
    )
    at_m: tuple[float, ...] = key("at", _POINT, (), "south-west corner of a rectangle, east and north of that point")
    behind: Behind | None = key("behind", EntryForm(Behind), None, "puts it behind a wall of another room")
    ceiling_m: float = key("ceiling", QuantityForm(Kind.LENGTH, "1.8 m", "30 m"))
    wall_thickness_m: float = key("wall thickness", _SIZE, 0.15, "", PRACTICE)
    coldest_k: float = key("coldest", _AIR_TEMPERATURE, 278.15, "coldest air in the year", "5 degC, " + PRACTICE)
    warmest_k: float = key("warmest", _AIR_TEMPERATURE, 308.15, "warmest air in the year", "35 degC, " + PRACTICE)
    openings: tuple[Opening, ...] = key("openings", ListForm(EntryForm(Opening)), ())
    columns: tuple[Column, ...] = key("columns", ListForm(EntryForm(Column)), ())
    equipment: tuple[Standing, ...] = key("equipment", ListForm(EntryForm(Standing)), ())
    keep_clear: tuple[KeepClear, ...] = key("keep clear", ListForm(EntryForm(KeepClear)), ())


@dataclass(frozen=True, kw_only=True)
class Connection(Entry):
    """Where the compressor set gives its air: along the wall, and above the floor."""

    from_left_m: float = key("from left", _LENGTH)
    height_m: float = key("height", _SIZE)


@dataclass(frozen=True, kw_only=True)
class Compressor(Entry):
    """The compressor on its tank, as its data plate says."""

    room: str = key("room", _ROOM, "")
    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _LENGTH, meaning="to its left end")
    off_wall_m: float = key("off wall", _LENGTH, 0.3, "gap to the wall, for cooling air", PRACTICE)
    width_m: float = key("width", _SIZE, 1.1, "along the wall", PRACTICE)
    depth_m: float = key("depth", _SIZE, 0.5, "", PRACTICE)
    height_m: float = key("height", _SIZE, 0.9, "", PRACTICE)
    connection: Connection | None = key(
        "connection", EntryForm(Connection), None, "", "near the end with more wall, 0.6 m up; common practice"
    )
    power_w: float = key("power", QuantityForm(Kind.POWER, "100 W", "75 kW"))
    free_air: Quantity = key("free air", QuantityForm(Kind.FREE_AIR, "0.1 l/s", "300 l/s"), meaning="delivered")
    cut_in_pa: float = key("cut in", _PRESSURE)
    cut_out_pa: float = key("cut out", _PRESSURE)
    tank_m3: float = key("tank", QuantityForm(Kind.VOLUME, "1 l", "20000 l"))
    rated_pa: float = key("rated", _PRESSURE, meaning="highest pressure on the tank's data plate")
    relief_pa: float = key("relief", _PRESSURE, meaning="set pressure of the relief valve")


@dataclass(frozen=True, kw_only=True)
class Treatment(Entry):
    """One unit of the treatment train, in the order of flow."""

    ALONE: ClassVar[str] = "kind"
    kind: str = key(
        "kind",
        WordForm(
            (
                "aftercooler",
                "separator",
                "filter",
                "coalescing filter",
                "refrigeration dryer",
                "desiccant dryer",
                "regulator",
                "lubricator",
            )
        ),
    )
    drop_pa: float | None = key("drop", QuantityForm(Kind.PRESSURE, "0 bar", "2 bar"), None, "at full flow")
    set_pa: float | None = key("set", _PRESSURE, None, "what a regulator holds")


@dataclass(frozen=True, kw_only=True)
class Sleeve(Entry):
    """A place where the main passes through a wall into the room behind."""

    room: str = key("room", _ROOM, "")
    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _LENGTH)


@dataclass(frozen=True, kw_only=True)
class WallOf(Entry):
    """A wall, with its room where there are several."""

    ALONE: ClassVar[str] = "wall"
    wall: str = key("wall", _WALL)
    room: str = key("room", _ROOM, "")


@dataclass(frozen=True, kw_only=True)
class Main(Entry):
    """The main line."""

    material: str = key("material", TextForm("copper tube type L", 40))
    size: str = key("size", TextForm("auto", 20), "auto", "", "smallest within limits")
    drop_size: str = key("drop size", TextForm("auto", 20), "auto", "", "smallest within limits")
    height_m: float = key("height", QuantityForm(Kind.LENGTH, "1.5 m", "20 m"), meaning="of its centre at the high end")
    fall: float = key("fall", QuantityForm(Kind.SLOPE, "0 %", "5 %"), 0.01, "down, away from the compressor", PRACTICE)
    off_wall_m: float | None = key(
        "off wall", _SIZE, None, "pipe centre off the wall", "drops stand behind it, a swan neck nearer the wall"
    )
    drop_off_wall_m: float = key("drop off wall", _SIZE, 0.06, "pipe centre of drops", PRACTICE)
    path: tuple[WallOf, ...] = key("path", ListForm(EntryForm(WallOf)), (), "walls followed", "the short way round")
    through: tuple[Sleeve, ...] = key("through", ListForm(EntryForm(Sleeve)), (), "places to pass a wall")
    drains: str = key("drains", WordForm(("manual", "automatic")), "manual", "", PRACTICE)
    drain_height_m: float = key("drain height", _SIZE, 0.3, "of drain valves above floor", PRACTICE)


@dataclass(frozen=True, kw_only=True)
class ToolUse(Entry):
    """A tool used at an outlet; what is not given is taken from the table of typical tools."""

    ALONE: ClassVar[str] = "tool"
    tool: str = key("tool", TextForm("ratchet wrench", 40))
    free_air: Quantity | None = key("free air", QuantityForm(Kind.FREE_AIR, "0.01 l/s", "200 l/s"), None)
    pressure_pa: float | None = key("pressure", _PRESSURE, None, "needed at the tool")
    use: float | None = key("use", QuantityForm(Kind.SHARE, "0 %", "100 %"), None, "share of the time it runs")


@dataclass(frozen=True, kw_only=True)
class Outlet(Entry):
    """A wall outlet with its drop."""

    tag: str = key("tag", _TAG)
    room: str = key("room", _ROOM, "")
    wall: str = key("wall", _WALL)
    from_left_m: float = key("from left", _LENGTH)
    height_m: float = key("height", QuantityForm(Kind.LENGTH, "0.3 m", "4 m"), 1.2, "of the coupling", PRACTICE)
    tools: tuple[ToolUse, ...] = key("tools", ListForm(EntryForm(ToolUse)), ())
    coupling: str = key("coupling", WordForm(("1/4", "3/8", "1/2")), "1/4", "body size of the coupling", PRACTICE)
    service: tuple[str, ...] = key(
        "service", ListForm(WordForm(("filter", "regulator", "lubricator"))), (), "units at the outlet"
    )
    pressure_pa: float | None = key("pressure", _PRESSURE, None, "needed here", "highest of the tools")


@dataclass(frozen=True, kw_only=True)
class Demand(Entry):
    """How much is used together."""

    at_once: int | None = key("at once", CountForm(1, 500), None, "outlets in use together")
    leakage: float = key("leakage", QuantityForm(Kind.SHARE, "0 %", "50 %"), 0.1, "of the average", PRACTICE)
    growth: float = key("growth", QuantityForm(Kind.SHARE, "0 %", "200 %"), 0.2, "for later", PRACTICE)


@dataclass(frozen=True, kw_only=True)
class Site(Entry):
    """A whole site.

    Attributes:
        walls: the walls of each room in one plan, clockwise, with the datum corner at the origin.
    """

    name: str = key("site", TextForm("My workshop", 60))
    drawing: DrawingData = key("drawing", EntryForm(DrawingData), DrawingData())
    flow_basis: str = key("flow basis", WordForm(FLOW_BASES), FLOW_BASES[0], "conditions of free air", "ISO 1217")
    altitude_m: float = key("altitude", QuantityForm(Kind.LENGTH, "-400 m", "4500 m"), 0.0, "above sea level")
    threads: str = key("threads", WordForm(("G", "NPT")), "", "thread standard", "NPT where lengths are in feet")
    rooms: Mapping[str, Room] = key("rooms", NamedForm(EntryForm(Room), "workshop"))
    compressor: Compressor = key("compressor", EntryForm(Compressor))
    treatment: tuple[Treatment, ...] = key("treatment", ListForm(EntryForm(Treatment)), ())
    main: Main = key("main", EntryForm(Main))
    outlets: tuple[Outlet, ...] = key("outlets", ListForm(EntryForm(Outlet), 1))
    demand: Demand = key("demand", EntryForm(Demand), Demand())
    walls: Mapping[str, tuple[Wall, ...]] = field(default_factory=dict)

    def wall(self, room: str, name: str) -> Wall:
        """Return a wall that is known to exist."""
        wall = find_wall(self.walls[room], name)
        assert wall is not None
        return wall

    @property
    def imperial(self) -> bool:
        return self.drawing.units == "imperial"

    @property
    def units(self) -> Units:
        return Units(self.imperial)
