"""Water over the day: published check values, a balance that closes, and what must never be less or more."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.layout import lay_out
from drafter.layout.graph import NodeKind, RunKind
from drafter.site import read
from drafter.sizing import Network, size
from drafter.sizing.run_off import first_runs, run_off
from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, STANDARD_ATMOSPHERE_PA, dry_air_kg_s
from drafter.standards.moisture import saturated_ratio

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
SITE = """
site: Water room (invented)
altitude: {altitude} m
rooms:
  room: {{size: [12 m, 8 m], ceiling: 3.2 m, coldest: {coldest} degC, warmest: {warmest} degC}}
compressor: {{wall: north, from left: 0.4 m, power: 4 kW, free air: 40 l/s,
  cut in: {cut_in} bar, cut out: {cut_out} bar, tank: 20000 l,
  rated: 11 bar, relief: 10 bar, intake humidity: {humidity} %, air warmer by: {rise} K}}
treatment: [{treatment}]
main: {{material: {material}, height: 2.6 m, fall: {fall} %}}
outlets:
  - tag: A1
    wall: north
    from left: 7 m
    tools: [{{tool: test tool, free air: {flow} l/s, pressure: 4 bar, use: 100 %}}]
  - tag: A2
    wall: east
    from left: 4 m
    tools: [{{tool: test tool, free air: 2 l/s, pressure: 4 bar, use: {use} %}}]
