from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import oiled_paint_air as rule


@pytest.mark.parametrize(
    "treatment, tool, outlet, found",
    [
        ("", "HVLP spray gun", "", []),
        ("lubricator", "HVLP spray gun", "", ["error"]),
        ("filter, lubricator", "airbrush", "", ["error"]),
        ("lubricator", "blow gun", "", []),
        ("", "HVLP spray gun", ", service: [filter, lubricator]", ["error"]),
        ("", "HVLP spray gun", ", service: [filter]", []),
        ("", "blow gun", ", service: [lubricator]", []),
        ("lubricator", "blow gun", ", air for: paint", ["error"]),
        ("", "blow gun", ", service: [lubricator], air for: paint", ["error", "error"]),
        ("", "HVLP spray gun", ", service: [lubricator], air for: tools", []),
    ],
)
def test_limits(drawn: Any, severities: Any, treatment: str, tool: str, outlet: str, found: list[str]) -> None:
    assert severities(rule, drawn(treatment, tool=tool, outlet=outlet)) == found
