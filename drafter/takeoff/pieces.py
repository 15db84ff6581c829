"""Pieces of tube between the fittings: straight ones, and those that are bent round corners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise

from drafter.finding import Finding, Place, Severity
from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, NodeKind
from drafter.sizing.bends import TubeLine
from drafter.standards.materials import TubeSize
from drafter.supports.couplings import Range, coupling_on_bend, is_slipped, stock_lengths
from drafter.takeoff.ends import Ends, back
from drafter.takeoff.part import FITTINGS, TUBE, TubeBend

LEAST_BETWEEN_SOCKETS_M = 0.01


SLIP_COUPLING = "slip coupling, without a stop inside, to close the ring"
COUPLING = "coupling"
"""What a list calls the end of a piece that is joined to the next of its line."""


@dataclass(frozen=True, slots=True)
class Span:
    """Where on a run a piece lies: from and to which share of it, about."""

    run: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of tube: where it goes, centre to centre by its corners, and its length as cut [m].

    Attributes:
        spans: the runs it lies on, in the direction of flow.
        make_up: cut on site, when the rest of its line is in.
        bends: in the order in which they are marked from its first end.
        slips: the coupling that closes a ring is pushed onto it, then back over the joint.
    """

    number: int
    spans: tuple[Span, ...]
    size: str
    start: str
    end: str
    centre_to_centre_m: float
    cut_m: float
    make_up: bool = False
    bends: tuple[TubeBend, ...] = ()
    slips: bool = False

    @property
    def run(self) -> str:
        """Id of the run it begins on."""
        return self.spans[0].run

    @property
    def runs(self) -> tuple[str, ...]:
        return tuple(span.run for span in self.spans)


