"""An outlet an inch beside a stud is told so, and saves its boards where it follows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.pipeline import Designed, design

SHOP = (Path(__file__).parents[2] / "example_sites" / "cabinet_shop.yaml").read_text(encoding="utf-8")


def told(designed: Designed) -> dict[str, str]:
    found = [finding for finding in designed.findings if finding.rule == "CLIP004"]
    return {finding.subject: f"{finding.fix}; {finding.write}" for finding in found}


def boards(designed: Designed) -> int:
    assert designed.design is not None
    return len(designed.design.boards)


def test_outlets_beside_studs_are_told_where_these_stand() -> None:
    before = design(SHOP, "shop.yaml")
    assert set(told(before)) == {"O1", "O4"}
    line = next(line for line in SHOP.splitlines() if "tag: O4," in line)
    there = re.search(r"from left: (\d+)'-(\d+)( \d+/\d+)?\"", told(before)["O4"])
    assert there is not None
    inches = f"{there[2]}-{there[3].strip()}" if there[3] else there[2]
    moved = re.sub(r"from left: [^,]+", f"from left: {there[1]} ft {inches} in", line)
    after = design(SHOP.replace(line, moved), "shop.yaml")
    assert set(told(after)) == {"O1"}
    assert boards(after) <= boards(before) - 3


@pytest.mark.parametrize("first, found", [("16 in", 0), ("1.96 in", 2), ("1.98 in", 0), ("2.5 in", 0)])
def test_outlets_on_studs_or_far_from_them_are_not_told(first: str, found: int) -> None:
    """With studs on whole multiples of 16 in O1 and O4 hang before one; told up to 50 mm, 1.9685 in, beside one."""
    designed = design(re.sub(r"first: [^,}]+", f"first: {first}", SHOP), "shop.yaml")
    assert len({"O1", "O4"} & set(told(designed))) == found
