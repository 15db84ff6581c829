"""What a leak test says: how much leaks, whether that passes, and what it costs.

Flows are free air at 20 degC, 1 bar absolute, dry.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from drafter.site.model.care import LeakReading
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S, YEAR_S
from drafter.sizing.leak_pressure import PressureLimit, begun_too_low, passed_limits, under_test
from drafter.sizing.network import Network
from drafter.standards.air import FREE_AIR_TEMPERATURE_K, atmospheric_pressure_pa
from drafter.standards.leaks import decay_leak_m3_s, leak_energy_j, load_unload_leak_share
from drafter.standards.limits import Limit
from drafter.standards.orifice import equivalent_hole_m

WELL_KEPT_SHARE = Limit(0.10, "US DOE compressed air tip sheets: under 10 % of the capacity is well kept")
POOR_SHARE = Limit(0.20, "US DOE compressed air tip sheets: 20 to 30 % is poor")
WORKING_DAYS = 250
"""Days of work in a year (common practice)."""

EMPTY_GAUGE_PA = 0.05e5
"""A gauge that shows no more than this stands on an empty line (value of our own)."""

_SLACK, _SLACK_PA = 1e-9, 0.01


class Verdict(Enum):
    """What a reading comes to."""

    TIGHT = "passes"
    ALLOWED = "does not pass as new work"
    LEAKS = "does not pass"
    HALF = "passes as well kept, not as what the site file allows for"
    EMPTY = "does not pass, empty at the end"
    BEFORE = "tells nothing of the line behind a regulator"
    LOW = "tells nothing of the line at its working pressure"
    NOTHING = "tells nothing"
    OVER = "was above what it may be under"


@dataclass(frozen=True, slots=True)
class LeakResult:
    """What a reading says.

    Attributes:
        volume_m3: under test; 0 where the compressor's times were read.
        corrected_fall_pa: of the reading, as if the air had kept its temperature.
        leak_m3_s: mean over the reading; below zero where the volume gained air.
        at_cut_out_m3_s: the same holes at the cut-out.
        accepted_m3_s: leak of new work at the design's test pressure, from which that volume loses `ACCEPTED_FALL_PA`
            in `TEST_TIME_S`; of the compressor's times, a tenth of what is delivered.
        accepted_fall_pa: what the same holes lose in the reading's time from where it began; 0 for times.
        test_gauge_pa: the design's test pressure.
        passed: what the reading's pressure was above.
        shut_regulator: tag of the regulator that lets no such pressure through, so that it may have held the line
            behind it apart; empty where there is none, or only what is before it was under test.
        allowed_m3_s: leakage the site allows for.
        share: of what is delivered.
        hole_m: the one hole that leaks as much.
        energy_j_year: the compressor's work to make it up, left on all year.
        energy_j_working: the same in its working days alone.
        swing_pa_per_k: what one kelvin does to the reading; 0 for times.
    """

    reading: LeakReading
    verdict: Verdict
    volume_m3: float
    corrected_fall_pa: float
    leak_m3_s: float
    at_cut_out_m3_s: float
    accepted_m3_s: float
    accepted_fall_pa: float
    allowed_m3_s: float
    share: float
    hole_m: float
    energy_j_year: float
    energy_j_working: float
    swing_pa_per_k: float
    test_gauge_pa: float
    passed: tuple[PressureLimit, ...]
    shut_regulator: str

    @property
    def temperature_decides(self) -> bool:
        """Whether the air's temperature was not read, and one kelvin could turn the verdict."""
        if self.reading.start_k is not None or not self.volume_m3 or self.reading.time_s is None:
            return False
        return abs(self.corrected_fall_pa - self.accepted_fall_pa) < self.swing_pa_per_k


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
    site, test = network.layout.site, under_test(network, reading)
    outside_pa, volume_m3 = atmospheric_pressure_pa(site.altitude_m), test.volume_m3
    start_pa, end_pa = reading.start_pa + outside_pa, reading.end_pa + outside_pa
    test_pa, cut_out_pa = test.gauge_pa + outside_pa, site.compressor.cut_out_pa + outside_pa
    start_k, end_k = reading.start_k or FREE_AIR_TEMPERATURE_K, reading.end_k or FREE_AIR_TEMPERATURE_K
    leak_m3_s = decay_leak_m3_s(volume_m3, start_pa, end_pa, reading.time_s, start_k, end_k)
    as_cool_pa = end_pa * start_k / end_k
    result = LeakResult(
        reading=reading,
        verdict=Verdict.NOTHING,
        volume_m3=volume_m3,
        corrected_fall_pa=start_pa - as_cool_pa,
        leak_m3_s=leak_m3_s,
        at_cut_out_m3_s=leak_m3_s * cut_out_pa / ((start_pa + as_cool_pa) / 2.0),
        accepted_m3_s=decay_leak_m3_s(volume_m3, test_pa, test_pa - ACCEPTED_FALL_PA, TEST_TIME_S, start_k, start_k),
        accepted_fall_pa=ACCEPTED_FALL_PA * reading.time_s / TEST_TIME_S * start_pa / test_pa,
        swing_pa_per_k=start_pa / start_k,
        test_gauge_pa=test.gauge_pa,
        passed=passed_limits(network, reading),
        shut_regulator=_shut_regulator(network, reading, test.gauge_pa),
        **_costs(network, leak_m3_s * cut_out_pa / ((start_pa + as_cool_pa) / 2.0)),
    )
    return replace(result, verdict=_verdict_of_fall(result))


