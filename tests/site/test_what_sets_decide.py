"""Defaults that hang on something else in the file: the kind of compressor, the set of rules."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.site import read
from drafter.site.model import Site

YARD = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
PANEL = """
site: Panel (invented)
rooms: {yard: {size: [6 m, 5 m], ceiling: 3 m, keep clear: [{kind: electrical panel, wall: west, from left: 1 m,
  width: 0.8 m%s}, {kind: volume, wall: east, from left: 1 m, width: 1 m, depth: 1 m}]}}
compressor: {wall: north, from left: 0.6 m, power: 2.2 kW, free air: 4.5 l/s, cut in: 7 bar, cut out: 8.5 bar,
  tank: 100 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube, height: 2.5 m, fall: 1 %%}
outlets: [{tag: A1, wall: south, from left: 2 m, tools: [blow gun]}]
rules: %s
"""


def site_of(text: str) -> Site:
    site, findings = read(text, "yard.yaml")
    assert site is not None, findings
    return site


@pytest.mark.parametrize(
    "more, rise_k",
    [("", 25.0), (", control: load-unload", 12.0), (", control: load-unload, air warmer by: 20 K", 20.0)],
)
def test_air_leaves_a_set_that_runs_on_unloaded_cooler(more: str, rise_k: float) -> None:
    text = YARD.replace("relief: 10 bar", f"relief: 10 bar{more}")
    assert more == "" or text != YARD
    assert site_of(text).compressor.air_warmer_by_k == pytest.approx(rise_k)


@pytest.mark.parametrize(
    "rules, more, height_m", [("us", "", 1.9812), ("international", "", 2.0), ("us", ", height: 2.2 m", 2.2)]
)
def test_the_space_before_a_panel_is_as_high_as_the_set_has_it(rules: str, more: str, height_m: float) -> None:
    """6.5 ft: 29 CFR 1910.303, NEC 110.26."""
    panel, volume = site_of(PANEL % (more, rules)).rooms["yard"].keep_clear
    assert panel.height_m == pytest.approx(height_m)
    assert volume.height_m == pytest.approx(2.0)
