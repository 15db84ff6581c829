from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from drafter.pipeline import design as whole_design
from drafter.rules import strong_blow_gun as rule
from drafter.site.model import ServiceUnit, ToolUse, Treatment

GUN = (ToolUse(tool="air gun"),)
GUN_AND_WRENCH = (*GUN, ToolUse(tool="ratchet wrench"))
PSI_PA = 6894.757293168


def units(kinds: tuple[str, ...]) -> tuple[ServiceUnit, ...]:
    return tuple(ServiceUnit(kind=kind) for kind in kinds)


def vented(dead_end_psi: float) -> tuple[ToolUse, ...]:
    return (ToolUse(tool="blow gun", dead_end_pa=dead_end_psi * PSI_PA),)


def to_leave(pressure_psi: float) -> tuple[ToolUse, ...]:
    return (*GUN, ToolUse(tool="a sprayer of our own", pressure_pa=pressure_psi * PSI_PA))


@pytest.mark.parametrize(
    "tools, service, set_pa, found",
    [
        (GUN, (), None, 1),
        (GUN, ("regulator",), None, 0),
        (GUN, (), 206840.0, 0),
        (GUN, (), 30 * PSI_PA, 1),
        (vented(29.9), (), None, 0),
        (vented(30), (), None, 2),
        ((*vented(29.9), ToolUse(tool="ratchet wrench")), ("regulator",), None, 0),
        (GUN, (), 206850.0, 1),
        (GUN_AND_WRENCH, ("regulator",), None, 2),
        (GUN_AND_WRENCH, ("filter", "regulator"), 206840.0, 0),
        (GUN_AND_WRENCH, (), None, 1),
        (to_leave(29.9), ("regulator",), None, 0),
        (to_leave(30), ("regulator",), None, 2),
        ((ToolUse(tool="blow gun", pressure_pa=4e5),), ("regulator",), None, 2),
        ((ToolUse(tool="ratchet wrench"),), ("regulator",), None, 0),
        ((ToolUse(tool="drill"),), (), None, 0),
        ((), (), None, 0),
    ],
)
def test_limits(changed: Any, severities: Any, tools: Any, service: Any, set_pa: float | None, found: int) -> None:
    """Two outlets are named in one note on the open line, in one each behind regulators."""
    train = () if set_pa is None else (Treatment(kind="regulator", set_pa=set_pa),)
    design = changed(outlets={"tools": tools, "service": units(service)}, site={"treatment": train})
    assert severities(rule, design) == ["note"] * found


def test_a_regulator_that_serves_another_tool_is_no_help(changed: Any) -> None:
    first, _ = rule.check(changed(outlets={"tools": GUN_AND_WRENCH, "service": units(("regulator",))}))
    assert "must leave 6.30 bar gauge for the ratchet wrench" in first.message
    assert first.measured == "6.30 bar gauge"
    assert "a nozzle that holds below 30 psi (2.07 bar) dead-ended" in first.fix


def test_the_pressure_an_outlet_is_given_is_what_its_regulator_leaves(changed: Any, severities: Any) -> None:
    for pressure_pa, found in ((2e5, 0), (30 * PSI_PA, 2), (5e5, 2)):
        outlets = {"tools": GUN, "service": units(("regulator",)), "pressure_pa": pressure_pa}
        assert severities(rule, changed(outlets=outlets)) == ["note"] * found


def test_the_depot_is_told_of_its_shared_regulator() -> None:
    text = (Path(__file__).parents[2] / "example_sites" / "bus_depot.yaml").read_text(encoding="utf-8")
    told = [finding.subject for finding in whole_design(text, "depot.yaml").findings if finding.rule == "BLOW001"]
    assert told == ["N1", "E3"]


def test_the_limit_is_that_of_the_law() -> None:
    """29 CFR 1910.242(b): less than 30 psi, of 6894.757 Pa."""
    assert rule.CLEANING_PA.value == pytest.approx(30 * 6894.757, rel=1e-5)


def test_elsewhere_it_is_told_as_a_figure_of_us_law(changed: Any) -> None:
    (finding,) = rule.check(changed(outlets={"tools": GUN}, site={"rule_set": "international"}))
    assert "US law, taken as good practice" in finding.source


def test_a_nozzle_that_builds_up_too_much_is_named(changed: Any) -> None:
    first, _ = rule.check(changed(outlets={"tools": vented(30)}))
    assert first.message.startswith("the nozzle at A1 builds up 2.07 bar gauge: for cleaning it must be less than")
    assert first.fix.startswith("take one that holds below it")
