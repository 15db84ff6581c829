"""The manual: a page for every rule and every other finding, by its id.

The page of an engineering rule is its module's docstring with what its `Rule` says; those of the checks of input,
layout and take-off stand in ``checks.yaml``.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

from drafter.quantity import Units
from drafter.reader import nearest
from drafter.report.blocks import columns
from drafter.rules import RULES, Rule, RuleFile

WIDTH = 100
HEAD_WIDTH = 11
_HEADS = ("Why", "Passes", "Fails")


def manual_page(id: str) -> str | None:
    """Return the page of a finding by its id, capitals or not; None where there is none."""
    wanted = id.strip().upper()
    for rule in RULES:
        if wanted == rule.RULE.id:
            return _page(f"{wanted}  {rule.RULE.title}", _of_rule(rule))
    check = _checks().get(wanted)
    return _page(f"{wanted}  {check['title']}", _of_check(check)) if check else None


def nearest_id(id: str) -> str:
    """Return the id that was probably meant, or an empty text where none is near."""
    return nearest(id.strip().upper(), [*(rule.RULE.id for rule in RULES), *_checks()])


def manual_list() -> str:
    """Return all ids with their severities and titles: the engineering rules, then the checks."""
    rules = [(rule.RULE.id, _words(rule.RULE), rule.RULE.title) for rule in RULES]
    checks = [(id, ", ".join(check["severity"]), check["title"]) for id, check in _checks().items()]
    return "\n".join(
        [
            f"ENGINEERING RULES ({len(rules)})",
            *(f"  {line}" for line in columns(rules)),
            "",
            f"CHECKS OF INPUT, LAYOUT AND PARTS ({len(checks)})",
            *(f"  {line}" for line in columns(checks)),
            "",
            "'drafter explain FLOW001' prints the page of one.",
        ]
    )


def _page(title: str, rows: Iterator[tuple[str, str]]) -> str:
    lines = [title, ""]
    for head, text in rows:
        lines += textwrap.wrap(
            text, WIDTH, initial_indent=head.ljust(HEAD_WIDTH), subsequent_indent=" " * HEAD_WIDTH,
            break_on_hyphens=False, break_long_words=False,
        )  # fmt: skip
    return "\n".join(lines)


def _of_rule(file: RuleFile) -> Iterator[tuple[str, str]]:
    rule = file.RULE
    first, *heads = re.split(rf"^({'|'.join(_HEADS)}): ", file.__doc__ or "", flags=re.MULTILINE)
    yield "what", " ".join(first.split())
    for head, text in zip(heads[::2], heads[1::2], strict=True):
        said = " ".join(text.split())
        yield head.lower(), said[:1].upper() + said[1:]
    yield "threshold", _threshold(rule)
    yield "severity", _words(rule)
    yield "source", "; ".join(_sources(rule))
    yield "your own", _own(rule)


def _sources(rule: Rule) -> list[str]:
    """The sources of a rule and of its threshold, one that says what the other says left out."""
    limit = rule.threshold.limit.source if rule.threshold is not None else ""
    if limit in rule.source:
        return [rule.source]
    return [limit] if rule.source in limit else [rule.source, limit]


def _threshold(rule: Rule) -> str:
    if rule.threshold is None:
        return "no single value; see what passes"
    kind, value = rule.threshold.kind, rule.threshold.limit.value
    both = [units.of_kind(kind, value) for units in (Units(), Units(True))]
    said = both[0] if both[0] == both[1] else f"{both[0]} ({both[1]})"
    return f"{said}; {rule.threshold.more}" if rule.threshold.more else said


def _own(rule: Rule) -> str:
    """How a site file sets another limit or leaves the rule out."""
    if rule.firm:
        return "this rule guards people: no site file sets it or leaves it out"
    if rule.guards and rule.threshold is None:
        return "this rule guards people: no site file leaves it out"
    skip = f"leave it out with limits: {{{rule.id}: {{skip: yes, reason: ...}}}}"
    if rule.threshold is None:
        return skip
    sample = Units().of_kind(rule.threshold.kind, rule.threshold.limit.value).replace("°", "deg")
    if rule.guards:
        way = "higher" if rule.threshold.least else "lower"
        return (
            f"this rule guards people: a site file may set a {way} limit, limits: "
            f"{{{rule.id}: {{limit: {sample}, reason: ...}}}}, no looser one, and does not leave it out"
        )
    return f"set it with limits: {{{rule.id}: {{limit: {sample}, reason: ...}}}}; {skip}"


def _words(rule: Rule) -> str:
    return ", ".join(severity.word for severity in rule.severities)


def _of_check(check: dict[str, Any]) -> Iterator[tuple[str, str]]:
    yield "why", check["why"]
    for head in ("passes", "fails"):
        if head in check:
            yield head, check[head]
    yield "instead", check["instead"]
    yield "severity", ", ".join(check["severity"])
    yield "source", check.get("source", "what the program needs to work a job out")


def _checks() -> dict[str, dict[str, Any]]:
    import yaml

    text = files("drafter.report").joinpath("checks.yaml").read_text(encoding="utf-8")
    found: dict[str, dict[str, Any]] = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return found
