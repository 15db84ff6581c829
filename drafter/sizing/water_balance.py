"""Water over the day: how much comes in, where it falls out, what goes on as vapour, on a warm and on a cold day.

Temperatures are those of hard running, with every run at its peak, when the air stays warm longest; amounts are
those of the day's average flow.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.quantity.kinds import FOOT_M
from drafter.sizing.demand import outlet_demand
from drafter.sizing.moist_air import MoistAir, along_pipe, cooled_to, metres_to_room, through_unit
from drafter.sizing.run_off import first_runs, lower_end, run_off
from drafter.sizing.water import CoolingLine, DripLeg, Water, WaterDay, WaterPlace
from drafter.standards.air import atmospheric_pressure_pa, mass_flow_kg_s
from drafter.standards.components import component
from drafter.standards.heat import BarePipe
from drafter.standards.limits import NEAR_ROOM_K
from drafter.standards.moisture import intake_ratio

if TYPE_CHECKING:
    from drafter.sizing.network import Network

WATER_KG_M3 = 1000.0

COOLING_LINES_M, COOLING_LINES_FT = (3.0, 6.0, 12.0, 24.0), (10.0, 20.0, 40.0, 80.0)
"""Lengths of bare pipe that are held against a refrigeration dryer."""


def water_of(network: Network) -> Water:
    """Return where the water of a sized installation goes.

    Source:
        water balance of `drafter.standards.moisture`, heat loss of `drafter.standards.heat`.
    """
    rooms = network.layout.site.rooms
    warm = _Day(network, lambda room: rooms[room].warmest_k)
    cold = _Day(network, lambda room: rooms[room].coldest_k)
    room_k, air, pipe = warm.intake_k, warm.tank_air(), warm.pipe(network.layout.runs[0])
    hard, average = mass_flow_kg_s(network.supply.peak_m3_s), mass_flow_kg_s(warm.average_m3_s)
    feet = [length * FOOT_M for length in COOLING_LINES_FT]
    lengths_m = feet if network.layout.site.imperial else COOLING_LINES_M
    day_kg = warm.a_day_kg[network.layout.runs[0].id]

    def line(length_m: float) -> CoolingLine:
        dropped = air.ratio - along_pipe(air, pipe, length_m, room_k, average).ratio
        return CoolingLine(length_m, along_pipe(air, pipe, length_m, room_k, hard).temperature_k, day_kg * dropped)

    dried, _ = through_unit(air, "refrigeration dryer", room_k, warm.atmosphere_pa)
    water = warm.water()
    return Water(
        water,
        cold.water(),
        warm.average_m3_s,
        _legs(network, water),
        metres_to_room(air, pipe, room_k, hard, NEAR_ROOM_K.value),
        metres_to_room(air, pipe, room_k, average, NEAR_ROOM_K.value),
        tuple(line(length_m) for length_m in lengths_m),
        day_kg * (air.ratio - dried.ratio),
        warm.distances_m,
    )


def _legs(network: Network, day: WaterDay) -> tuple[DripLeg, ...]:
    layout = network.layout
    legs = []
    for run in layout.runs:
        if run.kind is RunKind.DRIP_LEG:
            holds_kg = math.pi / 4.0 * network.sizes[run.id].bore_m ** 2 * layout.length_m(run) * WATER_KG_M3
            legs.append(DripLeg(run.end, holds_kg, day.at(run.end)))
    return tuple(legs)


class _Day:
    """One day: the rooms' temperatures, and what they do to the air on its way."""

    def __init__(self, network: Network, room_k: Callable[[str], float]) -> None:
        site = network.layout.site
        self.network, self.layout, self.site, self.room_k = network, network.layout, site, room_k
        self.atmosphere_pa = atmospheric_pressure_pa(site.altitude_m)
        self.intake_k = room_k(site.compressor.room)
        self.in_ratio = intake_ratio(self.intake_k, site.compressor.intake_humidity, self.atmosphere_pa)
        self.brings = first_runs(self.layout)
        self.distances_m = dict.fromkeys(self.layout.nodes, 0.0)
        for id, run in self.brings.items():
            self.distances_m[id] = self.distances_m[run.start] + self.layout.length_m(run)
        units = [node.id for node in self.layout.nodes.values() if node.kind is NodeKind.TREATMENT]
        self.units = dict(zip(units, site.treatment, strict=False))
        self.keeps = {node.id for node in self.layout.nodes.values() if _keeps_water(node)}
        left = math.prod(1.0 - component(unit.kind).purge_share for unit in site.treatment)
        self.average_m3_s = min(network.supply.average_m3_s, network.supply.delivered_m3_s * left)
        self.a_day_kg = self._air_a_day()

    def tank_air(self) -> MoistAir:
        """The air that leaves the tank, halfway between cut-in and cut-out."""
        plant = self.site.compressor
        pressure_pa = (plant.cut_in_pa + plant.cut_out_pa) / 2.0 + self.atmosphere_pa
        fresh = MoistAir(self.intake_k + plant.air_warmer_by_k, pressure_pa, self.in_ratio)
        settled = cooled_to(fresh, fresh.temperature_k)
        return MoistAir(settled.temperature_k, pressure_pa, settled.ratio)

    def pipe(self, run: Run) -> BarePipe:
        size, material = self.network.sizes[run.id], self.network.material
        return BarePipe(size.outside_m, size.bore_m, material.conductivity_w_m_k, material.emissivity)

    def _air_a_day(self) -> dict[str, float]:
        """Dry air through each run in a working day [kg]: every outlet's share along its own way from the tank."""
        demands = [outlet_demand(self.site, outlet).average_m3_s for outlet in self.site.outlets]
        total = sum(demands)
        day_kg = mass_flow_kg_s(self.average_m3_s) * self.site.demand.working_day_s
        flow = dict.fromkeys((run.id for run in self.layout.runs), 0.0)
        for node, demand in zip(self.layout.couplings, demands, strict=True):
            share = demand / total if total else 1.0 / len(demands)
            id, factor = node.id, 1.0
            while id in self.brings:
                if id in self.units:
                    factor /= 1.0 - component(self.units[id].kind).purge_share
                run = self.brings[id]
                flow[run.id] += share * day_kg * factor
                id = run.start
        return flow

    def _trace(self, flow_kg_s: Callable[[Run], float]) -> tuple[dict[str, MoistAir], dict[str, MoistAir]]:
        """The air before and behind each node for given flows of dry air."""
        tank = self.layout.runs[0].start
        before: dict[str, MoistAir] = {tank: self.tank_air()}
        behind = dict(before)
        for run in self.layout.runs:
            if run.end in before:
                continue
            air = along_pipe(
                behind[run.start], self.pipe(run), self.layout.length_m(run), self.room_k(run.room), flow_kg_s(run)
            )
            before[run.end] = air
            behind[run.end] = self._past(run.end, air)[0]
        return before, behind

    def _past(self, id: str, air: MoistAir) -> tuple[MoistAir, float]:
        """The air behind what stands at a node, and the vapour given off there [kg/kg]."""
        node = self.layout.nodes[id]
        if node.kind not in (NodeKind.TREATMENT, NodeKind.SERVICE):
            return air, 0.0
        return through_unit(air, node.what, self.room_k(node.room), self.atmosphere_pa, self.units.get(id))

    def water(self) -> WaterDay:
        """The day's balance."""
        seconds = self.site.demand.working_day_s
        before, behind = self._trace(lambda run: self.a_day_kg[run.id] / seconds)
        hard_before, hard_behind = self._trace(self._hard_kg_s)
        tank = self.layout.runs[0].start
        taken_in = self.in_ratio * self.a_day_kg[self.layout.runs[0].id]
        poured: dict[str, float] = {tank: taken_in - behind[tank].ratio * self.a_day_kg[self.layout.runs[0].id]}
        given_off = 0.0
        for run in self.brings.values():
            mass = self.a_day_kg[run.id]
            low = lower_end(self.layout, run)
            poured[low] = poured.get(low, 0.0) + mass * (behind[run.start].ratio - before[run.end].ratio)
            _, lost = self._past(run.end, before[run.end])
            condensed = before[run.end].ratio - behind[run.end].ratio - lost
            poured[run.end] = poured.get(run.end, 0.0) + mass * condensed
            unit = self.units.get(run.end)
            purged = mass * component(unit.kind).purge_share if unit else 0.0
            given_off += mass * lost + purged * behind[run.end].ratio
        leaves = sum(self.a_day_kg[self.brings[n.id].id] * before[n.id].ratio for n in self.layout.couplings)
        resting = run_off(self.layout, poured, self.keeps)
        places = tuple(
            WaterPlace(id, self.distances_m[id], hard_before[id].temperature_k, self._dew_point_k(id, hard_behind), kg)
            for id in self.layout.nodes
            if (kg := resting.get(id, 0.0)) > 0.0 or (id in self.keeps and id not in self._couplings)
        )
        return WaterDay(self.intake_k, taken_in, places, given_off, leaves, hard_before, hard_behind)

    @property
    def _couplings(self) -> set[str]:
        return {node.id for node in self.layout.couplings}

    def _hard_kg_s(self, run: Run) -> float:
        """Dry air at the run's peak [kg/s]; nothing in drip legs."""
        day_kg = self.a_day_kg[run.id]
        if not day_kg:
            return 0.0
        peak = mass_flow_kg_s(abs(self.network.pipe(run.id).free_air_m3_s))
        return max(peak, day_kg / self.site.demand.working_day_s)

    def _dew_point_k(self, id: str, behind: Mapping[str, MoistAir]) -> float:
        """Of the air that goes on past a place: past the tee for a drain that hangs still."""
        if self.layout.nodes[id].kind is NodeKind.DRAIN:
            id = self.brings[id].start
        return behind[id].dew_point_k


def _keeps_water(node: Node) -> bool:
    if node.kind in (NodeKind.TREATMENT, NodeKind.SERVICE):
        return component(node.what).drains
    return node.kind in (NodeKind.TANK, NodeKind.DRAIN, NodeKind.COUPLING)
