"""A ring with the valve of one arm shut, against the tree that is left."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from drafter.layout import Layout
from drafter.sizing.arm_shut import arms_shut
from drafter.sizing.cases import case_results
from drafter.sizing.sizing import piping_of
from drafter.sizing.solving import solve
from drafter.standards.air import line_velocity_m_s, mass_flow_kg_s

OUTLETS = ["{tool: t, free air: 7 l/s, pressure: 5 bar}", "{tool: t, free air: 4 l/s, pressure: 5 bar}"]
RING = ", fall: 0.5 %, arrangement: ring"


@pytest.fixture(scope="module")
def ring(lay: Callable[..., Layout]) -> Layout:
    return lay(OUTLETS * 2, main=RING, demand=", at once: 2")


def test_each_valve_is_shut_in_turn(ring: Layout) -> None:
    piping = piping_of(ring)
    sizes = [piping.sections.material.find_size("3/4")] * len(piping.sections.sections)
    valves = [node.tag for node in ring.nodes.values() if node.what.startswith("ring valve")]
    assert [shut.valve for shut in arms_shut(piping, sizes)] == valves
    assert len(valves) == 3


def test_pressures_and_speed_are_those_of_the_tree_that_is_left(ring: Layout) -> None:
    piping = piping_of(ring)
    sections = piping.sections
    sizes = [sections.material.find_size("1/2")] * len(sections.sections)
    (valve,) = (node.id for node in ring.nodes.values() if node.what == "ring valve, arm to the left")
    (index,) = (n for n, section in enumerate(sections.sections) for run in section.runs[:-1] if run.end == valve)
    kept = np.arange(len(sections.sections)) != index
    start, end = sections.ends
    left, fastest = [], 0.0
    for solved in case_results(replace(piping, shut=(index,), _solved={}), sizes).worst.values():
        outflow = np.zeros(len(sections.node_numbers))
        for tag, flow in solved.case.flows_m3_s.items():
            outflow[sections.coupling_nodes[tag]] = mass_flow_kg_s(flow)
        tree = solve(
            start[kept], end[kept], *(values[kept] for values in sections.arrays(sizes)), outflow.size, outflow, [0],
            [piping.supply_absolute_pa], piping.temperature_k,
        )  # fmt: skip
        assert solved.absolute_pa == pytest.approx(tree.absolute_pressure_pa, rel=1e-9)
        left.append(float(np.nanmin(tree.absolute_pressure_pa)))
        on_ring = np.array([section.ring for section in sections.sections])[kept]
        flow = float(np.abs(tree.mass_flow_kg_s[on_ring]).max()) / mass_flow_kg_s(1.0)
        fastest = max(
            fastest, line_velocity_m_s(flow, piping.supply_absolute_pa, piping.temperature_k, sizes[0].bore_m)
        )
    (shut,) = (each for each in arms_shut(piping, sizes) if each.valve == ring.nodes[valve].tag)
    assert shut.velocity_m_s == pytest.approx(fastest, rel=1e-6)
    open_pa = case_results(piping, sizes).lowest_absolute_pa
    assert min(left) < min(open_pa.values())


def test_a_ring_too_narrow_for_one_arm_leaves_nothing(lay: Callable[..., Layout]) -> None:
    layout = lay(["{tool: t, free air: 60 l/s, pressure: 5 bar}"] * 6, main=RING, demand=", at once: 6", width=40)
    piping = piping_of(layout)
    sizes = [piping.sections.material.find_size("3/8")] * len(piping.sections.sections)
    assert all(shut.tool_pressure_pa == 0.0 for shut in arms_shut(piping, sizes))


def test_a_dead_end_has_none(lay: Callable[..., Layout]) -> None:
    piping = piping_of(lay(OUTLETS, demand=", at once: 2"))
    assert arms_shut(piping, [piping.sections.material.find_size("1/2")] * len(piping.sections.sections)) == ()
