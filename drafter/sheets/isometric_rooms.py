"""The rooms of the isometric, faint below the pipes: outlines at floor level with their doorways, columns, decks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from drafter.drawing import Item, Line, Polyline
from drafter.geometry import Point, Point3
from drafter.sheets.isometric_space import IsometricSpace
from drafter.sheets.scene import Scene
from drafter.site.wall import Wall

JAMB_MM = 2.0


def room_outlines(
    scene: Scene, rooms: Sequence[str], space: IsometricSpace, hidden: Sequence[Sequence[Point]]
) -> list[Item]:
    """Draw some rooms.

    Args:
        rooms: their names.
        hidden: areas of the view before which something stands; nothing is drawn there.
    """
    from shapely import LineString, Polygon, unary_union

    before = unary_union([Polygon(area) for area in hidden])
    items: list[Item] = []
    for line in _lines(scene, rooms, space):
        rest = LineString(line).difference(before)
        for part in getattr(rest, "geoms", [rest]):
            points = tuple(Point(*at) for at in part.coords)
            if len(points) > 1:
                items += [Line(scene.layers.outline, a, b) for a, b in pairwise(points)]
    return [*items, *_decks(scene, rooms, space)]


def _lines(scene: Scene, rooms: Sequence[str], space: IsometricSpace) -> Iterator[tuple[Point, ...]]:
    site = scene.site
    for room in rooms:
        for wall in site.walls[room]:
            doors = sorted(
                (opening.from_left_m, opening.from_left_m + opening.width_m)
                for opening in site.rooms[room].openings
                if site.wall(room, opening.wall) is wall and opening.kind != "window"
            )
            yield from _wall(space, wall, doors)
        for column in site.rooms[room].columns:
            wall = site.wall(room, column.wall)
            corners = wall.footprint(column.from_left_m, column.off_wall_m, column.width_m, column.depth_m)
            spots = [on_floor(space, corner) for corner in corners]
            yield (*spots, spots[0])


def _wall(space: IsometricSpace, wall: Wall, doors: Sequence[tuple[float, float]]) -> Iterator[tuple[Point, ...]]:
    """The foot of a wall, broken at doorways, whose sides stand up a little."""
    ends = [0.0, *(end for door in doors for end in door), wall.length_m]
    for left_m, right_m in zip(ends[::2], ends[1::2], strict=True):
        if right_m > left_m:
            yield on_floor(space, wall.at(left_m)), on_floor(space, wall.at(right_m))
    for end in ends[1:-1]:
        foot = on_floor(space, wall.at(end))
        yield foot, foot.plus(Point(0.0, JAMB_MM * space.scale))


def _decks(scene: Scene, rooms: Sequence[str], space: IsometricSpace) -> Iterator[Item]:
    for room in rooms:
        for deck in scene.site.rooms[room].decks:
            corners = scene.site.wall(room, deck.wall).footprint(*deck.placed)
            yield Polyline(scene.layers.above, tuple(space.at(Point3(*at, deck.top_m)) for at in corners), True)


def on_floor(space: IsometricSpace, place: Point) -> Point:
    """Return where a place of the plan [m] is seen on the floor."""
    return space.at(Point3(place.x, place.y, 0.0))
