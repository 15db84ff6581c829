"""Where the pressure goes: the steps add up, and coupling and hose are those of the published figures."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from fluids import friction_factor, isothermal_gas
from hypothesis import given
from hypothesis import strategies as st

from drafter.site.model import Hose, Outlet, ServiceUnit
from drafter.sizing import Network, size
from drafter.sizing.sections import HOSE_ROUGHNESS_M
from drafter.sizing.tool_end import HOSE_ENDS_LOSS, needed_before_units_pa, tool_end
from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, GAS_CONSTANT_J_KG_K, viscosity_pa_s

OUTLET = Outlet(
    tag="A1", wall="north", from_left_m=1.0, coupling="1/4", hose=Hose(length_m=10.0, bore_m=0.008), tools=()
)


@pytest.mark.parametrize("flow_l_s", [2.0, 8.0, 12.0])
def test_hose_against_an_independent_solve(flow_l_s: float) -> None:
    """The hose by `fluids`: Colebrook friction and isothermal flow, its ends as length of equal loss."""
    end = tool_end(replace(OUTLET, coupling="1/2"), 8e5, flow_l_s / 1000, 293.15)
    mass = flow_l_s / 1000 * FREE_AIR_DENSITY_KG_M3
    reynolds = 4.0 * mass / (math.pi * 0.008 * viscosity_pa_s(293.15))
    factor = friction_factor(Re=reynolds, eD=HOSE_ROUGHNESS_M / 0.008, Method="Clamond")
    equal_m = 10.0 + HOSE_ENDS_LOSS * 0.008 / factor
    density = end.before_hose_pa / (GAS_CONSTANT_J_KG_K * 293.15)
    behind = isothermal_gas(rho=density, fd=factor, P1=end.before_hose_pa, L=equal_m, D=0.008, m=mass)
    assert end.at_tool_pa == pytest.approx(behind, rel=1e-4)


@pytest.mark.parametrize("body, lost_bar", [("1/4", 0.37), ("3/8", 0.075)])
def test_coupling_against_iso_6358(body: str, lost_bar: float) -> None:
    """8 l/s at 6 bar gauge: C 3, b 0.3 loses 0.37 bar; C 6.5 loses 0.075 bar (ISO 6358-1 by hand)."""
    outlet = replace(OUTLET, coupling=body, hose=Hose(length_m=0.0))
    end = tool_end(outlet, 7.01325e5, 0.008, 293.15)
    assert (end.before_coupling_pa - end.before_hose_pa) / 1e5 == pytest.approx(lost_bar, abs=0.005)
    assert end.at_tool_pa == end.before_hose_pa


def test_a_coupling_that_cannot_pass_the_flow_leaves_nothing() -> None:
    assert tool_end(OUTLET, 7e5, 0.05, 293.15).at_tool_pa == 0.0


@given(st.floats(1e5, 9e5), st.floats(0.0, 0.02), st.sampled_from(["1/4", "3/8", "1/2"]), st.floats(0.0, 20.0))
def test_what_a_tool_needs_is_what_it_then_gets(needed_pa: float, flow: float, body: str, length_m: float) -> None:
    outlet = replace(
        OUTLET, coupling=body, hose=Hose(length_m=length_m, bore_m=0.009), service=(ServiceUnit(kind="filter"),)
    )
    before = needed_before_units_pa(outlet, needed_pa, flow, 293.15)
    assert tool_end(outlet, before, flow, 293.15).at_tool_pa >= needed_pa * (1.0 - 1e-9)
    assert tool_end(outlet, before * 0.9999, flow, 293.15).at_tool_pa < needed_pa


def test_the_steps_lead_from_cut_in_to_the_tool(sized: Callable[..., Network], tool: Callable[..., str]) -> None:
    treated = "treatment: [filter, {kind: regulator, set: 6 bar}]"
    network = sized([tool("9 l/s"), tool("4 l/s")], more=treated, outlet=", service: [filter, lubricator]")
    for flow in network.outlets:
        names = [step.what for step in flow.ladder]
        assert names == [
            "treatment", "held by the regulator", "flexible connection", "riser", "main", "drop",
            "units at the outlet", "coupling", "hose",
        ]  # fmt: skip
        assert all(step.drop_pa >= 0.0 for step in flow.ladder)
        levels = [7e5, *(step.gauge_pressure_pa for step in flow.ladder)]
        for step, (before, after) in zip(flow.ladder, pairwise(levels), strict=True):
            assert before - after == pytest.approx(step.drop_pa)
        by_name = {step.what: step for step in flow.ladder}
        assert by_name["held by the regulator"].gauge_pressure_pa == pytest.approx(6e5)
        assert by_name["units at the outlet"].gauge_pressure_pa == pytest.approx(flow.gauge_pressure_pa)
        assert levels[-1] == pytest.approx(flow.tool_pressure_pa)


def test_a_longer_hose_leaves_less_and_none_leaves_most(
    sized: Callable[..., Network], tool: Callable[..., str]
) -> None:
    left = [
        sized([tool("6 l/s")], outlet=f", hose: {{length: {metres} m}}").outlets[0].tool_pressure_pa
        for metres in (0, 2, 5, 15)
    ]
    assert all(longer < shorter for shorter, longer in pairwise(left))


def test_a_flow_that_no_drop_can_pass_is_named(lay: Callable, tool: Callable[..., str]) -> None:
    network, findings = size(lay([tool("150 l/s")], main=', size: "1/2", drop size: "3/8"'))
    choked = [finding for finding in findings if finding.rule == "SIZE002"]
    assert choked
    assert "at most" in choked[0].message
    assert network.outlets[0].tool_pressure_pa == 0.0
