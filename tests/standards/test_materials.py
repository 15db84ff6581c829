import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards.materials import (
    Material,
    find_material,
    find_refused_material,
    material,
    material_names,
    rating_pa,
)

FAMILIES = [material(name) for name in material_names()]
PSI_PA = 6894.757293168361
CLEAR_TUBE_M = 0.010
families = pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)


def test_the_families():
    assert material_names() == (
        "copper tube type L",
        "steel pipe schedule 40",
        "aluminium tube",
        "stainless press tube",
        "polyamide tube",
        "multilayer tube",
    )


@pytest.mark.parametrize("name", ["Aluminum tube", "ALUMINIUM  TUBE", "aluminium-tube"])
def test_names_are_found_whatever_the_spelling(name):
    assert find_material(name).name == "aluminium tube"


def test_unknown_material():
    assert find_material("unobtainium pipe") is None
    with pytest.raises(ValueError, match="no material is called 'unobtainium pipe'; known: copper tube type L"):
        material("unobtainium pipe")


@pytest.mark.parametrize("name", ["PVC", "pvc pipe", "uPVC", "CPVC", "PVC-U"])
def test_pvc_is_refused_with_reason_and_source(name):
    refused = find_refused_material(name)
    assert refused.name == "pvc pipe"
    assert "sharp pieces" in refused.reason
    assert "OSHA" in refused.source
    assert find_material(name) is None


def test_no_family_is_refused():
    assert all(find_refused_material(name) is None for name in material_names())


@families
def test_every_number_is_a_float(family):
    for field in dataclasses.fields(Material):
        if field.type is float:
            assert isinstance(getattr(family, field.name), float), field.name
    assert all(isinstance(length, float) for length in family.stock_lengths_m)


@families
def test_a_family_is_plausible(family):
    assert family.joins_by in {"socket", "thread"}
    assert 1e-6 <= family.roughness_m <= 5e-5
    assert 1e-5 < family.expansion_1_k < 2e-4
    assert 323.15 < family.max_temperature_k < 430.0
    assert 0.5 <= family.insert_bore_ratio <= 1.0
    assert family.coil == (family.bend_radius_factor > 0.0)
    assert family.derating[0][1] == 1.0
    assert list(family.derating) == sorted(family.derating)
    assert [factor for _, factor in family.derating] == sorted((f for _, f in family.derating), reverse=True)


@families
def test_sizes_rise(family):
    outsides = [size.outside_m for size in family.sizes]
    assert outsides == sorted(set(outsides))
    assert len({size.name for size in family.sizes}) == len(family.sizes)
    assert all(family.find_size(size.name) is size for size in family.sizes)
    assert family.find_size("7/16") is None


@families
def test_sizes_are_plausible(family):
    for size in family.sizes:
        assert 0.0 < size.bore_m < size.outside_m < 0.07
        assert 10e5 <= size.rating_pa <= 25e5
        assert 0.25 <= size.bracket_span_m <= 3.1
        assert size.bracket_span_m <= size.vertical_span_m
        assert size.insertion_m < size.centre_to_face_m
        assert 2.0 * size.insertion_m < size.coupling_length_m <= size.union_length_m
        assert size.union_length_m <= size.valve_length_m


@pytest.mark.parametrize("family", [family for family in FAMILIES if not family.inch_sized], ids=lambda f: f.name)
def test_a_metric_name_is_its_outside_and_wall(family):
    for size in family.sizes:
        outside, wall = (float(part) for part in size.name.split(" x "))
        assert size.outside_m == pytest.approx(outside / 1e3)
        assert size.bore_m == pytest.approx((outside - 2.0 * wall) / 1e3)


@families
def test_every_value_names_its_source(family):
    told = " ".join(what for what, _ in family.sources)
    for value in ("bore", "rating", "derating", "roughness", "expansion", "conductivity", "emissivity", "density",
                  "bracket_span", "vertical_span",
                  "insertion", "centre_to_face", "coupling", "union", "valve", "stock_lengths", "kerf",
                  "take_off"):  # fmt: skip
        assert value in told
    assert all(where for _, where in family.sources)
    assert family.sources[0][1] in family.source


@families
def test_the_swan_neck_can_be_built(family):
    """Tube shows between the fittings on every main and on every drop up to the largest."""
    largest = family.find_size(family.largest_drop)
    drops = [size for size in family.sizes if size.outside_m <= largest.outside_m]
    for drop in drops:
        assert family.take_off_offset_m >= 2.0 * drop.centre_to_face_m + CLEAR_TUBE_M - 1e-9
        for main in family.sizes:
            rise = main.centre_to_face_m + drop.centre_to_face_m + CLEAR_TUBE_M
            assert family.take_off_rise_m >= rise - 1e-9


