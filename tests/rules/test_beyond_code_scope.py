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


@pytest.mark.parametrize("outlet_deg_f, found", [(199, []), (200, []), (201, ["warning"]), (212, ["warning"])])
def test_200_deg_f_where_the_air_leaves_the_tank(
    changed: Any, severities: Any, outlet_deg_f: float, found: list[str]
) -> None:
    """25 K above the room; 200 degF is 366.48 K, as a trade summary of ASME B31.9 has it."""
    warmest_k = (outlet_deg_f - 32.0) / 1.8 + 273.15 - 25.0
    assert severities(rule, changed(room={"warmest_k": warmest_k})) == found
