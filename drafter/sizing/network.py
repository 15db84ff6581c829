"""Stage 3's result: the layout with its bores, flows and pressures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from drafter.layout.graph import Layout
from drafter.sizing.arm_shut import ArmShut
from drafter.sizing.bends import Bend, TubeLine, bends_of, tube_lines
from drafter.sizing.ladder import Step
from drafter.sizing.leak_numbers import LeakNumbers
from drafter.sizing.spare_tees import SpareFlow
from drafter.sizing.tank_over_time import TankOverTime
from drafter.sizing.water import Water
from drafter.sizing.water_balance import water_of
from drafter.standards.materials import Material, TubeSize


@dataclass(frozen=True, slots=True)
class PipeFlow:
    """What flows through one run at the peak of what hangs on it.

    Attributes:
        run: its id.
        free_air_m3_s: at 20 degC, 1 bar absolute, dry.
        velocity_m_s: at the pressure and temperature there.
        drop_pa: pressure lost from start to end, fittings included.
        decided_by: what made this bore the right one, in words.
    """

    run: str
    free_air_m3_s: float
    velocity_m_s: float
    drop_pa: float
    decided_by: str


@dataclass(frozen=True, slots=True)
class Neighbour:
    """What the next smaller or larger size would do.

    Attributes:
        size: its name.
        velocity_m_s: of the fastest air in it.
        outlet: tag of the outlet behind it with the least to spare.
        gauge_pressure_pa: left there at the end of its drop.
        keeps: whether it keeps all limits.
    """

    size: str
    velocity_m_s: float
    outlet: str
    gauge_pressure_pa: float
    keeps: bool


@dataclass(frozen=True, slots=True)
class SizeChoice:
    """The size of a stretch of pipe, and why it has it.

    Attributes:
        where: what the reports call the stretch.
        runs: ids of its runs.
        size: name of its size.
        velocity_m_s: of the fastest air in it.
        decided_by: the limit that decided it, in words.
        smaller, larger: what the sizes next to it would do; None where there is none, or the size is given.
    """

    where: str
    runs: tuple[str, ...]
    size: str
    velocity_m_s: float
    decided_by: str
    smaller: Neighbour | None
    larger: Neighbour | None


@dataclass(frozen=True, slots=True)
class OutletFlow:
    """What one outlet gets in the worst case that uses it.

    Attributes:
        tag: of the outlet.
        free_air_m3_s: taken here, at 20 degC, 1 bar absolute, dry.
        gauge_pressure_pa: before the coupling, with the compressor at cut-in; 0 where the air cannot pass.
        tool_pressure_pa: gauge, at the tool behind coupling and hose.
        needed_pa: gauge pressure the tools want; 0 where nothing is known.
        case: what the worst case is called.
        together_with: tags of the outlets that run at the same time in that case.
        ladder: where the pressure goes, from the compressor at cut-in to the tool.
    """

    tag: str
    free_air_m3_s: float
    gauge_pressure_pa: float
    tool_pressure_pa: float
    needed_pa: float
    case: str
    together_with: tuple[str, ...]
    ladder: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Supply:
    """Demand against what the compressor and the tank give; flows are free air at 20 degC, 1 bar, dry.

    Attributes:
        tools_average_m3_s: what the tools take over the day.
        average_m3_s: the same with leakage and growth: what the compressor is chosen for.
        purge_m3_s: what the dryers use up themselves at that average.
        peak_m3_s: the most that is taken at once: what the pipes are chosen for.
        delivered_m3_s: what the compressor delivers.
        at_once: how many outlets run together.
        treatment_drop_pa: pressure lost in the treatment train at full flow.
        supply_gauge_pa: lowest gauge pressure that enters the main: cut-in less treatment, or what a regulator holds.
        stored_energy_j: in the tank at cut-out.
    """

    tools_average_m3_s: float
    average_m3_s: float
    purge_m3_s: float
    peak_m3_s: float
    delivered_m3_s: float
    at_once: int
    treatment_drop_pa: float
    supply_gauge_pa: float
    stored_energy_j: float


@dataclass(frozen=True)
class Network:
    """Everything sized.

    Attributes:
        sizes: the tube of each run, by its id.
        choices: why it has that size.
        material_gap: by how much the tube may cost more than the least possible, as a share of that.
        arms_shut: what a ring gives with each of its valves shut in turn.
        spare_tees: what a later drop would find at each spare tee.
    """

    layout: Layout
    material: Material
    sizes: Mapping[str, TubeSize]
    choices: tuple[SizeChoice, ...]
    material_gap: float
    pipes: tuple[PipeFlow, ...]
    outlets: tuple[OutletFlow, ...]
    arms_shut: tuple[ArmShut, ...]
    supply: Supply
    tank: TankOverTime
    leaks: LeakNumbers
    spare_tees: tuple[SpareFlow, ...] = ()

    def pipe(self, run: str) -> PipeFlow:
        return self._pipe_by_run[run]

    def carries(self, run: str) -> bool:
        """Whether air flows through a run; through drip legs none does."""
        return run in self._pipe_by_run

    @cached_property
    def water(self) -> Water:
        """Where the water of the air falls out."""
        return water_of(self)

    @cached_property
    def bends(self) -> Mapping[str, Bend]:
        """The corners that the tube is bent round, by node."""
        return bends_of(self.layout, self.material, self.sizes)

    @cached_property
    def tube_lines(self) -> tuple[TubeLine, ...]:
        """The runs that each tube goes through; the connection and the hose among them."""
        return tube_lines(self.layout, self.bends)

    @cached_property
    def tube_line_of(self) -> Mapping[str, TubeLine]:
        """The tube that goes through each run, by its id."""
        return {run.id: line for line in self.tube_lines for run in line.runs}

    @cached_property
    def _pipe_by_run(self) -> Mapping[str, PipeFlow]:
        return {pipe.run: pipe for pipe in self.pipes}

    @cached_property
    def step_names(self) -> tuple[str, ...]:
        """Names of all steps that some outlet's ladder has, in the order of flow."""
        longest = sorted(self.outlets, key=lambda flow: -len(flow.ladder))
        order: list[str] = []
        for flow in longest:
            before = -1
            for step in flow.ladder:
                if step.what not in order:
                    order.insert(before + 1, step.what)
                before = order.index(step.what)
        return tuple(order)

    @cached_property
    def least_to_spare(self) -> OutletFlow:
        """The outlet whose tool has the least pressure above what it needs; the lowest where no need is known."""
        known = [flow for flow in self.outlets if flow.needed_pa]
        return min(known or self.outlets, key=lambda flow: flow.tool_pressure_pa - flow.needed_pa)
