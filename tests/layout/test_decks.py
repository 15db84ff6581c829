"""Decks over a part of a room: mains below or above them, drops and rising branches through them."""

from __future__ import annotations

import pytest

from drafter.finding import Finding
from drafter.layout import Layout, lay_out
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.levels import candidate_levels
from drafter.pipeline import design
from drafter.site import read

SITE = """
site: Loft (invented)
rooms:
  shed: {{size: [12 m, 8 m], ceiling: 4.6 m,
    decks: [{{name: loft, wall: north, from left: 6 m, width: 6 m, depth: 3 m, underside: 2.7 m}}]}}
compressor: {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: {height}, fall: 1 %}}
outlets:
  - {{tag: A1, wall: north, from left: 4 m, tools: [blow gun]}}
  - {{tag: A2, wall: north, from left: 9 m, height: {second}, tools: [blow gun]}}
"""


def laid_out(height: str, second: str) -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(SITE.format(height=height, second=second), "loft.yaml")
    assert site is not None, findings
    return lay_out(site)


def test_a_branch_rises_through_the_deck() -> None:
    """It leaves the main upwards, has its valve 0.35 m below the outlet, and no drip leg: its water runs back."""
    layout, findings = laid_out("2.5 m", "4.0 m")
    assert layout is not None, findings
    runs = [run for run in layout.runs if run.outlet == "A2"]
    assert [run.kind for run in runs] == [RunKind.RISING, RunKind.RISING, RunKind.BRANCH]
    valve = layout.nodes[runs[0].end]
    assert (valve.kind, valve.at.z) == (NodeKind.VALVE, pytest.approx(3.65))
    assert layout.rises_to("A2")
    assert not layout.rises_to("A1")
    assert layout.reach.above == ("A2",)
    assert [outlet.tag for outlet in layout.reach.outlets] == ["A1"]


def test_a_drop_comes_down_through_the_deck() -> None:
    layout, findings = laid_out("3.9 m", "1.2 m")
    assert layout is not None, findings
    drop = next(run for run in layout.runs if run.outlet == "A2" and run.kind is RunKind.DROP)
    assert layout.nodes[drop.start].at.z > 2.95
    assert layout.nodes[drop.end].at.z < 2.7


@pytest.mark.parametrize("height, second, pipes", [("2.5 m", "4.0 m", 1), ("3.9 m", "1.2 m", 2)])
def test_what_passes_a_deck_has_a_sleeve_and_no_bracket_in_it(height: str, second: str, pipes: int) -> None:
    """Below the loft the branch passes it, above it the drop and the drip leg at the end of the main."""
    done = design(SITE.format(height=height, second=second), "loft.yaml")
    assert done.takeoff is not None, done.findings
    assert done.design is not None
    sleeves = sum(row.quantity for row in done.takeoff.parts if row.item.startswith("deck sleeve with seal"))
    assert sleeves == pipes
    marks = [mark for mark in done.takeoff.marks if mark.what.startswith("sleeve through the loft")]
    assert [mark.height_m for mark in marks] == [2.7] * pipes
    assert not [b for b in done.design.brackets if 2.66 < b.at.z < 2.99 and b.from_left_m == pytest.approx(9.0)]


@pytest.mark.parametrize(
    "height, second, rule",
    [("2.8 m", "1.2 m", "ROUTE001"), ("2.5 m", "2.8 m", "LEVEL003"), ("2.5 m", "3.2 m", "ROUTE004")],
)
def test_what_does_not_go_with_the_deck(height: str, second: str, rule: str) -> None:
    """A main in the deck, an outlet at the height of the main, and one whose valve would be in the deck."""
    layout, findings = laid_out(height, second)
    assert layout is None
    assert rule in [finding.rule for finding in findings]


@pytest.mark.parametrize(
    "deck, rule",
    [("from left: 8 m, width: 6 m", "PLACE001"), ("from left: 6 m, width: 6 m, off wall: 6 m", "PLACE005")],
)
def test_decks_that_do_not_fit_their_room(deck: str, rule: str) -> None:
    text = SITE.format(height="2.5 m", second="4 m").replace("from left: 6 m, width: 6 m", deck)
    site, findings = read(text, "loft.yaml")
    assert site is None
    assert [finding.rule for finding in findings] == [rule]


def test_a_deck_at_the_ceiling_is_said() -> None:
    site, findings = read(SITE.format(height="2.5 m", second="4 m").replace("2.7 m", "4.5 m"), "loft.yaml")
    assert site is None
    assert "PLACE004" in [finding.rule for finding in findings]


def test_a_main_over_a_deck_is_looked_at_for_headroom() -> None:
    """Its underside at 3.9 m is 0.9 m over the floor of the loft."""
    done = design(SITE.format(height="3.9 m", second="1.2 m"), "loft.yaml")
    (note,) = [finding for finding in done.findings if finding.rule == "HEAD001"]
    assert "over the floor of the loft" in note.message


def test_an_open_level_is_tried_above_and_below_a_deck() -> None:
    """The loft's underside is at 2.7 m: 70 mm below is the pipe's centre; above it the main keeps 70 mm too."""
    site, findings = read(SITE.format(height="auto", second="1.2 m"), "loft.yaml")
    assert site is not None, findings
    levels, _ = candidate_levels(site, site.material.sizes[-1].outside_m)
    named = {level.words: level.height_m for level in levels}
    below = [height_m for words, height_m in named.items() if "just below the loft" in words]
    above = [height_m for words, height_m in named.items() if "over the loft" in words]
    assert below == [pytest.approx(2.63)]
    assert above
    assert min(above) > 2.7
