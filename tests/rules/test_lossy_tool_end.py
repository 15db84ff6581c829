from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import lossy_tool_end as rule
from drafter.sizing.ladder import Step


@pytest.mark.parametrize(
    "coupling_bar, hose_bar, found", [(0.1, 0.1, 0), (0.4, 0.6, 0), (0.4, 0.601, 2), (1.1, 0.0, 2)]
)
def test_limits(changed: Any, severities: Any, coupling_bar: float, hose_bar: float, found: int) -> None:
    steps = (Step("main", 2e5, 6e5), Step("coupling", coupling_bar * 1e5, 5e5), Step("hose", hose_bar * 1e5, 4e5))
    flows = tuple(replace(flow, ladder=steps) for flow in changed().network.outlets)
    assert severities(rule, changed(network={"outlets": flows})) == ["note"] * found
