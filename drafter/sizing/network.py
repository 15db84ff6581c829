"""Stage 3's result: the layout with its bores, flows and pressures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from drafter.layout.graph import Layout
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
class OutletFlow:
    """What one outlet gets in the worst case that uses it.

    Attributes:
        tag: of the outlet.
        free_air_m3_s: taken here, at 20 degC, 1 bar absolute, dry.
        gauge_pressure_pa: before the coupling, with the compressor at cut-in.
        needed_pa: gauge pressure the tools want; 0 where nothing is known.
        together_with: tags of the outlets that run at the same time in that case.
    """

    tag: str
    free_air_m3_s: float
    gauge_pressure_pa: float
    needed_pa: float
    together_with: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Supply:
    """Demand against what the compressor and the tank give; flows are free air at 20 degC, 1 bar, dry.

    Attributes:
        average_m3_s: what the tools take over the day, with leakage and growth.
        peak_m3_s: what is taken when as many outlets as allowed run at once.
        delivered_m3_s: what the compressor delivers.
        at_once: how many outlets run together.
        tank_lasts_s: how long the tank carries the peak from cut-out to cut-in; infinite if the compressor can.
        treatment_drop_pa: pressure lost in the treatment train at full flow.
        supply_gauge_pa: lowest gauge pressure that enters the main: cut-in less treatment, or what a regulator holds.
        stored_energy_j: in the tank at cut-out.
    """

    average_m3_s: float
    peak_m3_s: float
    delivered_m3_s: float
    at_once: int
    tank_lasts_s: float
    treatment_drop_pa: float
    supply_gauge_pa: float
    stored_energy_j: float


@dataclass(frozen=True)
class Network:
    """Everything sized; ``sizes`` names the tube of each run, ``pipes`` and ``outlets`` what flows there."""

    layout: Layout
    material: Material
    sizes: Mapping[str, TubeSize]
    pipes: tuple[PipeFlow, ...]
    outlets: tuple[OutletFlow, ...]
    supply: Supply

    def pipe(self, run: str) -> PipeFlow:
        return self._pipe_by_run[run]

    @cached_property
    def water(self) -> Water:
        """Where the water of the air falls out."""
        return water_of(self)

    @cached_property
    def _pipe_by_run(self) -> Mapping[str, PipeFlow]:
        return {pipe.run: pipe for pipe in self.pipes}
