from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.layout.graph import RunKind
from drafter.rules import low_main as rule


def lowered(changed: Any, underside_m: float) -> Any:
    """The design with its main moved so that its lowest underside is there."""
    network = changed().network
    layout = network.layout
    mains = [run for run in layout.runs if run.kind is RunKind.MAIN]
    lowest = min(layout.nodes[run.end].at.z - network.sizes[run.id].outside_m / 2 for run in mains)
    nodes = {
        id: replace(node, at=node.at._replace(z=node.at.z + underside_m - lowest)) for id, node in layout.nodes.items()
    }
    return changed(network={"layout": replace(layout, nodes=nodes)})


@pytest.mark.parametrize("underside_m, found", [(2.4, []), (2.1, []), (2.099, ["note"]), (1.5, ["note"])])
def test_headroom(changed: Any, severities: Any, underside_m: float, found: list[str]) -> None:
    assert severities(rule, lowered(changed, underside_m)) == found
