"""The table of rules, their files, their manual pages and their tests belong together."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import Any

import pytest

import drafter
from drafter.rules import RULES, check

PACKAGE = Path(drafter.__file__).parent
NAMES = [rule.__name__.rpartition(".")[2] for rule in RULES]  # type: ignore[attr-defined]


def test_every_rule_file_is_in_the_table_once() -> None:
    files = {path.stem for path in (PACKAGE / "rules").glob("*.py")} - {
        "__init__",
        "rule",
        "own_limits",
        "label_limits",
    }
    assert sorted(NAMES) == sorted(files)


@pytest.mark.parametrize("name", NAMES)
def test_every_rule_has_its_test(name: str) -> None:
    """It has functions that test it, and holds designs against the rule, in a file of the rule's name."""
    tree = ast.parse((Path(__file__).parent / f"test_{name}.py").read_text(encoding="utf-8"))
    assert any(isinstance(part, ast.FunctionDef) and part.name.startswith("test_") for part in tree.body)
    assert name in {alias.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names}


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_the_docstring_is_a_manual_page(rule: Any) -> None:
    heads = re.findall(r"^(Why|Passes|Fails): ", rule.__doc__, re.MULTILINE)
    assert heads == ["Why", "Passes", "Fails"]


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_a_rule_names_its_source_and_the_severities_it_gives(rule: Any) -> None:
    tree = ast.parse(Path(rule.__file__).read_text(encoding="utf-8"))
    body = [part for part in tree.body if "RULE" not in [ast.unparse(t) for t in getattr(part, "targets", [])]]
    names = {node.id for part in body for node in ast.walk(part) if isinstance(node, ast.Name)}
    used = names & {"ERROR", "WARNING", "NOTE"}
    assert rule.RULE.source
    assert {severity.name for severity in rule.RULE.severities} == used
    assert list(rule.RULE.severities) == sorted(rule.RULE.severities, reverse=True)
    if rule.RULE.threshold is not None:
        assert rule.RULE.threshold.limit.source


def test_ids_are_well_formed_and_used_by_one_file_each() -> None:
    ids = [rule.RULE.id for rule in RULES]
    assert len(set(ids)) == len(ids)
    assert all(re.fullmatch(r"[A-Z]{3,5}\d{3}", id) for id in ids)
    elsewhere = {
        id
        for path in PACKAGE.rglob("*.py")
        if path.parent.name not in ("rules", "model")
        for id in re.findall(r'"([A-Z]{3,5}\d{3})"', path.read_text(encoding="utf-8"))
    }
    assert not elsewhere & set(ids)


def test_the_workshop_of_these_tests_keeps_every_rule(design: Any) -> None:
    assert check(design) == ()


def test_check_returns_what_all_rules_find(changed: Any) -> None:
    found = check(changed(main={"fall": 0.0}, compressor={"cut_out_pa": 9.5e5}))
    assert [finding.rule for finding in found] == ["PLANT002", "FALL001"]
