"""Demand cases: the program's worst case against every case there is, and cases the site file writes."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import pytest

from drafter.layout import Layout
from drafter.sizing import Network
from drafter.sizing.cases import case_results
from drafter.sizing.demand import Case
from drafter.sizing.sizing import piping_of

FLOWS = (2.0, 9.0, 4.0, 7.0, 3.0, 6.0)


@pytest.mark.parametrize("at_once", [1, 2, 3, 5])
@pytest.mark.parametrize("size", ["1/2", "3/4"])
def test_no_set_of_outlets_is_worse_than_the_one_found(
    lay: Callable[..., Layout], tool: Callable[..., str], at_once: int, size: str
) -> None:
    """Every set of so many outlets is solved: none leaves an outlet 1 mbar less than the case found for it."""
    piping = piping_of(lay([tool(f"{flow} l/s") for flow in FLOWS], demand=f", at once: {at_once}"))
    sizes = [piping.sections.material.find_size(size)] * len(piping.sections.sections)
    found = case_results(piping, sizes).worst
    peaks = piping.demand.peaks_m3_s
    lowest = dict.fromkeys(peaks, 1e9)
    for tags in combinations(peaks, at_once):
        solved = piping.solve(sizes, Case("all", {tag: peaks[tag] for tag in tags}))
        for tag in tags:
            lowest[tag] = min(lowest[tag], piping.at_coupling_pa(solved, tag))
    for tag, solved in found.items():
        assert tag in solved.case.flows_m3_s
        assert piping.at_coupling_pa(solved, tag) <= lowest[tag] + 100.0


def test_a_written_case_that_is_worse_is_the_one_an_outlet_is_held_against(
    sized: Callable[..., Network], tool: Callable[..., str]
) -> None:
    tools = [tool(f"{flow} l/s") for flow in FLOWS[:4]]
    fixed = ', size: "1/2", drop size: "3/8"'
    free = sized(tools, main=fixed, demand=", at once: 1")
    case = ", at once: 1, cases: [{name: all hands, running: [A1, A2, A3, A4]}]"
    written = sized(tools, main=fixed, demand=case)
    assert {flow.case for flow in written.outlets} == {"all hands"}
    assert written.supply.peak_m3_s == pytest.approx(sum(FLOWS[:4]) / 1000)
    for one, other in zip(free.outlets, written.outlets, strict=True):
        assert other.gauge_pressure_pa < one.gauge_pressure_pa


def test_the_largest_written_case_says_how_many_run_at_once(
    sized: Callable[..., Network], tool: Callable[..., str]
) -> None:
    tools = [tool("4 l/s")] * 5
    assert sized(tools).supply.at_once == 5
    assert sized(tools, demand=", cases: [{name: a, running: [A1, A2]}]").supply.at_once == 2


def test_a_case_may_name_the_tool(sized: Callable[..., Network]) -> None:
    tools = "{tool: sander, free air: 7 l/s}, {tool: blow gun, free air: 2 l/s}"
    case = ", at once: 1, cases: [{name: dusting, running: [{outlet: A1, tool: blow gun}, A2]}]"
    network = sized([tools, "{tool: sander, free air: 6 l/s}"], demand=case)
    assert network.supply.peak_m3_s == pytest.approx(0.008)


def test_site_air_is_counted_where_the_compressor_stands(
    sized: Callable[..., Network], tool: Callable[..., str]
) -> None:
    """1 l/s at 2000 m (79 495 Pa by the standard atmosphere) and 20 degC is 0.79495 l/s at 20 degC, 1 bar.

    The compressor takes in vapour with it: 60 % of 2339 Pa (steam tables).
    """
    network = sized([tool("1 l/s")], more="flow basis: site air\naltitude: 2000 m")
    assert network.outlets[0].free_air_m3_s == pytest.approx(0.79495e-3, rel=1e-4)
    assert network.supply.delivered_m3_s == pytest.approx((79_495 - 0.6 * 2339) / 1e5 * 10e-3, rel=1e-4)
