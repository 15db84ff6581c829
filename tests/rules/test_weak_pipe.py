from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import weak_pipe as rule
from drafter.standards.materials import material

POLYAMIDE = material("polyamide tube")


def polyamide(changed: Any, warmest_deg_c: float, relief_bar: float, size: str = "28 x 2.5") -> Any:
    tube = POLYAMIDE.find_size(size)
    sizes = {run.id: tube for run in changed().network.layout.runs}
    return changed(
        network={"material": POLYAMIDE, "sizes": sizes},
        room={"warmest_k": warmest_deg_c + 273.15},
        compressor={"relief_pa": relief_bar * 1e5},
    )


@pytest.mark.parametrize(
    "warmest_deg_c, relief_bar, found",
    [
        (23.0, 12.0, []),
        (23.0, 12.5, []),
        (23.0, 12.6, ["error"]),
        (40.0, 9.0, []),
        (40.0, 9.1, ["error"]),
        (61.0, 1.0, ["error"]),
    ],
)
def test_28_mm_polyamide_is_12_5_bar_at_23_degc_and_0_72_of_it_at_40_degc(
    changed: Any, severities: Any, warmest_deg_c: float, relief_bar: float, found: list[str]
) -> None:
    assert severities(rule, polyamide(changed, warmest_deg_c, relief_bar)) == found
