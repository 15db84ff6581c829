"""A main whose level is left open: the cheapest of the levels, told with what the others cost."""

from __future__ import annotations

import pytest

from drafter.layout import Layout, lay_out
from drafter.layout.choosing_level import cost_m
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.levels import at_height, candidate_levels, lowest_main_m
from drafter.pipeline import design
from drafter.site import Site, read
from drafter.standards.limits import HEADROOM_M

SITE = """
site: Level room (invented)
rooms:
  hall:
    size: [10 m, 8 m]
    ceiling: {ceiling}
    openings:
      - {{kind: overhead door, wall: east, from left: 2 m, width: 3 m, height: 2.6 m}}
compressor: {{wall: north, from left: 0.4 m, power: 4 kW, free air: 10 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: auto, fall: 1 %}}
outlets:
  - {{tag: A1, wall: north, from left: 6 m, tools: [blow gun]}}
{outlet}
"""
BEHIND_THE_DOOR = "  - {tag: A2, wall: east, from left: 6.5 m, tools: [blow gun]}"


def site_of(ceiling: str = "4.2 m", outlet: str = "") -> Site:
    site, findings = read(SITE.format(ceiling=ceiling, outlet=outlet), "level.yaml")
    assert site is not None, findings
    return site


def laid_out(site: Site) -> Layout:
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return layout


@pytest.mark.parametrize("ceiling", ["3 m", "4.2 m"])
@pytest.mark.parametrize("outlet", ["", BEHIND_THE_DOOR])
def test_no_candidate_is_cheaper(ceiling: str, outlet: str) -> None:
    site = site_of(ceiling, outlet)
    chosen = laid_out(site)
    assert not chosen.site.main.level_open
    levels, _ = candidate_levels(site, site.material.sizes[-1].outside_m)
    costs = [cost_m(layout) for level in levels if (layout := lay_out(at_height(site, level.height_m))[0])]
    assert costs
    assert cost_m(chosen) == pytest.approx(min(costs))
    assert lowest_main_m(chosen) >= HEADROOM_M.value
    height = site.units.length_with_unit(chosen.site.main.height_m)
    assert any(reason.startswith(f"The main hangs at {height}") for reason in chosen.reasons)


def test_cost_by_hand() -> None:
    """Pipe above 3 m counts half as much again, a bend 0.6 m."""
    layout = laid_out(at_height(site_of(), 3.5))
    pipe = [run for run in layout.runs if run.kind is not RunKind.FLEXIBLE]
    high = 0.0
    for run in pipe:
        low, top = sorted(layout.nodes[node].at.z for node in (run.start, run.end))
        length = layout.length_m(run)
        high += length * ((top - 3.0) / (top - low) if low < 3.0 < top else float(low >= 3.0))
    bends = sum(node.kind is NodeKind.BEND for node in layout.nodes.values())
    assert cost_m(layout) == pytest.approx(sum(map(layout.length_m, pipe)) + 0.5 * high + 0.6 * bends)


def test_the_whole_job_goes_on_with_the_level_chosen() -> None:
    done = design(SITE.format(ceiling="3 m", outlet=BEHIND_THE_DOOR), "level.yaml")
    assert done.takeoff is not None, done.findings
    assert done.site is not None
    assert done.layout is not None
    assert done.site.main.height_m == done.layout.site.main.height_m
    assert done.site.units.length_with_unit(done.site.main.height_m) in " ".join(done.layout.reasons)


def test_where_no_level_will_do_the_highest_is_told() -> None:
    flues = "".join(
        f"      - {{kind: flue, wall: {wall}, from left: 2 m, width: 0.2 m, above floor: 0 m, height: 3 m}}\n"
        for wall in ("east", "west")
    )
    text = SITE.format(ceiling="3 m", outlet=BEHIND_THE_DOOR).replace(
        "    openings:", f"    services:\n{flues}    openings:"
    )
    done = design(text, "level.yaml")
    assert done.layout is None
    assert {finding.rule for finding in done.findings} == {"ROUTE001"}
