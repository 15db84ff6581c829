"""What an engineering rule is made of: its identity, and the one way it makes findings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from drafter.finding import Finding, Place, Severity
from drafter.quantity import Kind, QuantityError, parse
from drafter.site.model import Site
from drafter.site.model.own_limits import OwnLimit
from drafter.standards.limits import Limit
from drafter.standards.rule_sets import RuleSet, rule_set
from drafter.supports.design import Design

NOTE, WARNING, ERROR = Severity.NOTE, Severity.WARNING, Severity.ERROR

_SAME = 1e-3
"""Share by which two written limits may differ and be the same: 30 psi and 2.07 bar, 3 ft and 914 mm."""


@dataclass(frozen=True, slots=True)
class Threshold:
    """The value where a rule begins to speak; a site may set its own.

    Attributes:
        limit: in the SI unit of its kind, with its source; pressures gauge.
        kind: of quantity.
        more: what else there is to say of it, such as another value for another case.
        of_set: which value of the site's set of rules is the usual one; None where sets do not differ.
        least: the value is the least that passes, not the most.
    """

    limit: Limit
    kind: Kind
    more: str = ""
    of_set: Callable[[RuleSet], Limit] | None = None
    least: bool = False

    def usual(self, site: Site) -> Limit:
        """Return the value that holds where a site sets none of its own."""
        return self.limit if self.of_set is None else self.of_set(rule_set(site.rule_set))

    def loosened(self, site: Site, value: float) -> bool:
        """Whether a value lets more pass than the usual one."""
        usual = self.usual(site).value
        return value < usual * (1.0 - _SAME) if self.least else value > usual * (1.0 + _SAME)


@dataclass(frozen=True, slots=True)
class Rule:
    """Identity of a rule.

    Attributes:
        id: three to five capitals and three digits, never used twice.
        title: the fault it looks for.
        source: the standard, law or practice behind it.
        severities: those of its findings, the worst first.
        threshold: that a site may set; None where there is no single value.
        firm: a rule that guards people: no site may set its limit or leave it out.
        guards: a rule that guards people: a site may tighten its limit, not loosen it, nor leave the rule out.
    """

    id: str
    title: str
    source: str
    severities: tuple[Severity, ...]
    threshold: Threshold | None = None
    firm: bool = False
    guards: bool = False

    def limit(self, site: Site, usual: Limit | None = None) -> Limit:
        """Return the value a site is held against: its own, else the usual one of the case, else the threshold's.

        What a site may not set does not count.

        Raises:
            ValueError: the rule has no threshold.
        """
        if self.threshold is None:
            raise ValueError(f"{self.id} has no threshold")
        own = (site.own_limits or {}).get(self.id)
        value = None if own is None or self.firm else self.own_value(own)
        if own is None or value is None or (self.guards and self.threshold.loosened(site, value)):
            return usual or self.threshold.usual(site)
        return Limit(value, f"set for this site: {own.reason}")

    def own_value(self, own: OwnLimit) -> float | None:
        """Return what a site sets, in the SI unit of the threshold's kind; None where it cannot be read."""
        try:
            return parse(own.limit, self.threshold.kind).value if self.threshold and own.limit else None
        except QuantityError:
            return None

    def broken_step(
        self, site: Site, value: float, steps: Sequence[tuple[Limit, Severity]], slack: float = 1.0
    ) -> tuple[Limit, Severity] | None:
        """Return the limit that a value is above and what that counts as, of steps from the worst down.

        A site's own limit says where the rule begins to speak; what lies above counts as ever.

        Args:
            slack: factor on the limits.
        """
        mildest = steps[-1][1]
        begins = self.limit(site)
        if value <= begins.value * slack:
            return None
        broken = next((step for step in steps if value > step[0].value * slack), (begins, mildest))
        return broken if broken[0].value >= begins.value else (begins, broken[1])

    def finding(
        self,
        severity: Severity,
        place: Place,
        message: str,
        *,
        measured: str,
        limit: str,
        fix: str,
        write: str = "",
        subject: str = "",
        source: str = "",
    ) -> Finding:
        said = source or self.source
        return Finding(self.id, severity, place, message, subject, measured, limit, fix, write=write, source=said)


class RuleFile(Protocol):
    """A module of this folder: its docstring is the rule's manual page."""

    RULE: Rule

    def check(self, design: Design) -> Iterator[Finding]:
        """Yield what breaks the rule; nothing where the design keeps it."""
