"""What is written on the isometric: lengths along the pipes, sizes and falls, levels, tags, names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.lettering import text_width_mm
from drafter.sheets.falls import fall_text, way_of_fall
from drafter.sheets.isometric_lines import UP, IsometricLines
from drafter.sheets.isometric_pen import IsometricPen
from drafter.sheets.isometric_space import LENGTH_TEXT_MM
from drafter.sheets.placing import Ground
from drafter.sheets.skewed_symbols import plane, skewed
from drafter.sheets.slanted_texts import Writing, Written
from drafter.sizing.carrying import runs_on_rings
from drafter.takeoff.numbers_told import ranges

WEDGE_MM, WEDGE_SCALE = 5.2, 0.7
MARK_SCALE, MARK_MM = 0.5, 1.25
FLOW_SCALE, FLOW_SHARES = 0.55, (0.8, 0.72, 0.64, 0.36, 0.28, 0.2)
FLOW_ROOM_MM, FLOW_CLEAR_MM = 1.5, 3.5
LEAST_FLOW_MM = 14.0
LENGTH_SHARES = (0.5, 0.3, 0.7)
PIECE_SHARES = (0.5, 0.85, 0.15, 0.95, 0.05)
"""Where on a line a leader from its length may point, and on a piece one from its number."""

SAID_ALONG = (RunKind.MAIN, RunKind.SLEEVE, RunKind.RISE, RunKind.RISING)


@dataclass(frozen=True, slots=True)
class Lettering:
    """How much is written at each drop.

    Attributes:
        tag_mm: height of the tags of valves and drains.
        sizes: whether the size stands at each outlet; else only where it is not the usual one.
        together: whether the tags of a drop's valve and drain stand below its outlet's.
    """

    tag_mm: float
    sizes: bool
    together: bool


FULL = Lettering(2.5, True, False)
FULLEST_FIRST = (FULL, Lettering(2.0, False, False), Lettering(2.0, False, True))


class IsometricLabels:
    """Writes on an isometric whose lines are drawn and have taken their room."""

    def __init__(self, lines: IsometricLines, ground: Ground, lettering: Lettering) -> None:
        scene = lines.scene
        self.scene, self.part, self.space = scene, lines.part, lines.space
        self.lines, self.ground, self.lettering = lines, ground, lettering
        self.layers, self.layout, self.units = scene.layers, scene.layout, scene.units
        self.pen = IsometricPen(lines, ground)
        self.owners = self.pen.owners

    def written(self, plant_at: Point | None, goes_on: Iterable[tuple[Node, int]]) -> list[Item]:
        """Return all that is written.

        Args:
            plant_at: where the compressor's label points, where it is shown.
            goes_on: where the pipe goes on in another part, and the number of that.
        """
        self._lengths()
        self._levels()
        self._goes_on(goes_on)
        if plant_at and self.part.tank:
            tank = self.units.volume(self.scene.site.compressor.tank_m3)
            words = (self.part.tank.tag, f"compressor, {tank} tank")
            self.pen.tag(self.part.tank, words, 3.0, plant_at)
        self._treatment()
        self._sizes_and_falls()
        self._pieces(of_drops=False)
        self._outlets()
        self._devices()
        self.pen.set_labels()
        self._flow()
        self._drops()
        self._pieces(of_drops=True)
        return self.pen.items

    def _lengths(self) -> None:
        """The true length of each piece of the main, of the riser and of the drip legs of the main."""
        for run in self.part.runs:
            upright = run.kind in (RunKind.RISER, RunKind.DRIP_LEG) and not run.outlet
            if run.kind in SAID_ALONG or (upright and self.layout.is_upright(run)):
                ends, whose = self.lines.ends(run), self.owners.of_runs((run.id,))
                words = self.units.length(self.layout.length_m(run))
                if not self.pen.along(ends, Writing(self.layers.text, words, LENGTH_TEXT_MM), whose, past_mm=1.0):
                    self.pen.pointed(self.pen.points(ends, LENGTH_SHARES, whose), words, whose)

    def _sizes_and_falls(self) -> None:
        """Size and fall once along each wall, for each size and each way it falls there."""
        done: set[tuple[str, str, bool, str]] = set()
        sizes: set[str] = set()
        runs = [run for run in self.part.runs if run.kind is RunKind.MAIN]
        for run in sorted(runs, key=lambda run: -self._drawn_mm(run)):
            way = self.layout.nodes[run.end].at.plan.minus(self.layout.nodes[run.start].at.plan)
            along = self.scene.site.wall(run.room, run.wall).along
            piece = (run.room, run.wall, way.dot(along) > 0.0, self.scene.size_of(run))
            if piece not in done and self._fall(run):
                done.add(piece)
                sizes.add(self.scene.size_of(run))
        for run in sorted(runs, key=lambda run: -self._drawn_mm(run)):
            if self.scene.size_of(run) not in sizes:
                sizes.add(self.scene.size_of(run))
                whose = self.owners.of_runs((run.id,))
                points = self.pen.points(self.lines.ends(run), LENGTH_SHARES, whose)
                self.pen.pointed(points, fall_text(self.scene, run), whose)
        self._riser_size()

    def _drawn_mm(self, run: Run) -> float:
        start, end = self.lines.ends(run)
        return end.minus(start).length

    def _fall(self, run: Run) -> bool:
        falls = bool(self.layout.fall(run))
        writing = Writing(self.layers.text, fall_text(self.scene, run), 2.5, before_mm=WEDGE_MM if falls else 0.0)
        done = self.pen.along(self.lines.ends(run), writing, self.owners.of_runs((run.id,)), (-1, 1))
        if done is None:
            return False
        if falls:
            self._wedge(done, way_of_fall(self.scene, run, self.lines.way(run)))
        return True

    def _wedge(self, written: Written, down: Point) -> None:
        """The sign of the fall before the writing, thin end the way it falls."""
        symbol = self.scene.symbols["slope"]
        size = WEDGE_SCALE * self.space.scale
        self.pen.items += skewed(symbol, self.layers.sign, plane(written.sign_at, down, UP, size))

    def _riser_size(self) -> None:
        risers = [run for run in self.part.runs if run.kind is RunKind.RISER and self.layout.is_upright(run)]
        if risers:
            longest = max(risers, key=self._drawn_mm)
            writing = Writing(self.layers.text, self.scene.size_of(longest))
            self.pen.along(self.lines.ends(longest), writing, self.owners.of_runs((longest.id,)), (-1, 1))

    def _levels(self) -> None:
        """Levels of the main at its ends, at low and high points, at corners where there is room."""
        nodes = [n for n in self.part.own_nodes if n.kind in (NodeKind.TEE, NodeKind.BEND) and self._on_main(n)]
        for node in sorted(nodes, key=lambda node: not self._is_end(node)):
            at, words = self.space.at_node(node), self.units.level(node.at.z)
            if not self._level_mark(at, words):
                self.pen.pointed((at,), words, self.owners.of_node(node), self._is_end(node))

    def _on_main(self, node: Node) -> bool:
        """Whether the main turns or ends at a node, but for the corners of a step round something."""
        runs = self.layout.runs_at[node.id]
        in_step = any(run.kind is RunKind.MAIN and self.layout.goes_across(run) for run in runs)
        return not in_step and any(run.kind is RunKind.MAIN for run in runs) and not any(run.outlet for run in runs)

    def _is_end(self, node: Node) -> bool:
        upright = (RunKind.RISER, RunKind.RISE, RunKind.DRIP_LEG)
        return any(run.kind in upright for run in self.layout.runs_at[node.id])

    def _level_mark(self, at: Point, words: str) -> bool:
        """Write a level beside its mark, whose point touches the pipe, where there is room."""
        here, width = self.ground.paper(at), text_width_mm(words, 2.5)
        for up, right in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
            x = (MARK_MM + 0.8) if right > 0 else -(MARK_MM + 0.8) - width
            y = 0.9 if up > 0 else -3.4
            text = Box(here.x + x, here.y + y, here.x + x + width, here.y + y + 2.5)
            room = [text.grown(0.4), *_mark_boxes(here, up)]
            if all(self.ground.free(box) for box in room):
                for box in room:
                    self.ground.take(box, words=True)
                step = self.space.scale
                self.pen.items += [
                    self.scene.insert(self.layers.sign, "level_mark", at, 0.0 if up > 0 else 180.0, MARK_SCALE),
                    Text(self.layers.tag, Point(text.left * step, text.bottom * step), words, 2.5),
                ]
                return True
        return False

    def _outlets(self) -> None:
        usual = self._usual_size()
        pieces_of = self._pieces_of_outlets()
        for node in self.part.couplings:
            lines = [node.tag, self.units.level(node.at.z)]
            size = self.scene.size_of(self.layout.runs_at[node.id][0])
            if self.lettering.sizes or size != usual:
                lines.append(size)
            if not self.lettering.together and (pieces := pieces_of.get(node.tag)):
                lines.append(f"pc {ranges(pieces)}")
            if self.lettering.together:
                lines += [other.tag for other in self._devices_of(node.tag)]
            height_mm = 2.5 if self.lettering.together else 3.0
            self.pen.tag(node, tuple(lines), height_mm)

    def _pieces_of_outlets(self) -> dict[str, list[int]]:
        """The numbers of the pieces of each drop."""
        outlet_of = {run.id: run.outlet for run in self.part.runs if run.outlet}
        found: dict[str, list[int]] = {}
        for piece in self.scene.takeoff.pieces:
            for outlet in dict.fromkeys(outlet_of[span.run] for span in piece.spans if span.run in outlet_of):
                found.setdefault(outlet, []).append(piece.number)
        return found

    def _usual_size(self) -> str:
        sizes = [self.scene.size_of(self.layout.runs_at[node.id][0]) for node in self.part.couplings]
        return max(sorted(set(sizes)), key=sizes.count, default="")

    def _devices_of(self, outlet: str) -> Iterator[Node]:
        for node in self.part.own_nodes:
            if node.kind in (NodeKind.VALVE, NodeKind.DRAIN) and self.layout.outlet_at(node) == outlet:
                yield node

    def _goes_on(self, nodes: Iterable[tuple[Node, int]]) -> None:
        """Where the pipe goes on in another isometric."""
        for node, number in nodes:
            self.pen.tag(node, (f"see isometric {number}",), 2.5)

    def _treatment(self) -> None:
        for node in self.part.own_nodes:
            if node.kind is NodeKind.TREATMENT:
                self.pen.tag(node, (node.tag, node.what), 2.5)

    def _devices(self) -> None:
        """Tags of valves, drains and spare tees."""
        for node in self.part.own_nodes:
            if node.kind is NodeKind.SPARE_TEE:
                self.pen.tag(node, (node.tag,), 2.5)
            elif node.kind in (NodeKind.VALVE, NodeKind.DRAIN):
                of_drop = bool(self.layout.outlet_at(node))
                if not (of_drop and self.lettering.together):
                    self.pen.tag(node, (node.tag,), self.lettering.tag_mm)

    def _drops(self) -> None:
        """From the top of each swan neck down to the outlet's tee, along the longest piece of the drop."""
        for node in self.part.couplings:
            runs = [run for run in self.part.runs if run.outlet == node.tag and run.kind is RunKind.DROP]
            if runs:
                words = self.units.length(sum(self.layout.length_m(run) for run in runs))
                ends = self.lines.ends(max(runs, key=self._drawn_mm))
                self.pen.along(ends, Writing(self.layers.text, words, 2.0), self.owners.of_outlet(node.tag))

    def _flow(self) -> None:
        """Arrows on the main the way the air goes, where it can go no other: not on a ring."""
        ring = runs_on_rings(self.layout)
        runs = [run for run in self.part.runs if run.kind in (RunKind.MAIN, RunKind.RISER) and run.id not in ring]
        walls = dict.fromkeys((run.room, run.wall, run.kind, self._turn(run)) for run in runs)
        for wall in walls:
            longest = max((r for r in runs if (r.room, r.wall, r.kind, self._turn(r)) == wall), key=self._drawn_mm)
            if self._drawn_mm(longest) > LEAST_FLOW_MM * self.space.scale:
                self._arrow(longest)

    def _turn(self, run: Run) -> int:
        return round(self.lines.way(run).angle_deg)

    def _arrow(self, run: Run) -> None:
        start, end = self.lines.ends(run)
        way, whose = self.lines.way(run), self.owners.of_runs((run.id,))
        for share in FLOW_SHARES:
            at = start.plus(end.minus(start), share)
            here = self.ground.paper(at)
            room = Box(here.x, here.y, here.x, here.y).grown(FLOW_ROOM_MM)
            if whose.clear_mm(here) > FLOW_CLEAR_MM and self.ground.free(room, of_words=True):
                across = UP if abs(way.x) > 0.1 else Point(1.0, 0.0)
                flat = plane(at, way, across, FLOW_SCALE * self.space.scale)
                self.pen.items += skewed(self.scene.symbols["flow_arrow"], self.layers.main, flat)
                self.ground.take(room)
                return

    def _pieces(self, of_drops: bool) -> None:
        """Numbers of the cutting list beside their pieces; of those of drops the ones that have room for them."""
        drops = {run.id for run in self.part.runs if run.outlet}
        ends = {run.id: self.lines.ends(run) for run in self.part.runs}
        for piece in self.scene.takeoff.pieces:
            spans = [(span, *ends[span.run]) for span in piece.spans if span.run in ends]
            here = [span.run for span, _, _ in spans]
            if not spans or drops.isdisjoint(here) == of_drops:
                continue
            parts = [(a.plus(b.minus(a), s.start), a.plus(b.minus(a), s.end)) for s, a, b in spans]
            longest = max(parts, key=lambda part: round(part[1].minus(part[0]).length, 3))
            whose, words = self.owners.of_runs(here), f"pc {piece.number}"
            written = self.pen.along(longest, Writing(self.layers.tag, words, 2.0), whose, (-1, 1))
            if not written and not of_drops:
                self.pen.pointed(self.pen.points(longest, PIECE_SHARES, whose), words, whose)


def _mark_boxes(at: Point, up: int) -> list[Box]:
    """The room of a level mark with its point down on a pipe, or up below it."""
    halves = ((0.5, 0.8, 1.4), (MARK_MM, 1.5, 2.6))
    return [
        Box(at.x - half, min(up * a, up * b) + at.y, at.x + half, max(up * a, up * b) + at.y) for half, a, b in halves
    ]
