"""Adds brackets where those of the straight lines leave a fitting unheld, or too much pipe free round corners."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from drafter.finding import Finding, Severity
from drafter.layout.graph import Node, RunKind
from drafter.site.wall import with_article
from drafter.sizing.network import Network
from drafter.supports.design import Bracket
from drafter.supports.free_pipe import SLACK_M, FreePipe, Holds, Piece, fittings_of_main, has_swan_neck
from drafter.supports.hose_end import pipe_at_hose
from drafter.supports.lines import NEAR_FITTING_M, SHORTEST_M, PipeLine
from drafter.supports.spacing import Spot

Place = Callable[[PipeLine, float], Bracket]

_WORTH = 0.5
"""A bracket that does not do is worth its price where it leaves no more than this share of what was too much."""


@dataclass
class RoundCorners:
    """Places brackets on pieces that straight lines leave without, as they are too short for two.

    Attributes:
        lines: each with the places that a bracket may stand at.
        place: makes the bracket at a station of a line.
        added: what was placed.
    """

    network: Network
    lines: Sequence[tuple[PipeLine, Sequence[Spot]]]
    holds: Holds
    place: Place
    added: list[Bracket] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._line_of: Mapping[str, tuple[PipeLine, Sequence[Spot]]] = {
            run.id: (line, spots) for line, spots in self.lines for run in line.runs
        }

    def hold(self) -> None:
        """Hold the pipe at the hose, each fitting of the main on one side, then what hangs free beyond its span."""
        self._hold_at_hose()
        for node in fittings_of_main(self.network):
            if not self.holds.is_held(node):
                self._hold_fitting(node)
        while any(self._divide(free) for free in self.too_long()):
            pass

    def _hold_at_hose(self) -> None:
        """Hold the pipe between hose and riser, as near the hose as there is room."""
        for piece in self.holds.unheld(pipe_at_hose(self.network.layout))[:1]:
            self._add([(spot.price, at_m, line, spot.at_m) for line, spot, at_m in self._places(piece)])

    def too_long(self) -> list[FreePipe]:
        """What hangs free for longer than its span, but for swan necks, which nothing can hold."""
        return [free for free in self.holds.free_pipes() if free.is_too_long and not has_swan_neck(self.network, free)]

    def _hold_fitting(self, node: Node) -> None:
        layout, best = self.network.layout, list[tuple[float, float, PipeLine, float]]()
        for run in layout.runs_at[node.id]:
            pieces = self.holds.unheld(run)
            piece = pieces[0] if run.start == node.id else pieces[-1]
            middle_m = (piece.low_m + piece.high_m) / 2
            for line, spot, at_m in self._places(piece):
                off_m = at_m if run.start == node.id else layout.length_m(run) - at_m
                if off_m <= self.holds.near_m(run, node.id):
                    best.append((spot.price, abs(at_m - middle_m), line, spot.at_m))
        self._add(best)

    def _divide(self, free: FreePipe) -> bool:
        """Put a bracket where it leaves least too long; False where none is worth it."""
        best, so_far_m, over_m = list[tuple[float, float, PipeLine, float]](), 0.0, free.length_m - free.limit_m
        for number, piece in enumerate(free.pieces):
            length_m = piece.high_m - piece.low_m
            for line, spot, at_m in self._places(piece):
                along_m = so_far_m + (
                    at_m - piece.low_m if _runs_on(self.network, free, number) else piece.high_m - at_m
                )
                left_m = max(along_m, free.length_m - along_m) - free.limit_m
                parted = min(along_m, free.length_m - along_m) >= SHORTEST_M
                if left_m <= SLACK_M or (parted and left_m <= _WORTH * over_m):
                    best.append((max(0.0, left_m) * 1e3 + spot.price, left_m, line, spot.at_m))
            so_far_m += length_m
        return self._add(best)

    def _places(self, piece: Piece) -> Iterator[tuple[PipeLine, Spot, float]]:
        """Yield the free places on a piece, each with how far it is from the start of its run [m]."""
        if piece.run not in self._line_of:
            return
        layout, (line, spots) = self.network.layout, self._line_of[piece.run]
        start = layout.nodes[layout.run_by_id[piece.run].start].at
        number = [run.id for run in line.runs].index(piece.run)
        part = line.stretches[number]
        for spot in spots:
            if part.low_m <= spot.at_m <= part.high_m:
                at_m = line.at(spot.at_m).minus(start).length
                if piece.low_m < at_m < piece.high_m:
                    yield line, spot, at_m

    def _add(self, best: list[tuple[float, float, PipeLine, float]]) -> bool:
        if not best:
            return False
        _, _, line, station = min(best, key=lambda each: each[:2])
        bracket = self.place(line, station)
        self.holds.add(bracket)
        self.added.append(bracket)
        return True

    def findings(self, reported: frozenset[str]) -> Iterator[Finding]:
        """Yield what no bracket could better; ``reported`` are the runs that have a finding of their own."""
        yield from self._hanging_free(reported)
        yield from self._not_held(reported)

    def _hanging_free(self, reported: frozenset[str]) -> Iterator[Finding]:
        """Yield CLIP003 for each wall with more pipe between holds than may hang free, the longest of it."""
        layout, units = self.network.layout, self.network.layout.site.units
        worst: dict[tuple[str, str], FreePipe] = {}
        for free in self.too_long():
            middle = layout.run_by_id[max(free.pieces, key=lambda piece: piece.high_m - piece.low_m).run]
            stepping = [layout.run_by_id[id] for id in free.runs if layout.goes_across(layout.run_by_id[id])]
            run = next((each for each in stepping if each.kind is RunKind.MAIN), middle)
            key, over_m = (run.room, run.wall), free.length_m - free.limit_m
            if reported.isdisjoint(free.runs) and (key not in worst or over_m > _over_m(worst[key])):
                worst[key] = free
        for (_, wall), free in worst.items():
            runs = [layout.run_by_id[id] for id in free.runs]
            steps = any(run.kind is RunKind.MAIN and layout.goes_across(run) for run in runs)
            where = f"where the main steps out from {with_article(wall)}" if steps else f"on {with_article(wall)}"
            hangs = "of pipe hangs free" if steps else "of pipe hangs free round corners or through walls"
            yield Finding(
                "CLIP003",
                Severity.WARNING,
                layout.site.main.where("material"),
                f"{where}, {units.length_with_unit(free.length_m)} {hangs}",
                runs[0].id,
                measured=units.length_with_unit(free.length_m),
                limit=units.length_with_unit(free.limit_m),
                fix="hold the pipe that leads away from the wall too, or take a stiffer pipe"
                if steps
                else "carry the pipe there on a rail, pass the wall farther from the corner, or take a stiffer pipe",
                source="bracket span of " + self.network.material.name,
            )

    def _not_held(self, reported: frozenset[str]) -> Iterator[Finding]:
        """Yield CLIP002 for each fitting of the main with no hold near it on any side."""
        layout, units = self.network.layout, self.network.layout.site.units
        for node in fittings_of_main(self.network):
            runs = layout.runs_at[node.id]
            if self.holds.is_held(node) or not reported.isdisjoint(run.id for run in runs):
                continue
            nearest_m = min(self.holds.to_hold_m(run, node) for run in runs)
            off = units.length_with_unit(layout.from_left_m(node))
            yield Finding(
                "CLIP002",
                Severity.WARNING,
                layout.site.main.where("height_m"),
                f"no bracket finds room near the {node.kind.value} {off} from the left on {with_article(node.wall)}",
                runs[0].id,
                measured=units.length_with_unit(nearest_m) if math.isfinite(nearest_m) else "none",
                limit=f"one within {units.length_with_unit(NEAR_FITTING_M)} on one side",
                fix="carry the pipe on a rail or board there, or move the outlet or the opening",
                source="UFGS 15561A",
            )


def _over_m(free: FreePipe) -> float:
    return free.length_m - free.limit_m


def _runs_on(network: Network, free: FreePipe, number: int) -> bool:
    """Whether one comes along a piece from its run's start."""
    runs = [network.layout.run_by_id[piece.run] for piece in free.pieces]
    run = runs[number]
    if number + 1 < len(runs):
        return run.end in (runs[number + 1].start, runs[number + 1].end)
    return number == 0 or run.start in (runs[number - 1].start, runs[number - 1].end)
