"""What a leak test of this installation measures, what its leaks cost, and how fast it empties when something opens.

Flows are free air at 20 degC, 1 bar absolute, dry. Leaks are sharp-edged holes; air is taken at 20 degC.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from drafter.layout.graph import Layout, Run, RunKind
from drafter.quantity import Units
from drafter.site.model import Site
from drafter.sizing.before_regulator import BeforeRegulator, parts_before
from drafter.standards.air import FREE_AIR_TEMPERATURE_K, atmospheric_pressure_pa
from drafter.standards.components import QuickCoupling, find_coupling, restriction_flow_m3_s
from drafter.standards.emptying import emptying_time_s, pressure_after_pa
from drafter.standards.leaks import decay_leak_m3_s, leak_energy_j, temperature_swing_pa
from drafter.standards.materials import TubeSize
from drafter.standards.orifice import CRITICAL_RATIO, equivalent_hole_m, hole_conductance_m3_s_pa
from drafter.standards.receiver import stored_energy_j, usable_free_air_m3

TEST_TIME_S = 1800.0
LOW_TEST_BAR, LOW_TEST_PSI = "0.5 to 1.7 bar", "7 to 25 psi"
"""Pressure of the first, low test (UFGS and handbooks, from memory)."""

ACCEPTED_FALL_PA = 0.1e5
"""A new small installation loses at most this in the test's time, corrected for temperature (common practice)."""

TIMED_FALL_PA = 1e5
EMPTY_AT_GAUGE_PA = 2e5
YEAR_S = 8760.0 * 3600.0


def low_test(units: Units) -> str:
    """Return the pressure of the first, low test, in the site's units first.

    Source: UFGS and handbooks, from memory.
    """
    own, other = (LOW_TEST_PSI, LOW_TEST_BAR) if units.imperial else (LOW_TEST_BAR, LOW_TEST_PSI)
    return f"{own} ({other})"


@dataclass(frozen=True, slots=True)
class LineVolume:
    """What the pipes of one use and one size hold.

    Attributes:
        use: ``main``, ``drops``, ``drip legs`` or ``flexible connection``.
    """

    use: str
    size: str
    length_m: float
    volume_m3: float


@dataclass(frozen=True, slots=True)
class DecayTest:
    """A leak test of a closed volume over `TEST_TIME_S`.

    Attributes:
        volume_m3: that is under pressure.
        accepted_leak_m3_s: leak that loses `ACCEPTED_FALL_PA` in the test's time.
        target_fall_pa: fall in the test's time at the leak the site allows for; all of the pressure if it empties.
        timed_fall_pa: a fall to time by the clock.
        timed_s: time of that fall at the leak the site allows for; infinite if it allows for none.
    """

    volume_m3: float
    accepted_leak_m3_s: float
    target_fall_pa: float
    timed_fall_pa: float
    timed_s: float


@dataclass(frozen=True, slots=True)
class Opening:
    """What escapes when a line stands open, with the compressor at rest and nothing but the opening in the way.

    Attributes:
        what: in words.
        free_air_m3_s: at cut-out.
        empty_to_pa: gauge pressure the time counts to.
        time_s: from cut-out to there, tank and piping together.
    """

    what: str
    free_air_m3_s: float
    empty_to_pa: float
    time_s: float


@dataclass(frozen=True, slots=True)
class LeakNumbers:
    """Volumes, energies, tests and leaks of one installation.

    Attributes:
        lines: pipes by use and size; units and fittings hold a little more and are not counted.
        test_gauge_pa: pressure of the leak test of all: cut-out, or what the lowest regulator of the train holds.
        before: the parts of the piping before the regulators of the train, each tested once more at its own pressure.
        swing_pa_per_k: what 1 K changes at the test's pressure.
        target_m3_s: leak the site allows for: its share of leakage, of the average demand without growth.
        target_hole_m: the one hole that leaks as much at cut-out.
        target_energy_j_year: the compressor's work to make it up if the plant stays on for a year.
        loaded_s, unloaded_s: how long the compressor runs and stands with that leak and no use.
        tank_energy_j, piping_energy_j: stored at cut-out.
    """

    lines: tuple[LineVolume, ...]
    test_gauge_pa: float
    before: tuple[BeforeRegulator, ...]
    piping_test: DecayTest
    tank_test: DecayTest
    swing_pa_per_k: float
    target_m3_s: float
    target_hole_m: float
    target_energy_j_year: float
    loaded_s: float
    unloaded_s: float
    tank_energy_j: float
    piping_energy_j: float
    openings: tuple[Opening, ...]

    @property
    def piping_m3(self) -> float:
        return self.piping_test.volume_m3

    @property
    def stored_energy_j(self) -> float:
        """In tank and piping together, at cut-out."""
        return self.tank_energy_j + self.piping_energy_j


