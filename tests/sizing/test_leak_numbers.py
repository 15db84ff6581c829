"""Leak numbers of a sized site: volumes by hand, tests and leaks that agree with one another."""

from __future__ import annotations

import math

import pytest

from drafter.layout import lay_out
from drafter.layout.graph import RunKind
from drafter.site import read
from drafter.sizing import size
from drafter.sizing.before_regulator import before_words, whole_words
from drafter.sizing.leak_numbers import TEST_TIME_S, LeakNumbers
from drafter.sizing.network import Network
from drafter.standards.air import STANDARD_ATMOSPHERE_PA
from drafter.standards.leaks import load_unload_leak_share
from drafter.standards.orifice import orifice_free_air_m3_s
from drafter.standards.receiver import stored_energy_j

SITE = """
site: Leak room (invented)
rooms: {room: {size: [12 m, 8 m], ceiling: 3.2 m, warmest: 20 degC}}
compressor: {wall: north, from left: 0.4 m, power: 4 kW, free air: 10 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube type L, height: 2.6 m, size: "3/4", drop size: "1/2"}
outlets:
  - {tag: A1, wall: north, from left: 5 m, tools: [{tool: test tool, free air: 8 l/s, pressure: 5 bar, use: 50 %}]}
  - {tag: A2, wall: east, from left: 3 m, coupling: 1/2,
     tools: [{tool: test tool, free air: 4 l/s, pressure: 5 bar, use: 25 %}]}
demand: {leakage: 10 %, growth: 20 %}
"""
BORES_M = {"3/4": 0.785 * 0.0254, "1/2": 0.545 * 0.0254}


