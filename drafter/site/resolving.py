"""What follows from other entries: units, the plan, usual defaults, and the names of rooms and walls."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from drafter.quantity import Units
from drafter.quantity.kinds import FOOT_M
from drafter.reader import UNREAD, Entry, Reading, Unread, is_read, nearest_hint
from drafter.site.crossings import crossings_of_rooms
from drafter.site.model import Compressor, Connection, DrawingData, KeepClear, Main, Room, Site, WorkPlace
from drafter.site.plan import find_room_name, walls_of_rooms
from drafter.site.shared_studs import with_shared_studs
from drafter.site.usual_lengths import in_round_inches
from drafter.site.wall import Wall, find_wall
from drafter.standards.limits import BELOW_CEILING_M
from drafter.standards.rule_sets import rule_set

CONNECTION_INSET_M, CONNECTION_HEIGHT_M = 0.15, 0.6
"""Where a tank gives its air where the site file does not say: common practice."""

UNLOADING_RISE_K = 12.0
"""With an aftercooler built in, 8 to 15 K above the cooling air (common practice, from memory)."""

FIRST_REVISION = "A"

Walls = Mapping[str, tuple[Wall, ...]]
OnWall = TypeVar("OnWall", bound=Entry)


def resolved(site: Site, reading: Reading) -> Site:
    """Return the site complete: every room and wall by its own name, or `UNREAD` after a finding."""
    drawing, imperial = _drawing(site, reading)
    site = in_round_inches(site) if imperial else site
    usual_line_m = 4 * FOOT_M if imperial else 1.0
    walls = walls_of_rooms(site.rooms, reading) if is_read(site.rooms) else {}
    names = _Names(site.rooms, walls, reading)
    rule_set_name = (site.rule_set or ("us" if imperial else "international")) if is_read(site.rule_set) else UNREAD
    rooms = UNREAD
    if is_read(site.rooms):
        rooms = {name: _kept_clear(names.in_it(name, room), rule_set_name) for name, room in site.rooms.items()}
        rooms = with_shared_studs(rooms, walls)
    crossings = crossings_of_rooms(rooms, walls, reading)
    names = replace(names, crossings=crossings)
    return replace(
        site,
        drawing=drawing,
        level_line_m=(site.level_line_m or usual_line_m) if is_read(site.level_line_m) else UNREAD,
        rule_set=rule_set_name,
        threads=(site.threads or ("NPT" if imperial else "G")) if is_read(site.threads) else UNREAD,
        rooms=rooms,
        compressor=_compressor(names.in_room(site.compressor, "compressor"), walls, Units(imperial)),
        main=_main(_level(site), names, Units(imperial)),
        outlets=names.all_in_room(site.outlets),
        work_places=names.all_places(site.work_places),
        walls=walls,
        crossings=crossings,
    )


def _kept_clear(room: Room, rules: Any) -> Room:
    """The room with the space before its panels as high and deep as the set of rules has it, where that is not given.

    Without a voltage the depth stays as assumed.
    """
    if not is_read(room) or not is_read(room.keep_clear) or not is_read(rules):
        return room
    chosen = rule_set(rules)

    def kept(keep: KeepClear) -> KeepClear:
        if not is_read(keep) or not is_read(keep.kind) or keep.kind != "electrical panel":
            return keep
        if "height_m" in keep.defaults:
            keep = replace(keep, height_m=chosen.panel_height_m.value)
        if "depth_m" in keep.defaults and is_read(keep.voltage) and keep.voltage and is_read(keep.opposite):
            keep = replace(keep, depth_m=chosen.panel_depth(keep.voltage, keep.opposite).value)
        return keep

    return replace(room, keep_clear=tuple(map(kept, room.keep_clear)))


def _drawing(site: Site, reading: Reading) -> tuple[DrawingData, bool]:
    drawing = site.drawing if is_read(site.drawing) else DrawingData()
    written = drawing.units if is_read(drawing.units) else ""
    imperial = written == "imperial" if written else reading.imperial > reading.metric
    complete = replace(drawing, units="imperial" if imperial else "metric")
    with suppress(Unread):
        paper = drawing.paper or ("11x17" if imperial else "A3")
        complete = replace(complete, paper=paper, number=drawing.number or _initials(site.name))
    with suppress(Unread):
        complete = _issued(complete)
    return complete, imperial


def _issued(drawing: DrawingData) -> DrawingData:
    """The drawing with the revision and date of its last revision, where it does not say its own."""
    if not drawing.revisions:
        return replace(drawing, revision=drawing.revision or FIRST_REVISION)
    last = drawing.revisions[-1]
    return replace(drawing, revision=drawing.revision or last.revision, date=drawing.date or last.date)


def _initials(name: str) -> str:
    letters = "".join(word[0] for word in name.split() if word[0].isalpha()).upper()
    return f"{letters[:4] or 'CA'}-01"


def _compressor(compressor: Compressor, walls: Walls, units: Units) -> Compressor:
    if is_read(compressor) and "air_warmer_by_k" in compressor.defaults and is_read(compressor.control):
        rise_k = UNLOADING_RISE_K if compressor.unloads else compressor.air_warmer_by_k
        compressor = replace(compressor, air_warmer_by_k=rise_k)
    if not is_read(compressor) or compressor.connection is not None:
        return compressor
    connection = UNREAD
    with suppress(Unread):
        connection = _usual_connection(compressor, walls, units)
    return replace(compressor, connection=connection)


def _usual_connection(compressor: Compressor, walls: Walls, units: Units) -> Connection:
    """The connection where none is given: near the end of the set that has more wall beside it, 0.6 m up."""
    wall = find_wall(walls[compressor.room], compressor.wall)
    left, right = compressor.from_left_m, compressor.from_left_m + compressor.width_m
    to_the_right = wall is None or wall.length_m - right >= left
    inset = min(CONNECTION_INSET_M, compressor.width_m / 2)
    from_left_m = units.set_out_m(right - inset if to_the_right else left + inset)
    height_m = units.set_out_m(CONNECTION_HEIGHT_M)
    return Connection(place=compressor.place, from_left_m=from_left_m, height_m=height_m)


def _level(site: Site) -> Main:
    """The main, its level open where the height is `auto`."""
    main = site.main
    if not is_read(main) or not is_read(main.height_m) or main.height_m:
        return main
    rooms = site.rooms.values() if is_read(site.rooms) else ()
    ceilings = [room.ceiling_m for room in rooms if is_read(room) and is_read(room.ceiling_m)]
    return replace(main, height_m=min(ceilings, default=2.5) - BELOW_CEILING_M.value, level_open=True)


def _main(main: Main, names: _Names, units: Units) -> Main:
    if not is_read(main):
        return main
    if "drain_height_m" in main.defaults:
        main = replace(main, drain_height_m=units.set_out_m(main.drain_height_m))
    return replace(
        main,
        path=names.all_in_room(main.path, True),
        waypoints=names.all_in_room(main.waypoints),
        through=names.all_in_room(main.through),
        spare_tees=names.all_in_room(main.spare_tees),
        valves=names.all_in_room(main.valves),
    )


@dataclass(frozen=True)
class _Names:
    """Finds rooms and walls by the names written for them; the main may follow crossings too."""

    rooms: Mapping[str, Room]
    walls: Walls
    reading: Reading
    crossings: Walls = field(default_factory=dict)

    def all_in_room(self, group: tuple[OnWall, ...], across: bool = False) -> tuple[OnWall, ...]:
        if not is_read(group):
            return group
        tags = [getattr(entry, "tag", "") if is_read(entry) else "" for entry in group]
        return tuple(self.in_room(entry, tag, across) for entry, tag in zip(group, tags, strict=True))

    def in_room(self, entry: OnWall, subject: str, across: bool = False) -> OnWall:
        """Return an entry with its room and wall by their own names."""
        if not is_read(entry):
            return entry
        of: Any = entry
        room = self._room(of.room, entry, subject)
        found: OnWall = replace(of, room=room, wall=self._wall(room, of.wall, entry, subject, across))
        return found

    def all_places(self, places: tuple[WorkPlace, ...]) -> tuple[WorkPlace, ...]:
        """Return places with their rooms and walls by their own names, where they are told."""
        return tuple(self._place(place) if is_read(place) else place for place in places) if is_read(places) else places

    def _place(self, place: WorkPlace) -> WorkPlace:
        subject = place.name if is_read(place.name) else ""
        if is_read(place.wall) and place.wall:
            return self.in_room(place, subject)
        return replace(place, room=self._room(place.room, place, subject)) if place.room else place

    def in_it(self, name: str, room: Room) -> Room:
        """Return a room with the walls of what stands in it by their own names."""
        if not is_read(room):
            return room
        on_walls = ("openings", "columns", "equipment", "keep_clear", "services", "crossings", "decks", "builds")
        groups = {group: getattr(room, group) for group in on_walls}
        return replace(room, **{group: self._on_walls(name, entries) for group, entries in groups.items()})

    def _on_walls(self, room: str, group: Any) -> Any:
        if not is_read(group):
            return group
        return tuple(
            replace(entry, wall=self._wall(room, entry.wall, entry, "")) if is_read(entry) else entry for entry in group
        )

    def _room(self, written: str, entry: Entry, subject: str) -> Any:
        if not is_read(written) or not is_read(self.rooms):
            return UNREAD
        known = ", ".join(self.rooms)
        if not written and len(self.rooms) == 1:
            written = next(iter(self.rooms))
        if not written:
            message, fix = "it is not said in which room this is", f"add 'room:' with one of {known}"
            self.reading.error("REF001", entry.place, message, fix, _shown(subject))
            return UNREAD
        name = find_room_name(self.rooms, written)
        if name is None:
            fix = f"{nearest_hint(written, self.rooms)}rooms here: {known}"
            self.reading.error("REF001", entry.where("room"), f"there is no room '{written}'", fix, _shown(subject))
            return UNREAD
        return name if name in self.walls else UNREAD

    def _wall(self, room: str, written: str, entry: Entry, subject: str, across: bool = False) -> Any:
        if not is_read(room) or not is_read(written) or room not in self.walls:
            return UNREAD
        known = (*self.walls[room], *(self.crossings.get(room, ()) if across else ()))
        wall = find_wall(known, written)
        if wall is None:
            names = [each.name for each in known]
            fix = f"{nearest_hint(written, names)}its walls: {', '.join(names)}"
            self.reading.error("REF002", entry.where("wall"), f"{room} has no wall '{written}'", fix, _shown(subject))
            return UNREAD
        return wall.name


def _shown(subject: str) -> str:
    return subject if is_read(subject) else ""
