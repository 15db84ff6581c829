"""Brackets at bent corners, straight lines between them, and what a bend does to the pressure."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from drafter.pipeline import Designed, design
from drafter.sizing.bends import bends_of, tube_lines
from drafter.supports.lines import CLEAR_OF_FITTING_M, NEAR_FITTING_M, pipe_lines
from drafter.supports.straights import straights

COOP = (Path(__file__).parents[2] / "example_sites" / "bicycle_coop.yaml").read_text(encoding="utf-8")


@cache
def coop(turns: str, family: str = "polyamide tube") -> Designed:
    text = COOP.replace("polyamide tube", family).replace("main: {", f"main: {{turns: {turns}, size: auto, ")
    return design(text, "coop.yaml")


@pytest.mark.parametrize("family", ["polyamide tube", "multilayer tube"])
def test_brackets_stand_clear_of_a_bend_and_near_it(family: str) -> None:
    designed = coop("bent", family)
    assert designed.design is not None
    network = designed.design.network
    assert len(network.bends) == 4
    for bend in network.bends.values():
        corner = network.layout.nodes[bend.node].at
        for id in bend.runs:
            off = [each.at.minus(corner).length for each in designed.design.brackets if each.run == id]
            if off:
                assert min(off) >= bend.tangent_m + CLEAR_OF_FITTING_M - 1e-4
                assert min(off) <= bend.tangent_m + NEAR_FITTING_M + 0.02


def test_a_bend_ends_a_straight_line_as_an_elbow_does() -> None:
    ends = []
    for turns in ("fittings", "bent"):
        network = coop(turns).network
        assert network is not None
        ends.append([(straight.runs, straight.ends) for straight in straights(network, pipe_lines(network))])
    assert ends[0] == ends[1]


def test_a_tube_goes_through_the_runs_between_two_fittings() -> None:
    network = coop("bent").network
    assert network is not None
    layout = network.layout
    lines = tube_lines(layout, network.bends)
    assert sorted(run.id for line in lines for run in line.runs) == sorted(run.id for run in layout.runs)
    for line in lines:
        assert [run.end for run in line.runs[:-1]] == [run.start for run in line.runs[1:]]
        assert line.axis_m == pytest.approx(
            line.centres_m - sum(0.4292 * bend.radius_m for bend in line.bends), abs=0.003
        )
    assert bends_of(coop("fittings").network.layout, network.material, network.sizes) == {}  # type: ignore[union-attr]


@pytest.mark.parametrize("family", ["polyamide tube", "multilayer tube"])
def test_bends_lose_less_pressure_than_elbows(family: str) -> None:
    left = []
    for turns in ("fittings", "bent"):
        network = coop(turns, family).network
        assert network is not None
        left.append((network.sizes, [flow.gauge_pressure_pa for flow in network.outlets]))
    (sizes, elbows), (same, bent) = left
    assert sizes == same
    assert all(two > one for one, two in zip(elbows, bent, strict=True))
