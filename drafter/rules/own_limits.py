"""Limits that a site sets for itself: whether they can be used, and how they are kept in sight."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from drafter.finding import Finding, Severity
from drafter.quantity import QuantityError, parse
from drafter.reader import nearest_hint
from drafter.rules.rule import Rule
from drafter.site.model import Site
from drafter.site.model.own_limits import OwnLimit

KEPT_IN_SIGHT = "LIMIT005"
_SOURCE = "as the site file says"
_KEEP = "take it out, and do what the rule asks; its finding stays in the report as a reminder"


def check_own_limits(site: Site, rules: Mapping[str, Rule]) -> Iterator[Finding]:
    """Yield LIMIT001 to LIMIT004, and LIMIT006, for limits that have no effect or must have none."""
    for id, own in (site.own_limits or {}).items():
        rule = rules.get(id)
        if rule is None:
            fix = f"{nearest_hint(id, rules)}'drafter explain' lists the rules"
            yield _error("LIMIT001", own, "", f"there is no engineering rule {id}", fix)
        elif rule.firm:
            fix = f"take it out; 'drafter explain {id}' says why the rule is there"
            yield _error(
                "LIMIT004", own, "", f"{id} ({rule.title}) guards people: no site sets it or leaves it out", fix
            )
        elif rule.guards and own.skip == "yes":
            yield _error("LIMIT006", own, "skip", f"{id} ({rule.title}) guards people: no site leaves it out", _KEEP)
        elif bool(own.limit) == (own.skip == "yes"):
            said = "both another limit and 'skip: yes'" if own.limit else "neither another limit nor 'skip: yes'"
            fix = "write one of the two, with its reason"
            yield _error("LIMIT003", own, "limit", f"of {id} the site file gives {said}", fix)
        elif own.limit:
            yield from _unusable_value(id, rule, own, site)


def _unusable_value(id: str, rule: Rule, own: OwnLimit, site: Site) -> Iterator[Finding]:
    if rule.threshold is None:
        fix = (
            _KEEP
            if rule.guards
            else f"write 'skip: yes' with the reason to leave it out; 'drafter explain {id}' says what passes"
        )
        yield _error("LIMIT002", own, "limit", f"{id} ({rule.title}) has no single value to set", fix)
        return
    try:
        value = parse(own.limit, rule.threshold.kind).value
    except QuantityError as error:
        yield _error("LIMIT002", own, "limit", f"the limit of {id} cannot be read: {error}", error.fix)
        return
    if rule.guards and rule.threshold.loosened(site, value):
        usual = site.units.of_kind(rule.threshold.kind, rule.threshold.usual(site).value)
        side = "a larger" if rule.threshold.least else "a smaller"
        message = f"{id} ({rule.title}) guards people: a site may tighten it, not loosen it to {own.limit}"
        yield _error("LIMIT006", own, "limit", message, f"write {side} one than the usual {usual}, or take it out")


def _error(id: str, own: OwnLimit, attribute: str, message: str, fix: str) -> Finding:
    return Finding(id, Severity.ERROR, own.where(attribute), message, "limits", fix=fix, source=_SOURCE)


def with_own_limit(
    site: Site, rule: Rule, found: Sequence[Finding], by_usual: Callable[[], Sequence[Finding]]
) -> Iterator[Finding]:
    """Yield what a rule found, and LIMIT005 where the site sets its limit; of a rule left out that alone.

    Args:
        by_usual: what it finds with its usual limit.
    """
    own = (site.own_limits or {}).get(rule.id)
    if own is None or rule.firm:
        yield from found
    elif own.skip == "yes" and not own.limit and not rule.guards:
        yield _left_out(rule, own, found)
    else:
        yield from found
        value = rule.own_value(own)
        if rule.threshold is None or value is None or (rule.guards and rule.threshold.loosened(site, value)):
            return
        usual = by_usual() if not found and rule.threshold.loosened(site, value) else ()
        yield _set(rule, own, value, site, usual)


def _left_out(rule: Rule, own: OwnLimit, found: Sequence[Finding]) -> Finding:
    """A rule left out; a warning where it would have stopped the drawing."""
    worst = max((finding.severity for finding in found), default=Severity.NOTE)
    first = found[0].message if found else "nothing here breaks it"
    more = f", and {len(found) - 1} more" if len(found) > 1 else ""
    return Finding(
        KEPT_IN_SIGHT,
        Severity.WARNING if worst is Severity.ERROR else Severity.NOTE,
        own.where("skip"),
        f"{rule.id} ({rule.title}) is left out: {own.reason}. It would say: {first}{more}",
        rule.id,
        "left out",
        rule.source,
        "take 'skip' out when the reason no longer holds",
        source=_SOURCE,
    )


def _set(rule: Rule, own: OwnLimit, value: float, site: Site, found: Sequence[Finding]) -> Finding:
    """A limit of the site's own; a warning where it lets pass what would have stopped the drawing."""
    worst = max((finding.severity for finding in found), default=Severity.NOTE)
    would = f". By the usual one it would say: {found[0].message}" if found else ""
    more = f", and {len(found) - 1} more" if len(found) > 1 else ""
    assert rule.threshold is not None
    kind = rule.threshold.kind
    ours, usual = (site.units.of_kind(kind, each) for each in (value, rule.threshold.usual(site).value))
    return Finding(
        KEPT_IN_SIGHT,
        Severity.WARNING if worst is Severity.ERROR else Severity.NOTE,
        own.where("limit"),
        f"{rule.id} ({rule.title}) is held against {ours}, usual is {usual}: {own.reason}{would}{more}",
        rule.id,
        ours,
        usual,
        "take it out when the reason no longer holds",
        source=_SOURCE,
    )
