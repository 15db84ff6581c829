from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.layout.graph import NodeKind
from drafter.rules import outlet_out_of_reach as rule


@pytest.mark.parametrize("height_m, found", [(1.2, 0), (1.8, 0), (1.81, 2), (0.381, 0), (0.37, 2)])
def test_limits(raised: Any, severities: Any, height_m: float, found: int) -> None:
    assert severities(rule, raised(NodeKind.COUPLING, height_m)) == ["note"] * found


def test_reels_hang_high(raised: Any, severities: Any) -> None:
    design = raised(NodeKind.COUPLING, 2.3)
    layout = design.network.layout
    outlets = tuple(replace(outlet, reach_m=12.0) for outlet in layout.site.outlets)
    layout = replace(layout, site=replace(layout.site, outlets=outlets))
    assert severities(rule, replace(design, network=replace(design.network, layout=layout))) == []