def test_schedule_40_bores():
    """ASME B36.10, as in the Crane TP-410 air table."""
    bores_in = {"3/8": 0.493, "1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "1-1/2": 1.610, "2": 2.067}
    family = material("steel pipe schedule 40")
    for name, bore_in in bores_in.items():
        assert family.find_size(name).bore_m == pytest.approx(bore_in * 0.0254)


def test_threaded_half_inch_pipe_is_stronger_than_its_fittings():
    """2 S t / (D - 0.8 t), S 15 000 psi, wall less 12.5 % and the thread's 0.0571 in: about 1400 psi."""
    wall_in = 0.109 * 0.875 - 0.0571
    pipe_psi = 2.0 * 15_000.0 * wall_in / (0.840 - 0.8 * wall_in)
    assert pipe_psi == pytest.approx(1400.0, rel=0.02)
    assert material("steel pipe schedule 40").find_size("1/2").rating_pa < pipe_psi * PSI_PA


def test_type_l_dimensions():
    """ASTM B88: the outside is the nominal size and 1/8 in."""
    nominal_in = {"3/8": 0.375, "1/2": 0.5, "3/4": 0.75, "1": 1.0, "1-1/4": 1.25, "1-1/2": 1.5, "2": 2.0}
    family = material("copper tube type L")
    assert {size.name for size in family.sizes} == set(nominal_in)
    for size in family.sizes:
        assert size.outside_m == pytest.approx((nominal_in[size.name] + 0.125) * 0.0254)
    assert family.find_size("1/2").bore_m == pytest.approx(13.84e-3, abs=5e-6)


def test_copper_joints_carry_less_than_the_annealed_tube():
    """Copper Tube Handbook: annealed type L at 100 degF carries 364 psi at 2 in and more below."""
    assert all(size.rating_pa < 364.0 * PSI_PA for size in material("copper tube type L").sizes)


def test_polyamide_ratings_follow_the_hoop_formula():
    for size in material("polyamide tube").sizes:
        wall_m = (size.outside_m - size.bore_m) / 2.0
        hoop_pa = 2.0 * 6.5e6 * wall_m / (size.outside_m - wall_m)
        assert -1.0 < hoop_pa - size.rating_pa < 0.5e5


def test_polyamide_loses_its_strength_as_it_warms():
    """PA 12 at 40 degC keeps 0.72 of its rating at 23 degC; half way from 30 to 40 degC 0.775."""
    family = material("polyamide tube")
    size = family.find_size("15 x 1.5")
    assert rating_pa(family, size, 283.15) == size.rating_pa == rating_pa(family, size, 296.15)
    assert rating_pa(family, size, 313.15) == pytest.approx(0.72 * size.rating_pa)
    assert rating_pa(family, size, 308.15) == pytest.approx(0.775 * size.rating_pa)
    assert rating_pa(family, size, 333.15) == pytest.approx(0.57 * size.rating_pa)
    assert rating_pa(family, size, 333.16) == 0.0


@families
@given(
    cooler=st.floats(min_value=230.0, max_value=450.0, allow_nan=False),
    rise_k=st.floats(min_value=0.0, max_value=100.0, allow_nan=False),
)
def test_a_rating_never_rises_with_temperature(family, cooler, rise_k):
    size = family.sizes[0]
    warm, warmer = rating_pa(family, size, cooler), rating_pa(family, size, cooler + rise_k)
    assert warm >= warmer * (1.0 - 1e-12) >= 0.0
    assert math.isfinite(warm)


@pytest.mark.parametrize(
    "family, size, published_lb_ft",
    [
        ("steel pipe schedule 40", "1/2", 0.85),
        ("steel pipe schedule 40", "3/4", 1.13),
        ("steel pipe schedule 40", "1", 1.68),
        ("steel pipe schedule 40", "2", 3.65),
        ("copper tube type L", "3/8", 0.198),
        ("copper tube type L", "3/4", 0.455),
        ("copper tube type L", "1-1/2", 1.14),
    ],
)
def test_weights_are_those_of_the_standards(family, size, published_lb_ft):
    """ASME B36.10M table 1, from memory; ASTM B88 type L as printed in data sheets of copper tube."""
    found = material(family)
    weight_lb_ft = found.weight_kg_m(found.find_size(size)) / 0.45359237 * 0.3048
    assert weight_lb_ft == pytest.approx(published_lb_ft, rel=0.012)
