"""Limits that a site sets for itself: they work, they are kept in sight, and mistakes in them are found."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.finding import Severity
from drafter.pipeline import design as whole_design
from drafter.quantity import Kind, Units
from drafter.report import report_text
from drafter.rules import RULES, Rule, Threshold, check, check_limits
from drafter.rules.rule import ERROR, NOTE, WARNING
from drafter.site.model import Hose
from drafter.site.model.own_limits import OwnLimit
from drafter.standards.limits import Limit

TIGHTER = {"BLOW001": "1.5 bar", "PANEL001": "1.2 m", "HOSE002": "9 mm", "HEAT002": "45 degC"}
"""Limits on the safe side, of rules that guard people."""


def own(limit: str = "", skip: str = "no") -> OwnLimit:
    return OwnLimit(limit=limit, skip=skip, reason="measured last winter")


def found(changed: Any, limits: dict[str, OwnLimit], **change: Any) -> list[tuple[str, str]]:
    design = changed(site={"own_limits": limits}, **change)
    return [(finding.rule, finding.severity.word) for finding in check(design)]


@pytest.mark.parametrize(
    "limit, velocity_m_s, severity",
    [
        ("8 m/s", 8.4, None),
        ("8 m/s", 8.41, "note"),
        ("8 m/s", 9.46, "warning"),
        ("8 m/s", 15.76, "error"),
        ("12 m/s", 12.6, None),
        ("12 m/s", 12.61, "warning"),
        ("20 m/s", 16.0, None),
        ("20 m/s", 21.1, "error"),
        ("3 m/s", 3.15, None),
        ("3 m/s", 3.16, "note"),
        ("20 ft/s", 6.41, "note"),
    ],
)
def test_a_limit_of_its_own_is_where_the_rule_begins_to_speak(
    changed: Any, limit: str, velocity_m_s: float, severity: str | None
) -> None:
    rules = found(changed, {"FLOW001": own(limit)}, pipes={"velocity_m_s": velocity_m_s})
    assert [word for id, word in rules if id == "FLOW001"] == ([severity] if severity else [])
    erased = severity is None and velocity_m_s > 15.0 * 1.05
    assert ("LIMIT005", "warning" if erased else "note") in rules


def test_the_reason_is_the_source_of_what_is_found(changed: Any) -> None:
    design = changed(site={"own_limits": {"FLOW001": own("2 m/s")}}, pipes={"velocity_m_s": 5.0})
    (fast,) = [finding for finding in check(design) if finding.rule == "FLOW001"]
    assert fast.source == "set for this site: measured last winter"
    assert fast.limit == "2.0 m/s"


def test_a_rule_left_out_says_what_it_would_have_said(changed: Any) -> None:
    design = changed(site={"own_limits": {"FALL001": own(skip="yes")}}, main={"fall": 0.0})
    (kept,) = check(design)
    assert (kept.rule, kept.severity) == ("LIMIT005", Severity.NOTE)
    assert (kept.source, kept.write) == ("as the site file says", "")
    assert "left out: measured last winter" in kept.message
    assert "the main is level" in kept.message


def test_a_rule_left_out_that_would_stop_the_drawing_leaves_a_warning(changed: Any) -> None:
    limits = {"FLOW001": own(skip="yes")}
    assert found(changed, limits, pipes={"velocity_m_s": 14.0})[0] == ("LIMIT005", "note")
    assert found(changed, limits, pipes={"velocity_m_s": 16.0})[0] == ("LIMIT005", "warning")


@pytest.mark.parametrize(
    "id, limit, skip, rule",
    [
        ("FLOW009", "8 m/s", "no", "LIMIT001"),
        ("UNIT001", "", "yes", "LIMIT001"),
        ("FLOW001", "8 bar", "no", "LIMIT002"),
        ("FLOW001", "8", "no", "LIMIT002"),
        ("AIR001", "8 m/s", "no", "LIMIT002"),
        ("FLOW001", "", "no", "LIMIT003"),
        ("FLOW001", "8 m/s", "yes", "LIMIT003"),
        ("RATE001", "", "yes", "LIMIT004"),
        ("RATE001", "8 bar", "no", "LIMIT004"),
        ("BLOW001", "9 bar", "no", "LIMIT006"),
        ("BLOW001", "30.1 psi", "no", "LIMIT006"),
        ("PANEL001", "100 mm", "no", "LIMIT006"),
        ("HOSE002", "40 mm", "no", "LIMIT006"),
        ("HEAT002", "60 degC", "no", "LIMIT006"),
        ("TOOL001", "", "yes", "LIMIT006"),
        ("BLOW001", "", "yes", "LIMIT006"),
        ("BLOW001", "2 bar", "yes", "LIMIT006"),
        ("TOOL001", "8 bar", "no", "LIMIT002"),
    ],
)
def test_mistakes_in_limits(changed: Any, id: str, limit: str, skip: str, rule: str) -> None:
    site = changed(site={"own_limits": {id: own(limit, skip)}}).network.layout.site
    (finding,) = check_limits(site)
    assert (finding.rule, finding.severity) == (rule, Severity.ERROR)
    assert finding.fix


@pytest.mark.parametrize("rule", [rule.RULE for rule in RULES], ids=lambda rule: rule.id)
def test_every_threshold_can_be_set_in_its_own_unit(changed: Any, rule: Rule) -> None:
    if rule.threshold is None or rule.firm:
        return
    written = TIGHTER.get(rule.id, rule.threshold.kind.sample)
    site = changed(site={"own_limits": {rule.id: own(written)}}).network.layout.site
    assert check_limits(site) == ()
    assert rule.limit(site).value == rule.own_value(own(written))
    assert rule.limit(site).source == "set for this site: measured last winter"


@pytest.mark.parametrize("id, usual", [("BLOW001", "30 psi"), ("PANEL001", "3 ft"), ("HOSE002", "12.7 mm")])
def test_the_usual_limit_itself_may_be_written(changed: Any, id: str, usual: str) -> None:
    assert check_limits(changed(site={"own_limits": {id: own(usual)}}).network.layout.site) == ()


@pytest.mark.parametrize("rules, limit, wrong", [("us", "0.8 m", 1), ("international", "0.8 m", 0)])
def test_what_is_looser_depends_on_the_set_of_rules(changed: Any, rules: str, limit: str, wrong: int) -> None:
    site = changed(site={"own_limits": {"PANEL001": own(limit)}, "rule_set": rules}).network.layout.site
    assert [finding.rule for finding in check_limits(site)] == ["LIMIT006"] * wrong


@pytest.mark.parametrize("limit, skip", [("40 mm", "no"), ("", "yes")])
def test_a_rule_that_guards_people_speaks_whatever_the_site_says(changed: Any, limit: str, skip: str) -> None:
    hose = {"hose": Hose(length_m=5.0, bore_m=0.019)}
    rules = found(changed, {"HOSE002": own(limit, skip)}, outlets=hose)
    assert rules == [("HOSE002", "warning")] * 2


def test_a_tightened_limit_counts_and_is_kept_in_sight(changed: Any) -> None:
    hose = {"hose": Hose(length_m=5.0, bore_m=0.012)}
    rules = found(changed, {"HOSE002": own("11 mm")}, outlets=hose)
    assert rules == [("HOSE002", "warning")] * 2 + [("LIMIT005", "note")]


def test_steps_below_a_limit_of_the_site_do_not_speak(changed: Any) -> None:
    usual = Limit(10.0, "common practice")
    rule = Rule("TEST001", "test", "test", (ERROR, WARNING, NOTE), Threshold(usual, Kind.LENGTH))
    steps = ((Limit(30.0, "c"), ERROR), (Limit(20.0, "b"), WARNING), (usual, NOTE))
    site = changed().network.layout.site
    assert [rule.broken_step(site, value, steps) for value in (10.0, 10.1, 20.1, 30.1)] == [
        None,
        steps[2],
        steps[1],
        steps[0],
    ]
    with pytest.raises(ValueError, match="no threshold"):
        Rule("TEST002", "test", "test", (NOTE,)).limit(site)


def test_report_and_file_show_the_limit_with_its_line() -> None:
    text = (
        "site: Yard (invented)\nrooms: {shop: {size: [8 m, 6 m], ceiling: 3 m}}\n"
        "compressor: {wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 9.5 bar,\n"
        "  tank: 80 l, rated: 11 bar, relief: 10 bar}\nmain: {material: copper tube, height: 2.6 m}\n"
        "limits:\n  PLANT002: {limit: 96 %, reason: the valve is new}\n"
        "outlets: [{tag: A1, wall: east, from left: 2 m, tools: [blow gun]}]\n"
    )
    done = whole_design(text, "yard.yaml")
    (kept,) = [finding for finding in done.findings if finding.rule == "LIMIT005"]
    assert kept.place.line == 7
    assert not [finding for finding in done.findings if finding.rule == "PLANT002"]
    report = report_text(done.findings, text, done.design, done.takeoff)
    assert "held against 96 %, usual is 90 %: the valve is new" in report


@pytest.mark.parametrize(
    "rule", [rule.RULE for rule in RULES if rule.RULE.threshold and not rule.RULE.firm], ids=lambda rule: rule.id
)
@pytest.mark.parametrize("imperial", [False, True])
def test_the_limit_that_the_manual_shows_may_be_written(design: Any, rule: Rule, imperial: bool) -> None:
    """Rounded as it is, in either system of units, it does not count as looser than the rule's own."""
    assert rule.threshold is not None
    written = Units(imperial).of_kind(rule.threshold.kind, rule.threshold.limit.value)
    typed = written.replace("°", "deg").replace(",", "")
    own = {rule.id: OwnLimit(limit=typed, reason="as it is")}
    site = replace(design.network.layout.site, own_limits=own)
    assert [finding.message for finding in check_limits(site)] == []


def test_a_loosened_limit_says_what_the_usual_one_would(changed: Any) -> None:
    """20 m/s in the main is an error; what stops the drawing stays in sight as a warning."""
    fast = {"velocity_m_s": 20.0}
    limits = {"FLOW001": own("60 m/s")}
    kept = [
        finding for finding in check(changed(site={"own_limits": limits}, pipes=fast)) if finding.rule == "LIMIT005"
    ]
    assert [finding.severity for finding in kept] == [WARNING]
    assert "By the usual one it would say: air moves at 20.0 m/s" in kept[0].message
    calm = check(changed(site={"own_limits": limits}, pipes={"velocity_m_s": 3.0}))
    (told,) = [finding for finding in calm if finding.rule == "LIMIT005"]
    assert told.severity is NOTE
    assert "would say" not in told.message
