"""Places the main must come by, costs of a way, and other services on the walls."""

from __future__ import annotations

import pytest

from drafter.layout import Layout, lay_out
from drafter.layout.graph import NodeKind, RunKind
from drafter.site import read

SITE = """
site: Ways (invented)
rooms:
  hall: {{size: [10 m, 8 m], ceiling: 3.2 m{room}}}
compressor: {{wall: north, from left: 0.4 m, power: 4 kW, free air: 10 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.7 m, fall: 0.5 %{main}}}
outlets:
  - {{tag: A1, wall: east, from left: 3 m, tools: [blow gun]}}
"""


def laid_out(main: str = "", room: str = "") -> Layout:
    site, findings = read(SITE.format(main=main, room=room), "ways.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return layout


def walls_of_main(layout: Layout) -> list[str]:
    return list(dict.fromkeys(run.wall for run in layout.runs if run.kind is RunKind.MAIN))


def test_the_short_way_is_proved() -> None:
    layout = laid_out()
    assert walls_of_main(layout) == ["north", "east"]
    assert "no way costs less" in layout.reasons[0]


def test_a_place_to_come_by_turns_the_main_round() -> None:
    layout = laid_out(", by way of: [{wall: west, from left: 4 m}]")
    assert set(walls_of_main(layout)) == {"north", "east", "west"}
    assert any("comes by the west wall at 4000 mm" in reason for reason in layout.reasons)
    drains = [node for node in layout.nodes.values() if node.kind is NodeKind.DRAIN and node.wall == "west"]
    assert [layout.from_left_m(node) for node in drains] == [pytest.approx(4.0)]


def test_a_place_on_the_way_changes_nothing() -> None:
    plain, by_way = laid_out(), laid_out(", by way of: [{wall: east, from left: 1.5 m}]")
    assert [(run.start, run.end) for run in by_way.runs] == [(run.start, run.end) for run in plain.runs]


def test_dear_bends_send_the_main_the_long_way_round() -> None:
    """With the north way open both ways have a bend or more; a wall kept clear of makes the long way cheaper."""
    hot = ", services: [{kind: hot pipe, wall: north, from left: 6 m, width: 1 m, above floor: 2.6 m, height: 0.2 m}]"
    layout = laid_out(room=hot)
    assert set(walls_of_main(layout)) == {"north", "west", "south", "east"}
    assert any("hot pipe" in reason for reason in layout.reasons)


@pytest.mark.parametrize("clearance, free", [("", True), (", clearance: 300 mm", False)])
def test_a_service_is_passed_at_its_clearance(clearance: str, free: bool) -> None:
    """Its underside 250 mm above the main: free at the usual 100 mm of cables, not at 300 mm."""
    tray = f", services: [{{kind: cables, wall: north, from left: 6 m, width: 1 m, above floor: 2.95 m{clearance}}}]"
    assert (walls_of_main(laid_out(room=tray)) == ["north", "east"]) is free


def test_costs_of_the_site_file_are_counted() -> None:
    assert "a bend counted as 3.00 m of pipe" in laid_out(", costs: {bend: 3 m}").reasons[0]
