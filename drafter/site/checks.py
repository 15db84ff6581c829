"""Mistakes in a site that can be seen before anything is laid out: names, places and pressures."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from itertools import combinations
from typing import Any

from drafter.geometry import Point
from drafter.reader import UNREAD, Entry, Reading, Unread, nearest
from drafter.site.model import Opening, Outlet, Site, ToolUse
from drafter.site.wall import Wall, find_wall
from drafter.standards.materials import find_material, find_refused_material, material_names
from drafter.standards.tools import find_tool, tool_names

SLACK_M = 0.0005


def check_site(site: Site, reading: Reading) -> None:
    """Add a finding for every name that means nothing and every thing that cannot be where it is said to be."""
    _SiteCheck(site, reading).run()


class _SiteCheck:
    def __init__(self, site: Site, reading: Reading) -> None:
        self.site = site
        self.reading = reading
        self.error = reading.error

    def run(self) -> None:
        """Run every check; one that meets a value that could not be read ends quietly, its finding stands already."""
        self._try(self._rooms)
        for name, room in self.site.rooms.items():
            if name in self.site.walls:
                self._try(self._openings, name, room.openings)
                for group in (room.columns, room.equipment, room.keep_clear):
                    for entry in () if group is UNREAD else group:
                        self._try(self._standing, name, entry)
        for check in (self._compressor, self._pressures, self._material, self._main):
            self._try(check)
        tags: dict[str, int] = {}
        for outlet in self.site.outlets:
            self._try(self._tag, outlet, tags)
            self._try(self._outlet, outlet)
            for use in () if outlet.tools is UNREAD else outlet.tools:
                self._try(self._tool, outlet, use)

    def _try(self, check: Callable[..., None], *of: Any) -> None:
        with suppress(Unread):
            check(*of)

    def _wall(self, room: str, wall: str, entry: Entry, subject: str = "") -> Wall | None:
        """Return the wall an entry names, or None after a finding; silent where the room itself was unreadable."""
        if room in self.site.unread or (not room and self.site.unread) or not self.site.walls:
            return None
        if room not in self.site.walls:
            known = ", ".join(self.site.walls)
            if room:
                self.error(
                    "REF001",
                    entry.where("room"),
                    f"there is no room '{room}'",
                    f"rooms here: {known}",
                    subject,
                )
            else:
                self.error(
                    "REF001",
                    entry.place,
                    "it is not said in which room",
                    f"add 'room:' with one of {known}",
                    subject,
                )
            return None
        found = find_wall(self.site.walls[room], wall)
        if found is None:
            names = ", ".join(w.name for w in self.site.walls[room])
            message = f"{room} has no wall '{wall}'"
            self.error("REF002", entry.where("wall"), message, f"its walls: {names}", subject)
        return found

    def _on_wall(self, wall: Wall, entry: Entry, from_left_m: float, width_m: float, subject: str) -> bool:
        """Whether a stretch lies on a wall; a finding says by how much it does not."""
        over = from_left_m + width_m - wall.length_m
        if over <= SLACK_M:
            return True
        units = self.site.units
        length = units.length_with_unit(wall.length_m)
        far = units.length_with_unit(from_left_m + width_m)
        most = units.length_with_unit(max(0.0, wall.length_m - width_m))
        message = f"it reaches to {far} along the {wall.name} wall of {wall.room}, which is {length} long"
        place = entry.where("from_left_m")
        self.error("PLACE001", place, message, f"'from left' can be at most {most}; measure again", subject)
        return False

    def _rooms(self) -> None:
        from shapely import Polygon

        shapes = {name: Polygon([wall.left for wall in walls]) for name, walls in self.site.walls.items()}
        for (name, shape), (other, other_shape) in combinations(shapes.items(), 2):
            if shape.intersection(other_shape).area > 1e-3:
                room = self.site.rooms[other]
                place = room.where("behind" if room.behind else "at_m" if room.at_m else "corners_m")
                message = f"{other} and {name} overlap by {shape.intersection(other_shape).area:.2f} m2"
                self.error("ROOM004", place, message, "check sizes and where they lie", other)

    def _openings(self, room: str, openings: Iterable[Opening]) -> None:
        units = self.site.units
        good: list[tuple[Wall, Opening]] = []
        for opening in openings:
            wall = self._wall(room, opening.wall, opening, opening.kind)
            if wall is None or not self._on_wall(wall, opening, opening.from_left_m, opening.width_m, opening.kind):
                continue
            if opening.height_m > wall.ceiling_m + SLACK_M:
                message = f"the {opening.kind} is higher than the ceiling of {room}"
                fix = f"its head can be at most {units.length_with_unit(wall.ceiling_m)} above floor"
                self.error("PLACE004", opening.where("height_m"), message, fix)
            if opening.bottom_m >= opening.height_m:
                message = "the sill is not below the head; 'height' is the head above floor"
                self.error(
                    "PLACE004",
                    opening.where("sill_m"),
                    message,
                    "write the height of head and sill above floor",
                )
            for other_wall, other in good:
                apart = max(opening.from_left_m, other.from_left_m) - min(
                    opening.from_left_m + opening.width_m, other.from_left_m + other.width_m
                )
                stacked = opening.bottom_m >= other.height_m or other.bottom_m >= opening.height_m
                if other_wall is wall and apart < -SLACK_M and not stacked:
                    message = f"this {opening.kind} overlaps the {other.kind} of line {other.place.line}"
                    self.error("PLACE003", opening.where("from_left_m"), message, "measure both again")
            good.append((wall, opening))

    def _standing(self, room: str, entry: Any) -> None:
        subject = getattr(entry, "name", "") or getattr(entry, "kind", "column")
        wall = self._wall(room, entry.wall, entry, subject)
        if wall is not None:
            self._on_wall(wall, entry, entry.from_left_m, entry.width_m, subject)

    def _compressor(self) -> None:
        compressor = self.site.compressor
        wall = self._wall(compressor.room, compressor.wall, compressor, "compressor")
        if wall is None or not self._on_wall(
            wall, compressor, compressor.from_left_m, compressor.width_m, "compressor"
        ):
            return
        corners = wall.footprint(compressor.from_left_m, compressor.off_wall_m, compressor.width_m, compressor.depth_m)
        if not all(_inside(self.site.walls[wall.room], corner) for corner in corners):
            place = compressor.where("wall")
            self.error(
                "PLACE005",
                place,
                "the compressor stands through a wall",
                "check its place and size",
                "compressor",
            )
        connection = compressor.connection
        assert connection is not None
        if not -SLACK_M <= connection.from_left_m - compressor.from_left_m <= compressor.width_m + SLACK_M:
            message = "the connection does not lie on the compressor set"
            low = self.site.units.length_with_unit(compressor.from_left_m)
            high = self.site.units.length_with_unit(compressor.from_left_m + compressor.width_m)
            self.error(
                "PLACE005",
                connection.where("from_left_m"),
                message,
                f"between {low} and {high} from the corner",
            )
        for name, keep_wall, keep in self._keep_clear(wall.room):
            box = keep_wall.footprint(keep.from_left_m, 0.0, keep.width_m, keep.depth_m)
            if _overlap(corners, box) and keep.above_floor_m < compressor.height_m:
                message = f"the compressor stands in the keep-clear space of the {name}"
                self.error(
                    "PLACE007",
                    compressor.where("from_left_m"),
                    message,
                    "move it out of the way",
                    "compressor",
                )

    def _keep_clear(self, room: str) -> Iterator[tuple[str, Wall, Any]]:
        for keep in self.site.rooms[room].keep_clear:
            wall = find_wall(self.site.walls[room], keep.wall)
            if wall is not None:
                yield keep.name or keep.kind, wall, keep

    def _pressures(self) -> None:
        plant, units = self.site.compressor, self.site.units
        if plant.cut_in_pa >= plant.cut_out_pa:
            message = (
                f"cut-in {units.pressure(plant.cut_in_pa)} is not below cut-out {units.pressure(plant.cut_out_pa)}"
            )
            self.error("PRES001", plant.where("cut_in_pa"), message, "read both again from the pressure switch")
        if plant.relief_pa <= plant.cut_out_pa:
            message = f"the relief valve opens at {units.pressure(plant.relief_pa)}, not above the cut-out"
            fix = f"it must be set above {units.pressure(plant.cut_out_pa)} and at or below the tank's rated pressure"
            self.error("PRES002", plant.where("relief_pa"), message, fix)
        if plant.relief_pa > plant.rated_pa:
            message = f"the relief valve opens at {units.pressure(plant.relief_pa)}, above what the tank is rated for"
            fix = f"it must be set at or below the data plate's {units.pressure(plant.rated_pa)}"
            self.error("PRES003", plant.where("relief_pa"), message, fix)

    def _material(self) -> None:
        main = self.site.main
        family = find_material(main.material)
        if family is None:
            self._no_material()
        else:
            for attribute in ("size", "drop_size"):
                size = getattr(main, attribute)
                if size != "auto" and family.find_size(size) is None:
                    names = ", ".join(s.name for s in family.sizes)
                    message = f"{family.name} has no size '{size}'"
                    self.error("REF005", main.where(attribute), message, f"write auto or one of {names}")

    def _main(self) -> None:
        main = self.site.main
        for step in main.path:
            self._wall(step.room, step.wall, step, "main")
        for sleeve in main.through:
            wall = self._wall(sleeve.room, sleeve.wall, sleeve, "sleeve")
            if wall is not None:
                self._on_wall(wall, sleeve, sleeve.from_left_m, 0.0, "sleeve")
        home = self.site.rooms.get(self.site.compressor.room)
        if home is not None and main.height_m > home.ceiling_m - 0.05:
            message = "the main is at or above the ceiling"
            fix = f"its centre can be at most {self.site.units.length_with_unit(home.ceiling_m - 0.05)} above floor"
            self.error("PLACE008", main.where("height_m"), message, fix, "main")

    def _no_material(self) -> None:
        name, place = self.site.main.material, self.site.main.where("material")
        refused = find_refused_material(name)
        if refused is not None:
            message = f"{refused.name} must not carry compressed air: {refused.reason}"
            self.error("MAT001", place, message, "choose one of " + ", ".join(material_names()))
            return
        near = nearest(name, list(material_names()))
        hint = f"did you mean '{near}'? " if near else ""
        self.error(
            "REF004",
            place,
            f"the material '{name}' is not known",
            hint + "known: " + ", ".join(material_names()),
        )

    def _tag(self, outlet: Outlet, tags: dict[str, int]) -> None:
        if outlet.tag.lower() in tags:
            message = f"the tag {outlet.tag} is used twice, first on line {tags[outlet.tag.lower()]}"
            self.error("TAG001", outlet.where("tag"), message, "give every outlet a tag of its own", outlet.tag)
        if re.fullmatch(r"[VDBCT]-\d+", outlet.tag):
            message = f"{outlet.tag} looks like a tag that the drawings give to valves, drains or brackets"
            self.error("TAG002", outlet.where("tag"), message, "choose another, such as A1", outlet.tag)
        tags.setdefault(outlet.tag.lower(), outlet.place.line)

    def _outlet(self, outlet: Outlet) -> None:
        wall = self._wall(outlet.room, outlet.wall, outlet, outlet.tag)
        if wall is not None and self._on_wall(wall, outlet, outlet.from_left_m, 0.0, outlet.tag):
            self._outlet_place(outlet, wall)

    def _tool(self, outlet: Outlet, use: ToolUse) -> None:
        if find_tool(use.tool) is None and (use.free_air is None or use.pressure_pa is None):
            near = nearest(use.tool, list(tool_names()))
            hint = f"did you mean '{near}'? " if near else ""
            fix = hint + "or give its own figures: {tool: ..., free air: ..., pressure: ...}"
            self.error("REF003", use.where("tool"), f"the tool '{use.tool}' is not in the table", fix, outlet.tag)

    def _outlet_place(self, outlet: Any, wall: Wall) -> None:
        units, spot = self.site.units, wall.at(outlet.from_left_m, 0.01)
        if outlet.height_m > wall.ceiling_m:
            fix = f"the ceiling is at {units.length_with_unit(wall.ceiling_m)}"
            self.error("PLACE004", outlet.where("height_m"), "the outlet is above the ceiling", fix, outlet.tag)
        for opening in self.site.rooms[wall.room].openings:
            left, right = opening.from_left_m, opening.from_left_m + opening.width_m
            beside = find_wall(self.site.walls[wall.room], opening.wall)
            if beside is wall and left - SLACK_M < outlet.from_left_m < right + SLACK_M:
                if opening.bottom_m < outlet.height_m < opening.height_m or opening.kind != "window":
                    message = f"outlet {outlet.tag} is in the {opening.kind} of line {opening.place.line}"
                    fix = f"that opening runs from {units.length_with_unit(left)} to {units.length_with_unit(right)}"
                    self.error("PLACE002", outlet.where("from_left_m"), message, fix, outlet.tag)
        for name, keep_wall, keep in self._keep_clear(wall.room):
            off_left, off_wall = keep_wall.measure(spot)
            low, high = keep.from_left_m, keep.from_left_m + keep.width_m
            level = keep.above_floor_m <= outlet.height_m <= keep.above_floor_m + keep.height_m
            if level and low < off_left < high and off_wall < keep.depth_m:
                message = f"outlet {outlet.tag} is in the keep-clear space of the {name}"
                fix = f"that space runs from {units.length_with_unit(low)} to {units.length_with_unit(high)}"
                self.error("PLACE007", outlet.where("from_left_m"), message, fix, outlet.tag)


def _inside(walls: tuple[Wall, ...], point: Point) -> bool:
    from shapely import Point as Spot
    from shapely import Polygon

    return bool(Polygon([wall.left for wall in walls]).buffer(SLACK_M).covers(Spot(point)))


def _overlap(corners: tuple[Point, ...], others: tuple[Point, ...]) -> bool:
    from shapely import Polygon

    return bool(Polygon(corners).intersection(Polygon(others)).area > 1e-4)
