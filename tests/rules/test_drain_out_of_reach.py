from __future__ import annotations

from typing import Any

import pytest

from drafter.layout.graph import NodeKind
from drafter.rules import drain_out_of_reach as rule


@pytest.mark.parametrize("height_m, found", [(0.3, 0), (1.8, 0), (1.81, 1)])
def test_limits(raised: Any, severities: Any, height_m: float, found: int) -> None:
    design = raised(NodeKind.DRAIN, height_m)
    drains = sum(node.kind is NodeKind.DRAIN for node in design.network.layout.nodes.values())
    assert severities(rule, design) == ["note"] * found * drains


def test_automatic_drains_are_out_of_it(changed: Any, severities: Any) -> None:
    assert severities(rule, changed(main={"drains": "automatic"})) == []
