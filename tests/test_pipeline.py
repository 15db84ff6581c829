"""The stages in order: how far each site file gets, and what is known then."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.finding import Severity, errors
from drafter.pipeline import compose_drawing, design

SITE = (Path(__file__).parent / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")


def test_a_good_site_goes_through_all_stages() -> None:
    designed = design(SITE, "yard.yaml")
    assert not errors(designed.findings)
    assert designed.takeoff is not None
    assert designed.design is not None
    assert designed.network is designed.design.network
    assert designed.layout is designed.network.layout
    assert designed.site is designed.layout.site
    drawing = compose_drawing(designed)
    assert [view.name for view in drawing.views if view.name.startswith("plan")] == ["plan"]
    assert drawing.sheets


def test_a_file_that_cannot_be_read_stops_at_once() -> None:
    designed = design(SITE.replace("8 l/s", "8 litres"), "yard.yaml")
    assert designed.site is None
    assert errors(designed.findings) == 1
    with pytest.raises(ValueError, match="no design"):
        compose_drawing(designed)


def test_a_site_that_finds_no_room_stops_at_the_layout() -> None:
    designed = design(SITE.replace("ceiling: 3 m", "ceiling: 2.68 m"), "yard.yaml")
    assert designed.site is not None
    assert designed.layout is None
    assert designed.takeoff is None
    assert {finding.rule for finding in designed.findings} >= {"LEVEL002"}


def test_a_broken_rule_is_found_and_the_design_kept() -> None:
    slack = SITE.replace("main: {material: copper tube", "main: {material: polyamide tube, size: 28 x 2.5").replace(
        "warmest: 30 degC", "warmest: 45 degC"
    )
    designed = design(slack, "yard.yaml")
    assert designed.takeoff is not None
    assert "RATE001" in {finding.rule for finding in designed.findings if finding.severity is Severity.ERROR}


def test_findings_of_all_stages_come_worst_first_then_as_in_the_file() -> None:
    doubtful = SITE.replace("fall: 1 %", "fall: 0.5 %").replace("coldest: 10 degC", "coldest: 1 degC")
    designed = design(doubtful.replace("8.5 bar", "9.5 bar"), "yard.yaml")
    assert [finding.rule for finding in designed.findings] == ["FROST001", "PLANT002", "VENT002", "TANK002", "FALL001"]


def test_same_text_same_result() -> None:
    assert design(SITE, "yard.yaml") == design(SITE.encode(), "yard.yaml")
