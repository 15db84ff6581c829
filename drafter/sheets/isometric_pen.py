"""Writes on an isometric so that every text is read with its own pipe: nearest to it, or on a leader from it."""

from __future__ import annotations

from collections.abc import Sequence

from drafter.drawing import Item
from drafter.geometry import Point
from drafter.layout.graph import Node
from drafter.sheets.isometric_lines import IsometricLines
from drafter.sheets.isometric_owners import IsometricOwners, Whose
from drafter.sheets.isometric_space import LENGTH_TEXT_MM
from drafter.sheets.placing import Ground, Label
from drafter.sheets.slanted_texts import Writing, Written, write_along

CLOSE_RINGS_MM = (0.9, 0.9, 4.0, 8.0, 13.0, 19.0, 26.0, 34.0, 44.0)
"""For what must not be read with something else: right beside its thing, or on a leader."""

TIP_CLEAR_MM = 2.5
"""How far off other pipes a leader ends, if its own is long enough."""


class IsometricPen:
    """Keeps what it has written on a ground whose lines have taken their room."""

    def __init__(self, lines: IsometricLines, ground: Ground) -> None:
        self.lines, self.ground, self.layers = lines, ground, lines.scene.layers
        self._signs = list(lines.sign_rooms())
        self.owners = IsometricOwners(lines.scene, lines.part, lines.space)
        self.items: list[Item] = []
        self._needed, self._welcome = list[Label](), list[Label]()

    def tag(self, node: Node, words: tuple[str, ...], height_mm: float, at: Point | None = None) -> None:
        """Keep what is to be written beside the sign at a node, or near another point of it."""
        layer, told = self.layers.tag, self.owners.of_node(node).is_told
        self._needed.append(Label(layer, layer, at or self.lines.sign_at(node), words, height_mm, True, told=told))

    def along(
        self, ends: tuple[Point, Point], writing: Writing, whose: Whose, sides: Sequence[int] = (1, -1),
        past_mm: float = 0.0,
    ) -> Written | None:  # fmt: skip
        """Write along a line where there is room."""
        done = write_along(self.ground, *ends, writing, sides, past_mm, whose.is_nearest)
        self.items += [done.text] if done else []
        return done

    def pointed(self, points: Sequence[Point], words: str, whose: Whose, needed: bool = True) -> None:
        """Keep a length, size or level to be written beside one of some points, or on a leader from one.

        Args:
            needed: else it is left out where there is no room.
        """
        at, *others = points
        label = Label(
            self.layers.text, self.layers.tag, at, (words,), LENGTH_TEXT_MM, rings=CLOSE_RINGS_MM,
            others=tuple(others), told=whose.is_told,
        )  # fmt: skip
        (self._needed if needed else self._welcome).append(label)

    def set_labels(self) -> None:
        """Write all that was kept, what is needed first."""
        self.items += self.ground.set_all(self._needed)
        for label in self._welcome:
            self.items += self.ground.label_if_free(label)
        self._needed, self._welcome = [], []

    def points(self, ends: tuple[Point, Point], shares: Sequence[float], whose: Whose) -> list[Point]:
        """Return points at some shares of a line, those that are clear of signs and of other pipes if there are any."""
        start, end = ends
        found = [start.plus(end.minus(start), share) for share in shares]
        return [at for at in found if self._is_clear(self.ground.paper(at), whose)] or found

    def _is_clear(self, at: Point, whose: Whose) -> bool:
        on_sign = any(sign.contains(at) for sign in self._signs)
        return not on_sign and whose.clear_mm(at) > TIP_CLEAR_MM
