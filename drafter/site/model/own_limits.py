"""What a site sets for itself against the rules: another limit, or a rule left out, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.reader import Entry, TextForm, WordForm, key

RULE_ID = r"[A-Z]{3,5}\d{3}"


@dataclass(frozen=True, kw_only=True)
class OwnLimit(Entry):
    """Another limit for a rule, or that it is left out. The reason is printed on report and sheets."""

    limit: str = key("limit", TextForm("8 m/s", 40), "", "where the rule begins to speak, in its own unit")
    skip: str = key("skip", WordForm(("no", "yes")), "no", "yes: the rule is left out, and printed as left out")
    reason: str = key("reason", TextForm("the maker allows it in writing", 120), meaning="printed on report and sheets")
