from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import compressor_room_temperature as rule


@pytest.mark.parametrize(
    "coldest_deg_c, warmest_deg_c, found",
    [
        (10.0, 30.0, []),
        (4.44, 40.0, []),
        (10.0, 40.1, ["note"]),
        (10.0, 46.1, ["note"]),
        (10.0, 46.2, ["warning"]),
        (4.4, 30.0, ["note"]),
        (0.0, 50.0, ["warning", "note"]),
    ],
)
def test_limits(changed: Any, severities: Any, coldest_deg_c: float, warmest_deg_c: float, found: list[str]) -> None:
    room = {"coldest_k": coldest_deg_c + 273.15, "warmest_k": warmest_deg_c + 273.15}
    assert severities(rule, changed(room=room)) == found
