"""Rooms and what stands in them. Stand in the room and face a wall: ``from left`` runs from its left-hand corner."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drafter.quantity import Kind
from drafter.reader import Entry, EntryForm, ListForm, NamedForm, QuantityForm, TextForm, WordForm, key
from drafter.site.model.forms import AIR_TEMPERATURE, ANY_LENGTH, LENGTH, POINT, PRACTICE, ROOM, SIZE, WALL
from drafter.site.model.walls import Studs, WallBuild
from drafter.site.wall import CROSSING


@dataclass(frozen=True, kw_only=True)
class Opening(Entry):
    """A door, overhead door, window or plain opening in a wall; heights are those of its head and sill."""

    kind: str = key("kind", WordForm(("door", "overhead door", "window", "opening")))
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    width_m: float = key("width", SIZE)
    height_m: float = key("height", SIZE, 2.05, "head above floor", PRACTICE)
    sill_m: float = key("sill", LENGTH, 0.9, "window sill above floor", PRACTICE)
    headroom_m: float = key("headroom", LENGTH, 0.4, "shaft and springs above an overhead door", "from memory")
    tracks_m: float = key("tracks", LENGTH, 0.0, "how far the tracks reach in; 0 for door height + 300 mm")
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
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    off_wall_m: float = key("off wall", LENGTH, 0.0, "gap to the wall", PRACTICE)
    width_m: float = key("width", SIZE)
    depth_m: float = key("depth", SIZE, 0.6, "from front to back", PRACTICE)
    height_m: float = key("height", SIZE, 0.9, "of its top above floor", PRACTICE)
    above_floor_m: float = key("above floor", LENGTH, 0.0, "of its underside")

    @property
    def leaves_room_behind(self) -> bool:
        """Whether a pipe may come down behind it (common practice)."""
        return self.kind in ("bench", "machine", "vehicle")


@dataclass(frozen=True, kw_only=True)
class Column(Entry):
    """A column or pilaster from floor to ceiling."""

    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    off_wall_m: float = key("off wall", LENGTH, 0.0)
    width_m: float = key("width", SIZE)
    depth_m: float = key("depth", SIZE)


@dataclass(frozen=True, kw_only=True)
class KeepClear(Entry):
    """A volume that piping must not enter. An electrical panel brings its working space with it."""

    kind: str = key("kind", WordForm(("electrical panel", "volume")))
    name: str = key("name", TextForm("lathe", 30), "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    width_m: float = key("width", SIZE)
    depth_m: float = key(
        "depth",
        SIZE,
        0.914,
        "from the wall into the room",
        "36 in: 29 CFR 1910.303 table S-1, to 150 V to ground; as the table has it where the voltage is given",
    )
    voltage: str = key("voltage", WordForm(("to 150 V", "to 600 V")), "", "of a panel, to ground", "to 150 V")
    opposite: str = key(
        "opposite",
        WordForm(("insulated", "grounded", "live")),
        "grounded",
        "what a panel faces: grounded walls are concrete, brick, tile; live: other live parts",
        PRACTICE,
    )
    height_m: float = key(
        "height",
        SIZE,
        2.0,
        "of the space, from its underside up",
        "as the set of rules has it: 6.5 ft after 29 CFR 1910.303, else 2 m",
    )
    above_floor_m: float = key("above floor", LENGTH, 0.0)


SERVICE_CLEARANCES_M = {
    "cables": 0.1,
    "gas pipe": 0.05,
    "water pipe": 0.05,
    "hot pipe": 0.3,
    "duct": 0.05,
    "light": 0.15,
    "flue": 0.3,
}
"""Kept between piping and another service where the site file gives none: common practice, from memory."""


@dataclass(frozen=True, kw_only=True)
class Service(Entry):
    """Another service on a wall, such as a cable tray or a dust duct, that piping keeps clear of."""

    kind: str = key("kind", WordForm(tuple(SERVICE_CLEARANCES_M)))
    name: str = key("name", TextForm("dust duct", 30), "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    width_m: float = key("width", SIZE, meaning="along the wall")
    height_m: float = key("height", SIZE, 0.1, "from its underside up", PRACTICE)
    depth_m: float = key("depth", SIZE, 0.2, "from the wall into the room", PRACTICE)
    above_floor_m: float = key("above floor", LENGTH, meaning="of its underside")
    off_wall_m: float = key("off wall", LENGTH, 0.0, "gap to the wall, as of a light in mid-room")
    clearance_m: float | None = key("clearance", SIZE, None, "all round", f"by its kind, {PRACTICE}, from memory")

    @property
    def clear_m(self) -> float:
        """What piping keeps from it."""
        return SERVICE_CLEARANCES_M[self.kind] if self.clearance_m is None else self.clearance_m


def crossing_name(number: int) -> str:
    """Return what a crossing of a room is called, counted from 1 in the order of the site file."""
    return f"{CROSSING}{number}"


@dataclass(frozen=True, kw_only=True)
class Crossing(Entry):
    """A line straight across a room, from a wall to the one that faces it, on which the main may hang."""

    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    height_m: float = key(
        "height",
        QuantityForm(Kind.LENGTH, "1.8 m", "20 m"),
        0.0,
        "of the pipe's centre at its high end, above the main's",
    )
    joists: Studs | None = key(
        "joists", EntryForm(Studs), None, "that hangers are screwed to, the first from this wall; without them anywhere"
    )


@dataclass(frozen=True, kw_only=True)
class Deck(Entry):
    """A floor over a part of a room, such as a mezzanine, placed from a wall; pipes pass it upright, in a sleeve."""

    name: str = key("name", TextForm("mezzanine", 30), "mezzanine")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    off_wall_m: float = key("off wall", LENGTH, 0.0, "gap to the wall")
    width_m: float = key("width", SIZE, meaning="along the wall")
    depth_m: float = key("depth", SIZE, meaning="from the wall into the room")
    underside_m: float = key("underside", SIZE, meaning="above the floor below")
    thickness_m: float = key("thickness", SIZE, 0.25, "from its underside to its floor", PRACTICE)

    @property
    def placed(self) -> tuple[float, float, float, float]:
        """Where it lies, from its wall: from left, off wall, width, depth [m]."""
        return self.from_left_m, self.off_wall_m, self.width_m, self.depth_m

    @property
    def top_m(self) -> float:
        """Its floor, above the floor below."""
        return self.underside_m + self.thickness_m


@dataclass(frozen=True, kw_only=True)
class Behind(Entry):
    """Puts a room behind a wall of another; ``from left`` is measured there, to its near corner."""

    room: str = key("room", ROOM)
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", ANY_LENGTH)


@dataclass(frozen=True, kw_only=True)
class Room(Entry):
    """A room: a rectangle by its size along the north and the east wall, or any shape by its corners."""

    size_m: tuple[float, ...] = key("size", ListForm(SIZE, 2, 2), (), "along the north wall, along the east wall")
    corners_m: Mapping[str, tuple[float, float]] = key(
        "corners",
        NamedForm(POINT, "A", r"[A-Za-z0-9]{1,4}", "1 to 4 letters or digits", 3),
        None,
        "clockwise, each east and north of a common point",
    )
    at_m: tuple[float, ...] = key("at", POINT, (), "south-west corner of a rectangle, east and north of that point")
    behind: Behind | None = key("behind", EntryForm(Behind), None, "puts it behind a wall of another room")
    ceiling_m: float = key("ceiling", QuantityForm(Kind.LENGTH, "1.8 m", "30 m"))
    wall_thickness_m: float = key("wall thickness", SIZE, 0.15, "", PRACTICE)
    coldest_k: float = key("coldest", AIR_TEMPERATURE, 278.15, "coldest air in the year", "5 degC, " + PRACTICE)
    warmest_k: float = key("warmest", AIR_TEMPERATURE, 308.15, "warmest air in the year", "35 degC, " + PRACTICE)
    openings: tuple[Opening, ...] = key("openings", ListForm(EntryForm(Opening)), ())
    columns: tuple[Column, ...] = key("columns", ListForm(EntryForm(Column)), ())
    equipment: tuple[Standing, ...] = key("equipment", ListForm(EntryForm(Standing)), ())
    keep_clear: tuple[KeepClear, ...] = key("keep clear", ListForm(EntryForm(KeepClear)), ())
    services: tuple[Service, ...] = key("services", ListForm(EntryForm(Service)), (), "others on the walls")
    crossings: tuple[Crossing, ...] = key(
        "crossings", ListForm(EntryForm(Crossing), 0, 20), (), "where the main may cross below the ceiling"
    )
    decks: tuple[Deck, ...] = key("decks", ListForm(EntryForm(Deck), 0, 10), (), "floors over a part of it")
    studs: Studs | None = key("studs", EntryForm(Studs), None, "of its walls; without them they are masonry")
    builds: tuple[WallBuild, ...] = key("walls", ListForm(EntryForm(WallBuild)), (), "those built otherwise")

    def studs_of(self, wall: str) -> Studs | None:
        """The studs of one of its walls, the joists over a crossing; None where anything takes a screw."""
        for number, crossing in enumerate(self.crossings, 1):
            if wall == crossing_name(number):
                return crossing.joists
        for build in self.builds:
            if build.wall == wall:
                return None if build.built == "masonry" else build.studs or self.studs
        return self.studs
