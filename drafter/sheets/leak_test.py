"""The schedule for the leak test: what it may lose here, what the leakage allowed for means, how to test safely."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.quantity import Units
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Column, Table
from drafter.site.model import Site
from drafter.sizing.before_regulator import before_words, whole_words
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S, YEAR_S, Opening, low_test
from drafter.sizing.network import Network

NIGHT_S = 14.0 * 3600.0
"""From the end of a working day to the next: common practice."""


def cautions_at_test(units: Units) -> tuple[str, ...]:
    """Return what whoever tests has to mind. Source: common practice, handbooks from memory."""
    return (
        "Keep everyone clear of pipe and tank, wear eye protection. The local code decides pressure, time and witness.",
        "Above working pressure shut off tank and gauges; a relief valve guards the piping.",
        f"First {low_test(units)} with leak fluid, then in steps. Bleed to zero before tightening a joint.",
    )


def leak_table(scene: Scene) -> Table:
    """What a leak test may lose here; how it is made safely stands on the test record."""
    rows = (*leak_rows(scene.design.network), ("caution", "read those of the TEST AND HAND-OVER RECORD first"))
    return Table("TEST AND LEAKS", (Column("what"), Column("value")), rows)


def leak_rows(network: Network) -> list[tuple[str, str]]:
    """Return volumes, energies, the test and the leakage allowed for as rows of what and value."""
    leaks, site = network.leaks, network.layout.site
    units, alone, both = site.units, leaks.piping_test, leaks.tank_test
    accepted = units.leak(alone.accepted_leak_m3_s), units.leak(both.accepted_leak_m3_s)
    return [
        ("piping holds", f"{units.line_volume(leaks.piping_m3)}, the tank {units.volume(site.compressor.tank_m3)}"),
        (
            "stored at cut-out",
            f"tank {units.energy(leaks.tank_energy_j)}, piping {units.energy(leaks.piping_energy_j)}",
        ),
        (
            "leak test of all at" if leaks.before else "leak test at",
            f"{units.pressure(leaks.test_gauge_pa)}, air as warm as the room",
        ),
        ("filled by", whole_words(network.layout, leaks.before)),
        (f"may lose in {duration(TEST_TIME_S)}", f"{units.pressure_drop(ACCEPTED_FALL_PA)}; {swing_words(network)}"),
        ("which is a leak of", f"{accepted[0]}, with the tank {accepted[1]}"),
        *_before_rows(network),
        *_target_rows(network),
        (leaks.openings[0].what, opening_text(leaks.openings[0], units)),
        ("an hour of that, the set running on", energy_words(site.compressor.power_w * 3600.0, site)),
    ]


def energy_words(energy_j: float, site: Site) -> str:
    """Return an energy as the meter counts it, and what it costs where the site file gives a price."""
    kwh = energy_j / 3.6e6
    money = "" if site.energy_price is None else f", which costs {kwh * site.energy_price:.2f}"
    return f"{kwh:.{0 if kwh >= 10.0 else 1}f} kWh{money}"


def _before_rows(network: Network) -> Iterator[tuple[str, str]]:
    """The tests of the parts that work at more than the main does."""
    for part in network.leaks.before:
        pressure = network.layout.site.units.pressure(part.gauge_pa)
        yield f"then V-01 to {part.regulator} at", f"{pressure}, may lose as much in the same time"
        yield "filled by", before_words(part)


def swing_words(network: Network) -> str:
    """Say what a change of temperature does to the pressure."""
    units, per_kelvin_pa = network.layout.site.units, network.leaks.swing_pa_per_k
    step, change_pa = ("1 °F", per_kelvin_pa / 1.8) if units.imperial else ("1 K", per_kelvin_pa)
    return f"{step} colder takes {units.pressure_drop(change_pa)}"


def _target_rows(network: Network) -> Iterator[tuple[str, str]]:
    """What the share of leakage in the site file means; nothing where it allows for none."""
    leaks, site = network.leaks, network.layout.site
    if leaks.target_m3_s:
        units, alone, both = site.units, leaks.piping_test, leaks.tank_test
        yield (
            f"leakage allowed for, {site.demand.leakage * 100:.3g} %",
            f"{units.leak(leaks.target_m3_s)}, as one hole of {_hole(leaks.target_hole_m, site.imperial)}",
        )
        times = duration(alone.timed_s), duration(both.timed_s)
        yield f"that loses {units.pressure_drop(alone.timed_fall_pa)}", f"in {times[0]}, with the tank in {times[1]}"
        night_j = leaks.target_energy_j_year * NIGHT_S / YEAR_S
        yield f"a night of that, {duration(NIGHT_S)} left on", energy_words(night_j, site)


def opening_text(opening: Opening, units: Units) -> str:
    """Return what escapes from an opening and how soon it has emptied."""
    flow, low = units.free_air(opening.free_air_m3_s), units.pressure(opening.empty_to_pa)
    return f"{flow}, down to {low} in {duration(opening.time_s)}"


def duration(time_s: float) -> str:
    """Return a time as a clock is read: seconds, minutes or hours."""
    if time_s < 120.0:
        return f"{time_s:.0f} s"
    return f"{time_s / 60.0:.0f} min" if time_s < 7200.0 else f"{time_s / 3600.0:.1f} h"


def _hole(diameter_m: float, imperial: bool) -> str:
    return f"{diameter_m / 0.0254:.3f} in" if imperial else f"{diameter_m * 1000.0:.2f} mm"