def leak_numbers(
    layout: Layout, sizes: Mapping[str, TubeSize], leakage_m3_s: float, delivered_m3_s: float
) -> LeakNumbers:
    """Work out what a leak test of a sized layout measures and what its leaks mean.

    Args:
        sizes: by id of the run.
        leakage_m3_s: that the site allows for, growth left out: what is fitted now is tested.
        delivered_m3_s: by the compressor.

    Source:
        as in `drafter.standards.leaks`, `orifice`, `emptying` and `receiver`.
    """
    site, plant = layout.site, layout.site.compressor
    lines = tuple(_line_volumes(layout, sizes))
    piping_m3 = sum(line.volume_m3 for line in lines)
    total_m3 = plant.tank_m3 + piping_m3
    outside_pa = atmospheric_pressure_pa(site.altitude_m)
    test_gauge_pa = min([plant.cut_out_pa, *(unit.set_pa for unit in site.treatment if unit.set_pa is not None)])
    band_m3 = usable_free_air_m3(total_m3, plant.cut_out_pa, plant.cut_in_pa)
    spare_m3_s = delivered_m3_s - leakage_m3_s
    return LeakNumbers(
        lines=lines,
        test_gauge_pa=test_gauge_pa,
        before=tuple(parts_before(layout, sizes)),
        piping_test=_decay_test(piping_m3, test_gauge_pa, outside_pa, leakage_m3_s),
        tank_test=_decay_test(total_m3, test_gauge_pa, outside_pa, leakage_m3_s),
        swing_pa_per_k=temperature_swing_pa(test_gauge_pa + outside_pa, FREE_AIR_TEMPERATURE_K, 1.0),
        target_m3_s=leakage_m3_s,
        target_hole_m=equivalent_hole_m(leakage_m3_s, plant.cut_out_pa + outside_pa, outside_pa),
        target_energy_j_year=leak_energy_j(leakage_m3_s, plant.power_w, delivered_m3_s, YEAR_S),
        loaded_s=band_m3 / spare_m3_s if spare_m3_s > 0.0 else math.inf,
        unloaded_s=band_m3 / leakage_m3_s if leakage_m3_s else math.inf,
        tank_energy_j=stored_energy_j(plant.tank_m3, plant.cut_out_pa),
        piping_energy_j=stored_energy_j(piping_m3, plant.cut_out_pa),
        openings=tuple(_openings(layout, sizes, total_m3, outside_pa)),
    )


def _line_volumes(layout: Layout, sizes: Mapping[str, TubeSize]) -> Iterator[LineVolume]:
    groups: dict[tuple[str, TubeSize], float] = {}
    for run in layout.runs:
        group = _use(run), sizes[run.id]
        groups[group] = groups.get(group, 0.0) + layout.length_m(run)
    for (use, size), length_m in groups.items():
        yield LineVolume(use, size.name, length_m, length_m * math.pi / 4.0 * size.bore_m**2)


def _use(run: Run) -> str:
    if run.kind is RunKind.FLEXIBLE:
        return "flexible connection"
    if run.kind is RunKind.DRIP_LEG:
        return "drip legs"
    return "drops" if run.outlet else "main"


def _decay_test(volume_m3: float, gauge_pa: float, outside_pa: float, target_m3_s: float) -> DecayTest:
    start_pa = gauge_pa + outside_pa
    accepted = decay_leak_m3_s(volume_m3, start_pa, start_pa - ACCEPTED_FALL_PA, TEST_TIME_S)
    timed_pa = min(TIMED_FALL_PA, gauge_pa / 2.0)
    if not target_m3_s:
        return DecayTest(volume_m3, accepted, 0.0, timed_pa, math.inf)
    hole_m = equivalent_hole_m(target_m3_s, start_pa, outside_pa)
    hole = hole_conductance_m3_s_pa(hole_m), CRITICAL_RATIO
    end_pa = pressure_after_pa(volume_m3, start_pa, TEST_TIME_S, outside_pa, *hole)
    timed_s = emptying_time_s(volume_m3, start_pa, start_pa - timed_pa, outside_pa, *hole)
    return DecayTest(volume_m3, accepted, start_pa - end_pa, timed_pa, timed_s)


def _openings(layout: Layout, sizes: Mapping[str, TubeSize], volume_m3: float, outside_pa: float) -> Iterator[Opening]:
    """What tears off or stands open: a hose behind the widest coupling, the line at the tank."""
    cut_out_pa = layout.site.compressor.cut_out_pa
    start_pa, end_gauge_pa = cut_out_pa + outside_pa, min(EMPTY_AT_GAUGE_PA, cut_out_pa / 2.0)
    coupling = _widest_coupling(layout.site)
    torn = hole_conductance_m3_s_pa(sizes[layout.runs[0].id].bore_m)
    ways = (
        (f"hose off behind a {coupling.name}", coupling.sonic_conductance_m3_s_pa, coupling.critical_ratio),
        ("line off at the tank", torn, CRITICAL_RATIO),
    )
    for what, conductance, ratio in ways:
        flow_m3_s = restriction_flow_m3_s(conductance, ratio, start_pa, outside_pa)
        time_s = emptying_time_s(volume_m3, start_pa, end_gauge_pa + outside_pa, outside_pa, conductance, ratio)
        yield Opening(what, flow_m3_s, end_gauge_pa, time_s)


def _widest_coupling(site: Site) -> QuickCoupling:
    found = [find_coupling(f"quick coupling {outlet.coupling}") for outlet in site.outlets]
    return max((each for each in found if each), key=lambda each: each.sonic_conductance_m3_s_pa)
