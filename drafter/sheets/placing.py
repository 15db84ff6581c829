"""Places labels where they cover nothing: candidates round a point, a leader where they must go far off.

Works in millimetres on paper. What is drawn is entered first; each label then takes the cheapest free
candidate in a fixed order, so that the same drawing always comes out the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise, product
from math import ceil, hypot
from typing import Literal

from drafter.drawing import Dimension, Insert, Item, Leader, Line, Ordinate, Symbol, Text
from drafter.geometry import Box, Point, encloses
from drafter.lettering import Weight, text_width_mm
from drafter.sheets.cuts import Cuts
from drafter.sheets.item_boxes import boxes_of, line_boxes
from drafter.sheets.label_places import NEAR_RINGS, RINGS_MM, box_beside, leader_to, tries

CELL_MM = 8.0
PAD_MM = 0.5
BAND_MM, PAST_VIEW_MM = 1.0, 80.0
"""Kept free on either side of a match line, and how far that goes past the view."""

WITHIN_MM = 2.0
"""How finely room is looked for within an area, and what is kept free round the label there."""

BESIDE_LEADER_MM, LEFT_MM, LEFT_SIGN_MM = 0.25, 0.5, 1.0
"""Kept free of words on either side of a leader, but for what it points at with either end: words, signs."""

LED_RINGS = 7
"""On how many rings round its point a label is tried before its leader may cross a pipe or a sign."""

ALONG = 0.95
"""A leader whose way has more than this cosine with that of a pipe runs along it."""

TURNS, MOST_SET = 10, 800
"""How often labels are set anew, those that found no place before the others; how many in all, but twice each."""

FAR_MM, FAR_TURNS = 30.0, 3
"""A longer leader is far: so many times its label is set anew before the others."""

OVER_PIPE_MM = 12.0
"""How much longer a leader counts that crosses a pipe or a sign."""

HOPELESS = 12
"""With more labels without a place, none are set anew: the view is too full."""

Cells = dict[tuple[int, int], list[Box]]
"""Boxes by the cells of a grid that they reach into."""


@dataclass(frozen=True, slots=True)
class Label:
    """Lines of text that are to stand near a point of a view, or as well near one of some others.

    Attributes:
        kind: of what it names; without a leader it does not stand nearer to another thing of the kind.
        belongs: more points of what it names, such as along a pipe.
        told: whether in a box of the paper, with a leader or without, it is told what it names; none: it always is.
        along: way of the pipe that its point is on: no leader runs along it.
        within: corners of an area such as a room, where it stands without a leader if there is room.
        elsewhere: corners of areas, such as other rooms, where it does not stand if there is room outside them.
        upright: where on an upright pipe it belongs, beside which it may stand in a column with others.
        short: its lines where the column has no room for it.
        tip, rim_mm: end of its leader, a dot within an area only; how far before its point that is, on a sign's rim.
        reach_mm: how far its sign reaches beside its upright pipe, on the side of its point.
    """

    layer: str
    leader_layer: str
    anchor: Point
    lines: tuple[str, ...]
    height_mm: float = 2.5
    bold: bool = False
    rings: tuple[float, ...] = RINGS_MM
    others: tuple[Point, ...] = ()
    kind: str = ""
    belongs: tuple[Point, ...] = ()
    told: Callable[[Box, bool], bool] | None = None
    along: Point | None = None
    within: tuple[Point, ...] = ()
    elsewhere: tuple[tuple[Point, ...], ...] = ()
    upright: Point | None = None
    short: tuple[str, ...] = ()
    tip: Literal["arrow", "dot"] = "arrow"
    rim_mm: float = 0.0
    reach_mm: float = 0.0

    @property
    def pitch_mm(self) -> float:
        """From line to line."""
        return self.height_mm * 1.5

    @property
    def shortened(self) -> Label:
        """The label with its short lines, where it has such."""
        return replace(self, lines=self.short or self.lines)

    def size_mm(self) -> tuple[float, float]:
        """Return the width and height of its lines."""
        weight: Weight = "bold" if self.bold else "regular"
        width = max(text_width_mm(line, self.height_mm, weight) for line in self.lines)
        return width, self.height_mm + self.pitch_mm * (len(self.lines) - 1)


@dataclass
class Ground:
    """What is taken on a view, as boxes in a grid of cells, and the labels that found no place.

    ``words`` holds what a leader may not cross either: texts and other leaders; ``drawn`` what it crosses only
    where it must: pipes and signs; ``signs`` what it is kept off even then. ``named`` are the points that each label
    of a kind belongs to [mm on paper].
    """

    scale: float
    cells: Cells = field(default_factory=dict)
    words: Cells = field(default_factory=dict)
    drawn: Cells = field(default_factory=dict)
    signs: Cells = field(default_factory=dict)
    homeless: list[str] = field(default_factory=list)
    named: dict[str, list[tuple[Point, ...]]] = field(default_factory=dict)

    def set_all(self, labels: Sequence[Label]) -> list[Item]:
        """Set labels; where some find no place, or one far off, set them all again with those before the others."""
        for label in labels:
            self.name(label)
        order, best = list(range(len(labels))), ((len(labels) + 1, 0.0), dict[int, list[Item]](), self)
        for turn in range(max(2, min(TURNS, MOST_SET // max(1, len(labels))))):
            ground = self._copy()
            found = {number: ground.label(labels[number]) for number in order}
            lost = [number for number in order if not found[number]]
            led_mm = {number: self._led_mm(items) for number, items in found.items()}
            if (cost := (len(lost), sum(led_mm.values()))) < best[0]:
                best = cost, found, ground
            first = lost or [number for number in order if led_mm[number] > FAR_MM]
            if not first or len(lost) > HOPELESS or (not lost and turn >= FAR_TURNS):
                break
            order = [*first, *(number for number in order if number not in first)]
        _, found, ground = best
        self.cells, self.words, self.homeless = ground.cells, ground.words, ground.homeless
        return [item for number in range(len(labels)) for item in found.get(number, [])]

    def name(self, label: Label) -> None:
        """Keep in mind where the thing is that a label of a kind names."""
        if label.kind:
            points = tuple(self.paper(point) for point in (label.anchor, *label.belongs))
            self.named.setdefault(label.kind, []).append(points)

    def label(self, label: Label) -> list[Item]:
        """Set a label near its point, with a leader where it stands far off; what finds no place is kept in mind."""
        items = self.label_if_free(label)
        if not items:
            self.homeless.append(label.lines[0])
        return items

    def label_if_free(self, label: Label) -> list[Item]:
        """Set a label that may be left out; nothing where it finds no place.

        Where it may stand near several points, close to one goes before far off another.
        """
        if label.within and (items := self.set_within(label)):
            return items
        tries = [(label.anchor, label.rings)]
        if label.others:
            points = (label.anchor, *label.others)
            tries = [*((at, label.rings[:NEAR_RINGS]) for at in points), *((at, label.rings) for at in points)]
        areas = [[self.paper(corner) for corner in corners] for corners in label.elsewhere]
        kept_off = ((self.drawn, self.signs), *(((self.signs,),) if self.signs else ()), ())
        for shut, off in product([areas, []] if areas else [areas], kept_off):
            for at, rings in tries:
                if items := self._set_near(label, at, rings[:LED_RINGS] if off else rings, shut, off):
                    return items
        return []

    def set_within(self, label: Label) -> list[Item]:
        """Set a label without a leader within its area, as near its point as there is room, else nothing."""
        width, height = label.size_mm()
        at, bounds = self.paper(label.anchor), self.around(label.within)
        corners = [self.paper(corner) for corner in label.within]
        steps = [int(most / WITHIN_MM) for most in (bounds.width / 2, bounds.height / 2)]
        spots = ((i * WITHIN_MM, j * WITHIN_MM) for i, j in product(*(range(-most, most + 1) for most in steps)))
        for x, y in sorted(spots, key=lambda spot: (hypot(*spot), spot)):
            middle = Point(at.x + x, at.y + y)
            box = Box(middle.x - width / 2, middle.y - height / 2, middle.x + width / 2, middle.y + height / 2)
            if self.free(box.grown(WITHIN_MM)) and all(encloses(corners, corner) for corner in box.corners):
                return self.put(label, box, None)
        return []

    def _led_mm(self, items: Sequence[Item]) -> float:
        """How long the leaders among some items are, on paper; one that crosses a pipe or sign counts as longer."""
        led_mm = 0.0
        for leader in (item for item in items if isinstance(item, Leader)):
            start, end = (self.paper(point) for point in (leader.points[0], leader.points[-1]))
            crosses = not self.line_free(start, end, self.drawn, LEFT_SIGN_MM)
            led_mm += end.minus(start).length + OVER_PIPE_MM * crosses
        return led_mm

    def _copy(self) -> Ground:
        cells, words = ({cell: list(boxes) for cell, boxes in each.items()} for each in (self.cells, self.words))
        return Ground(self.scale, cells, words, self.drawn, self.signs, list(self.homeless), self.named)

    def keep_off(self, cuts: Cuts) -> None:
        """Take a band along each match line, so that no label and no leader crosses one."""
        reach = cuts.within.grown(PAST_VIEW_MM * self.scale)
        bands = [Box(x, reach.bottom, x, reach.top) for x in cuts.upright]
        bands += [Box(reach.left, y, reach.right, y) for y in cuts.level]
        for band in bands:
            self.take(self.around(band.corners).grown(BAND_MM), words=True)

    def take(self, box: Box, words: bool = False, drawn: bool = False) -> None:
        """Keep labels out of a box; leaders too of words, and where they can be of what is drawn."""
        for taken in (self.cells, *((self.words,) if words else ()), *((self.drawn,) if drawn else ())):
            self._enter(taken, box)

    def mark(self, sign: Box) -> None:
        """Keep leaders off a sign even where they must cross pipes."""
        self._enter(self.signs, sign)

    def _enter(self, taken: Cells, box: Box) -> None:
        for cell in self._cells(box):
            taken.setdefault(cell, []).append(box)

    def free(self, box: Box, of_words: bool = False) -> bool:
        taken = self.words if of_words else self.cells
        left, bottom, right, top = box.left, box.bottom, box.right, box.top
        for cell in self._cells(box):
            for other in taken.get(cell, ()):
                if other.left < right and left < other.right and other.bottom < top and bottom < other.top:
                    return False
        return True

    def _cells(self, box: Box) -> list[tuple[int, int]]:
        columns = range(int(box.left // CELL_MM), int(box.right // CELL_MM) + 1)
        rows = range(int(box.bottom // CELL_MM), int(box.top // CELL_MM) + 1)
        return [(i, j) for i in columns for j in rows]

    def paper(self, point: Point) -> Point:
        """A point of the view in millimetres on paper."""
        return Point(point.x / self.scale, point.y / self.scale)

    def around(self, points: Sequence[Point]) -> Box:
        """The box round some points of the view, on paper."""
        return Box.around([self.paper(point) for point in points])

    def enter(self, items: Iterable[Item], symbols: dict[str, Symbol], marked: bool = False) -> None:
        """Take the room of everything drawn; leaders are kept off signs even over pipes where these are marked."""
        for item in items:
            boxes = boxes_of(item, self.scale, symbols)
            match item:
                case Text() | Leader():
                    words = boxes
                case Ordinate():
                    words = boxes[-1:]
                case Dimension():
                    words = boxes[:1]
                case _:
                    words = []
            for box in boxes:
                self.take(box, box in words, isinstance(item, Insert) or (isinstance(item, Line) and bool(item.id)))
                if marked and isinstance(item, Insert):
                    self.mark(box)

    def _set_near(
        self,
        label: Label,
        anchor: Point,
        rings: Sequence[float],
        shut: Sequence[Sequence[Point]],
        kept_off: Sequence[Cells],
    ) -> list[Item]:
        """Set a label near a point of the view, outside areas of the paper; nothing where it finds no place.

        Args:
            kept_off: what its leader does not cross, besides words.
        """
        width, height = label.size_mm()
        at = self.paper(anchor)
        for ring, distance, ways in tries(rings):
            for way in ways:
                box = box_beside(at, way, distance, width, height)
                tip = leader_to(at, box) if ring >= NEAR_RINGS else None
                if not self.free(box.grown(PAD_MM)) or any(encloses(area, at) for area in shut for at in box.corners):
                    continue
                good = self._can_lead(label, tip, kept_off) if tip is not None else self._of_its_own(label, at, box)
                if good and (label.told is None or (tip and not kept_off) or label.told(box, tip is not None)):
                    return self.put(label, box, tip)
        return []

    def _of_its_own(self, label: Label, at: Point, box: Box) -> bool:
        """Whether no other thing of its kind is nearer to a label than its own, or nearly as near."""
        own = {at, *map(self.paper, label.belongs)}
        own_mm = min(map(box.distance, own))
        others = (each for each in self.named.get(label.kind, ()) if own.isdisjoint(each))
        return all(min(map(box.distance, each)) >= own_mm for each in others)

    def _can_lead(self, label: Label, tip: tuple[Point, Point], kept_off: Sequence[Cells]) -> bool:
        """Whether a leader is told from the pipe it points at, and crosses no words and nothing that it is kept off."""
        if label.along is not None and abs(tip[1].minus(tip[0]).unit.dot(label.along)) > ALONG:
            return False
        left_mm = label.rim_mm + LEFT_SIGN_MM
        return self.line_free(*tip) and all(self.line_free(*tip, among, left_mm) for among in kept_off)

    def put(self, label: Label, box: Box, tip: tuple[Point, Point] | None) -> list[Item]:
        """Set a label in a box, with a leader from its thing where one is given [mm on paper]."""
        self.take(box.grown(PAD_MM), words=True)
        set_items: list[Item] = []
        for number, line in enumerate(label.lines):
            y = box.top - label.height_mm - number * label.pitch_mm
            at = Point(box.left * self.scale, y * self.scale)
            weight: Weight = "bold" if label.bold and number == 0 else "regular"
            set_items.append(Text(label.layer, at, line, label.height_mm, weight=weight))
        if tip is not None:
            rim = tip[0].plus(tip[1].minus(tip[0]).unit, label.rim_mm)
            points = tuple(Point(p.x * self.scale, p.y * self.scale) for p in (rim, tip[1]))
            set_items.append(Leader(label.leader_layer, points, label.tip))
            for piece in line_boxes(rim, tip[1]):
                self.take(piece, words=True)
        return set_items

    def line_free(self, start: Point, end: Point, among: Cells | None = None, left_mm: float = LEFT_MM) -> bool:
        """Whether a leader crosses no words and no other leader once it has left the thing it points at.

        Args:
            among: other things that it is not to cross; those at its very start are what it points at.
            left_mm: how far on it has left that.
        """
        taken = self.words if among is None else among
        way, length = end.minus(start), end.minus(start).length
        if length <= 2 * left_mm:
            return True
        first, last = start.plus(way, left_mm / length), start.plus(way, 1.0 - LEFT_MM / length)
        count, span = max(1, ceil(length / CELL_MM)), last.minus(first)
        ends = [first.plus(span, i / count) for i in range(count + 1)]
        for a, b in pairwise(ends):
            left, right, bottom, top = min(a.x, b.x), max(a.x, b.x), min(a.y, b.y), max(a.y, b.y)
            piece = Box(
                left - BESIDE_LEADER_MM, bottom - BESIDE_LEADER_MM, right + BESIDE_LEADER_MM, top + BESIDE_LEADER_MM
            )
            for cell in self._cells(piece):
                for other in taken.get(cell, ()):
                    apart = other.left >= piece.right or other.right <= piece.left
                    apart = apart or other.bottom >= piece.top or other.top <= piece.bottom
                    apart = apart or (among is not None and other.grown(BESIDE_LEADER_MM).contains(start))
                    if not apart and other.grown(BESIDE_LEADER_MM).is_crossed(first, span):
                        return False
        return True
