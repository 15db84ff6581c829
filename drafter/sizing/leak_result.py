"""What a leak test says: how much leaks, whether that passes, and what it costs.

Flows are free air at 20 degC, 1 bar absolute, dry.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from drafter.site.model.care import LeakReading
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S, YEAR_S
from drafter.sizing.network import Network
from drafter.standards.air import FREE_AIR_TEMPERATURE_K, atmospheric_pressure_pa
from drafter.standards.leaks import decay_leak_m3_s, leak_energy_j, load_unload_leak_share
from drafter.standards.limits import Limit
from drafter.standards.materials import rating_pa
from drafter.standards.orifice import equivalent_hole_m

WELL_KEPT_SHARE = Limit(0.10, "US DOE compressed air tip sheets: under 10 % of the capacity is well kept")
POOR_SHARE = Limit(0.20, "US DOE compressed air tip sheets: 20 to 30 % is poor")
WORKING_DAYS = 250
"""Days of work in a year (common practice)."""

LOWEST_SHARE = Limit(0.9, "common practice: a line is tested at what it works at")
"""A test begun at less than this share of the test pressure says nothing of leaks at that."""

EMPTY_PA = 0.02e5
"""At so little gauge pressure a gauge of the range of the test reads zero (common practice)."""

_SLACK = 1e-9
_SLACK_PA = 1.0


class Verdict(Enum):
    """What a reading comes to."""

    TIGHT = "passes"
    ALLOWED = "does not pass as new work"
    LEAKS = "does not pass"
    NOTHING = "tells nothing"
    LOW = "tells nothing of the line at its working pressure"
    OVER = "was under more than it may be"


@dataclass(frozen=True, slots=True)
class LeakResult:
    """What a reading says.

    Attributes:
        volume_m3: under test; 0 where the compressor's times were read.
        corrected_fall_pa: of the reading, as if the air had kept its temperature.
        leak_m3_s: mean over the reading; below zero where the volume gained air.
        at_cut_out_m3_s: the same holes at the cut-out.
        accepted_m3_s: leak of new work at the reading's pressure, at which that volume loses `ACCEPTED_FALL_PA` in
            `TEST_TIME_S`; of the compressor's times, a tenth of what is delivered.
        allowed_m3_s: leakage the site allows for.
        share: of what is delivered.
        hole_m: the one hole that leaks as much.
        energy_j_year: the compressor's work to make it up, left on all year.
        energy_j_working: the same in its working days alone.
        swing_pa_per_k: what one kelvin does to the reading; 0 for times.
        most_pa: gauge pressure that nothing under test may be under.
    """

    reading: LeakReading
    verdict: Verdict
    volume_m3: float
    corrected_fall_pa: float
    leak_m3_s: float
    at_cut_out_m3_s: float
    accepted_m3_s: float
    allowed_m3_s: float
    share: float
    hole_m: float
    energy_j_year: float
    energy_j_working: float
    swing_pa_per_k: float
    most_pa: float

    @property
    def emptied(self) -> bool:
        """Whether nothing was left at the end: it may have been empty long before, and leaks at least as much."""
        return self.reading.end_pa is not None and self.reading.end_pa <= EMPTY_PA

    @property
    def temperature_decides(self) -> bool:
        """Whether the air's temperature was not read, and one kelvin could turn the verdict."""
        if self.reading.start_k is not None or not self.volume_m3 or self.reading.time_s is None:
            return False
        accepted_pa = ACCEPTED_FALL_PA * self.reading.time_s / TEST_TIME_S
        return abs(self.corrected_fall_pa - accepted_pa) < self.swing_pa_per_k


def leak_result(network: Network, reading: LeakReading) -> LeakResult:
    """Return what a whole reading says of a sized installation.

    Source:
        the fall by `decay_leak_m3_s`, the times by `load_unload_leak_share`; a hole's choked flow grows with the
        absolute pressure before it.
    """
    return _of_times(network, reading) if reading.start_pa is None else _of_fall(network, reading)


