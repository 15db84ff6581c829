from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.layout.graph import RunKind
from drafter.rules import narrow_tank_port as rule
from drafter.rules.rule import Threshold
from drafter.standards.limits import Limit

PORT = ", connection: {{from left: 1.7 m, height: 0.6 m{thread}}}"


def plant(thread: str) -> str:
    return PORT.format(thread=f", thread: {thread}" if thread else "")


@pytest.mark.parametrize("thread, found", [("", 0), ("1/2", 0), ("3/8", 0), ("1/4", 1)])
def test_threads(drawn: Any, severities: Any, thread: str, found: int) -> None:
    design = drawn(plant=plant(thread), tool="{tool: bench rig, free air: 24 l/s, pressure: 5 bar, use: 10 %}")
    assert severities(rule, design) == ["warning"] * found


def test_the_loss_by_hand(drawn: Any) -> None:
    """A quarter-inch port has 9.2456 mm of bore (ASME B36.10); the rest is the ideal gas law and 1.5 rho v2/2."""
    design = drawn(plant=plant("1/4"), tool="{tool: bench rig, free air: 24 l/s, pressure: 5 bar, use: 10 %}")
    site = design.network.layout.site
    (run,) = [run for run in design.network.layout.runs if run.kind is RunKind.FLEXIBLE]
    absolute_pa = site.compressor.cut_in_pa + 101325.0
    rho = absolute_pa / (287.05 * 293.15)
    actual_m3_s = design.network.pipe(run.id).free_air_m3_s * 1e5 / absolute_pa
    speed = actual_m3_s / (3.14159265 / 4.0 * 0.0092456**2)
    assert rule.port_loss_pa(design) == pytest.approx(1.5 * rho * speed**2 / 2.0, rel=0.003)


@pytest.mark.parametrize("share, found", [(1.001, 0), (1.0, 0), (0.999, 1)])
def test_at_the_limit(drawn: Any, severities: Any, monkeypatch: Any, share: float, found: int) -> None:
    design = drawn(plant=plant("1/4"), tool="{tool: bench rig, free air: 24 l/s, pressure: 5 bar, use: 10 %}")
    limit = Limit(rule.port_loss_pa(design) * share, "the value itself")
    kind = rule.RULE.threshold.kind  # type: ignore[union-attr]
    monkeypatch.setattr(rule, "RULE", replace(rule.RULE, threshold=Threshold(limit, kind)))
    assert severities(rule, design) == ["warning"] * found
