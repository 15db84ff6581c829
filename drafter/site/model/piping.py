"""The main line and where it goes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from drafter.quantity import Kind, Quantity
from drafter.reader import Entry, EntryForm, ListForm, NamedForm, NumberForm, QuantityForm, TextForm, WordForm, key
from drafter.site.model.forms import LENGTH, PRACTICE, ROOM, SIZE, WALL
from drafter.site.model.tubes import Tube

_AS_PIPE = QuantityForm(Kind.LENGTH, "0 m", "100 m")


@dataclass(frozen=True, kw_only=True)
class Sleeve(Entry):
    """A place where the main passes through a wall into the room behind."""

    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)


@dataclass(frozen=True, kw_only=True)
class Waypoint(Entry):
    """A place on a wall that the main must come by."""

    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)


@dataclass(frozen=True, kw_only=True)
class RouteCosts(Entry):
    """What counts against a way of the main besides its length, in metres of pipe."""

    bend_m: float = key("bend", _AS_PIPE, 0.6, "each bend, as so much pipe", f"{PRACTICE}: its price and two joints")
    wall_m: float = key("wall", _AS_PIPE, 2.0, "each wall passed, as so much pipe", PRACTICE)
    ceiling: float = key(
        "ceiling", NumberForm(1.0, 20.0), 1.5, "each metre across below the ceiling, as so many", f"{PRACTICE}: hangers"
    )


@dataclass(frozen=True, kw_only=True)
class WallOf(Entry):
    """A wall, with its room where there are several."""

    ALONE: ClassVar[str] = "wall"
    wall: str = key("wall", WALL)
    room: str = key("room", ROOM, "")


@dataclass(frozen=True, kw_only=True)
class LineValve(Entry):
    """A place in the main for a valve that shuts what lies behind it."""

    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)


@dataclass(frozen=True, kw_only=True)
class SpareTee(Entry):
    """A plugged tee in the main, for a drop that may come later."""

    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    free_air: Quantity | None = key(
        "free air",
        QuantityForm(Kind.FREE_AIR, "0.01 l/s", "200 l/s"),
        None,
        "of the later drop",
        "the site's hungriest",
    )


@dataclass(frozen=True, kw_only=True)
class Main(Entry):
    """The main line.

    Attributes:
        level_open: whether its height is left to be chosen; `height_m` is then as high as the ceilings allow.
    """

    material: str = key("material", TextForm("copper tube type L", 40))
    tubes: tuple[Tube, ...] = key(
        "tubes",
        ListForm(EntryForm(Tube), 0, 20),
        (),
        "sizes of the make bought, for the material's own",
    )
    size: str = key("size", TextForm("auto", 20), "auto", "", "smallest within limits")
    drop_size: str = key("drop size", TextForm("auto", 20), "auto", "", "smallest within limits")
    sizing: str = key(
        "sizing", WordForm(("one size", "stepped")), "one size", "stepped: each stretch its own", PRACTICE
    )
    prices: Mapping[str, float] = key(
        "prices",
        NamedForm(NumberForm(0.01, 10000.0), "22 x 1.5", r"[^\W_][\w ./-]{0,19}", "the name of a size"),
        None,
        "of a metre of each size, in any currency; only sizes with a price are chosen",
    )
    other_prices: Mapping[str, Mapping[str, float]] = key(
        "other prices",
        NamedForm(
            NamedForm(NumberForm(0.01, 10000.0), "3/4", r"[^\W_][\w ./-]{0,19}", "the name of a size"),
            "steel pipe schedule 40",
            r"[^\W_][\w -]{0,39}",
            "the name of a material",
        ),
        None,
        "the same of other materials, which the options are compared by",
    )
    turns: str = key(
        "turns", WordForm(("fittings", "bent")), "fittings", "bent: the tube itself, where its legs have room", PRACTICE
    )
    stock_m: tuple[float, ...] = key(
        "stock",
        ListForm(QuantityForm(Kind.LENGTH, "1 m", "500 m"), 0, 4),
        (),
        "lengths of tube on sale, straight or coiled",
    )
    kerf_m: float | None = key(
        "kerf",
        QuantityForm(Kind.LENGTH, "0 mm", "10 mm"),
        None,
        "lost at each cut",
        "3 mm or what the material's saw takes",
    )
    trim_m: float | None = key(
        "trim",
        QuantityForm(Kind.LENGTH, "0 mm", "200 mm"),
        None,
        "cut off the first end of each length of tube, where it comes crooked, battered or threaded",
        "nothing, common practice",
    )
    height_m: float = key(
        "height", QuantityForm(Kind.LENGTH, "1.5 m", "20 m", "auto"), meaning="of its centre at the high end"
    )
    fall: float = key("fall", QuantityForm(Kind.SLOPE, "0 %", "5 %"), 0.01, "down towards its drains", PRACTICE)
    falls_to: str = key(
        "falls to", WordForm(("ends", "riser")), "ends", "riser: its ends are high, its water runs back", PRACTICE
    )
    lowest_m: float = key(
        "lowest",
        QuantityForm(Kind.LENGTH, "1.5 m", "20 m"),
        0.0,
        "of its centre: where it would come lower it drains and rises again",
    )
    off_wall_m: float | None = key(
        "off wall", SIZE, None, "pipe centre off the wall", "drops stand behind it, a swan neck nearer the wall"
    )
    drop_off_wall_m: float = key("drop off wall", SIZE, 0.06, "pipe centre of drops", PRACTICE)
    arrangement: str = key(
        "arrangement", WordForm(("dead end", "ring")), "dead end", "a ring follows all walls of its room", PRACTICE
    )
    path: tuple[WallOf, ...] = key("path", ListForm(EntryForm(WallOf)), (), "walls followed", "the short way round")
    waypoints: tuple[Waypoint, ...] = key(
        "by way of", ListForm(EntryForm(Waypoint), 0, 20), (), "places on walls that it must come by"
    )
    costs: RouteCosts = key("costs", EntryForm(RouteCosts), RouteCosts(), "of a way besides its length")
    through: tuple[Sleeve, ...] = key("through", ListForm(EntryForm(Sleeve)), (), "places to pass a wall")
    spare_tees: tuple[SpareTee, ...] = key(
        "spare tees", ListForm(EntryForm(SpareTee), 0, 50), (), "plugged tees for later drops"
    )
    shut_off: str = key(
        "shut off",
        WordForm(("arms", "sections")),
        "arms",
        "what of a dead end gets valves: its arms where it first divides, or every arm and every room",
        PRACTICE,
    )
    valves: tuple[LineValve, ...] = key(
        "valves", ListForm(EntryForm(LineValve), 0, 50), (), "more of them in the main, where you want them"
    )
    drains: str = key("drains", WordForm(("manual", "automatic")), "manual", "", PRACTICE)
    drain_height_m: float = key("drain height", SIZE, 0.3, "of drain valves above floor", PRACTICE)
    level_open: bool = False