def _shut_regulator(network: Network, reading: LeakReading, test_gauge_pa: float) -> str:
    """The regulator that closes where a test of all the piping began as far above its pressure as counts below it."""
    assert reading.start_pa is not None
    above = begun_too_low(reading.start_pa, test_gauge_pa)
    return network.leaks.before[-1].regulator if above and network.leaks.before and not reading.before else ""


def _verdict_of_fall(result: LeakResult) -> Verdict:
    """The gravest first; a fall that is too much at a low pressure is more at the working pressure."""
    reading = result.reading
    assert reading.start_pa is not None
    assert reading.end_pa is not None
    if result.passed:
        return Verdict.OVER
    if result.corrected_fall_pa < -_SLACK_PA:
        return Verdict.NOTHING
    if reading.end_pa <= EMPTY_GAUGE_PA < reading.start_pa:
        return Verdict.EMPTY
    tight = result.corrected_fall_pa <= result.accepted_fall_pa + _SLACK_PA
    if not tight and result.at_cut_out_m3_s > result.allowed_m3_s * (1.0 + _SLACK):
        return Verdict.LEAKS
    if begun_too_low(result.test_gauge_pa, reading.start_pa):
        return Verdict.LOW
    if result.shut_regulator:
        return Verdict.BEFORE
    return Verdict.TIGHT if tight else Verdict.ALLOWED


def _of_times(network: Network, reading: LeakReading) -> LeakResult:
    assert reading.loaded_s is not None
    assert reading.unloaded_s is not None
    delivered_m3_s, allowed_m3_s = network.supply.delivered_m3_s, network.leaks.target_m3_s
    share = load_unload_leak_share(reading.loaded_s, reading.unloaded_s)
    if share <= WELL_KEPT_SHARE.value * (1.0 + _SLACK):
        more = allowed_m3_s > 0.0 and share * delivered_m3_s > allowed_m3_s * (1.0 + _SLACK)
        verdict = Verdict.HALF if more else Verdict.TIGHT
    else:
        verdict = Verdict.ALLOWED if share <= POOR_SHARE.value * (1.0 + _SLACK) else Verdict.LEAKS
    return LeakResult(
        reading=reading,
        shut_regulator="",
        verdict=verdict,
        volume_m3=0.0,
        corrected_fall_pa=0.0,
        leak_m3_s=share * delivered_m3_s,
        at_cut_out_m3_s=share * delivered_m3_s,
        accepted_m3_s=WELL_KEPT_SHARE.value * delivered_m3_s,
        accepted_fall_pa=0.0,
        swing_pa_per_k=0.0,
        test_gauge_pa=network.leaks.test_gauge_pa,
        passed=(),
        **_costs(network, share * delivered_m3_s),
    )


def _costs(network: Network, at_cut_out_m3_s: float) -> dict[str, float]:
    """What a leak at the cut-out is of what is delivered, as a hole, and in energy; and what it is held against."""
    site, delivered_m3_s = network.layout.site, network.supply.delivered_m3_s
    outside_pa = atmospheric_pressure_pa(site.altitude_m)
    lost_m3_s = max(0.0, at_cut_out_m3_s)
    power_w, working_s = site.compressor.power_w, WORKING_DAYS * site.demand.working_day_s
    return {
        "allowed_m3_s": network.leaks.target_m3_s,
        "share": lost_m3_s / delivered_m3_s,
        "hole_m": equivalent_hole_m(lost_m3_s, site.compressor.cut_out_pa + outside_pa, outside_pa),
        "energy_j_year": leak_energy_j(lost_m3_s, power_w, delivered_m3_s, YEAR_S),
        "energy_j_working": leak_energy_j(lost_m3_s, power_w, delivered_m3_s, working_s),
    }
