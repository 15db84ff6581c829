"""Materials and ways of the main: which are compared, which are refused and why, what falls away with the given one."""

from __future__ import annotations

import pytest

from drafter.options.materials import material_variants
from drafter.options.ways import way_variants
from drafter.site import Site, read
from drafter.standards.materials import material, material_names, rating_pa


def site_of(text: str) -> Site:
    site, findings = read(text, "yard.yaml")
    assert site is not None, findings
    return site


def test_every_material_in_both_sizings_less_the_given_one(yard_text: str) -> None:
    variants, skipped = material_variants(site_of(yard_text))
    assert skipped == []
    made = {(v.changes.get("material", "copper tube type L"), v.changes["sizing"]) for v in variants}
    every = {(name, sizing) for name in material_names() for sizing in ("one size", "stepped")}
    assert made == every - {("copper tube type L", "one size")}
    assert len(variants) == len(made)


@pytest.mark.parametrize(
    "old, new, words",
    [
        ("warmest: 30 degC", "warmest: 62 degC", "has no rating above 60 °C; the warmest room is at 62 °C"),
        ("rated: 11 bar, relief: 10 bar", "rated: 21 bar, relief: 20 bar", "the relief valve is set at 20.00 bar"),
    ],
)
def test_what_the_site_refuses_is_skipped_with_the_reason(yard_text: str, old: str, new: str, words: str) -> None:
    assert yard_text.count(old) == 1
    site = site_of(yard_text.replace(old, new))
    variants, skipped = material_variants(site)
    reasons = {each.title: each.why for each in skipped}
    assert words in reasons["polyamide tube"]
    assert not [variant for variant in variants if variant.changes.get("material") in reasons]
    for name in (name for name in material_names() if name != "copper tube type L"):
        family = material(name)
        warmest_k = site.rooms["shop"].warmest_k
        fits = any(rating_pa(family, size, warmest_k) >= site.compressor.relief_pa for size in family.sizes)
        assert (name in reasons) != fits


def test_the_given_material_is_drawn_up_even_where_it_is_refused(yard_text: str) -> None:
    hot = yard_text.replace("copper tube", "polyamide tube").replace("warmest: 30 degC", "warmest: 62 degC")
    variants, skipped = material_variants(site_of(hot))
    assert "polyamide tube" not in [each.title for each in skipped]
    assert "polyamide tube, stepped" in [variant.title for variant in variants]


def test_sizes_tubes_and_prices_belong_to_the_material_given(yard_text: str) -> None:
    given = "aluminium tube, tubes: [{outside: 25 mm, bore: 21 mm}], size: 25 x 2, prices: {25 x 2: 7}, "
    given += "other prices: {Steel Pipe Schedule 40: {1: 7.80}}"
    variants, _ = material_variants(site_of(yard_text.replace("copper tube", given)))
    changes = {variant.title: variant.changes for variant in variants}
    assert changes["aluminium tube, stepped"] == {"sizing": "stepped"}
    steel, copper = changes["steel pipe schedule 40, one size"], changes["copper tube type L, one size"]
    assert steel["prices"] == {"1": 7.8}
    assert copper["prices"] is None
    for other in (steel, copper):
        assert (other["tubes"], other["size"], other["drop_size"]) == ((), "auto", "auto")


def test_a_ring_is_held_against_a_dead_end(yard_text: str) -> None:
    (ring,) = way_variants(site_of(yard_text))
    assert ring.changes == {"arrangement": "ring"}
    (dead_end,) = way_variants(site_of(yard_text.replace("fall: 1 %", "fall: 1 %, arrangement: ring")))
    assert dead_end.changes == {"arrangement": "dead end"}