@dataclass
class Pieces(Ends):
    """Puts tube between the ends that wait, as many pieces as the lengths sold ask for.

    Attributes:
        short: lines whose fittings leave no room for tube, and how much they take of them [m].
    """

    pieces: list[Piece] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    short: list[tuple[TubeLine, float]] = field(default_factory=list)

    def _tube(self, line: TubeLine, make_up: bool, if_coupled: bool) -> None:
        """Put the tube of a line between its ends.

        Args:
            make_up, if_coupled: whether its last piece takes up what the others are off, in any case or where there are
                several.
        """
        size = self._size(line.runs[0])
        first, last = (line.runs[0].start, line.runs[0].id), (line.runs[-1].end, line.runs[-1].id)
        taken = self.allowance_m[first] + self.allowance_m[last]
        cut = line.axis_m - taken + 2 * size.insertion_m
        if cut < 2 * size.insertion_m + LEAST_BETWEEN_SOCKETS_M - 1e-6:
            self.short.append((line, taken))
            cut = max(cut, LEAST_BETWEEN_SOCKETS_M)
        off_m = self.allowance_m[first] - size.insertion_m
        bent_m = [(low - off_m, high - off_m) for low, high in line.bent_m]
        slipped = is_slipped(line, self.family)
        lengths = stock_lengths(cut, self.family, size, bent_m, slipped)
        gap_m = size.coupling_length_m - 2 * size.insertion_m
        centres_m = [length + gap_m for length in lengths]
        centres_m[0] += off_m - gap_m / 2
        centres_m[-1] += self.allowance_m[last] - size.insertion_m - gap_m / 2
        spans = _spans(line, centres_m)
        make_up = make_up or (if_coupled and len(lengths) > 1)
        begun_m, before = 0.0, self.ends[first]
        for index, part_cut in enumerate(lengths):
            done, end_m = index == len(lengths) - 1, begun_m + part_cut
            ways = self._way_at(line, bent_m, begun_m), self._way_at(line, bent_m, end_m)
            item = SLIP_COUPLING if slipped and index == len(lengths) - 2 else COUPLING
            after = self.ends[last] if done else self._stock_joint(item, f"{line.runs[0].id} {index}", size, ways[1])
            if not done and any(coupling_on_bend(end_m, bend, size) for bend in bent_m):
                self._no_straight(line)
            bends = self._bends(line, bent_m, begun_m, end_m)
            piece = self._piece(line, spans[index], (centres_m[index], part_cut), make_up and done, bends)
            self._put_between(before, after, replace(piece, slips=slipped and done), ways)
            before, begun_m = (after[0], 1), end_m + gap_m

    def _piece(
        self,
        line: TubeLine,
        spans: tuple[Span, ...],
        lengths_m: tuple[float, float],
        make_up: bool,
        bends: tuple[TubeBend, ...],
    ) -> Piece:
        layout, (centres_m, cut_m) = self.network.layout, lengths_m
        whole = [span.run for span in spans] == [run.id for run in line.runs] and spans[0].start == 0.0
        centres_m = line.centres_m if whole and spans[-1].end > 1.0 - 1e-9 else centres_m
        start, end = (called(layout, layout.nodes[id]) for id in (line.runs[0].start, line.runs[-1].end))
        start = start if spans[0].run == line.runs[0].id and spans[0].start == 0.0 else COUPLING
        end = end if spans[-1].run == line.runs[-1].id and spans[-1].end > 1.0 - 1e-9 else COUPLING
        size = self._size(line.runs[0]).name
        return Piece(len(self.pieces) + 1, spans, size, start, end, centres_m, cut_m, make_up, bends)

    def _put_between(
        self, before: tuple[str, int], after: tuple[str, int], piece: Piece, ways: tuple[Point3, Point3]
    ) -> None:
        ends = (
            self.plain(piece.size, self._port(before).key, back(ways[0])),
            self.plain(piece.size, self._port(after).key, ways[1]),
        )
        tag, bends = f"{piece.number}", piece.bends
        id = self.add(TUBE, self.family.title, piece.size, ends, tag, piece.cut_m, bends=bends)
        self.pieces.append(piece)
        self.join(before, (id, 0))
        self.join((id, 1), after)

    def _bends(self, line: TubeLine, bent_m: Sequence[Range], begun_m: float, end_m: float) -> tuple[TubeBend, ...]:
        """The bends of a piece that begins and ends here on its line."""
        return tuple(
            TubeBend(low - begun_m, bend.radius_m, bend.turn_rad, self._way(bend.node, run))
            for (low, _), bend, run in zip(bent_m, line.bends, line.runs[1:], strict=True)
            if begun_m <= low < end_m
        )

    def _way_at(self, line: TubeLine, bent_m: Sequence[Range], at_m: float) -> Point3:
        """Which way the tube leads so far from its first end."""
        run = line.runs[sum(low < at_m for low, _ in bent_m)]
        return self._way(run.start, run)

    def _stock_joint(self, item: str, key: str, size: TubeSize, way: Point3) -> tuple[str, int]:
        """Add the coupling after a full stock length; return its end towards that."""
        reach = size.coupling_length_m / 2 - size.insertion_m
        ends = self.socket(size.name, f"{key} in", back(way), reach), self.socket(size.name, f"{key} out", way, reach)
        return self.add(FITTINGS, item, size.name, ends), 0

    def _no_straight(self, line: TubeLine) -> None:
        """A coupling that finds no straight to stand on stops the drawing."""
        layout = self.network.layout
        start, end = layout.nodes[line.runs[0].start], layout.nodes[line.runs[-1].end]
        longest = layout.site.units.long_length(self.family.longest_piece_m)
        self.findings.append(
            Finding(
                "CUT002",
                Severity.ERROR,
                layout.site.main.where("turns"),
                f"the tube from {called(layout, start)} to {called(layout, end)} has no straight for the coupling that "
                f"lengths of {longest} ask for",
                line.runs[0].outlet or line.runs[0].id,
                fix="buy it in longer lengths, or turn it by fittings",
                write="main: {stock: [...]}, or main: {turns: fittings}",
                source="a coupling stands on straight tube",
            )
        )

    def note_short(self) -> None:
        """Say which pieces are too short: fittings that nearly touch are a warning, those that overlap an error."""
        for severity in (Severity.ERROR, Severity.WARNING):
            lacks = [each for each in self.short if (each[1] > each[0].centres_m) == (severity is Severity.ERROR)]
            if lacks:
                self.findings.append(self._too_short(severity, lacks))

    def _too_short(self, severity: Severity, lacks: list[tuple[TubeLine, float]]) -> Finding:
        units, layout = self.network.layout.site.units, self.network.layout
        line, taken = max(lacks, key=lambda each: each[1] - each[0].centres_m)
        start, end = layout.nodes[line.runs[0].start], layout.nodes[line.runs[-1].end]
        length, least = units.length_with_unit(line.centres_m), units.length_with_unit(taken + LEAST_BETWEEN_SOCKETS_M)
        where = f"the piece from {called(layout, start)} to {called(layout, end)}"
        subjects = list(dict.fromkeys(each.runs[0].outlet or each.runs[0].id for each, _ in lacks))
        more = f"; and {len(lacks) - 1} more, of {', '.join(subjects)}" if len(lacks) > 1 else ""
        place, further = self._further_off(line, taken + LEAST_BETWEEN_SOCKETS_M)
        return Finding(
            "CUT001",
            severity,
            place,
            f"{where} is too short for its fittings: {length} centre to centre{more}",
            ", ".join(subjects),
            measured=length,
            limit=least,
            fix=f"it needs {least}: {further}use a close fitting there, or give smaller sizes",
            source="centre-to-face and insertion of " + self.family.name,
        )

    def _further_off(self, line: TubeLine, least_m: float) -> tuple[Place, str]:
        """Where the finding stands; and, of a swan neck that leads back to the wall, how far off that the main must be.

        The neck is as long as the main is further off the wall than the drop.
        """
        layout, run = self.network.layout, line.runs[0]
        main, wall = layout.site.main, layout.site.wall(run.room, run.wall)
        start, end = (wall.measure(layout.nodes[node].at.plan)[1] for node in (run.start, run.end))
        if not run.outlet or abs(start - end) < line.centres_m - 1e-6:
            return main.where("material"), ""
        units = layout.site.units
        needed = units.set_out_m(min(start, end) + least_m + units.set_out_step_m / 2)
        words = f"write main: {{off wall: {units.length_with_unit(needed)}}} or more, or "
        return main.where("off_wall_m" if main.off_wall_m else "material"), words


