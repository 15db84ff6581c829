"""The figures of one design that choices are compared by."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from drafter.layout.graph import Run, RunKind
from drafter.layout.levels import lowest_main_m
from drafter.options.passing import Passing, passings
from drafter.pipeline import Designed
from drafter.rules.low_pressure_at_outlet import RULE as LOW_PRESSURE
from drafter.sizing.arm_shut import ArmShut
from drafter.sizing.network import Network, OutletFlow
from drafter.standards.materials import TubeSize
from drafter.takeoff import Takeoff
from drafter.takeoff.part import FITTINGS, TUBE

FITTING_M = 0.6
"""What a fitting counts for, in metres of tube: about its price and its joints (common practice)."""


@dataclass(frozen=True)
class Figures:
    """What comes of a choice.

    Attributes:
        worst: the outlet whose tool has the least to spare.
        keeps_pressure: whether every tool has its pressure, with a margin before the coupling.
        main_m_s, drops_m_s: of the fastest air in the main with its riser, and in the drops.
        main_sizes, drop_sizes: the largest first.
        tube_m: as cut.
        bends, tees, other_fittings: elbows, tees, and reducers, couplings and adapters.
        volume_m3: of the pipes.
        tube_cost: by the prices of the site file; None where a size has none.
        cost: of the tube, with every fitting as `FITTING_M` of its largest tube.
        passings: the doors the main passes over or stays clear of.
        falls_to_m: level of the main where it is lowest.
    """

    material: str
    worst: OutletFlow
    keeps_pressure: bool
    main_m_s: float
    drops_m_s: float
    main_sizes: tuple[TubeSize, ...]
    drop_sizes: tuple[TubeSize, ...]
    tube_m: float
    bends: int
    tees: int
    other_fittings: int
    brackets: int
    volume_m3: float
    tube_cost: float | None
    cost: float | None
    arms_shut: tuple[ArmShut, ...]
    passings: tuple[Passing, ...]
    falls_to_m: float

    @property
    def fittings(self) -> int:
        return self.bends + self.tees + self.other_fittings

    @property
    def pipework_m(self) -> float:
        """Tube and fittings in metres, a fitting counted as `FITTING_M`."""
        return self.tube_m + FITTING_M * self.fittings


def figures_of(designed: Designed) -> Figures | None:
    """Return the figures of a design; None where the stages stopped before there was one."""
    network, takeoff = designed.network, designed.takeoff
    if network is None or takeoff is None or designed.design is None:
        return None
    main = [run for run in network.layout.runs if not run.outlet and run.kind is not RunKind.FLEXIBLE]
    drops = [run for run in network.layout.runs if run.outlet]
    items = [part.item for part in takeoff.instances if part.group == FITTINGS]
    bends, tees = (sum(word in item for item in items) for word in ("elbow", "tee"))
    tube_cost, cost = _costs(takeoff, network)
    return Figures(
        network.material.name,
        network.least_to_spare,
        all(finding.rule != LOW_PRESSURE.id for finding in designed.findings),
        _fastest(network, main),
        _fastest(network, drops),
        _sizes(network, main),
        _sizes(network, drops),
        sum(piece.cut_m for piece in takeoff.pieces),
        bends,
        tees,
        len(items) - bends - tees,
        len(designed.design.brackets),
        network.leaks.piping_m3,
        tube_cost,
        cost,
        network.arms_shut,
        passings(network.layout),
        lowest_main_m(network.layout),
    )


def _fastest(network: Network, runs: Iterable[Run]) -> float:
    return max(network.pipe(run.id).velocity_m_s for run in runs)


def _sizes(network: Network, runs: Iterable[Run]) -> tuple[TubeSize, ...]:
    used = {network.sizes[run.id] for run in runs}
    return tuple(sorted(used, key=lambda size: -size.outside_m))


def _costs(takeoff: Takeoff, network: Network) -> tuple[float | None, float | None]:
    prices = network.layout.site.main.prices
    tube = {part.size for part in takeoff.instances if part.group == TUBE}
    if not prices or any(size not in prices for size in tube):
        return None, None
    tube_cost = sum(piece.cut_m * prices[piece.size] for piece in takeoff.pieces)
    fittings = (part for part in takeoff.instances if part.group == FITTINGS)
    dearest = _dearest(prices)
    return tube_cost, tube_cost + FITTING_M * sum(dearest([port.size for port in part.ports]) for part in fittings)


def _dearest(prices: Mapping[str, float]) -> Callable[[Iterable[str]], float]:
    return lambda sizes: max(prices.get(size, 0.0) for size in sizes)
