from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import level_main as rule
from drafter.site.model import Treatment


@pytest.mark.parametrize(
    "fall, found",
    [(0.02, []), (0.01, []), (0.009, ["note"]), (0.001, ["note"]), (0.0, ["warning"])],
)
def test_undried(changed: Any, severities: Any, fall: float, found: list[str]) -> None:
    assert severities(rule, changed(main={"fall": fall})) == found


@pytest.mark.parametrize("kind, found", [("refrigeration dryer", []), ("desiccant dryer", []), ("filter", ["warning"])])
def test_behind_a_dryer_the_main_may_be_level(changed: Any, severities: Any, kind: str, found: list[str]) -> None:
    design = changed(main={"fall": 0.0}, site={"treatment": (Treatment(kind=kind),)})
    assert severities(rule, design) == found
