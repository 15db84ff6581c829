"""What chains of units make of the air, and what would have to be added."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.layout import lay_out
from drafter.site import read
from drafter.sizing import size
from drafter.sizing.air_quality import OutletAir, outlet_air, purity_behind, units_to_add, use_of, wanted_purity
from drafter.standards.purity import WORSE, Purity, parse_purity

SITE = """
site: Paint room (invented)
rooms: {{room: {{size: [14 m, 8 m], ceiling: 3.2 m, coldest: 12 degC, warmest: 30 degC}}}}
compressor: {{wall: north, from left: 0.4 m, power: 4 kW, free air: 10 l/s, cut in: 8 bar, cut out: 9 bar,
  tank: 20000 l, rated: 11 bar, relief: 10.5 bar{plant}}}
treatment: [{treatment}]
main: {{material: copper tube type L, height: 2.6 m}}
outlets:
  - {{tag: A1, wall: east, from left: 4 m, tools: [{tool}]{outlet}}}
"""


def air_of(treatment: str = "", outlet: str = "", tool: str = "blow gun", plant: str = "") -> OutletAir:
    site, findings = read(SITE.format(treatment=treatment, outlet=outlet, tool=tool, plant=plant), "paint.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    (air,) = outlet_air(size(layout)[0])
    return air


@pytest.mark.parametrize(
    "treatment, outlet, reached",
    [
        ("", "", "X:9:X"),
        ("", ", service: [filter]", "6:7:X"),
        ("filter", "", "6:9:X"),
        ("refrigeration dryer", "", "X:4:X"),
        ("filter, {kind: refrigeration dryer, dew point: 7 degC}", "", "6:5:X"),
        ("filter, {kind: refrigeration dryer, dew point: 10 degC}", "", "6:6:X"),
        ("filter, refrigeration dryer, coalescing filter", "", "1:4:2"),
        ("filter, refrigeration dryer", ", service: [coalescing filter, activated carbon filter]", "1:4:1"),
        ("coalescing filter, desiccant dryer", "", "X:2:2"),
        ("coalescing filter, desiccant dryer, filter", "", "6:2:2"),
        ("coalescing filter, {kind: desiccant dryer, dew point: -70 degC}, filter", "", "6:1:2"),
        ("activated carbon filter", "", "X:9:X"),
        ("coalescing filter, refrigeration dryer", ", service: [lubricator]", "1:4:X"),
    ],
)
def test_what_a_chain_reaches(treatment: str, outlet: str, reached: str) -> None:
    """Typical classes of kinds of units, common practice; dew points as in ISO 8573-1."""
    assert str(air_of(treatment, outlet).reached) == reached


def test_a_cold_room_spoils_the_water_class() -> None:
    """Air with a dew point of 10 degC drops water on the day its room has 8 degC."""
    treatment = "filter, {kind: refrigeration dryer, dew point: 10 degC}"
    site, _ = read(SITE.replace("12 degC", "8 degC").format(treatment=treatment, outlet="", tool="drill", plant=""), "")
    assert site is not None
    layout, _ = lay_out(site)
    assert layout is not None
    assert outlet_air(size(layout)[0])[0].reached.water == 7


@pytest.mark.parametrize(
    "pressure_bar, dew_point_deg_c, expanded_deg_c", [(7, 3, -20.8), (8, 3, -22.0), (7, 10, -15.7)]
)
def test_the_dew_point_of_air_let_down(pressure_bar: float, dew_point_deg_c: float, expanded_deg_c: float) -> None:
    """Worked apart from this program with psychrometrics; the dryer is taken without loss of pressure."""
    treatment = f"{{kind: refrigeration dryer, dew point: {dew_point_deg_c} degC, drop: 0 bar}}"
    plant = f", cut in: {pressure_bar - 0.001} bar, cut out: {pressure_bar + 0.001} bar"
    text = SITE.replace("cut in: 8 bar, cut out: 9 bar,", "").replace("relief: 10.5 bar", f"relief: 10.5 bar{plant}")
    site, findings = read(text.format(treatment=treatment, outlet="", tool="drill", plant=""), "let_down.yaml")
    assert site is not None, findings
    layout, _ = lay_out(site)
    assert layout is not None
    (air,) = outlet_air(size(layout)[0])
    assert air.dew_point_k - 273.15 == pytest.approx(dew_point_deg_c, abs=0.01)
    assert air.expanded_dew_point_k - 273.15 == pytest.approx(expanded_deg_c, abs=0.06)


def test_an_oil_free_compressor_starts_with_less_oil() -> None:
    assert air_of(plant=", oil: oil-free").reached.oil == 3
    assert air_of(plant=", oil: lubricated").reached.oil == WORSE


@pytest.mark.parametrize(
    "tool, outlet, use, wanted",
    [
        ("blow gun", "", "tools", "6:7:X"),
        ("HVLP spray gun", "", "paint", "1:4:2"),
        ("blow gun, spray gun", "", "paint", "1:4:2"),
        ("HVLP spray gun", ", air for: tools", "tools", "6:7:X"),
        ("blow gun", ", air for: blow-off", "blow-off", "3:4:3"),
        ("blow gun", ", class: 2:3:1", "tools", "2:3:1"),
        ("airbrush", ", class: x:9:4", "paint", "X:9:4"),
    ],
)
def test_what_the_air_is_for(tool: str, outlet: str, use: str, wanted: str) -> None:
    air = air_of(outlet=outlet, tool=tool)
    assert (air.used_for, str(air.wanted)) == (use, wanted)
    assert air.asked_for is bool(outlet)
    site, _ = read(SITE.format(treatment="", outlet=outlet, tool=tool, plant=""), "paint.yaml")
    assert site is not None
    assert (use_of(site.outlets[0]), wanted_purity(site.outlets[0])) == (use, air.wanted)


UNITS = ["filter", "separator", "coalescing filter", "activated carbon filter", "refrigeration dryer"]


@given(
    st.lists(st.sampled_from(UNITS), max_size=4), st.sampled_from(UNITS), st.sampled_from(["lubricated", "oil-free"])
)
def test_one_more_unit_that_cleans_never_spoils_the_air(units: list[str], more: str, oil: str) -> None:
    assert purity_behind([*units, more], oil).meets(purity_behind(units, oil))


@pytest.mark.parametrize(
    "wanted, reached, to_add",
    [
        ("6:7:X", "X:9:X", ("a filter at the outlet",)),
        ("6:7:X", "6:9:X", ("a filter at the outlet",)),
        ("1:4:2", "6:9:X", ("a refrigeration dryer", "a coalescing filter")),
        ("1:4:1", "1:4:2", ("a coalescing filter", "an activated carbon filter behind it")),
        ("6:2:X", "6:4:2", ("a desiccant dryer for -40 °C with a filter behind it",)),
        ("6:3:X", "6:4:2", ("a desiccant dryer for -20 °C with a filter behind it",)),
        ("6:1:X", "6:2:2", ("a desiccant dryer for -70 °C with a filter behind it",)),
    ],
)
def test_what_is_to_be_added(wanted: str, reached: str, to_add: tuple[str, ...]) -> None:
    first, second = parse_purity(wanted), parse_purity(reached)
    assert first is not None
    assert second is not None
    assert units_to_add(first, second) == to_add


def test_something_is_to_be_added_just_where_the_air_does_not_fit() -> None:
    numbers = (0, 1, 4, 7, WORSE)
    classes = [Purity(p, w, o) for p, w, o in product(numbers, (*numbers, 9), (0, 1, 4, WORSE))]
    for wanted, reached in product(classes, classes):
        assert bool(units_to_add(wanted, reached)) is not reached.meets(wanted)


@pytest.mark.parametrize("wanted", ["6:7:X", "3:4:3", "1:4:2", "1:4:1", "6:2:X"])
def test_what_is_to_be_added_does(wanted: str) -> None:
    """The advice followed to the letter reaches the class."""
    words = {
        "a refrigeration dryer": ("refrigeration dryer", ""),
        "a filter at the outlet": ("", "filter"),
        "a coalescing filter": ("", "coalescing filter"),
        "an activated carbon filter behind it": ("", "activated carbon filter"),
        "a desiccant dryer for -40 °C with a filter behind it": ("desiccant dryer, filter", ""),
    }
    asked = f', class: "{wanted}"'
    units = [words[words_of_it] for words_of_it in air_of(outlet=asked).to_add]
    train = ", ".join(unit for unit, _ in units if unit)
    service = ", ".join(unit for _, unit in units if unit)
    assert air_of(train, f"{asked}, service: [{service}]").fits
