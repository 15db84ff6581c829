"""The floor a hose may be drawn over: all rooms, without what stands in its way.

A hose is dragged over what is lower than 0.3 m and passes under what hangs higher than the work; everything else that
stands in a room it goes round. Doors are taken as shut; a plain opening between two rooms lets it through.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any

from drafter.geometry import Point
from drafter.layout.obstacles import Obstacle, standing_in
from drafter.layout.sight import Outline
from drafter.site.model import Site

WORK_HEIGHT_M = 1.0
"""Height that a tool is held at (common practice)."""

DRAGGED_OVER_M = 0.3
"""A hose is dragged over what is lower (common practice)."""

GAP_M = 0.1
"""A hose with its coupling does not go through narrower gaps (common practice)."""


class OpenFloor:
    """The open floor of a site, with the obstacles that stand on it; made ready once for all outlets."""

    def __init__(self, site: Site) -> None:
        self._rooms = {name: _polygon([wall.left for wall in walls]) for name, walls in site.walls.items()}
        self._passages = [_polygon(passage) for passage in _passages(site, self._rooms)]
        self._things = [
            (_polygon(thing.outline), thing)
            for name in site.walls
            for thing in standing_in(site, name)
            if is_in_the_way(thing)
        ]
        self._made: dict[frozenset[int], Any] = {}
        self._outlines: dict[tuple[frozenset[int], int], Outline] = {}

    @cached_property
    def whole(self) -> Any:
        """The floor without anything that stands in the way of a hose, as one shapely shape."""
        return self.without(frozenset())

    def room(self, name: str) -> Any:
        """Return the open floor of a room."""
        return self.whole.intersection(self._rooms[name])

    def under(self, spot: Point) -> frozenset[int]:
        """Return the things that a spot is over: a hose to it, or from it, lies across them."""
        from shapely import Point as Spot

        return frozenset(index for index, (shape, _) in enumerate(self._things) if shape.covers(Spot(spot)))

    def without(self, left_out: frozenset[int]) -> Any:
        """Return the open floor with some of the things away."""
        from shapely import unary_union

        if left_out not in self._made:
            standing = [shape for index, (shape, _) in enumerate(self._things) if index not in left_out]
            shape = unary_union([*self._rooms.values(), *self._passages]).difference(unary_union(standing))
            narrowed = shape.buffer(-GAP_M / 2, join_style="mitre").buffer(GAP_M / 2, join_style="mitre")
            self._made[left_out] = narrowed
        return self._made[left_out]

    def around(self, room: str, spot: Point, left_out: frozenset[int]) -> tuple[Outline, Point, float] | None:
        """Return the piece of floor that a spot in a room lies on, the spot on it, and how far off it lay [m].

        None where nothing of the room's floor is open.
        """
        from shapely import Point as Spot
        from shapely.ops import nearest_points

        floor = self.without(left_out)
        parts = getattr(floor, "geoms", [floor])
        near = [
            (part.distance(Spot(spot)), index)
            for index, part in enumerate(parts)
            if part.intersection(self._rooms[room]).area > 0.0
        ]
        if not near:
            return None
        off_m, index = min(near)
        key = (left_out, index)
        if key not in self._outlines:
            self._outlines[key] = Outline.of(parts[index])
        on_it = nearest_points(parts[index], Spot(spot))[0]
        return self._outlines[key], Point(on_it.x, on_it.y), off_m


def is_in_the_way(thing: Obstacle) -> bool:
    """Whether a hose must go round a thing."""
    return thing.top_m > DRAGGED_OVER_M and thing.bottom_m < WORK_HEIGHT_M


def _passages(site: Site, rooms: dict[str, Any]) -> Iterator[tuple[Point, ...]]:
    """Yield the floor in each plain opening that leads to another room, a little into both."""
    for name, data in site.rooms.items():
        for opening in data.openings:
            if opening.kind != "opening":
                continue
            wall = site.wall(name, opening.wall)
            depth_m = wall.thickness_m + 0.06
            box = wall.footprint(opening.from_left_m, -depth_m, opening.width_m, depth_m + 0.01)
            if any(_polygon(box).intersection(room).area > 1e-6 for other, room in rooms.items() if other != name):
                yield box


def _polygon(corners: Any) -> Any:
    from shapely import Polygon

    return Polygon(corners)
