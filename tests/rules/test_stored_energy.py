from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import stored_energy as rule
from drafter.standards.receiver import stored_energy_j


@pytest.mark.parametrize("energy_kj, found", [(32.7, []), (100.0, []), (100.1, ["note"])])
def test_limit(changed: Any, severities: Any, energy_kj: float, found: list[str]) -> None:
    assert severities(rule, changed(supply={"stored_energy_j": energy_kj * 1000})) == found


def test_95_litres_at_8_bar_pass_and_100_litres_do_not(changed: Any, severities: Any) -> None:
    for litres, found in ((95.0, []), (100.0, ["note"])):
        assert severities(rule, changed(supply={"stored_energy_j": stored_energy_j(litres / 1000, 8e5)})) == found
