from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from drafter.rules import small_working_space as rule
from drafter.site import read
from drafter.site.model import KeepClear

KEEPS_EVERY_RULE = Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml"


def with_panel(changed: Any, rules: str, width_m: float, depth_m: float, height_m: float, **more: str) -> Any:
    """The design with a space kept clear before a panel, held against a set of rules."""
    place = changed().network.layout.site.main.place
    panel = KeepClear(
        place=place, kind="electrical panel", wall="west", from_left_m=2.0,
        width_m=width_m, depth_m=depth_m, height_m=height_m, **more,
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


@pytest.mark.parametrize(
    "opposite, depth_m, found",
    [
        ("insulated", 0.9144, []),
        ("insulated", 0.913, ["warning"]),
        ("grounded", 1.0668, []),
        ("grounded", 1.065, ["warning"]),
        ("live", 1.2192, []),
        ("live", 1.217, ["warning"]),
    ],
)
def test_table_s_1_from_151_to_600_volts(
    changed: Any, severities: Any, opposite: str, depth_m: float, found: list[str]
) -> None:
    """29 CFR 1910.303 table S-1: 3, 3 1/2 and 4 ft by what the panel faces."""
    design = with_panel(changed, "us", 0.8, depth_m, 2.0, voltage="to 600 V", opposite=opposite)
    assert severities(rule, design) == found


def test_a_depth_left_out_follows_the_voltage() -> None:
    panel = "{kind: electrical panel, wall: west, from left: 2 m, width: 0.8 m, voltage: to 600 V, opposite: live}"
    text = KEEPS_EVERY_RULE.read_text(encoding="utf-8").replace("warmest: 30 degC", f"keep clear: [{panel}]")
    site, findings = read(f"{text}rules: us\n", "yard.yaml")
    assert site is not None, findings
    (keep,) = site.rooms["shop"].keep_clear
    assert keep.depth_m == pytest.approx(4 * 0.3048)
