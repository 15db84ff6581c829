from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import rusting_pipe as rule
from drafter.standards.materials import material as material_of


@pytest.mark.parametrize(
    "material, treatment, outlet, found",
    [
        ("steel pipe schedule 40", "filter", "", ["note"]),
        ("steel pipe schedule 40", "filter", ", service: [filter]", []),
        ("steel pipe schedule 40", "filter", ", service: [regulator]", ["note"]),
        ("steel pipe schedule 40", "refrigeration dryer", "", []),
        ("copper tube", "filter", "", []),
    ],
)
def test_what_rusts(drawn: Any, severities: Any, material: str, treatment: str, outlet: str, found: list[str]) -> None:
    design = drawn(treatment, outlet=outlet)
    if material.startswith("steel"):
        design = replace(design, network=replace(design.network, material=material_of(material)))
    assert severities(rule, design) == found
