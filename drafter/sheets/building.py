"""The room in plan, quiet behind the pipes: walls, openings, columns, furniture, keep-clear spaces."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.drawing import Arc, Area, Circle, Item, Line, Polyline
from drafter.geometry import Point
from drafter.sheets.layers import Layers
from drafter.sheets.scene import blocks, mm
from drafter.site.model import Opening, Site
from drafter.site.wall import Wall


def building(site: Site, layers: Layers) -> list[Item]:
    """Draw everything in plan that is not piping."""
    items = list(_walls(site, layers))
    for room, data in site.rooms.items():
        for opening in data.openings:
            items += _opening(opening, site.wall(room, opening.wall), layers)
        for column in data.columns:
            wall = site.wall(room, column.wall)
            corners = _corners(wall, column.from_left_m, column.off_wall_m, column.width_m, column.depth_m)
            items += [Area(layers.wall_hatch, corners, fill="hatch"), Polyline(layers.column, corners, True)]
        for deck in data.decks:
            items.append(Polyline(layers.above, _corners(site.wall(room, deck.wall), *deck.placed), True))
        for block in blocks(site, room):
            corners = block.footprint
            items.append(Polyline(layers.keep if block.keep_clear else layers.furniture, corners, True))
            if block.keep_clear:
                items += [Line(layers.keep, corners[0], corners[2]), Line(layers.keep, corners[1], corners[3])]
    return items


def compressor_in_plan(site: Site, layers: Layers) -> list[Item]:
    """Draw the compressor set on its place."""
    plant = site.compressor
    wall, left, off = site.wall(plant.room, plant.wall), plant.from_left_m, plant.off_wall_m
    corners = _corners(wall, left, off, plant.width_m, plant.depth_m)
    tank = (left + 0.12 * plant.width_m, off + 0.15 * plant.depth_m, 0.76 * plant.width_m, 0.7 * plant.depth_m)
    middle = Point((corners[0].x + corners[2].x) / 2, (corners[0].y + corners[2].y) / 2)
    return [
        Polyline(layers.equipment, corners, True),
        Polyline(layers.furniture, _corners(wall, *tank), True),
        Circle(layers.furniture, middle, 0.22 * plant.depth_m * 1000.0),
    ]


def _corners(wall: Wall, from_left_m: float, off_wall_m: float, width_m: float, depth_m: float) -> tuple[Point, ...]:
    return tuple(mm(point) for point in wall.footprint(from_left_m, off_wall_m, width_m, depth_m))


def _walls(site: Site, layers: Layers) -> Iterator[Item]:
    from shapely import Polygon, unary_union

    rooms = {name: Polygon([wall.left for wall in walls]) for name, walls in site.walls.items()}
    shells = [
        shape.buffer(site.rooms[name].wall_thickness_m, join_style="mitre", mitre_limit=5.0)
        for name, shape in rooms.items()
    ]
    holes = [
        Polygon(wall.footprint(o.from_left_m, -wall.thickness_m - 0.02, o.width_m, wall.thickness_m + 0.03))
        for name, data in site.rooms.items()
        for o in data.openings
        for wall in [site.wall(name, o.wall)]
    ]
    solid = unary_union(shells).difference(unary_union([*rooms.values(), *holes]))
    parts = [part for part in getattr(solid, "geoms", [solid]) if part.area > 1e-6]
    for part in sorted(parts, key=lambda part: part.bounds):
        outline = tuple(mm(Point(*xy)) for xy in part.exterior.coords[:-1])
        inner = tuple(tuple(mm(Point(*xy)) for xy in ring.coords[:-1]) for ring in part.interiors)
        yield Area(layers.wall_hatch, outline, inner, "hatch", 1.6)
        for ring in (outline, *inner):
            yield Polyline(layers.wall, ring, True)


def _opening(opening: Opening, wall: Wall, layers: Layers) -> Iterator[Item]:
    left, right = opening.from_left_m, opening.from_left_m + opening.width_m
    outside = -wall.thickness_m

    def line(layer: str, s: float, off: float, t: float, off_t: float) -> Line:
        return Line(layer, mm(wall.at(s, off)), mm(wall.at(t, off_t)))

    if opening.kind == "window":
        for off in (0.0, outside / 2, outside):
            yield line(layers.window, left, off, right, off)
    elif opening.kind == "overhead door":
        yield line(layers.door, left, outside / 2 - 0.02, right, outside / 2 - 0.02)
        yield line(layers.door, left, outside / 2 + 0.02, right, outside / 2 + 0.02)
        deep = opening.track_depth_m
        corners = tuple(mm(wall.at(s, off)) for s, off in ((left, 0.0), (left, deep), (right, deep), (right, 0.0)))
        yield Polyline(layers.above, corners)
    elif opening.kind == "door" and opening.swing != "none":
        yield from _swing(opening, wall, layers)
    else:
        yield line(layers.above, left, 0.0, right, 0.0)
        yield line(layers.above, left, outside, right, outside)


def _swing(opening: Opening, wall: Wall, layers: Layers) -> Iterator[Item]:
    hinge_left = opening.hinge == "left"
    s = opening.from_left_m if hinge_left else opening.from_left_m + opening.width_m
    base = wall.at(s, 0.0 if opening.swing == "in" else -wall.thickness_m)
    inward = wall.inward if opening.swing == "in" else Point(-wall.inward.x, -wall.inward.y)
    shut = wall.along if hinge_left else Point(-wall.along.x, -wall.along.y)
    yield Line(layers.door, mm(base), mm(base.plus(inward, opening.width_m)))
    angles = [way.angle_deg % 360 for way in (inward, shut)]
    start, end = angles if inward.cross(shut) > 0 else angles[::-1]
    yield Arc(layers.door, mm(base), opening.width_m * 1000.0, start, end)
