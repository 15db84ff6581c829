"""Tube sizes given in the site file: the family has just these, and what is not given comes from the nearest."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drafter.finding import Finding
from drafter.layout import lay_out
from drafter.site import Site
from drafter.site.defaults import defaults_taken
from drafter.sizing import size
from drafter.standards.materials import material, material_names

OLD = "main: {material: copper tube type L, height: 2.5 m}"
TWO = "tubes: [{outside: 25 mm, bore: 21 mm}, {outside: 40 mm, bore: 35.6 mm, rating: 16 bar, insertion: 41 mm}]"


def with_main(shed: str, keys: str, name: str = "aluminium tube") -> str:
    assert OLD in shed
    return shed.replace(OLD, f"main: {{material: {name}, height: 2.5 m, {keys}}}")


def test_the_family_has_just_these_sizes(shed: str, site_of: Callable[[str], Site]) -> None:
    """Walls by hand: (25 - 21) / 2 = 2 mm, (40 - 35.6) / 2 = 2.2 mm."""
    family = site_of(with_main(shed, TWO)).material
    assert [tube.name for tube in family.sizes] == ["25 x 2", "40 x 2.2"]
    assert [tube.bore_m for tube in family.sizes] == pytest.approx([0.021, 0.0356])
    small, large = family.sizes
    near, far = (material("aluminium tube").find_size(name) for name in ("25 x 1.5", "40 x 1.5"))
    assert near is not None
    assert far is not None
    assert (small.rating_pa, small.centre_to_face_m) == (near.rating_pa, near.centre_to_face_m)
    assert (large.rating_pa, large.insertion_m) == (pytest.approx(16e5), pytest.approx(0.041))
    assert large.bracket_span_m == far.bracket_span_m


def test_of_two_sizes_as_near_the_smaller_is_taken(shed: str, site_of: Callable[[str], Site]) -> None:
    """25 mm lies half way between the stainless sizes 22 and 28 mm."""
    (size_,) = site_of(with_main(shed, "tubes: [{outside: 25 mm, bore: 22 mm}]", "stainless press tube")).material.sizes
    near = material("stainless press tube").find_size("22 x 1.2")
    assert near is not None
    assert size_.centre_to_face_m == near.centre_to_face_m


def test_without_tubes_the_family_is_that_of_the_table(shed: str, site_of: Callable[[str], Site]) -> None:
    assert site_of(shed).material is material("copper tube type L")


@pytest.mark.parametrize("name", material_names())
def test_they_work_for_every_material(name: str, shed: str, site_of: Callable[[str], Site]) -> None:
    tubes = 'tubes: [{outside: 1 in, bore: 0.875 in}, {outside: 16 mm, bore: 13 mm}], drop size: "16 x 1.5"'
    site = site_of(with_main(shed, tubes, name))
    assert [tube.name for tube in site.material.sizes] == ["16 x 1.5", "25.4 x 1.59"]
    assert site.material.largest_drop in ("16 x 1.5", "25.4 x 1.59")
    layout, findings = lay_out(site)
    assert layout is not None, findings
    network, _ = size(layout)
    assert {tube.name for tube in network.sizes.values()} <= {"16 x 1.5", "25.4 x 1.59"}
    assert all(network.sizes[run.id].name == "16 x 1.5" for run in layout.runs if run.outlet)


def test_what_is_taken_from_the_nearest_size_is_printed(shed: str, site_of: Callable[[str], Site]) -> None:
    taken = {what: (value, source) for what, value, source in defaults_taken(site_of(with_main(shed, TWO)))}
    value, source = taken["tube 25 x 2"]
    assert source == "25 x 1.5 of aluminium tube"
    assert value == "rating 13.00 bar, bracket span 2500 mm, centre to face 52 mm, insertion 29 mm"
    assert taken["tube 40 x 2.2"] == ("bracket span 3000 mm, centre to face 72 mm", "40 x 1.5 of aluminium tube")


@pytest.mark.parametrize(
    "tubes, rules",
    [
        ("[{outside: 25 mm, bore: 21 mm}]", []),
        ("[{outside: 25 mm, bore: 25 mm}]", ["TUBE001"]),
        ("[{outside: 20 mm, bore: 19.2 mm}]", []),
        ("[{outside: 20 mm, bore: 19.3 mm}]", ["TUBE002"]),
        ("[{outside: 20 mm, bore: 10 mm}]", []),
        ("[{outside: 20 mm, bore: 9.9 mm}]", ["TUBE002"]),
        ("[{outside: 25 mm, bore: 21 mm}, {outside: 25.1 mm, bore: 22 mm}]", ["TUBE003"]),
        ("[{outside: 25 mm, bore: 21 mm}, {outside: 28 mm, bore: 20 mm}]", ["TUBE003"]),
        ("[{outside: 25 mm, bore: 21 mm, insertion: 52 mm}]", []),
        ("[{outside: 25 mm, bore: 21 mm, insertion: 53 mm}]", ["TUBE004"]),
        ("[{outside: 25 mm, bore: twenty}]", ["UNIT001"]),
        ("[{outside: 25 mm}]", ["KEY002"]),
    ],
)
def test_tubes_that_cannot_be(
    tubes: str, rules: list[str], shed: str, found_in: Callable[[str], list[Finding]]
) -> None:
    assert [finding.rule for finding in found_in(with_main(shed, f"tubes: {tubes}"))] == rules
