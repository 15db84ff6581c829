"""A wall seen from inside its room, quiet behind the pipes: outline, openings, furniture, the compressor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drafter.drawing import Area, Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.sheets.scene import SYMBOL, Scene, blocks
from drafter.site.model import Deck, Site
from drafter.site.wall import Wall
from drafter.supports.framing import AGAINST_M, Front, fronts

SAME_M = 1e-6

COLUMN_WITHIN_M = 1.2
"""Columns whose front, and decks whose edge is nearer to a wall than this are drawn on it."""

FLOOR_PAST_M = 0.25
"""How far the floor line is drawn past the wall's ends."""

LEG_MM = 50.0
"""Width of the legs of a tank, and how far they reach up beside it."""


def wall_face(scene: Scene, wall: Wall) -> list[Item]:
    """Draw everything on a wall that is not piping: x from its left-hand corner, y above floor."""
    return [*_outline(scene, wall), *_things(scene, wall)]


def _box(left_m: float, bottom_m: float, right_m: float, top_m: float) -> tuple[Point, ...]:
    return Box(left_m * 1000.0, bottom_m * 1000.0, right_m * 1000.0, top_m * 1000.0).corners


def _outline(scene: Scene, wall: Wall) -> list[Item]:
    length, top, past = wall.length_m * 1000.0, wall.ceiling_m * 1000.0, FLOOR_PAST_M * 1000.0
    return [
        Line(scene.layers.floor, Point(-past, 0.0), Point(length + past, 0.0)),
        Line(scene.layers.ceiling, Point(-past, top), Point(length + past, top)),
        Line(scene.layers.wall, Point(0.0, 0.0), Point(0.0, top)),
        Line(scene.layers.wall, Point(length, 0.0), Point(length, top)),
        *(
            scene.insert(scene.layers.sign, "datum", Point(at, 0.0), scale=SYMBOL)
            for at, corner in ((0.0, wall.left), (length, wall.right))
            if corner.length < SAME_M and not wall.is_crossing
        ),
    ]


def _things(scene: Scene, wall: Wall) -> list[Item]:
    found: list[Item] = []
    room = scene.site.rooms[wall.room]
    for opening in room.openings:
        if scene.site.wall(wall.room, opening.wall) is not wall:
            continue
        left, right = opening.from_left_m, opening.from_left_m + opening.width_m
        layer = scene.layers.window if opening.kind == "window" else scene.layers.door
        found.append(Polyline(layer, _box(left, opening.bottom_m, right, opening.height_m), True))
        if opening.kind == "window":
            inner = _box(left + 0.06, opening.bottom_m + 0.06, right - 0.06, opening.height_m - 0.06)
            found.append(Polyline(layer, inner, True))
        elif opening.kind == "overhead door":
            top = min(wall.ceiling_m, opening.top_m)
            found.append(Polyline(scene.layers.above, _box(left, opening.height_m, right, top), True))
    for front in fronts_shown(scene.site, wall):
        corners = _box(front.low_m, 0.0, front.high_m, wall.ceiling_m)
        if front.back_m <= AGAINST_M:
            found.append(Area(scene.layers.wall_hatch, corners, fill="hatch"))
        found.append(Polyline(scene.layers.column, corners, True))
    for _, face in deck_faces(scene.site, wall):
        hatch = Area(scene.layers.wall_hatch, face.corners, fill="hatch")
        found += [hatch, Polyline(scene.layers.column, face.corners, True)]
    for block in blocks(scene.site, wall.room):
        if block.wall is wall:
            found.append(Polyline(scene.layers.keep if block.keep_clear else scene.layers.furniture, block.face, True))
    return found + _compressor(scene, wall)


def fronts_shown(site: Site, wall: Wall) -> Iterator[Front]:
    """Yield the fronts of the columns that are drawn on a wall, as far as they stand before it."""
    for front in fronts(site, wall):
        low_m, high_m = max(front.low_m, 0.0), min(front.high_m, wall.length_m)
        if not wall.is_crossing and low_m < high_m and 0.0 < front.off_m < COLUMN_WITHIN_M:
            yield replace(front, low_m=low_m, high_m=high_m)


def deck_faces(site: Site, wall: Wall) -> Iterator[tuple[Deck, Box]]:
    """Yield the decks at a wall or over a crossing, with their edges as seen there, in the view's millimetres."""
    for deck in site.rooms[wall.room].decks:
        ends = [wall.measure(corner) for corner in site.wall(wall.room, deck.wall).footprint(*deck.placed)]
        low_m, high_m = max(0.0, min(s for s, _ in ends)), min(wall.length_m, max(s for s, _ in ends))
        if low_m < high_m and min(off for _, off in ends) < COLUMN_WITHIN_M and max(off for _, off in ends) > 0.0:
            yield deck, Box(low_m * 1000.0, deck.underside_m * 1000.0, high_m * 1000.0, deck.top_m * 1000.0)


def compressor_faces(site: Site, wall: Wall) -> tuple[Box, Box, Box] | None:
    """Tank, pump and motor of the compressor as seen before a wall, in the view's millimetres; None on other walls."""
    plant = site.compressor
    if site.wall(plant.room, plant.wall) is not wall:
        return None
    left, width, height = (each * 1000.0 for each in (plant.from_left_m, plant.width_m, plant.height_m))
    low, top = 0.12 * height, 0.62 * height
    return (
        Box(left, low, left + width, top),
        Box(left + 0.15 * width, top, left + 0.5 * width, height),
        Box(left + 0.56 * width, top, left + 0.85 * width, top + 0.7 * (height - top)),
    )


def _compressor(scene: Scene, wall: Wall) -> list[Item]:
    faces = compressor_faces(scene.site, wall)
    if faces is None:
        return []
    tank, pump, motor = faces
    radius = tank.height / 2
    points: list[Point] = []
    for x, first in ((tank.right - radius, -90.0), (tank.left + radius, 90.0)):
        points += [Point(x, tank.centre.y).plus(Point(radius, 0.0).turned(first + 15.0 * i)) for i in range(13)]
    feet = [tank.left + share * tank.width for share in (0.2, 0.75)]
    legs = [Box(foot, 0.0, foot + LEG_MM, tank.bottom + LEG_MM).corners for foot in feet]
    layer = scene.layers.equipment
    return [
        Polyline(layer, tuple(points), True),
        *(Polyline(scene.layers.furniture, leg, True) for leg in legs),
        Polyline(layer, pump.corners, True),
        Polyline(layer, motor.corners, True),
    ]


def level_line(scene: Scene, wall: Wall, scale: float) -> list[Item]:
    """The level line, shown beside both ends of a wall, where it runs through nothing."""
    line_m, layer = scene.site.level_line_m, scene.layers.sign
    y, end = line_m * 1000.0, wall.length_m * 1000.0
    left = Point(-6.5 * scale, y)
    return [
        Line(layer, Point(-6.0 * scale, y), Point(0.0, y)),
        Line(layer, Point(end, y), Point(end + 6.0 * scale, y)),
        Text(scene.layers.text, left, f"level line {scene.units.level(line_m)}", 2.5, "right"),
    ]
