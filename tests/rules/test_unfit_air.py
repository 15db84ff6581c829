from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import unfit_air as rule

FINE = "filter, refrigeration dryer, coalescing filter"


@pytest.mark.parametrize(
    "treatment, tool, outlet, found",
    [
        ("", "blow gun", "", ["note"]),
        ("", "blow gun", ", service: [filter]", []),
        ("", "blow gun", ", air for: tools", ["warning", "warning"]),
        ("", "HVLP spray gun", "", ["warning", "note"]),
        (FINE, "HVLP spray gun", "", []),
        (FINE, "blow gun", ", air for: blow-off", []),
        (FINE, "blow gun", ", class: 1:4:2", []),
        (FINE, "blow gun", ", class: 1:4:1", ["warning", "warning"]),
        (FINE, "blow gun", ", class: 1:3:2", ["warning", "warning"]),
        (f"{FINE}, activated carbon filter", "blow gun", ", class: 1:4:1", []),
        ("", "blow gun", ', class: "X:9:X"', []),
    ],
)
def test_limits(drawn: Any, severities: Any, treatment: str, tool: str, outlet: str, found: list[str]) -> None:
    assert severities(rule, drawn(treatment, tool=tool, outlet=outlet)) == found


def test_it_names_the_units_to_add_and_the_line_that_asks(drawn: Any) -> None:
    painted, tools = rule.check(drawn(tool="HVLP spray gun"))
    assert (painted.subject, painted.measured) == ("A1", "X:8:X")
    assert painted.limit.startswith("1:4:2: ")
    assert "a refrigeration dryer and a coalescing filter" in painted.fix
    assert tools.message.startswith("A2 for tools")
    asked, _ = rule.check(drawn(outlet=", class: 1:4:2"))
    outlet = drawn(outlet=", class: 1:4:2").network.layout.site.outlets[0]
    assert asked.place == outlet.where("purity") != outlet.place
