from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import treatment_in_wrong_order as rule


@pytest.mark.parametrize(
    "treatment, oil, found",
    [
        ("aftercooler, separator, filter, refrigeration dryer, coalescing filter, activated carbon filter", "", 0),
        ("filter, aftercooler", "", 0),
        ("refrigeration dryer, aftercooler", "", 1),
        ("filter, desiccant dryer", "", 1),
        ("filter, desiccant dryer", ", oil: oil-free", 0),
        ("coalescing filter, desiccant dryer, filter", "", 0),
        ("filter, activated carbon filter", "", 1),
        ("lubricator, filter", "", 1),
        ("filter, lubricator", "", 0),
        ("lubricator, regulator", "", 0),
    ],
)
def test_orders(drawn: Any, severities: Any, treatment: str, oil: str, found: int) -> None:
    assert severities(rule, drawn(treatment, plant=oil)) == ["warning"] * found
