"""A whole site file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from drafter.quantity import Kind, Units
from drafter.reader import Entry, EntryForm, ListForm, NamedForm, NumberForm, QuantityForm, TextForm, WordForm, key
from drafter.site.model.care import LeakReading
from drafter.site.model.drawing_data import DrawingData
from drafter.site.model.own_limits import RULE_ID, OwnLimit
from drafter.site.model.piping import Main
from drafter.site.model.plant import Compressor, Treatment
from drafter.site.model.ratings import PartRatings
from drafter.site.model.rooms import Room
from drafter.site.model.tubes import with_tubes
from drafter.site.model.use import Demand, Outlet, ServiceUnit, Work, WorkPlace
from drafter.site.wall import Wall, find_wall, in_words
from drafter.standards.components import component
from drafter.standards.materials import Material, material
from drafter.standards.rule_sets import RULE_SETS

FLOW_BASES = (
    "20 degC, 1 bar",
    "68 degF, 14.5 psi",
    "60 degF, 14.7 psi",
    "68 degF, 14.7 psi",
    "0 degC, 1.01325 bar",
    "site air",
)


@dataclass(frozen=True, kw_only=True)
class Site(Entry):
    """A whole site.

    Attributes:
        walls: the walls of each room in one plan, clockwise, with the datum corner at the origin.
        crossings: of each room, lines below its ceiling, measured like walls from their left-hand end.
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
    outlets: tuple[Outlet, ...] = key("outlets", ListForm(EntryForm(Outlet), 1, 2000))
    work_places: tuple[WorkPlace, ...] = key(
        "places", ListForm(EntryForm(WorkPlace), 0, 100), (), "that a hose is to reach"
    )
    demand: Demand = key("demand", EntryForm(Demand), Demand())
    work: Work | None = key("work", EntryForm(Work), None, "which tool runs when")
    part_prices: Mapping[str, float] = key(
        "part prices",
        NamedForm(
            NumberForm(0.01, 100000.0), "ball valve", r"[^\W_][^:#{}\[\]]{0,79}", "words of the parts schedule", 1, 200
        ),
        None,
        "of what the words begin an item of the parts schedule, each or a metre, in any currency",
    )
    part_ratings: PartRatings = key(
        "ratings", EntryForm(PartRatings), PartRatings(), "of the parts bought, as their labels say"
    )
    rule_set: str = key(
        "rules", WordForm(RULE_SETS), "", "codes it is held against", "us where lengths are in feet, else international"
    )
    energy_price: float | None = key(
        "energy price", NumberForm(0.001, 100000.0), None, "of a kilowatt-hour, in any currency"
    )
    leak_tests: tuple[LeakReading, ...] = key(
        "leak test", ListForm(EntryForm(LeakReading), 0, 50), (), "as the finished installation was tested"
    )
    own_limits: Mapping[str, OwnLimit] = key(
        "limits",
        NamedForm(EntryForm(OwnLimit), "FLOW001", RULE_ID, "the id of a rule, such as FLOW001"),
        None,
        "rules with another limit, or left out, each with its reason",
    )
    level_line_m: float = key(
        "level line",
        QuantityForm(Kind.LENGTH, "0.3 m", "2.5 m"),
        0.0,
        "struck level round the rooms, above the floor at the datum corner",
        "1 m, or 4 ft where lengths are in feet: common practice",
    )
    walls: Mapping[str, tuple[Wall, ...]] = field(default_factory=dict)
    crossings: Mapping[str, tuple[Wall, ...]] = field(default_factory=dict)

    def wall(self, room: str, name: str) -> Wall:
        """Return a wall or crossing that is known to exist."""
        wall = find_wall(self.faces_of(room), name)
        assert wall is not None
        return wall

    def wall_words(self, room: str, wall: str, words: Callable[[str], str] = in_words) -> str:
        """Return what a wall or crossing is called in a sentence, with its room where there are several."""
        return words(wall) + (f" of {room}" if len(self.rooms) > 1 else "")

    @property
    def is_dried(self) -> bool:
        """Whether a unit of the treatment dries the air."""
        return any(component(unit.kind).dew_point_k is not None for unit in self.treatment)

    @property
    def labelled_units(self) -> tuple[Treatment | ServiceUnit, ...]:
        """The units of the treatment, then those at the outlets: what has a label of its own."""
        return (*self.treatment, *(unit for outlet in self.outlets for unit in outlet.service))

    @property
    def line_pa(self) -> float:
        """The most that the line holds behind the treatment: the cut-out, or what a regulator of the train lets by."""
        settings = [unit.set_pa for unit in self.treatment if unit.set_pa is not None]
        return min([self.compressor.cut_out_pa, *settings])

    def faces_of(self, room: str) -> tuple[Wall, ...]:
        """Return the walls of a room, clockwise, and its crossings."""
        return (*self.walls[room], *self.crossings.get(room, ()))

    @property
    def faces(self) -> tuple[Wall, ...]:
        """The walls and crossings of all rooms, room by room."""
        return tuple(face for room in self.walls for face in self.faces_of(room))

    def with_main(self, **changes: Any) -> Site:
        """Return a site whose main has other values, by attribute; they count as said, not as assumed."""
        left = tuple(name for name in self.main.defaults if name not in changes)
        return replace(self, main=replace(self.main, **changes, defaults=left))

    @property
    def material(self) -> Material:
        """The material of the main, with the tube sizes and stock lengths that the site file gives."""
        family = with_tubes(material(self.main.material), self.main.tubes)
        stock_m = tuple(sorted(set(self.main.stock_m)))
        family = replace(family, trim_m=self.main.trim_m) if self.main.trim_m else family
        return replace(family, stock_lengths_m=stock_m) if stock_m else family

    @property
    def imperial(self) -> bool:
        return self.drawing.units == "imperial"

    @property
    def units(self) -> Units:
        return Units(self.imperial)