def _of_fall(network: Network, reading: LeakReading) -> LeakResult:
    assert reading.start_pa is not None
    assert reading.end_pa is not None
    assert reading.time_s is not None
    site, leaks = network.layout.site, network.leaks
    outside_pa = atmospheric_pressure_pa(site.altitude_m)
    volume_m3 = (leaks.tank_test if reading.under_test == "with tank" else leaks.piping_test).volume_m3
    start_pa, end_pa = reading.start_pa + outside_pa, reading.end_pa + outside_pa
    start_k, end_k = reading.start_k or FREE_AIR_TEMPERATURE_K, reading.end_k or FREE_AIR_TEMPERATURE_K
    leak_m3_s = decay_leak_m3_s(volume_m3, start_pa, end_pa, reading.time_s, start_k, end_k)
    as_cool_pa = end_pa * start_k / end_k
    accepted_m3_s = decay_leak_m3_s(volume_m3, start_pa, start_pa - ACCEPTED_FALL_PA, TEST_TIME_S, start_k, start_k)
    cut_out_pa = site.compressor.cut_out_pa + outside_pa
    at_cut_out_m3_s = leak_m3_s * cut_out_pa / ((start_pa + as_cool_pa) / 2.0)
    if reading.start_pa > _most_pa(network) + _SLACK_PA:
        verdict = Verdict.OVER
    elif leak_m3_s < 0.0:
        verdict = Verdict.NOTHING
    elif reading.start_pa < LOWEST_SHARE.value * leaks.test_gauge_pa - _SLACK_PA:
        verdict = Verdict.LOW
    elif reading.end_pa <= EMPTY_PA:
        verdict = Verdict.LEAKS
    elif leak_m3_s <= accepted_m3_s * (1.0 + _SLACK):
        verdict = Verdict.TIGHT
    else:
        verdict = Verdict.ALLOWED if at_cut_out_m3_s <= leaks.target_m3_s * (1.0 + _SLACK) else Verdict.LEAKS
    return _result(
        network, reading, verdict, volume_m3, start_pa - as_cool_pa, leak_m3_s, at_cut_out_m3_s, accepted_m3_s,
        start_pa / start_k,
    )  # fmt: skip


def _most_pa(network: Network) -> float:
    """The relief valve's setting, or the rating of the weakest size where that is less."""
    site = network.layout.site
    warmest_k = max(room.warmest_k for room in site.rooms.values())
    weakest_pa = min(rating_pa(network.material, size, warmest_k) for size in network.sizes.values())
    return min(site.compressor.relief_pa, weakest_pa)


def _of_times(network: Network, reading: LeakReading) -> LeakResult:
    assert reading.loaded_s is not None
    assert reading.unloaded_s is not None
    delivered_m3_s = network.supply.delivered_m3_s
    share = load_unload_leak_share(reading.loaded_s, reading.unloaded_s)
    leak_m3_s, accepted_m3_s = share * delivered_m3_s, WELL_KEPT_SHARE.value * delivered_m3_s
    if share <= WELL_KEPT_SHARE.value * (1.0 + _SLACK):
        verdict = Verdict.TIGHT
    else:
        verdict = Verdict.ALLOWED if share <= POOR_SHARE.value * (1.0 + _SLACK) else Verdict.LEAKS
    return _result(network, reading, verdict, 0.0, 0.0, leak_m3_s, leak_m3_s, accepted_m3_s, 0.0)


def _result(
    network: Network,
    reading: LeakReading,
    verdict: Verdict,
    volume_m3: float,
    fall_pa: float,
    leak_m3_s: float,
    at_cut_out_m3_s: float,
    accepted_m3_s: float,
    swing_pa_per_k: float,
) -> LeakResult:
    site, delivered_m3_s = network.layout.site, network.supply.delivered_m3_s
    outside_pa = atmospheric_pressure_pa(site.altitude_m)
    lost_m3_s = max(0.0, at_cut_out_m3_s)
    power_w, working_s = site.compressor.power_w, WORKING_DAYS * site.demand.working_day_s
    return LeakResult(
        reading=reading,
        verdict=verdict,
        volume_m3=volume_m3,
        corrected_fall_pa=fall_pa,
        leak_m3_s=leak_m3_s,
        at_cut_out_m3_s=at_cut_out_m3_s,
        accepted_m3_s=accepted_m3_s,
        allowed_m3_s=network.leaks.target_m3_s,
        share=lost_m3_s / delivered_m3_s,
        hole_m=equivalent_hole_m(lost_m3_s, site.compressor.cut_out_pa + outside_pa, outside_pa),
        energy_j_year=leak_energy_j(lost_m3_s, power_w, delivered_m3_s, YEAR_S),
        energy_j_working=leak_energy_j(lost_m3_s, power_w, delivered_m3_s, working_s),
        swing_pa_per_k=swing_pa_per_k,
        most_pa=_most_pa(network),
    )
