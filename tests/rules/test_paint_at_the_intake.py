from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import paint_at_the_intake as rule


@pytest.mark.parametrize(
    "tool, outlet, found",
    [("spray gun", "", ["note"]), ("blow gun", "", []), ("drill", ", air for: paint", ["note"])],
)
def test_in_the_room_of_the_compressor(drawn: Any, severities: Any, tool: str, outlet: str, found: list[str]) -> None:
    assert severities(rule, drawn("filter", tool=tool, outlet=outlet)) == found


@pytest.mark.parametrize("room, found", [("shop", ["note"]), ("booth", [])])
def test_another_room_passes(changed: Any, severities: Any, room: str, found: list[str]) -> None:
    assert severities(rule, changed(outlets={"room": room, "air_for": "paint"})) == found
