"""What stands in the way of pipes in a room: upright boxes over an outline in plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from drafter.finding import Place
from drafter.geometry import Point, Point3
from drafter.site.model import Opening, Site
from drafter.site.wall import Wall

DRAIN_ROOM_M = 0.15
"""Under a drain valve, for its outlet and a cup (common practice)."""

CLEAR_M = 0.05
"""Kept between a pipe's surface and what it passes (common practice)."""

WALL_ZONE_M = 0.35
"""How far from a wall pipes on it may stand: openings are closed to them over this depth."""

TRACK_WIDTH_M = 0.1
"""Room for the tracks beside an overhead door (from memory)."""

PIPE_M = 0.02
"""Half the room a pipe takes; the size is not known yet."""


HOT = ("hot pipe", "flue")
"""Services that the main is not led in front of: they heat its air (common practice)."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something a pipe may not run through.

    Attributes:
        name: in words, with the line of the site file, such as ``overhead door of line 18``.
        outline: its corners in plan [m].
        bottom_m, top_m: from where to where it reaches above floor.
        low: low furniture that drops may pass behind.
        on: name of the wall it is placed from.
        stepped: what holds the main where it steps round it, its own ``face`` or ``arms`` from the wall; empty where
            the main may not.
        pierced: a deck, which upright pipes pass in a sleeve.
    """

    name: str
    outline: tuple[Point, ...]
    bottom_m: float
    top_m: float
    place: Place
    low: bool = False
    on: str = ""
    stepped: str = ""
    pierced: bool = False

    @property
    def on_site(self) -> str:
        """What it is and where it is, for people who have no site file before them."""
        kind = self.name.replace(f" of line {self.place.line}", "")
        return f"{kind} ({self.on} wall)" if self.on else kind

    def meets(self, start: Point3, end: Point3) -> bool:
        """Whether a straight pipe from ``start`` to ``end`` comes too near."""
        from shapely import LineString, Polygon
        from shapely import Point as Spot

        room = CLEAR_M + PIPE_M
        if min(start.z, end.z) >= self.top_m + room - 1e-6 or max(start.z, end.z) <= self.bottom_m - room + 1e-6:
            return False
        upright = start.plan == end.plan
        if upright and self.pierced and not any(self.bottom_m < at.z < self.top_m for at in (start, end)):
            return False
        line = Spot(start.plan) if upright else LineString([start.plan, end.plan])
        return bool(line.distance(Polygon(self.outline)) < PIPE_M)


def first_in_the_way(obstacles: Iterable[Obstacle], start: Point3, end: Point3) -> Obstacle | None:
    """Return the first obstacle that a pipe from ``start`` to ``end`` would meet."""
    return next((obstacle for obstacle in obstacles if obstacle.meets(start, end)), None)


def top_below(obstacles: Iterable[Obstacle], plan: Point, height_m: float) -> float:
    """Return the top of the highest thing that stands under a point [m above floor]; 0 for the bare floor."""
    foot, head = Point3(*plan, 0.0), Point3(*plan, height_m)
    return max((o.top_m for o in obstacles if o.low and o.top_m < height_m and o.meets(foot, head)), default=0.0)


def obstacles_in(site: Site, room: str) -> tuple[Obstacle, ...]:
    """Return all obstacles in a room, in the order of the site file."""
    data = site.rooms[room]
    found: list[Obstacle] = []
    for opening in data.openings:
        wall = site.wall(room, opening.wall)
        found += [replace(obstacle, on=wall.name) for obstacle in _opening(opening, wall)]
    found += standing_in(site, room)
    for keep in data.keep_clear:
        wall = site.wall(room, keep.wall)
        name = _named(keep.name or keep.kind, keep.place)
        box = wall.footprint(keep.from_left_m, 0.0, keep.width_m, keep.depth_m)
        top = keep.above_floor_m + keep.height_m
        found.append(Obstacle(name, box, keep.above_floor_m, top, keep.place, on=wall.name))
        if keep.kind == "electrical panel":
            above = wall.footprint(keep.from_left_m, 0.0, keep.width_m, WALL_ZONE_M)
            found.append(Obstacle(f"space above the {name}", above, top, wall.ceiling_m, keep.place, on=wall.name))
    for service in data.services:
        wall, clear = site.wall(room, service.wall), service.clear_m
        name = _named(service.name or service.kind, service.place)
        near, far = max(0.0, service.off_wall_m - clear), service.off_wall_m + service.depth_m + clear
        box = wall.footprint(service.from_left_m - clear, near, service.width_m + 2 * clear, far - near)
        under, over = service.above_floor_m - clear, service.above_floor_m + service.height_m + clear
        stepped = "" if service.kind in HOT else "arms"
        found.append(Obstacle(name, box, max(0.0, under), over, service.place, on=wall.name, stepped=stepped))
    for deck in data.decks:
        wall = site.wall(room, deck.wall)
        box = wall.footprint(*deck.placed)
        name = _named(deck.name, deck.place)
        found.append(Obstacle(name, box, deck.underside_m, deck.top_m, deck.place, on=wall.name, pierced=True))
    return tuple(found)


def standing_in(site: Site, room: str) -> tuple[Obstacle, ...]:
    """Return what stands or hangs in a room: columns, equipment and the compressor, in the order of the site file."""
    data, found = site.rooms[room], list[Obstacle]()
    for column in data.columns:
        wall = site.wall(room, column.wall)
        box = wall.footprint(column.from_left_m, column.off_wall_m, column.width_m, column.depth_m)
        name, top_m = _named("column", column.place), wall.ceiling_m
        found.append(Obstacle(name, box, 0.0, top_m, column.place, on=wall.name, stepped="face"))
    for thing in data.equipment:
        wall = site.wall(room, thing.wall)
        box = wall.footprint(thing.from_left_m, thing.off_wall_m, thing.width_m, thing.depth_m)
        name = _named(thing.name or thing.kind, thing.place)
        low = thing.leaves_room_behind
        found.append(Obstacle(name, box, thing.above_floor_m, thing.height_m, thing.place, low, wall.name))
    plant = site.compressor
    if plant.room == room:
        box = site.wall(room, plant.wall).footprint(
            plant.from_left_m, 0.0, plant.width_m, plant.off_wall_m + plant.depth_m
        )
        found.append(Obstacle("compressor", box, 0.0, plant.height_m, plant.place, low=True))
    return tuple(found)


def _named(what: str, place: Place) -> str:
    return f"{what} of line {place.line}"


def _opening(opening: Opening, wall: Wall) -> list[Obstacle]:
    name, place = _named(opening.kind, opening.place), opening.place
    left, width = opening.from_left_m, opening.width_m
    if opening.kind == "overhead door":
        beside = wall.footprint(left - TRACK_WIDTH_M, 0.0, width + 2 * TRACK_WIDTH_M, WALL_ZONE_M)
        under = wall.footprint(left - TRACK_WIDTH_M, 0.0, width + 2 * TRACK_WIDTH_M, opening.track_depth_m)
        return [
            Obstacle(name, beside, 0.0, opening.top_m, place),
            Obstacle(f"tracks of the {name}", under, opening.height_m, opening.top_m, place),
        ]
    depth = opening.width_m if opening.kind == "door" and opening.swing == "in" else WALL_ZONE_M
    box = wall.footprint(left, 0.0, width, max(depth, WALL_ZONE_M))
    return [Obstacle(name, box, opening.bottom_m, opening.height_m, place)]
