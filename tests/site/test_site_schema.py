"""The JSON Schema of site files: kept fresh, true of the examples, and false of plain mistakes."""

from __future__ import annotations

import json
import runpy
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from drafter.site import site_schema

TOP = Path(__file__).parents[2]
EXAMPLES = sorted((TOP / "example_sites").glob("*.yaml"))


class _WholeNumbersAndTexts(yaml.SafeLoader):
    """Reads as editors do that know YAML 1.2: whole numbers, and texts for all else."""

    yaml_implicit_resolvers = {}  # noqa: RUF012


_WholeNumbersAndTexts.add_implicit_resolver(
    "tag:yaml.org,2002:int", __import__("re").compile(r"\d+$"), list("0123456789")
)


def loaded(text: str) -> Any:
    return yaml.load(text, Loader=_WholeNumbersAndTexts)


def mistakes(text: str) -> list[str]:
    validator = jsonschema.Draft202012Validator(site_schema())
    return [error.message for error in validator.iter_errors(loaded(text))]


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(site_schema())


def test_the_published_schema_is_fresh() -> None:
    renew = runpy.run_path(str(TOP / "tests" / "renew_schema.py"))
    assert renew["FILE"].read_text(encoding="utf-8") == renew["schema_text"]()
    assert json.loads(renew["schema_text"]()) == site_schema()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_keep_to_it(path: Path) -> None:
    assert mistakes(path.read_text(encoding="utf-8")) == []


def test_the_shed_keeps_to_it(shed: str) -> None:
    assert mistakes(shed) == []


@pytest.mark.parametrize(
    "good, bad",
    [
        ("ceiling: 3 m", "ceiling: 3"),
        ("ceiling: 3 m", "ceiling: high"),
        ("ceiling: 3 m", "cieling: 3 m"),
        ("size: [6 m, 4 m]", "size: [6 m]"),
        ("size: [6 m, 4 m]", "size: 6 m"),
        ("kind: door", "kind: dor"),
        ("power: 1.5 kW, ", ""),
        ("tag: A1, ", ""),
        ("main:", "mane:"),
        ("tools: [blow gun]", "tools: {blow gun: 1}"),
    ],
)
def test_plain_mistakes_do_not(good: str, bad: str, shed: str) -> None:
    assert good in shed
    assert mistakes(shed.replace(good, bad)) != []
