"""The parts of the piping before the regulators of the treatment train, which work at more than the main does."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from drafter.layout.graph import Layout, NodeKind, Run
from drafter.standards.materials import TubeSize


@dataclass(frozen=True, slots=True)
class BeforeRegulator:
    """What lies between the valve at the tank and a regulator, to be leak-tested at the pressure it works at.

    Attributes:
        regulator: tag of the regulator it ends at, screwed right out for the test.
        through: tags of regulators within it, screwed in for the test.
        gauge_pa: the pressure of its test: cut-out, or what the regulator within it holds.
        volume_m3: what its pipes hold.
        filled_at: tag of the drain in whose place the test hose is put.
        left_open: tag of the nearest drain behind the regulator, open so that nothing builds up there.
    """

    regulator: str
    through: tuple[str, ...]
    gauge_pa: float
    volume_m3: float
    filled_at: str
    left_open: str


def parts_before(layout: Layout, sizes: Mapping[str, TubeSize]) -> Iterator[BeforeRegulator]:
    """Yield the part before each regulator that lowers the pressure, the longest first.

    Args:
        sizes: by id of the run.

    Source:
        each part is tested at no less than it works at: common practice.
    """
    pressures_pa = [layout.site.compressor.cut_out_pa]
    regulators: list[str] = []
    train = [node for node in layout.nodes.values() if node.kind is NodeKind.TREATMENT]
    for node, unit in zip(train, layout.site.treatment, strict=True):
        if unit.set_pa is not None and unit.set_pa < pressures_pa[-1]:
            pressures_pa.append(unit.set_pa)
            regulators.append(node.id)
    for number in reversed(range(len(regulators))):
        inside = _runs_before(layout, regulators[number])
        yield BeforeRegulator(
            layout.nodes[regulators[number]].tag,
            tuple(layout.nodes[id].tag for id in regulators[:number]),
            pressures_pa[number],
            sum(layout.length_m(run) * math.pi / 4.0 * sizes[run.id].bore_m ** 2 for run in inside),
            nearest_drain(layout, inside),
            nearest_drain(layout, [run for run in layout.runs if run not in inside]),
        )


def nearest_drain(layout: Layout, runs: Sequence[Run]) -> str:
    """Return the tag of the drain at the end of some run that is nearest to the tank along the pipe.

    A drain of an outlet is taken only where there is no other: it may stand behind a shut valve.

    Source:
        none; it only measures.
    """
    drains = [run for run in runs if layout.nodes[run.end].kind is NodeKind.DRAIN]
    nearest = min(drains, key=lambda run: (bool(run.outlet), layout.from_tank_m[run.end]))
    return layout.nodes[nearest.end].tag


def _runs_before(layout: Layout, regulator: str) -> list[Run]:
    """The runs that air gets to without passing a regulator."""
    reached, found = {layout.runs[0].start}, []
    for run in layout.runs:
        if run.start in reached and run.start != regulator:
            found.append(run)
            reached.add(run.end)
    return found


def before_words(part: BeforeRegulator) -> str:
    """Return how a part before a regulator is filled, what is shut and what stays open.

    Source:
        none; it only words.
    """
    through = f"; {', '.join(part.through)} screwed in" if part.through else ""
    return (
        f"test hose in place of {part.filled_at}; V-01 shut{through}; {part.regulator} screwed right out, "
        f"{part.left_open} open behind it"
    )


def whole_words(layout: Layout, before: tuple[BeforeRegulator, ...]) -> str:
    """Return how all the piping is filled for its leak test, and what is shut.

    Source:
        none; it only words.
    """
    regulators = sorted(part.regulator for part in before)
    through = f"; {', '.join(regulators)} screwed in until the gauge behind shows as much" if regulators else ""
    return f"test hose in place of {nearest_drain(layout, layout.runs)}; V-01, drains and outlets shut{through}"
