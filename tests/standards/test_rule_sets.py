"""Sets of rules: each is whole, each value has its source, and they say what the texts say."""

from __future__ import annotations

import pytest

from drafter.site import read
from drafter.standards.rule_sets import RULE_SETS, RuleSet, label_size, labels_apart_m, rule_set, source_in

SITE = """site: Yard (invented)
rooms: {{shop: {{size: [{size}], ceiling: {ceiling}}}}}
compressor: {{wall: north, from left: 2 {unit}, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar,
  tank: 80 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube, height: {height}}}
outlets: [{{tag: A1, wall: east, from left: 2 {unit}, tools: [drill]}}]
{more}
"""
METRIC = {"size": "8 m, 6 m", "ceiling": "3 m", "height": "2.6 m", "unit": "m"}
FEET = {"size": "26 ft, 20 ft", "ceiling": "10 ft", "height": "8 ft 6 in", "unit": "ft"}


@pytest.mark.parametrize("name", RULE_SETS)
def test_every_value_has_its_source(name: str) -> None:
    chosen = rule_set(name)
    limits = [getattr(chosen, field) for field in RuleSet.__dataclass_fields__ if field.endswith(("_m", "_pa"))]
    assert len(limits) == 6
    assert all(limit.source and limit.value >= 0.0 for limit in limits)
    assert all(vessel.words and vessel.source for vessel in chosen.vessels)
    assert chosen.title
    assert chosen.label_colours
    assert chosen.label_source


def test_the_us_set_is_table_s_1_and_the_30_psi_rule() -> None:
    """29 CFR 1910.303 table S-1: 3 ft; NEC 110.26: 30 in, 6.5 ft; 29 CFR 1910.242(b): 30 psi."""
    us = rule_set("us")
    assert us.panel_depth_m.value == pytest.approx(0.9144)
    assert us.panel_width_m.value == pytest.approx(0.762)
    assert us.panel_height_m.value == pytest.approx(1.9812)
    assert us.blow_gun_pa.value == pytest.approx(206843, abs=1)
    assert us.hose_bore_m.value == pytest.approx(0.0127)


def test_strength_tests_are_those_of_the_codes() -> None:
    """ASME B31.9: at most 1.25 times the design pressure, 10 min; 2014/68/EU annex I 7.4: 1.43 times (from memory)."""
    us, elsewhere = (rule_set(name).strength_test for name in ("us", "international"))
    assert (us.times, us.time_s) == (1.25, 600.0)
    assert (elsewhere.times, elsewhere.time_s) == (1.43, 600.0)


@pytest.mark.parametrize(
    "rated_bar, litres, words",
    [
        (10.0, 5.0, "sound engineering practice"),
        (10.0, 5.01, "simple pressure vessel"),
        (11.0, 500.0, "simple pressure vessel"),
        (20.0, 500.0, "simple pressure vessel"),
        (20.0, 500.1, "pressure equipment directive"),
        (30.0, 100.0, "simple pressure vessel"),
        (31.0, 100.0, "pressure equipment directive"),
    ],
)
def test_vessels_by_pressure_times_volume(rated_bar: float, litres: float, words: str) -> None:
    assert words in rule_set("international").vessel(rated_bar * 1e5, litres / 1000.0).words
    assert "ASME Section VIII" in rule_set("us").vessel(rated_bar * 1e5, litres / 1000.0).words


@pytest.mark.parametrize(
    "outside_in, field_in, letters_in",
    [(0.5, 0.0, 0.0), (0.75, 8.0, 0.5), (1.25, 8.0, 0.5), (1.5, 8.0, 0.75), (2.0, 8.0, 0.75), (2.5, 12.0, 1.25)],
)
def test_label_sizes_of_asme_a13_1(outside_in: float, field_in: float, letters_in: float) -> None:
    size = label_size(outside_in * 0.0254)
    assert size.field_m == pytest.approx(field_in * 0.0254)
    assert size.letters_m == pytest.approx(letters_in * 0.0254)
    assert labels_apart_m() == pytest.approx(15.24)


@pytest.mark.parametrize(
    "lengths, more, name",
    [
        (METRIC, "", "international"),
        (FEET, "", "us"),
        (METRIC, "rules: us", "us"),
        (FEET, "rules: international", "international"),
    ],
)
def test_the_set_follows_the_lengths_where_the_site_file_does_not_say(
    lengths: dict[str, str], more: str, name: str
) -> None:
    site, findings = read(SITE.format(**lengths, more=more), "yard.yaml")
    assert site is not None, findings
    assert site.rule_set == name


def test_a_set_that_is_not_there_is_refused() -> None:
    _, findings = read(SITE.format(**METRIC, more="rules: atlantis"), "yard.yaml")
    assert [finding.rule for finding in findings] == ["WORD001"]


@pytest.mark.parametrize(
    "name, source, said",
    [
        ("us", "29 CFR 1910.169", "29 CFR 1910.169"),
        ("international", "29 CFR 1910.169", "29 CFR 1910.169; US law, taken as good practice"),
        ("international", "common practice", "common practice"),
        ("international", "29 CFR 1926, a figure of US law", "29 CFR 1926, a figure of US law"),
    ],
)
def test_elsewhere_us_law_is_called_so(name: str, source: str, said: str) -> None:
    assert source_in(name, source) == said
