from __future__ import annotations

from typing import Any

import pytest

from drafter.layout.graph import NodeKind
from drafter.rules import valve_out_of_reach as rule


@pytest.mark.parametrize("height_m, found", [(1.55, []), (1.8, []), (1.81, ["note"])])
def test_limits(raised: Any, severities: Any, height_m: float, found: list[str]) -> None:
    assert severities(rule, raised(NodeKind.VALVE, height_m)) == found


def test_drains_do_not_count(raised: Any, severities: Any) -> None:
    assert severities(rule, raised(NodeKind.DRAIN, 2.5)) == []