def sized(*changes: tuple[str, str]) -> Network:
    text = SITE
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    site, findings = read(text, "leak.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return size(layout)[0]


@pytest.fixture(scope="module")
def network() -> Network:
    return sized()


@pytest.fixture(scope="module")
def leaks(network: Network) -> LeakNumbers:
    return network.leaks


def test_volume_is_that_of_every_run(network: Network, leaks: LeakNumbers) -> None:
    """Bores of ASTM B88 type L; the flexible connection, drops and drip legs count too."""
    by_hand = sum(
        network.layout.length_m(run) * math.pi / 4 * BORES_M["1/2" if run.outlet else "3/4"] ** 2
        for run in network.layout.runs
    )
    assert leaks.piping_m3 == pytest.approx(by_hand, rel=1e-4)
    assert {(line.use, line.size) for line in leaks.lines} == {
        ("main", "3/4"), ("flexible connection", "3/4"), ("drip legs", "3/4"), ("drops", "1/2"), ("drip legs", "1/2"),
    }  # fmt: skip
    flexible = next(run for run in network.layout.runs if run.kind is RunKind.FLEXIBLE)
    (hose,) = (line for line in leaks.lines if line.use == "flexible connection")
    assert hose.length_m == pytest.approx(network.layout.length_m(flexible))
    lengths = sum(line.length_m for line in leaks.lines)
    assert lengths == pytest.approx(sum(map(network.layout.length_m, network.layout.runs)))
    assert leaks.tank_test.volume_m3 == pytest.approx(by_hand + 0.2, rel=1e-4)


def test_energy_of_tank_and_piping(leaks: LeakNumbers) -> None:
    assert leaks.tank_energy_j == pytest.approx(stored_energy_j(0.2, 9e5))
    assert leaks.piping_energy_j == pytest.approx(stored_energy_j(leaks.piping_m3, 9e5))
    assert leaks.stored_energy_j == leaks.tank_energy_j + leaks.piping_energy_j


def test_accepted_leak_by_hand(leaks: LeakNumbers) -> None:
    """0.1 bar in 1800 s of free air at 1 bar: V / 18 000 s."""
    for test in (leaks.piping_test, leaks.tank_test):
        assert test.accepted_leak_m3_s == pytest.approx(test.volume_m3 / 18_000.0, rel=1e-9)


def test_leakage_allowed_for_by_hand(leaks: LeakNumbers) -> None:
    """Average (8 x 0.5 + 4 x 0.25) / 0.9 = 5.556 l/s; a tenth of it; 4 kW / 10 l/s x 8760 h = 1947 kWh."""
    assert leaks.target_m3_s == pytest.approx(0.55556e-3, rel=1e-4)
    assert leaks.target_energy_j_year / 3.6e6 == pytest.approx(4.0 / 10.0 * 0.55556 * 8760.0, rel=1e-4)
    inside_pa = 9e5 + STANDARD_ATMOSPHERE_PA
    leak_m3_s = orifice_free_air_m3_s(leaks.target_hole_m, inside_pa, STANDARD_ATMOSPHERE_PA)
    assert leak_m3_s == pytest.approx(leaks.target_m3_s)


def test_times_of_the_compressor_are_those_of_its_share(leaks: LeakNumbers) -> None:
    assert load_unload_leak_share(leaks.loaded_s, leaks.unloaded_s) == pytest.approx(0.55556 / 10.0, rel=1e-4)
    assert leaks.unloaded_s == pytest.approx(leaks.tank_test.volume_m3 * 2.0 / 0.55556e-3, rel=1e-4)


def test_falls_at_the_leakage_allowed_for(leaks: LeakNumbers) -> None:
    """Choked: p falls by exp(-q p_a t / (V p1)); the time of 1 bar and the fall in the test's time agree with it."""
    start_pa, test = 9e5 + STANDARD_ATMOSPHERE_PA, leaks.tank_test
    constant_s = test.volume_m3 * start_pa / (leaks.target_m3_s * 1e5)
    assert test.timed_s == pytest.approx(constant_s * math.log(start_pa / (start_pa - 1e5)), rel=1e-6)
    assert test.target_fall_pa == pytest.approx(start_pa * (1 - math.exp(-TEST_TIME_S / constant_s)), rel=1e-3)
    assert leaks.piping_test.target_fall_pa == pytest.approx(9e5)
    assert leaks.piping_test.timed_s < 60.0 < test.timed_s


def test_no_leakage_allowed_for() -> None:
    leaks = sized(("leakage: 10 %", "leakage: 0 %")).leaks
    assert leaks.target_m3_s == leaks.target_hole_m == leaks.target_energy_j_year == 0.0
    assert leaks.unloaded_s == leaks.piping_test.timed_s == math.inf
    assert leaks.tank_test.target_fall_pa == 0.0
    assert leaks.tank_test.accepted_leak_m3_s > 0.0


def test_a_compressor_smaller_than_the_leak_never_stands() -> None:
    leaks = sized(("free air: 10 l/s", "free air: 0.5 l/s")).leaks
    assert leaks.loaded_s == math.inf
    assert leaks.target_energy_j_year / 3.6e6 == pytest.approx(4.0 * 8760.0)


def test_the_test_keeps_to_the_lowest_regulator() -> None:
    leaks = sized(("main: {", "treatment: [{kind: regulator, set: 6 bar}]\nmain: {")).leaks
    assert leaks.test_gauge_pa == 6e5
    assert leaks.tank_energy_j == pytest.approx(stored_energy_j(0.2, 9e5))


def test_openings(leaks: LeakNumbers) -> None:
    """The 1/2 coupling of A2, 12 l/(s bar): 10.013 bar absolute x 12; from there to 3.013 bar by the logarithm."""
    hose, line = leaks.openings
    assert hose.what == "hose off behind a quick coupling 1/2"
    assert hose.free_air_m3_s == pytest.approx(12e-8 * 10.01325e5)
    volume_m3 = leaks.tank_test.volume_m3
    falls_to_pa = STANDARD_ATMOSPHERE_PA / 0.3
    assert hose.time_s > volume_m3 / 12e-3 * math.log(10.01325e5 / falls_to_pa)
    assert hose.time_s == pytest.approx(volume_m3 / 12e-3 * math.log(10.01325 / 3.01325), rel=0.02)
    assert line.what == "line off at the tank"
    full_bore = orifice_free_air_m3_s(BORES_M["3/4"], 10.01325e5, STANDARD_ATMOSPHERE_PA)
    assert line.free_air_m3_s == pytest.approx(full_bore, rel=1e-4)
    assert line.time_s < hose.time_s


def test_low_pressures_are_counted_to_half_of_them() -> None:
    low = sized(("cut in: 7 bar, cut out: 9 bar", "cut in: 0.5 bar, cut out: 1 bar")).leaks
    assert all(opening.empty_to_pa == 0.5e5 for opening in low.openings)
    assert low.piping_test.timed_fall_pa == 0.5e5
    assert all(0.0 < opening.time_s < math.inf for opening in low.openings)


def test_thinner_air_outside_empties_the_same_tank_further() -> None:
    high, sea = sized(("main: {", "altitude: 2000 m\nmain: {")).leaks, sized().leaks
    assert high.swing_pa_per_k < sea.swing_pa_per_k
    assert high.openings[0].free_air_m3_s < sea.openings[0].free_air_m3_s


TRAIN = "treatment: [filter, {kind: regulator, set: 8 bar}, filter, {kind: regulator, set: 6 bar}]\nmain: {"


def test_what_works_at_more_is_tested_at_more() -> None:
    """Two regulators: to the second 8 bar, to the first the cut-out of 9 bar, each with the pipes before it."""
    network = sized(("main: {", TRAIN))
    layout, leaks = network.layout, network.leaks
    assert leaks.test_gauge_pa == 6e5
    to_second, to_first = leaks.before
    assert (to_second.regulator, to_second.through, to_second.gauge_pa) == ("T-04", ("T-02",), 8e5)
    assert (to_first.regulator, to_first.through, to_first.gauge_pa) == ("T-02", (), 9e5)
    tags = {id: node.tag for id, node in layout.nodes.items()}
    drains = {tags[run.end]: run for run in layout.runs if tags[run.end].startswith("D-")}
    assert to_first.filled_at == to_second.filled_at == "D-01"
    foot = layout.runs_at[drains["D-01"].start]
    assert foot[0].start == layout.runs[1].end
    assert to_first.left_open == to_second.left_open != "D-01"
    in_line = ("connection", "flexible connection", "riser", "treatment line")
    train = [run for run in layout.runs if run.kind.value in in_line or run is drains["D-01"]]
    ends = {run.end: number for number, run in enumerate(train)}
    first = next(number for id, number in ends.items() if tags[id] == "T-02")
    by_hand = sum(layout.length_m(run) for run in train[: first + 1]) * math.pi / 4 * BORES_M["3/4"] ** 2
    assert to_first.volume_m3 == pytest.approx(by_hand, rel=1e-4)
    assert to_first.volume_m3 < to_second.volume_m3 < leaks.piping_m3


def test_without_a_regulator_in_the_line_there_is_one_test(leaks: LeakNumbers) -> None:
    assert leaks.before == ()
    assert sized(("main: {", "treatment: [{kind: regulator, set: 9.5 bar}]\nmain: {")).leaks.before == ()


def test_the_words_say_where_it_is_filled_and_what_is_shut() -> None:
    network = sized(("main: {", "treatment: [filter, {kind: regulator, set: 6 bar}]\nmain: {"))
    (part,) = network.leaks.before
    assert before_words(part) == (
        f"test hose in place of D-01; V-01 shut; T-02 screwed right out, {part.left_open} open behind it"
    )
    said = whole_words(network.layout, network.leaks.before)
    assert "D-01; V-01, drains and outlets shut; T-02 screwed in" in said


def test_distance_is_that_along_the_pipe(network: Network) -> None:
    """In a dead end each node is as far as the node before it and the run between."""
    far = network.layout.from_tank_m
    assert set(far) == set(network.layout.nodes)
    for run in network.layout.runs:
        assert far[run.end] == pytest.approx(far[run.start] + network.layout.length_m(run))
