"""The leak test and the leaks: a block of the report for people, an object of the JSON for programs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from drafter.quantity import Units
from drafter.report.blocks import block, columns
from drafter.report.rounded import bar
from drafter.sheets.leak_test import cautions_at_test, duration, energy_words, leak_rows, opening_text
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S, DecayTest, LeakNumbers
from drafter.sizing.network import Network
from drafter.standards.burst import stand_off_m, tnt_equivalent_kg


def leak_test_text(network: Network) -> str:
    """Return what the pipes hold, what a leak test measures, what leaks mean, and the test's cautions."""
    leaks, units = network.leaks, network.layout.site.units
    lines = [
        (f"{line.use} {line.size}", f"{units.long_length(line.length_m)}, {units.line_volume(line.volume_m3)}")
        for line in leaks.lines
    ]
    others = [(opening.what, opening_text(opening, units)) for opening in leaks.openings[1:]]
    rows = columns(
        [*lines, *leak_rows(network), *others, *_measuring_rows(units), *_cost_rows(network), _burst(leaks, units)]
    )
    return block("TEST AND LEAKS (free air as above; air at 20 degC)", [*rows, *cautions_at_test(units)])


def _measuring_rows(units: Units) -> Iterator[tuple[str, str]]:
    """How a leak follows from what was read."""
    one_bar = "14.5 psi" if units.imperial else "1 bar"
    yield "leak by pressure", f"volume x (p1 - p2 x T1 / T2) / (time x {one_bar}); p and T absolute"
    yield "leak by running time", "time loaded / (loaded + unloaded) with nothing in use: share of what is delivered"


def _cost_rows(network: Network) -> Iterator[tuple[str, str]]:
    """What the leakage allowed for does to the test, the compressor and the bill; nothing where it allows for none."""
    leaks, units = network.leaks, network.layout.site.units
    if not leaks.target_m3_s:
        return
    alone, both = (
        "all" if test.target_fall_pa >= leaks.test_gauge_pa else units.pressure_drop(test.target_fall_pa)
        for test in (leaks.piping_test, leaks.tank_test)
    )
    yield f"leakage allowed for, in {duration(TEST_TIME_S)}", f"loses {alone}, with the tank {both}"
    unloads = network.layout.site.compressor.unloads
    words = ("loaded", "unloaded") if unloads else ("runs", "stands")
    standing = f"never {words[1]}"
    if not math.isinf(leaks.loaded_s):
        times = f"{words[0]} {duration(leaks.loaded_s)}, {words[1]} {duration(leaks.unloaded_s)}"
        standing = f"{times}: {leaks.target_m3_s / network.supply.delivered_m3_s * 100:.2g} % of the time"
    yield "compressor with nothing in use", standing
    uncounted = "idling and the motor's own loss" if unloads else "the motor's own loss"
    yield (
        "left on all year it takes",
        f"{energy_words(leaks.target_energy_j_year, network.layout.site)}; {uncounted} not counted",
    )


def _burst(leaks: LeakNumbers, units: Units) -> tuple[str, str]:
    energy_j = leaks.stored_energy_j
    grams, distance_m = tnt_equivalent_kg(energy_j) * 1000, stand_off_m(energy_j)
    return (
        "tank and piping bursting",
        f"{units.energy(energy_j)}, as {grams:.0f} g of TNT; people keep {distance_m:.0f} m "
        f"({distance_m / 0.3048:.0f} ft) from a strength test with air (ASME PCC-2 appendix 501)",
    )


def leak_test_data(network: Network) -> dict[str, Any]:
    """Return the same as plain data; times that never end are null."""
    leaks = network.leaks
    return {
        "lines": [
            {"use": line.use, "size": line.size, "length_m": round(line.length_m, 4),
             "volume_l": round(line.volume_m3 * 1000, 4)}
            for line in leaks.lines
        ],
        "test_gauge_pressure_bar": bar(leaks.test_gauge_pa),
        "test_time_s": TEST_TIME_S,
        "accepted_fall_bar": ACCEPTED_FALL_PA / 1e5,
        "before_regulators": [
            {"regulator": part.regulator, "through": list(part.through), "test_gauge_pressure_bar": bar(part.gauge_pa),
             "volume_l": round(part.volume_m3 * 1000, 4), "filled_at": part.filled_at, "left_open": part.left_open}
            for part in leaks.before
        ],
        "piping_alone": _test_data(leaks.piping_test),
        "with_tank": _test_data(leaks.tank_test),
        "change_bar_per_k": bar(leaks.swing_pa_per_k),
        "allowed_leak_free_air_l_s": round(leaks.target_m3_s * 1000, 6),
        "allowed_leak_as_hole_mm": round(leaks.target_hole_m * 1000, 4),
        "allowed_leak_kwh_per_year": round(leaks.target_energy_j_year / 3.6e6, 1),
        "compressor_loaded_s": _time(leaks.loaded_s),
        "compressor_unloaded_s": _time(leaks.unloaded_s),
        "tank_stored_energy_kj": round(leaks.tank_energy_j / 1000, 2),
        "piping_stored_energy_kj": round(leaks.piping_energy_j / 1000, 2),
        "tnt_equivalent_g": round(tnt_equivalent_kg(leaks.stored_energy_j) * 1000, 2),
        "stand_off_m": round(stand_off_m(leaks.stored_energy_j), 1),
        "openings": [
            {"what": opening.what, "free_air_l_s": round(opening.free_air_m3_s * 1000, 3),
             "falls_to_gauge_pressure_bar": bar(opening.empty_to_pa), "time_s": _time(opening.time_s)}
            for opening in leaks.openings
        ],
    }  # fmt: skip


def _test_data(test: DecayTest) -> dict[str, Any]:
    return {
        "volume_l": round(test.volume_m3 * 1000, 4),
        "accepted_leak_free_air_l_s": round(test.accepted_leak_m3_s * 1000, 7),
        "fall_at_allowed_leak_bar": bar(test.target_fall_pa),
        "timed_fall_bar": bar(test.timed_fall_pa),
        "timed_fall_at_allowed_leak_s": _time(test.timed_s),
    }


def _time(time_s: float) -> float | None:
    return None if math.isinf(time_s) else round(time_s, 2)
