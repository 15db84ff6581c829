"""Classes of compressed air: written, read, told apart at their limits, complete."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards.components import component, component_names
from drafter.standards.purity import WORSE, Purity, air_use, air_uses, parse_purity, purity_words, water_class
from drafter.standards.tools import find_tool, tool_names

NUMBERS = st.sampled_from([0, 1, 2, 3, 4, WORSE])


@given(NUMBERS, NUMBERS, NUMBERS)
def test_a_class_written_is_the_class_read(particles, water, oil):
    purity = Purity(particles, water, oil)
    assert parse_purity(str(purity)) == purity
    assert purity.meets(purity)


@pytest.mark.parametrize(
    "text", ["", "1:4", "1:4:2:1", "8:4:2", "1:4:5", "a:4:2", "1-4-2", "11:4:2", "1:4:2x", "１:4:2"]
)
def test_what_is_no_class(text):
    assert parse_purity(text) is None


@pytest.mark.parametrize("text", ["7:9:4", "0:0:0", "x:X:x", " 1:4:2 "])
def test_what_is_a_class(text):
    assert parse_purity(text) is not None


@pytest.mark.parametrize(
    "dew_point_deg_c, liquid_g_m3, number",
    [
        (-70, 0, 1), (-69, 0, 2), (-40, 0, 2), (-39, 0, 3), (-20, 0, 3), (-19, 0, 4), (3, 0, 4), (3.2, 0, 5), (7, 0, 5),
        (8, 0, 6), (10, 0, 6), (10.2, 0, 7), (25, 0, 7), (25, 0.5, 7), (25, 0.51, 8), (25, 5, 8), (25, 5.1, 9),
        (25, 10, 9), (25, 10.1, WORSE), (3, 0.2, 7),
    ],
)  # fmt: skip
def test_water_classes_at_their_limits(dew_point_deg_c, liquid_g_m3, number):
    """ISO 8573-1:2010, as two independent summaries print it."""
    assert water_class(dew_point_deg_c + 273.15, liquid_g_m3) == number


@pytest.mark.parametrize(
    "text, said",
    [
        ("1:4:2", ["20 000 of 0.1 to 0.5", "400 of 0.5 to 1", "10 of 1 to 5", "at most 3 °C", "oil at most 0.1 mg/m3"]),
        ("3:2:1", ["90 000 of 0.5 to 1", "1 000 of 1 to 5", "-40 °C", "0.01 mg/m3"]),
        ("4:3:3", ["10 000 of 1 to 5", "-20 °C", "1 mg/m3"]),
        ("5:1:4", ["100 000 of 1 to 5", "-70 °C", "5 mg/m3"]),
        ("2:5:X", ["400 000 of 0.1", "6 000 of 0.5", "100 of 1", "7 °C", "oil not limited"]),
        ("6:6:0", ["at most 5 mg/m3", "10 °C", "as agreed"]),
        ("7:7:X", ["at most 10 mg/m3", "liquid water at most 0.5 g/m3"]),
        ("X:8:X", ["particles not limited", "at most 5 g/m3"]),
        ("X:9:X", ["at most 10 g/m3"]),
    ],
)
def test_the_table_in_words(text, said):
    """Every limit of ISO 8573-1:2010, as two independent summaries print it."""
    words = purity_words(parse_purity(text))
    for piece in said:
        assert piece in words


def test_each_use_has_a_class_and_each_tool_a_use():
    assert {use.name for use in air_uses()} == {"tools", "blow-off", "paint"}
    assert all(use.source for use in air_uses())
    assert air_use("paint").purity.meets(air_use("tools").purity)
    uses = {name: find_tool(name).air_for for name in tool_names()}
    assert {name for name, use in uses.items() if use == "paint"} == {"spray gun", "HVLP spray gun", "airbrush"}
    assert set(uses.values()) == {"paint", "tools"}


def test_units_that_change_the_air_say_so():
    units = {name: component(name) for name in component_names()}
    assert units["refrigeration dryer"].dew_point_k == pytest.approx(276.15)
    assert units["desiccant dryer"].dew_point_k == pytest.approx(233.15)
    for unit in units.values():
        assert unit.particle_class is None or 1 <= unit.particle_class <= 7
        assert unit.oil_class is None or 1 <= unit.oil_class <= 4
        assert set(unit.adds) <= {"particles", "oil"}
        if unit.dew_point_k is not None and unit.lowest_k is not None:
            assert unit.lowest_k <= unit.dew_point_k
