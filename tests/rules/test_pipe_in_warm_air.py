"""18 x 2 polyamide, rated 16 bar, carries 0.72 of it at 40 degC, 0.64 at 50 degC and 0.57 at 60 degC, nothing above."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from drafter.pipeline import design as whole_design
from drafter.rules import check_limits
from drafter.rules import pipe_in_warm_air as rule
from drafter.site.model.own_limits import OwnLimit
from drafter.sizing.ratings import air_k, hot_ratings, room_ratings, weakest_pipe
from drafter.supports import Design

COOP = Path(__file__).parents[2] / "example_sites" / "bicycle_coop.yaml"

ONE_ROOM = """
site: One room (invented)
rooms: {{shop: {{size: [9 m, 6 m], ceiling: 3 m, warmest: {warmest} degC}}}}
compressor:
  {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 5 bar, cut out: {cut_out} bar,
   tank: 100 l, rated: 16 bar, relief: {relief} bar{plant}}}
treatment: [{treatment}]
main: {{material: {material}, size: {size}, height: 2.6 m, fall: 1 %}}
outlets: [{{tag: A1, wall: south, from left: 3 m, tools: [blow gun]}}]
"""


def one_room(
    warmest: float, relief: float, treatment: str = "", *, cut_out: float = 6.0, rise: float | None = None,
    material: str = "polyamide tube", size: str = "18 x 2",
) -> Design:  # fmt: skip
    plant = "" if rise is None else f", air warmer by: {rise} K"
    text = ONE_ROOM.format(
        warmest=warmest, relief=relief, treatment=treatment, cut_out=cut_out, plant=plant, material=material, size=size
    )
    designed = whole_design(text, "room.yaml")
    assert designed.design is not None, designed.findings
    return designed.design


@pytest.mark.parametrize(
    "relief, cut_out, found",
    [
        (10.2, 9.0, []),
        (10.24, 9.0, []),
        (10.25, 9.0, ["warning"]),
        (11.0, 10.2, ["warning"]),
        (11.0, 10.24, ["warning"]),
        (11.0, 10.25, ["error"]),
    ],
)
def test_a_room_of_25_degc_means_50_degc_at_the_tank(
    severities: Any, relief: float, cut_out: float, found: list[str]
) -> None:
    assert severities(rule, one_room(25.0, relief, cut_out=cut_out)) == found


def test_the_site_files_own_rise_comes_first(severities: Any) -> None:
    assert severities(rule, one_room(25.0, 10.5, rise=15.0)) == []
    assert severities(rule, one_room(25.0, 10.5, rise=25.0)) == ["warning"]


def test_an_aftercooler_spares_what_lies_behind_it_alone() -> None:
    design = one_room(25.0, 10.5, "aftercooler")
    network = design.network
    unit = next(node.id for node in network.layout.nodes.values() if node.what == "aftercooler")
    behind = [run for run in network.layout.runs if run.start == unit]
    assert behind
    assert all(air_k(network, run) < 40.0 + 273.15 for run in behind)
    (finding,) = rule.check(design)
    assert "in the line at the compressor on the north wall" in finding.message


def test_above_its_highest_temperature_the_tube_has_no_rating() -> None:
    (finding,) = rule.check(one_room(36.0, 7.0))
    assert (finding.measured, finding.limit, finding.severity.word) == ("no rating", "6.00 bar gauge", "error")


def test_metal_passes(severities: Any) -> None:
    assert severities(rule, one_room(40.0, 10.0, material="copper tube type L", size="1/2")) == []


def test_what_is_too_weak_in_the_rooms_own_air_is_told_once(severities: Any) -> None:
    """At 40 degC it carries 11.52 bar: RATE001 says so, an error."""
    assert severities(rule, one_room(40.0, 11.6)) == []


def test_ratings_hang_on_where_a_size_is_warmest() -> None:
    network = one_room(25.0, 10.0).network
    rooms, hot = room_ratings(network), hot_ratings(network)
    assert [each.size for each in rooms] == [each.size for each in hot]
    assert {each.temperature_k for each in rooms} == {298.15}
    assert hot[0].temperature_k == pytest.approx(323.15)
    assert hot[0].run == network.layout.runs[0].id
    assert all(warm.gauge_pa <= cool.gauge_pa for warm, cool in zip(hot, rooms, strict=True))
    assert weakest_pipe(network).gauge_pa == min(each.gauge_pa for each in rooms)


@pytest.mark.parametrize("own", [OwnLimit(skip="yes", reason="it held"), OwnLimit(limit="8 bar", reason="it held")])
def test_no_site_leaves_it_out(changed: Any, own: OwnLimit) -> None:
    (finding,) = check_limits(changed(site={"own_limits": {"HEAT001": own}}).network.layout.site)
    assert finding.rule == "LIMIT004"


def test_the_example_in_polyamide_stands_its_cut_out_and_is_told_of_its_relief_valve() -> None:
    text = COOP.read_text(encoding="utf-8")
    hot = [finding for finding in whole_design(text, "coop.yaml").findings if finding.rule == "HEAT001"]
    assert [(each.severity.word, each.limit) for each in hot] == [("warning", "10.00 bar gauge")]
