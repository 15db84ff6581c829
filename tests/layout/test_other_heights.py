"""Where the main is blocked, the nearest height at which it finds a way is named, and is one."""

from __future__ import annotations

import re

import pytest

from drafter.finding import Finding
from drafter.layout import Layout, lay_out
from drafter.site import read

SITE = """
site: In the way (invented)
rooms:
  hall: {{size: [9 m, 7 m], ceiling: {ceiling}, {thing}}}
compressor: {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: {height}, fall: 1 %}}
outlets:
  - {{tag: A1, wall: south, from left: 1.5 m, tools: [blow gun]}}
"""
DOORS = """openings: [{kind: overhead door, wall: east, from left: 2 m, width: 3 m, height: 2.4 m},
    {kind: overhead door, wall: west, from left: 2 m, width: 3 m, height: 2.5 m}]"""
LOFTS = """decks: [{wall: east, from left: 0 m, width: 7 m, depth: 1 m, underside: 2.5 m},
    {wall: west, from left: 0 m, width: 7 m, depth: 1 m, underside: 2.5 m}]"""


def laid_out(thing: str, height: str, ceiling: str = "4 m") -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(SITE.format(thing=thing, height=height, ceiling=ceiling), "way.yaml")
    assert site is not None, findings
    return lay_out(site)


@pytest.mark.parametrize("thing, height", [(DOORS, "2.5 m"), (LOFTS, "2.6 m"), (DOORS, "2.8 m")])
def test_the_height_named_is_one_at_which_it_finds_a_way(thing: str, height: str) -> None:
    layout, (finding,) = laid_out(thing, height)
    assert layout is None
    assert finding.rule == "ROUTE001"
    named = re.search(r"hang the main at (\d+ mm), where it finds a way", finding.fix)
    assert named is not None, finding.fix
    assert laid_out(thing, named[1])[0] is not None


def test_a_loft_is_passed_below_where_that_is_nearer() -> None:
    """Its underside is at 2.5 m: 70 mm below is the pipe's centre, at its highest."""
    _, (finding,) = laid_out(LOFTS, "2.6 m")
    assert "hang the main at 2420 mm" in finding.fix


def test_where_no_height_helps_that_is_said() -> None:
    _, (finding,) = laid_out(DOORS, "2.5 m", "2.95 m")
    assert "none helps" in finding.fix
    assert "hang the main" not in finding.fix
