from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.geometry import Point3
from drafter.layout.graph import RunKind
from drafter.rules import long_main_without_drain as rule


def stretched(design: Any, longest_m: float) -> Any:
    """The design scaled in plan so that its main is so long from the riser to its drain."""
    layout = design.network.layout
    mains = [run for run in layout.runs if run.kind in (RunKind.MAIN, RunKind.SLEEVE)]
    runs = [(layout.nodes[run.start].at, layout.nodes[run.end].at) for run in mains]
    low, high = 1.0, 100.0
    for _ in range(80):
        factor = (low + high) / 2
        total = sum(Point3((b.x - a.x) * factor, (b.y - a.y) * factor, b.z - a.z).length for a, b in runs)
        low, high = (factor, high) if total < longest_m else (low, factor)
    nodes = {
        id: replace(node, at=Point3(node.at.x * low, node.at.y * low, node.at.z)) for id, node in layout.nodes.items()
    }
    return replace(design, network=replace(design.network, layout=replace(layout, nodes=nodes)))


@pytest.mark.parametrize("longest_m, found", [(30.0, []), (60.96, []), (61.0, ["warning"])])
def test_limits(design: Any, severities: Any, longest_m: float, found: list[str]) -> None:
    assert severities(rule, stretched(design, longest_m)) == found


def test_dried_air_needs_none(drawn: Any, severities: Any) -> None:
    assert severities(rule, stretched(drawn("filter"), 200.0)) == ["warning"]
    assert severities(rule, stretched(drawn("refrigeration dryer"), 200.0)) == []
