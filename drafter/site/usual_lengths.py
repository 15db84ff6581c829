"""Lengths that a site leaves open, in the round inches a fitter takes where the job is in feet and inches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

from drafter.quantity import Kind
from drafter.quantity.kinds import INCH_M
from drafter.reader import Entry, QuantityForm, keys_of
from drafter.site.model import Hose
from drafter.site.model.forms import PRACTICE

ROUNDED = (PRACTICE, "from memory")
"""Sources of defaults that fix no figure: 200 mm may as well be 8 in."""

LEAST_M, COARSE_FROM_M = 0.025, 0.1
"""What is shorter stays; from here on lengths are taken on even inches, below on half inches (common practice)."""

AnyEntry = TypeVar("AnyEntry", bound=Entry)


def in_round_inches(entry: AnyEntry) -> AnyEntry:
    """Return an entry, and all within it, with the usual lengths it left open in round inches."""
    changes: dict[str, Any] = {}
    for key in keys_of(type(entry)).values():
        value, form = getattr(entry, key.name), key.metadata["form"]
        if isinstance(value, float):
            open_ = key.name in entry.defaults and key.metadata["source"] in ROUNDED
            if open_ and isinstance(form, QuantityForm) and form.kind is Kind.LENGTH and value >= LEAST_M:
                changes[key.name] = _rounded_m(value)
        elif (within := _within(value)) is not value:
            changes[key.name] = within
    return replace(entry, **changes) if changes else entry


def _within(value: Any) -> Any:
    """The same for entries alone, in groups and by name; hoses are sold by the metre or foot and stay."""
    if isinstance(value, Entry):
        return value if isinstance(value, Hose) else in_round_inches(value)
    if isinstance(value, tuple) and any(isinstance(each, Entry) for each in value):
        return tuple(_within(each) for each in value)
    if isinstance(value, Mapping) and any(isinstance(each, Entry) for each in value.values()):
        return {name: _within(each) for name, each in value.items()}
    return value


def _rounded_m(length_m: float) -> float:
    step_m = (2.0 if length_m >= COARSE_FROM_M else 0.5) * INCH_M
    return round(length_m / step_m) * step_m
