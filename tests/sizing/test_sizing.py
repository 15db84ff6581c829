"""Sites sized: demand by hand, bores at their limits, pressures that add up along the way."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

from drafter.layout import lay_out
from drafter.site import read
from drafter.sizing import Network, size
from drafter.sizing.carrying import runs_on_rings
from drafter.standards import limits
from drafter.standards.air import line_velocity_m_s

Sized = Callable[..., Network]
Tool = Callable[..., str]
EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


def test_demand_by_hand(sized: Sized, tool: Tool) -> None:
    """Average 8 x 0.5 + 4 x 0.25 = 5 l/s; / 0.9 x 1.2 = 6.667 l/s. Peak of two at once: 12 l/s, of one: 8 l/s."""
    network = sized([tool("8 l/s"), tool("4 l/s", "25 %")])
    assert network.supply.average_m3_s == pytest.approx(0.005 / 0.9 * 1.2)
    assert network.supply.peak_m3_s == pytest.approx(0.012)
    assert sized([tool("8 l/s"), tool("4 l/s")], demand=", at once: 1").supply.peak_m3_s == pytest.approx(0.008)


def test_a_flow_on_another_basis_is_the_same_mass(sized: Sized, tool: Tool) -> None:
    """1 l/s at 0 degC, 1.01325 bar is 1.08744 l/s at 20 degC, 1 bar (ideal gas, DIN 1343 and ISO 1217 states)."""
    network = sized([tool("3.6 Nm3/h")])
    assert network.outlets[0].free_air_m3_s == pytest.approx(1.08744e-3, rel=1e-5)


def test_drops_along_the_way_add_up_to_what_the_outlet_lost(sized: Sized, tool: Tool) -> None:
    network = sized([tool("9 l/s")])
    lost = sum(pipe.drop_pa for pipe in network.pipes)
    left = network.outlets[0].gauge_pressure_pa
    assert network.supply.supply_gauge_pa - left == pytest.approx(lost, rel=0.01)


def test_the_bore_is_the_smallest_that_keeps_the_velocity(sized: Sized, tool: Tool) -> None:
    network = sized([tool("9 l/s"), tool("6 l/s")])
    sizes, main = network.material.sizes, network.sizes["P1"]
    pressure = network.supply.supply_gauge_pa + 101325
    speeds = [line_velocity_m_s(0.015, pressure, 293.15, tube.bore_m) for tube in sizes]
    limit = limits.MAIN_VELOCITY_PREFERRED_M_S.value
    assert sizes.index(main) == next(i for i, speed in enumerate(speeds) if speed <= limit)
    assert speeds[sizes.index(main) - 1] > limit


def test_a_size_given_is_kept(sized: Sized, tool: Tool) -> None:
    network = sized([tool("9 l/s")], main=', size: "1/2", drop size: "3/8"')
    assert {tube.name for tube in network.sizes.values()} == {"1/2", "3/8"}


def test_more_demand_never_leaves_more_pressure(sized: Sized, tool: Tool) -> None:
    fixed = ', size: "3/4", drop size: "1/2"'
    left = [sized([tool(f"{q} l/s"), tool("5 l/s")], main=fixed).outlets[1] for q in (1, 4, 8, 12)]
    assert all(a.gauge_pressure_pa >= b.gauge_pressure_pa for a, b in pairwise(left))


def test_the_worst_case_is_no_better_than_any_other_pair(sized: Sized, tool: Tool) -> None:
    flows = [tool("2 l/s"), tool("9 l/s"), tool("4 l/s"), tool("7 l/s"), tool("3 l/s")]
    network = sized(flows, main=', size: "1/2", drop size: "3/8"', demand=", at once: 2")
    alone = sized(flows, main=', size: "1/2", drop size: "3/8"', demand=", at once: 1")
    for worst, single in zip(network.outlets, alone.outlets, strict=True):
        assert len(worst.together_with) == 1
        assert worst.gauge_pressure_pa <= single.gauge_pressure_pa


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_flow_is_not_lost_at_any_node(path: Path) -> None:
    """The peak behind a run is never more than what the runs after it can take, nor less than the largest of them."""
    site, _ = read(path.read_bytes(), path.name)
    assert site is not None
    layout, _ = lay_out(site)
    assert layout is not None
    network = size(layout)[0]
    flow = {pipe.run: pipe.free_air_m3_s for pipe in network.pipes}
    on_ring = runs_on_rings(layout)
    for run in layout.runs:
        if run.id in on_ring:
            continue
        after = [flow[other.id] for other in layout.runs_at[run.end] if other.start == run.end]
        if after and flow[run.id]:
            assert max(after) - 1e-12 <= flow[run.id] <= sum(after) + 1e-12


def test_a_desiccant_dryer_uses_up_air_itself(sized: Sized, tool: Tool) -> None:
    """16 % of what enters it: 6.667 l/s behind it take 6.667 / 0.84 - 6.667 = 1.270 l/s more from the compressor."""
    network = sized([tool("8 l/s"), tool("4 l/s", "25 %")], more="treatment: [desiccant dryer]")
    assert network.supply.average_m3_s == pytest.approx(0.006667, rel=1e-3)
    assert network.supply.purge_m3_s == pytest.approx(0.001270, rel=1e-3)
    assert network.tank.motor.demand_m3_s == pytest.approx(0.007937, rel=1e-3)
    assert sized([tool("8 l/s")], more="treatment: [refrigeration dryer]").supply.purge_m3_s == 0.0
