from __future__ import annotations

from typing import Any

import pytest

from drafter.layout.graph import NodeKind
from drafter.rules import drain_near_floor as rule


@pytest.mark.parametrize("height_m, found", [(0.3, []), (0.15, []), (0.148, ["warning"])])
def test_limits(raised: Any, severities: Any, height_m: float, found: list[str]) -> None:
    assert severities(rule, raised(NodeKind.DRAIN, height_m)) == found


def test_a_drain_height_written_low_is_found(drawn: Any, severities: Any) -> None:
    assert severities(rule, drawn(main=", drain height: 100 mm")) == ["warning"]
    assert severities(rule, drawn(main=", drain height: 100 mm, drains: automatic")) == []
