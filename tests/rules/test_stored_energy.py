from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import stored_energy as rule
from drafter.standards.receiver import stored_energy_j


@pytest.mark.parametrize("tank_kj, piping_kj, found", [(25.0, 7.7, []), (60.0, 40.0, []), (60.0, 40.1, ["note"])])
def test_tank_and_piping_count_together(
    design: Any, changed: Any, severities: Any, tank_kj: float, piping_kj: float, found: list[str]
) -> None:
    leaks = replace(design.network.leaks, tank_energy_j=tank_kj * 1000, piping_energy_j=piping_kj * 1000)
    assert severities(rule, changed(network={"leaks": leaks})) == found


def test_95_litres_at_8_bar_pass_and_100_litres_do_not(design: Any, changed: Any, severities: Any) -> None:
    for litres, found in ((95.0, []), (100.0, ["note"])):
        energy_j = stored_energy_j(litres / 1000, 8e5)
        leaks = replace(design.network.leaks, tank_energy_j=energy_j, piping_energy_j=0.0)
        assert severities(rule, changed(network={"leaks": leaks})) == found
