"""What every plan writes into its rooms: their names, and what stands on their floors, off the hatched walls."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from drafter.geometry import Box, Point
from drafter.sheets.layers import Layers
from drafter.sheets.placing import Ground, Label
from drafter.sheets.scene import blocks, mm
from drafter.site.model import Site
from drafter.site.wall import Wall

WALL_PIECE_M = 0.25
SHARES, BARE_MM = (0.5, 0.3, 0.7), 1.5
"""Where across a thing its leader may end, and what is bare round that."""

ROOM_RINGS = (0.0, 5.0, 8.0, 15.0, 25.0, 40.0, 60.0)


def keep_off_walls(ground: Ground, site: Site) -> None:
    """Take the hatched walls, in short pieces, so that no label stands in the hatching."""
    for wall in (wall for walls in site.walls.values() for wall in walls):
        for corners in wall.pieces(WALL_PIECE_M):
            ground.take(ground.around([mm(corner) for corner in corners]))
        at, thick = mm(wall.left), wall.thickness_m * 1000.0
        whole = Box(at.x, at.y, at.x, at.y).grown(thick)
        ground.take(ground.around(whole.corners))


def room_label(layers: Layers, walls: Sequence[Wall], lines: tuple[str, ...], height_mm: float) -> Label:
    """Some lines in bold, as near the middle of a room as there is place."""
    floor = tuple(mm(wall.left) for wall in walls)
    return Label(layers.text, layers.text, _middle(floor), lines, height_mm, True, ROOM_RINGS, within=floor, tip="dot")


def block_labels(layers: Layers, site: Site, room: str, ground: Ground | None = None) -> Iterator[Label]:
    """Yield what each thing on the floor of a room is, and how high each deck over it lies.

    On a ground their leaders end where nothing else is drawn on the thing.
    """
    for deck in site.rooms[room].decks:
        middle = Box.around([mm(corner) for corner in site.wall(room, deck.wall).footprint(*deck.placed)]).centre
        lines = (deck.name, f"floor {site.units.level(deck.top_m)}")
        yield Label(layers.text, layers.tag, middle, lines, tip="dot")
    for block in blocks(site, room):
        yield Label(layers.text, layers.tag, _bare_spot(block.footprint, ground), block.words, 2.0, tip="dot")


def _bare_spot(footprint: Sequence[Point], ground: Ground | None) -> Point:
    """The middle of a thing, or a spot nearer to an end where something is drawn in its middle."""
    box = Box.around(tuple(footprint))
    spots = [Point(box.left + x * box.width, box.bottom + y * box.height) for x, y in product(SHARES, repeat=2)]
    spots.sort(key=lambda spot: spot.minus(box.centre).length)
    free = (spot for spot in spots if ground is not None and ground.free(ground.around([spot]).grown(BARE_MM)))
    return next(free, box.centre)


def _middle(corners: Sequence[Point]) -> Point:
    from shapely import Polygon

    spot = Polygon(corners).representative_point()
    centre = Polygon(corners).centroid
    inside = Polygon(corners).contains(centre)
    return Point(centre.x, centre.y) if inside else Point(spot.x, spot.y)
