"""Growth and free legs against handbook values."""

from __future__ import annotations

import pytest

from drafter.standards.expansion import free_leg_m, growth_m, longest_straight_m
from drafter.standards.materials import material, material_names

INCH_M = 0.0254


@pytest.mark.parametrize(
    "name, mm_per_10_m_and_30_k",
    [("copper tube type L", 5.0), ("steel pipe schedule 40", 3.5), ("aluminium tube", 7.0), ("polyamide tube", 33.0)],
)
def test_growth_of_ten_metres_by_thirty_kelvin(name: str, mm_per_10_m_and_30_k: float) -> None:
    """Source: products of handbook coefficients, 11.7, 16.8, 23.4 and 110e-6 per kelvin, from memory."""
    assert growth_m(material(name), 10.0, 278.15, 308.15) * 1000 == pytest.approx(mm_per_10_m_and_30_k, abs=0.06)


@pytest.mark.parametrize(
    "outside_in, expansion_in, length_in",
    [(0.625, 0.5, 50), (0.875, 0.5, 59), (1.125, 0.5, 67), (2.125, 0.5, 91)],
)
def test_developed_length_of_copper_offsets(outside_in: float, expansion_in: float, length_in: float) -> None:
    """Source: Copper Tube Handbook (CDA), table of expansion offsets, from memory; the formula is up to 5 % longer."""
    leg_m = free_leg_m(material("copper tube type L"), outside_in * INCH_M, expansion_in * INCH_M)
    assert leg_m is not None
    assert length_in <= leg_m / INCH_M <= 1.05 * length_in


@pytest.mark.parametrize("name", ["steel pipe schedule 40", "stainless press tube"])
def test_a_leg_of_steel_keeps_the_simple_rule_of_b31(name: str) -> None:
    """ASME B31.9 equation (8), from memory: D Y / (L - U)^2 <= 208.3, mm and m, for a leg square to a 30 m line."""
    outside_m, moved_m, line_m = 0.0422, 0.010, 30.0
    leg_m = free_leg_m(material(name), outside_m, moved_m)
    assert leg_m is not None
    developed_m, apart_m = line_m + leg_m, (line_m**2 + leg_m**2) ** 0.5
    ratio = outside_m * 1000.0 * moved_m * 1000.0 / (developed_m - apart_m) ** 2
    assert ratio == pytest.approx(208.3, rel=0.06)


def test_what_is_not_published_is_not_checked() -> None:
    known = {name for name in material_names() if free_leg_m(material(name), 0.022, 0.003) is not None}
    assert known == {"copper tube type L", "steel pipe schedule 40", "stainless press tube"}


def test_plastic_runs_less_far_without_an_offset() -> None:
    assert longest_straight_m(material("polyamide tube")) < longest_straight_m(material("steel pipe"))
