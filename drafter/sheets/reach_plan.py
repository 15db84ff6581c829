"""The plan of reach: how far the hose of each outlet gets, the floor that none does, and the places to be reached."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from drafter.drawing import Area, Circle, Item, Line, Polyline, Text, View
from drafter.geometry import Box, Point
from drafter.layout.open_floor import DRAGGED_OVER_M, WORK_HEIGHT_M
from drafter.layout.reach import PlaceReach
from drafter.layout.reach_words import place_title, place_words
from drafter.lettering import wrapped
from drafter.sheets.building import building, compressor_in_plan
from drafter.sheets.cuts import UNCUT, Cuts
from drafter.sheets.item_boxes import box_of_view, text_box
from drafter.sheets.paragraph import paragraph
from drafter.sheets.placing import Ground, Label
from drafter.sheets.plan_labels import block_labels, keep_off_walls, room_label
from drafter.sheets.scene import Scene, mm
from drafter.sheets.tables import Column, Table

DOT_MM, CROSS_MM = 0.9, 1.6
HATCH_MM = 3.0
AROUND_TEXT_MM = 0.6
LEAST_HATCH_MM2 = 1e4
"""Smaller pieces of floor, in the view, are not hatched: 100 cm²."""

TAG_AT = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
"""Where along the end of a hose its tag may stand."""

KEY_MM, TEXT_MM, PITCH_MM = 15.0, 2.5, 3.7


def reach_view(scene: Scene, scale: int, scale_text: str, cuts: Cuts = UNCUT) -> tuple[View, list[str]]:
    """Draw the plan of reach at a scale, to be cut at match lines; also return the labels that found no room."""
    ground, layers = Ground(scale), scene.layers
    ground.keep_off(cuts)
    keep_off_walls(ground, scene.site)
    items = [*building(scene.site, layers), *compressor_in_plan(scene.site, layers), *_drawn(scene, scale)]
    ground.enter(items, scene.symbols)
    labels = ground.set_all(list(_labels(scene)))
    items = [*_unreached(scene, labels, scale), *items, *labels]
    view = View("reach", "REACH OF THE HOSES", scale, scale_text, tuple(items), box_of_view(items, scale, {}))
    return view, ground.homeless


def _drawn(scene: Scene, scale: int) -> Iterator[Item]:
    layers, reach = scene.layers, scene.layout.reach
    for outlet in reach.outlets:
        for line in outlet.ends:
            yield Polyline(layers.reach, tuple(map(mm, line)))
    for node in scene.layout.couplings:
        yield Circle(layers.outlet, mm(node.at.plan), DOT_MM * scale, filled=True)
    for place in reach.places:
        yield from _mark(scene, place, scale)


def _unreached(scene: Scene, labels: Sequence[Item], scale: int) -> Iterator[Item]:
    """Hatch the floor that no hose gets to, but for where labels stand."""
    from shapely import Polygon, box, unary_union

    boxes = [text_box(label, scale).grown(AROUND_TEXT_MM) for label in labels if isinstance(label, Text)]
    taken = unary_union([box(*(side * scale for side in (b.left, b.bottom, b.right, b.top))) for b in boxes])
    for patch in scene.layout.reach.unreached:
        floor = Polygon(list(map(mm, patch.boundary)), [list(map(mm, hole)) for hole in patch.holes])
        bare = floor.difference(taken)
        for part in getattr(bare, "geoms", [bare]):
            rings = [tuple(Point(*at) for at in ring.coords[:-1]) for ring in (part.exterior, *part.interiors)]
            if part.area > LEAST_HATCH_MM2:
                yield Area(scene.layers.unreached, rings[0], tuple(rings[1:]), "hatch", HATCH_MM)


def _mark(scene: Scene, place: PlaceReach, scale: int) -> Iterator[Item]:
    """A cross at a spot; the free sides of a thing drawn heavy, with a cross where no hose gets to."""
    layer = scene.layers.reach_place
    if place.hardest is not None and not (place.entry.around and place.is_reached):
        at = mm(place.hardest)
        for way in _diagonals(CROSS_MM / 2 * scale):
            yield Line(layer, at.minus(way), at.plus(way))
    for side in place.sides:
        yield Polyline(layer, tuple(map(mm, side)))


def _diagonals(half: float) -> tuple[Point, Point]:
    """From the middle of a cross to two of its ends."""
    return Point(half, half), Point(half, -half)


def _labels(scene: Scene) -> Iterator[Label]:
    layers, units, reach = scene.layers, scene.units, scene.layout.reach
    for node in scene.layout.couplings:
        yield Label(layers.tag, layers.tag, mm(node.at.plan), (node.tag,), 3.0, True)
    for place in reach.places:
        lines = (place.entry.title,) if place.is_reached else (place.entry.title, "not reached")
        if place.hardest is not None:
            yield Label(layers.reach_place, layers.tag, mm(place.hardest), lines, 2.5, True, tip="dot")
    for outlet in reach.outlets:
        if outlet.ends:
            longest = max(outlet.ends, key=_length_m)
            at, *others = (mm(longest[int(len(longest) * share)]) for share in TAG_AT)
            yield Label(layers.tag, layers.tag, at, (outlet.tag,), 2.5, others=tuple(others))
    for room in reach.rooms:
        share = f"{room.percent} of {units.floor_area(room.open_m2)} reached"
        yield room_label(layers, scene.site.walls[room.room], (room.room.upper(), share), 2.5)
        yield from block_labels(layers, scene.site, room.room)


def _length_m(line: Sequence[Point]) -> float:
    return sum(b.minus(a).length for a, b in pairwise(line))


def reach_key(scene: Scene, area: Box) -> tuple[list[Item], float]:
    """Say at the top of an area what the lines of the plan of reach mean; return where that ends."""
    layers, units, left = scene.layers, scene.units, area.left
    items: list[Item] = [Text(layers.legend, Point(left, area.top - 3.5), "LEGEND", 3.5, weight="bold")]
    y, right = area.top - 10.0, left + KEY_MM - 2.0
    words = ["end of a hose, with its outlet's tag", "floor that no hose gets to", "outlet"]
    signs: list[Item] = [
        Line(layers.reach, Point(left, y), Point(right, y)),
        Area(layers.unreached, Box(left, y - 6.5, right, y - 3.0).corners, (), "hatch", HATCH_MM),
        Circle(layers.outlet, Point((left + right) / 2, y - 2 * 4.7), DOT_MM, filled=True),
    ]
    if scene.layout.reach.places:
        words += ["side of a thing to be reached", "place to be reached: where it is hardest"]
        signs.append(Line(layers.reach_place, Point(left, y - 3 * 4.7), Point(right, y - 3 * 4.7)))
        half, middle = CROSS_MM / 2, Point((left + right) / 2, y - 4 * 4.7)
        cross = [Line(layers.reach_place, middle.minus(way), middle.plus(way)) for way in _diagonals(half)]
        signs.append(cross[0])
        items.append(cross[1])
    for number, text in enumerate(words):
        items += [signs[number], Text(layers.legend, Point(left + KEY_MM, y - number * 4.7), text, TEXT_MM, "left")]
    y -= len(words) * 4.7 + 3.0
    work, low = (units.length_with_unit(units.set_out_m(m)) for m in (WORK_HEIGHT_M, DRAGGED_OVER_M))
    note = (
        f"In plan a hose is its length less the height between its coupling and the work, {work} above floor or as "
        f"given for a place. It goes round walls, columns and what stands on the floor higher than {low}; doors are "
        "taken as shut. It lies across what its coupling hangs over."
    )
    lines = wrapped(note, area.width, TEXT_MM)
    items += paragraph(layers.note, Point(left, y), lines, TEXT_MM, PITCH_MM)
    return items, y - len(lines) * PITCH_MM


def reach_tables(scene: Scene) -> list[Table]:
    """The floor that each outlet serves, and what reaches each place."""
    units, reach = scene.units, scene.layout.reach
    rows = [
        (o.tag, units.long_length(o.hose_m), units.long_length(o.over_floor_m), units.floor_area(o.area_m2))
        for o in reach.outlets
    ]
    heads = (Column("tag"), Column("hose", True), Column("in plan", True), Column("floor it gets to", True))
    rows += [(tag, "on a deck", "", "") for tag in reach.above]
    tables = [Table("REACH", heads, tuple(rows))]
    if reach.places:
        places = tuple((place_title(place), place_words(place, units)) for place in reach.places)
        tables.insert(0, Table("PLACES", (Column("place", widest_mm=32.0), Column("reached by")), places))
    return tables
