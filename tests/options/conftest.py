"""Sites to compare choices of, and options made up for the rule."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any, Protocol

import pytest

from drafter.finding import Finding, Place, Severity
from drafter.options.comparing import Comparison, compare
from drafter.options.variant import AS_GIVEN, MATERIAL, Option, Variant

TOP = Path(__file__).parents[2]
YARD = (TOP / "tests" / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")


class MakeOption(Protocol):
    def __call__(self, id: str, *, errors: int = 0, warnings: int = 0, **figures: Any) -> Option: ...


@pytest.fixture(scope="session")
def yard_text() -> str:
    return YARD


@pytest.fixture(scope="session")
def yard() -> Comparison:
    return compare(YARD, "yard.yaml")


@pytest.fixture(scope="session")
def made_up(yard: Comparison) -> MakeOption:
    """Make an option of an invented outcome; number 1 is the job as given, the others change the material."""
    usual = yard.options[0].figures
    assert usual is not None

    def make(id: str, *, errors: int = 0, warnings: int = 0, **figures: Any) -> Option:
        found = [Finding("WALL001", Severity.ERROR, Place(), "it falls down")] * errors
        found += [Finding("WALL002", Severity.WARNING, Place(), "it leans")] * warnings
        variant = Variant(AS_GIVEN, "as given") if id == "1" else Variant(MATERIAL, id, {"material": id})
        return Option(id, variant, tuple(found), replace(usual, **figures))

    return make
