from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import beyond_code_scope as rule

PSI_PA = 6894.757293168361


@pytest.mark.parametrize(
    "relief_pa, found", [(10e5, []), (150 * PSI_PA, []), (10.35e5, ["warning"]), (175 * PSI_PA, ["warning"])]
)
def test_150_psi(changed: Any, severities: Any, relief_pa: float, found: list[str]) -> None:
    assert severities(rule, changed(compressor={"relief_pa": relief_pa})) == found