def _spans(line: TubeLine, lengths_m: Sequence[float]) -> list[tuple[Span, ...]]:
    """For each piece the runs it lies on, from centre to centre of what stands at its ends."""
    total, bounds = sum(lengths_m), tuple(accumulate(line.lengths_m, initial=0.0))
    shares = [done / total for done in accumulate(lengths_m, initial=0.0)]
    if len(line.runs) == 1:
        return [(Span(line.runs[0].id, *ends),) for ends in pairwise(shares)]
    found = []
    for low, high in pairwise(share * line.centres_m for share in shares):
        held = [
            Span(run.id, max(0.0, (low - begin) / (end - begin)), min(1.0, (high - begin) / (end - begin)))
            for run, (begin, end) in zip(line.runs, pairwise(bounds), strict=True)
        ]
        found.append(tuple(span for span in held if span.end - span.start > 1e-6))
    return found


def called(layout: Layout, node: Node) -> str:
    """What a list calls a node: its tag, or the kind of fitting and the outlet it serves."""
    if node.kind is NodeKind.TEE and layout.is_low_point(node):
        return "low point"
    if node.kind is NodeKind.SERVICE:
        return f"{node.what} {layout.outlet_at(node)}"
    turn = "elbow" if layout.site.main.turns == "bent" else "bend"
    words = {NodeKind.TAKE_OFF: "take-off", NodeKind.HOSE_END: "hose", NodeKind.TEE: "tee"}.get(node.kind, turn)
    return node.tag or f"{words} {layout.outlet_at(node)}".strip()