demand: {{leakage: 0 %, growth: 0 %, working day: {hours} h}}
"""


@cache
def sized(
    altitude: float = 0.0, coldest: float = 5.0, warmest: float = 30.0, cut_in: float = 7.0, cut_out: float = 9.0,
    humidity: float = 60.0, rise: float = 15.0, treatment: str = "", material: str = "copper tube type L",
    fall: float = 1.0, flow: float = 4.0, use: float = 10.0, hours: float = 8.0,
) -> Network:  # fmt: skip
    site, findings = read(SITE.format(**locals()), "water.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return size(layout)[0]


@pytest.mark.parametrize(
    "intake_l_s, deg_c, humidity, cooled_deg_c, hours, load, water_kg",
    [(10, 25, 60, 30, 8, 0.6, 1.797), (10, 25, 60, 25, 8, 0.6, 1.947), (5, 30, 70, 35, 4, 0.5, 0.606)],
)
def test_water_of_the_tank_by_hand(
    intake_l_s: float, deg_c: float, humidity: float, cooled_deg_c: float, hours: float, load: float, water_kg: float
) -> None:
    """Moist intake at 1.01325 bar, cooled in the tank at 8 bar: worked apart from this program with psychrometrics."""
    dry = dry_air_kg_s(intake_l_s / 1e3 * load, STANDARD_ATMOSPHERE_PA, deg_c + 273.15, humidity / 100)
    flow = round(dry / FREE_AIR_DENSITY_KG_M3 * 1e3, 6)
    network = sized(
        warmest=deg_c, humidity=humidity, rise=cooled_deg_c - deg_c, cut_in=7.999, cut_out=8.001, hours=hours,
        flow=flow, use=0.0,
    )  # fmt: skip
    assert network.water.warm.places[0].a_day_kg == pytest.approx(water_kg, rel=1e-3)


def test_all_that_a_dryer_leaves_goes_to_the_outlets() -> None:
    """10 l/s at 25 degC and 60 %, 8 bar, 8 h at 60 % load, dried to 3 degC: 2.282 kg out of 2.387 kg.

    The dryer works a little below 8 bar, 0.2 bar for itself, so that it keeps 0.003 kg less.
    """
    dry = dry_air_kg_s(0.006, STANDARD_ATMOSPHERE_PA, 298.15, 0.6)
    network = sized(
        warmest=25.0, humidity=60.0, rise=5.0, cut_in=7.999, cut_out=8.001, treatment="refrigeration dryer", use=0.0,
        flow=round(dry / FREE_AIR_DENSITY_KG_M3 * 1e3, 6),
    )  # fmt: skip
    warm = network.water.warm
    assert warm.taken_in_kg == pytest.approx(2.387, abs=0.002)
    assert sum(place.a_day_kg for place in warm.places) == pytest.approx(2.282, abs=0.004)
    ratio = saturated_ratio(276.15, 8e5 - 0.2e5 + STANDARD_ATMOSPHERE_PA)
    assert warm.leaves_kg == pytest.approx(dry * 28_800 * ratio, rel=1e-6)


UNITS = st.sampled_from(
    ["filter", "coalescing filter", "aftercooler", "separator", "refrigeration dryer", "desiccant dryer",
     "{kind: regulator, set: 5 bar}", "lubricator", "activated carbon filter",
     "{kind: desiccant dryer, dew point: -20 degC}"]
)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(
    st.lists(UNITS, max_size=4),
    st.integers(min_value=0, max_value=100),
    st.integers(min_value=-20, max_value=10),
    st.integers(min_value=15, max_value=45),
    st.integers(min_value=0, max_value=40),
    st.sampled_from([0, 1]),
    st.sampled_from(["copper tube type L", "polyamide tube"]),
    st.sampled_from([0, 1500]),
)
def test_the_balance_closes(
    units: list[str], humidity: int, coldest: int, warmest: int, rise: int, fall: int, material: str, altitude: int
) -> None:
    network = sized(
        altitude, coldest, warmest, humidity=humidity, rise=rise, treatment=", ".join(units), material=material,
        fall=fall,
    )  # fmt: skip
    keeps = {NodeKind.TANK, NodeKind.DRAIN, NodeKind.TREATMENT, NodeKind.SERVICE, NodeKind.COUPLING}
    for day in (network.water.warm, network.water.cold):
        kept = sum(place.a_day_kg for place in day.places)
        assert kept + day.leaves_kg + day.given_off_kg == pytest.approx(day.taken_in_kg, rel=1e-9, abs=1e-12)
        assert all(place.a_day_kg >= -1e-12 for place in day.places)
        assert day.leaves_kg >= 0.0
        assert day.given_off_kg >= -1e-12
        assert {network.layout.nodes[place.node].kind for place in day.places} <= keeps


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_balance_of_the_examples_closes(path: Path) -> None:
    site, _ = read(path.read_bytes(), path.name)
    assert site is not None
    layout, _ = lay_out(site)
    assert layout is not None
    water = size(layout)[0].water
    for day in (water.warm, water.cold):
        kept = sum(place.a_day_kg for place in day.places)
        assert kept + day.leaves_kg + day.given_off_kg == pytest.approx(day.taken_in_kg, rel=1e-9)


def falls_out(network: Network) -> float:
    return sum(place.a_day_kg for place in network.water.warm.places)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 99), st.integers(1, 40), st.integers(15, 44))
def test_warmer_or_wetter_air_never_leaves_less_water(humidity: int, more: int, warmest: int) -> None:
    """Warmer air brings more only where it is not so dry that what the pipe still holds as vapour counts as well."""
    base = falls_out(sized(humidity=humidity, warmest=warmest))
    assert falls_out(sized(humidity=min(100, humidity + more), warmest=warmest)) >= base - 1e-9
    if humidity >= 40:
        assert falls_out(sized(humidity=humidity, warmest=warmest + 1)) >= base - 1e-9


def test_the_warm_day_has_more_water_than_the_cold() -> None:
    water = sized().water
    assert water.warm.taken_in_kg > water.cold.taken_in_kg
    assert water.warm.intake_k == pytest.approx(303.15)
    assert water.cold.intake_k == pytest.approx(278.15)


def test_double_hours_are_double_water() -> None:
    once, twice = (sized(hours=hours).water.warm for hours in (4.0, 8.0))
    assert twice.taken_in_kg == pytest.approx(2 * once.taken_in_kg)
    assert [p.a_day_kg for p in twice.places] == pytest.approx([2 * p.a_day_kg for p in once.places])


def test_thin_air_brings_more_water_for_the_same_free_air() -> None:
    """At 1500 m the same mass of dry air comes with 1.01325 / 0.8456 of the vapour, and a little more."""
    sea, high = sized().water.warm.taken_in_kg, sized(altitude=1500.0).water.warm.taken_in_kg
    assert 1.198 < high / sea < 1.215


def test_purge_air_and_what_it_carries_are_counted() -> None:
    """A desiccant dryer uses 16 % of the air itself: 1 / 0.84 of the air and the water come in."""
    plain, dried = sized().water, sized(treatment="desiccant dryer").water
    assert dried.warm.taken_in_kg == pytest.approx(plain.warm.taken_in_kg / 0.84)
    at_the_tank = dried.warm.places[0].a_day_kg
    assert 0.5 < dried.warm.given_off_kg / (dried.warm.taken_in_kg - at_the_tank) < 1.0
    assert plain.warm.given_off_kg == 0.0


def test_no_more_air_than_the_compressor_delivers() -> None:
    greedy = sized(flow=80.0)
    assert greedy.water.average_m3_s == pytest.approx(greedy.supply.delivered_m3_s)


def test_the_first_filter_cannot_catch_what_is_still_vapour() -> None:
    network = sized(treatment="filter")
    layout, water = network.layout, network.water
    unit = next(node for node in layout.nodes.values() if node.kind is NodeKind.TREATMENT)
    behind = [p for p in water.warm.places if p.from_tank_m > water.from_tank_m(unit.id)]
    assert sum(place.a_day_kg for place in behind) > 3 * water.warm.at(unit.id)


def test_longer_bare_pipe_cools_more_but_no_more_than_the_dryer() -> None:
    water = sized().water
    lines = water.cooling_lines
    assert [line.length_m for line in lines] == sorted(line.length_m for line in lines)
    assert [line.air_k for line in lines] == sorted((line.air_k for line in lines), reverse=True)
    assert [line.a_day_kg for line in lines] == sorted(line.a_day_kg for line in lines)
    assert 0.0 < lines[0].a_day_kg < lines[-1].a_day_kg < water.dryer_kg
    assert 0.0 < water.near_room_on_average_m <= water.near_room_m


def test_a_drip_leg_holds_its_bore_and_is_opened_in_time() -> None:
    network = sized(flow=15.0, humidity=90.0, warmest=35.0)
    layout = network.layout
    assert len(network.water.legs) == sum(run.kind is RunKind.DRIP_LEG for run in layout.runs)
    for leg in network.water.legs:
        run = layout.runs_at[leg.node][0]
        litres = 0.7853981633974483 * network.sizes[run.id].bore_m ** 2 * layout.length_m(run) * 1000
        assert leg.holds_kg == pytest.approx(litres)
        assert leg.a_day_kg == network.water.warm.at(leg.node)
        assert (leg.times_a_day - 1) * leg.holds_kg <= leg.a_day_kg <= leg.times_a_day * leg.holds_kg or (
            leg.times_a_day == 1
        )


@pytest.mark.parametrize("fall", [0.0, 1.0])
def test_water_runs_down_to_drains(fall: float) -> None:
    network = sized(fall=fall, treatment="filter")
    layout = network.layout
    keeps = {n.id for n in layout.nodes.values() if n.kind in (NodeKind.DRAIN, NodeKind.TREATMENT, NodeKind.COUPLING)}
    keeps.add(layout.runs[0].start)
    for node in layout.nodes:
        rest = run_off(layout, {node: 1.0}, keeps)
        assert sum(rest.values()) == pytest.approx(1.0)
        assert set(rest) <= keeps
        if node not in keeps and layout.nodes[node].kind is NodeKind.TAKE_OFF:
            low_end = next(p for p in layout.nodes.values() if p.tag == "D-02")
            assert rest == {low_end.id: pytest.approx(1.0)}


def test_a_ring_closes_the_balance_too() -> None:
    """A run from the last take-off back to the top of the riser, which has its air already."""
    plain = sized(treatment="filter")
    layout = plain.layout
    main = [run for run in layout.runs if run.kind is RunKind.MAIN]
    last = next(node.id for node in reversed(layout.nodes.values()) if node.kind is NodeKind.TAKE_OFF)
    closing = replace(main[0], id="P99", start=last, end=main[0].start)
    network = replace(
        plain,
        layout=replace(layout, runs=(*layout.runs, closing)),
        sizes={**plain.sizes, "P99": plain.sizes[main[0].id]},
        pipes=(*plain.pipes, replace(plain.pipe(main[0].id), run="P99")),
    )
    day = network.water.warm
    kept = sum(place.a_day_kg for place in day.places)
    assert kept + day.leaves_kg == pytest.approx(day.taken_in_kg, rel=1e-9)
    assert day.taken_in_kg == pytest.approx(plain.water.warm.taken_in_kg)


def test_every_node_but_the_tank_is_brought_its_air_once() -> None:
    layout = sized().layout
    brings = first_runs(layout)
    assert set(brings) == set(layout.nodes) - {layout.runs[0].start}
    assert all(run.end == node for node, run in brings.items())
