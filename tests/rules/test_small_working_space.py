from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import small_working_space as rule
from drafter.site.model import KeepClear


def with_panel(changed: Any, rules: str, width_m: float, depth_m: float, height_m: float) -> Any:
    """The design with a space kept clear before a panel, held against a set of rules."""
    place = changed().network.layout.site.main.place
    panel = KeepClear(
        place=place, kind="electrical panel", wall="west", from_left_m=2.0,
        width_m=width_m, depth_m=depth_m, height_m=height_m,
    )  # fmt: skip
    return changed(room={"keep_clear": (panel,)}, site={"rule_set": rules})


@pytest.mark.parametrize(
    "width_m, depth_m, height_m, found",
    [
        (0.762, 0.9144, 1.9812, []),
        (0.762, 0.914, 2.0, []),
        (0.75, 0.9144, 2.0, ["note"]),
        (0.9, 0.91, 2.0, ["warning"]),
        (0.9, 1.2, 1.97, ["warning"]),
        (0.6, 0.6, 1.5, ["warning", "warning", "note"]),
    ],
)
def test_table_s_1_to_150_volts(
    changed: Any, severities: Any, width_m: float, depth_m: float, height_m: float, found: list[str]
) -> None:
    assert severities(rule, with_panel(changed, "us", width_m, depth_m, height_m)) == found


def test_other_spaces_do_not_count(changed: Any, severities: Any) -> None:
    small = KeepClear(kind="volume", wall="west", from_left_m=2.0, width_m=0.2, depth_m=0.2, height_m=0.5)
    assert severities(rule, changed(room={"keep_clear": (small,)})) == []


@pytest.mark.parametrize(
    "width_m, depth_m, height_m, found",
    [(0.3, 0.7, 2.0, []), (0.3, 0.69, 2.0, ["warning"]), (0.3, 0.9, 1.99, ["warning"])],
)
def test_the_international_set_asks_for_a_passage(
    changed: Any, severities: Any, width_m: float, depth_m: float, height_m: float, found: list[str]
) -> None:
    assert severities(rule, with_panel(changed, "international", width_m, depth_m, height_m)) == found
