"""From which corner an isometric is looked at, and how its lengths are drawn for that to be misread least."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from drafter.geometry import Box
from drafter.sheets.isometric_axes import TURNS
from drafter.sheets.isometric_parts import Part
from drafter.sheets.isometric_signs import SignsAmongLines
from drafter.sheets.isometric_space import IsometricSpace, IsometricSpacing, Shape
from drafter.sheets.isometric_stretching import Stretching
from drafter.sheets.scene import Scene

BESIDE_MM, ABOVE_MM = 14.0, 7.0
"""Kept free for labels on either side, and above and below."""

SMALLER = 12.0
"""What it counts to leave the room unfilled, in crossings."""

FILLS = (1.0, 0.94)
"""Shares of the room that are tried for fewer lines over each other."""

UPRIGHTS, POWERS = (0.3, 0.36), (0.6, 0.45)
"""Shares of the height for uprights, and ways to shorten, that are tried likewise."""

TIGHTNESS = (1.0, 0.92, 0.84, 0.76, 0.68, 0.6, 0.52)
"""Shares of the least distances that are tried where all of them do not fit, or leave no room for a change."""

MORE_TIGHT, HOPEFUL, TIGHTER = 3, 16, 20.0
"""How many that fit are tried until no sign is seen on another line, while no more than so many are; what a whole
share less counts, in crossings."""

LOOKS, OF_A_TURN, MOST_NODES = 4, 2, 500
"""How many ways of looking are stretched and lettered, the best first, until one has room for every label; how many of
them from one corner; how many nodes they have together, if they are more than one, which bounds the time."""


def best_looks(scene: Scene, part: Part, room: Box) -> list[IsometricSpace]:
    """The ways of looking that are misread least once single lengths are changed, none tighter than needed for that."""
    spacing = IsometricSpacing(scene, part)
    signs = SignsAmongLines(scene, part, spacing)
    within = Box(room.left + BESIDE_MM, room.bottom + ABOVE_MM, room.right - BESIDE_MM, room.top - ABOVE_MM)
    stretching = Stretching(spacing, signs, within)

    def cost(space: IsometricSpace) -> float:
        return signs.misread(space) + SMALLER * _unfilled(spacing.box(space), within)

    found: list[tuple[float, IsometricSpace]] = []
    tries = 0
    for tightness in TIGHTNESS:
        spaces = _few(sorted(_spaces(spacing, within, tightness), key=cost), MOST_NODES // len(part.nodes))
        stretched = [stretching.stretched(space, tightness) for space in spaces]
        found += [(cost(space) + TIGHTER * (1.0 - tightness), space) for space in stretched]
        tries += bool(spaces)
        left = min(map(signs.count, stretched), default=1)
        if tries == MORE_TIGHT or not 0 < left <= HOPEFUL:
            break
    if not found:
        found = [(cost(space), space) for space in _tightest(spacing, within)]
    return [space for _, space in sorted(found, key=lambda each: each[0])[:LOOKS]]


def _few(ranked: Sequence[IsometricSpace], most: int) -> list[IsometricSpace]:
    """The first of some spaces that differ, few of them seen from the same corner; one at least."""
    found: list[IsometricSpace] = []
    for space in ranked:
        if (
            space not in found
            and sum(space.turn == other.turn for other in found) < OF_A_TURN
            and len(found) < min(max(most, 1), LOOKS)
        ):
            found.append(space)
    return found


def _unfilled(box: Box, room: Box) -> float:
    """Share of a room that a drawing leaves unfilled the way it is nearer to filling it."""
    return max(0.0, 1.0 - max(box.width / room.width, box.height / room.height))


def _spaces(spacing: IsometricSpacing, room: Box, tightness: float) -> Iterator[IsometricSpace]:
    """Spaces that fit."""
    for turn, uprights, power, fill in product(TURNS, UPRIGHTS, POWERS, FILLS):
        space = spacing.fitted(room.width * fill, room.height * fill, Shape(turn, uprights, power, tightness))
        box = spacing.box(space)
        if box.width <= room.width + 0.1 and box.height <= room.height + 0.1:
            yield space


def _tightest(spacing: IsometricSpacing, room: Box) -> Iterator[IsometricSpace]:
    for turn in TURNS:
        yield spacing.fitted(room.width, room.height, Shape(turn, UPRIGHTS[0], POWERS[0], TIGHTNESS[-1]))
