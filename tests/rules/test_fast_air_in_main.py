from __future__ import annotations

from typing import Any

import pytest

from drafter.layout.graph import RunKind
from drafter.rules import fast_air_in_main as rule


@pytest.mark.parametrize(
    "velocity_m_s, found",
    [
        (3.0, []),
        (6.0, []),
        (6.3, []),
        (6.31, ["note"]),
        (9.0, ["note"]),
        (9.46, ["warning"]),
        (15.0, ["warning"]),
        (15.76, ["error"]),
    ],
)
def test_limits(changed: Any, severities: Any, velocity_m_s: float, found: list[str]) -> None:
    assert severities(rule, changed(pipes={"velocity_m_s": velocity_m_s})) == found


def test_only_the_main_line_counts(changed: Any, severities: Any, design: Any) -> None:
    fast = changed(pipes={"velocity_m_s": 20.0}).network
    pipes = tuple(
        fast_pipe if run.outlet or run.kind is RunKind.FLEXIBLE else pipe
        for run, fast_pipe, pipe in zip(fast.layout.runs, fast.pipes, design.network.pipes, strict=True)
    )
    assert severities(rule, changed(network={"pipes": pipes})) == []
