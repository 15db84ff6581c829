"""What the tank must hold, the answer for whole sites, and the words against the numbers."""

from __future__ import annotations

import dataclasses
import math
import re
from itertools import pairwise
from pathlib import Path

import pytest

from drafter.layout import lay_out
from drafter.quantity import Units
from drafter.site import read
from drafter.sizing import Network, size
from drafter.sizing.cases import Piping
from drafter.sizing.demand import Case
from drafter.sizing.sizing import piping_of
from drafter.sizing.tank_need import ToolAtWork, tank_need
from drafter.sizing.tank_words import tank_words
from drafter.sizing.tool_end import tool_end

SITE = """
site: Tank room (invented)
rooms: {room: {size: [12 m, 8 m], ceiling: 3.2 m, warmest: 20 degC}}
compressor: {wall: north, from left: 0.4 m, power: 2.2 kW, free air: 4 l/s, cut in: 7 bar, cut out: 8.5 bar,
  tank: 100 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube type L, height: 2.6 m, size: 1/2, drop size: "3/8"}
outlets:
  - {tag: N1, wall: north, from left: 6 m, tools: [blow gun]}
  - {tag: W2, wall: east, from left: 4 m,
     tools: [{tool: orbital sander, use: 15 %}, {tool: ratchet wrench, pressure: 6 bar}]}
demand: {at once: 2}
"""
WORK = """
work:
  length: 60 min
  runs:
    - {outlet: W2, tool: orbital sander, from: 2 min, for: 20 min}
    - {outlet: n1, from: 5 min, for: 30 s, every: 5 min}
"""


def network(text: str) -> Network:
    site, findings = read(text, "tank.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return size(layout)[0]


@pytest.mark.parametrize("above_pa, enough", [(200.0, True), (-200.0, False)])
def test_what_the_tank_must_hold_is_what_the_solver_then_leaves(above_pa: float, enough: bool) -> None:
    """Solved anew with the tank at that pressure, the outlet has its pressure; a little lower, it has not."""
    site, _ = read(SITE, "tank.yaml")
    assert site is not None
    layout, _ = lay_out(site)
    assert layout is not None
    piping, found = piping_of(layout), size(layout)[0]
    sizes = [found.sizes[section.runs[0].id] for section in piping.sections.sections]
    tools = [ToolAtWork("N1", "gun", 0.005, 4e5), ToolAtWork("W2", "sander", 0.009, 6e5)]
    needs = tank_need(piping, sizes)(tools)
    case = Case("both", {each.outlet: each.free_air_m3_s for each in tools})
    for tool, need_pa in zip(tools, needs, strict=True):
        assert need_pa > tool.needed_pa
        filled = Piping(piping.sections, piping.demand, need_pa + above_pa + 101325.0, piping.temperature_k)
        left_pa = filled.at_coupling_pa(filled.solve(sizes, case), tool.outlet)
        outlet = next(each for each in site.outlets if each.tag == tool.outlet)
        end = tool_end(outlet, left_pa, tool.free_air_m3_s, piping.temperature_k)
        assert (end.at_tool_pa - 101325.0 >= tool.needed_pa) is enough


def test_treatment_and_service_add_to_the_need_and_a_regulator_caps_it() -> None:
    plain = network(SITE).tank.together.needed_at_tank_pa
    treated = network(SITE + "treatment: [{kind: filter, drop: 0.2 bar}]\n").tank.together.needed_at_tank_pa
    assert treated == pytest.approx(plain + 0.2e5, abs=2e3)
    held = network(SITE + "treatment: [{kind: regulator, set: 5 bar, drop: 0 bar}]\n").tank
    assert [(s.tools[0].tool, s.lasts_s) for s in held.singles if s.needed_at_tank_pa == math.inf] == [
        ("orbital sander", 0.0),
        ("ratchet wrench", 0.0),
    ]


def test_each_tool_alone_and_the_hungriest_set_are_answered() -> None:
    tank = network(SITE).tank
    assert [(s.tools[0].outlet, s.tools[0].tool) for s in tank.singles] == [
        ("N1", "blow gun"),
        ("W2", "orbital sander"),
        ("W2", "ratchet wrench"),
    ]
    assert {(tool.outlet, tool.tool) for tool in tank.together.tools} == {("N1", "blow gun"), ("W2", "orbital sander")}
    assert tank.together.lasts_s < min(single.lasts_s for single in tank.singles)
    assert tank.work is None


def test_leakage_is_its_share_of_the_average_without_growth() -> None:
    found = network(SITE)
    tools = found.supply.average_m3_s / 1.2 * 0.9
    assert found.tank.leakage_m3_s == pytest.approx(tools / 9)
    assert found.tank.motor.demand_m3_s == pytest.approx(found.supply.average_m3_s)


def test_the_tank_is_as_warm_as_its_room() -> None:
    cold, warm = (network(SITE.replace("warmest: 20", f"warmest: {t}")).tank for t in (20, 40))
    assert warm.tank.temperature_k == 313.15
    assert warm.together.lasts_s < cold.together.lasts_s


def test_a_pattern_runs_each_tool_as_often_as_it_fits() -> None:
    work = network(SITE + WORK).tank.work
    assert work is not None
    guns = [run.start_s for run in work.runs if run.tool.outlet == "N1"]
    assert guns == [300.0 * number for number in range(1, 12)]
    assert all(b.start_s == a.end_s for a, b in pairwise(work.stretches))
    assert work.shortages[0].run.tool.tool == "orbital sander"


def words(text: str, imperial: bool = False) -> tuple[Network, str]:
    found = network(text)
    return found, " ".join(tank_words(found.tank, Units(imperial)))


def minutes(match: re.Match[str]) -> float:
    return float(match[1]) * {"s": 1.0, "min": 60.0, "h": 3600.0}[match[2]]


def test_words_never_say_more_than_the_numbers() -> None:
    found, told = words(SITE)
    for single in [*found.tank.singles, found.tank.together]:
        if single.short is None:
            continue
        who = rf"the {single.short.tool} at {single.short.outlet}" + (", alone" if len(single.tools) == 1 else " runs")
        sentence = re.search(rf"(?i:{who}).*?tank is full after [^.]*(?:\.5)?[^.]*\.", told)
        assert sentence, told
        runs, wait = re.search(r"runs ([\d.]+) (\w+)", sentence[0]), re.search(r"after ([\d.]+) (\w+)", sentence[0])
        assert runs
        assert wait
        assert single.lasts_s - 60.0 < minutes(runs) <= single.lasts_s
        assert single.wait_s <= minutes(wait) < single.wait_s + 60.0
        assert f"{single.short.needed_pa / 1e5:.2f} bar" in sentence[0]
    assert f"{found.tank.motor.duty * 100:.0f} % of the time" in told
    assert "leakage and growth included" in told


def test_words_of_a_pattern() -> None:
    found, told = words(SITE + WORK)
    work, motor = found.tank.work, found.tank.motor
    assert work is not None
    shortage = work.shortages[0]
    runs = re.search(r"The orbital sander at W2, begun after 2 min, runs ([\d.]+) (\w+) before the pressure", told)
    assert runs
    assert shortage.at_s - 120.0 - 60.0 < minutes(runs) <= shortage.at_s - 120.0
    assert f"Lowest in the tank in the first pass: {work.lowest[0] / 1e5:.2f} bar" in told
    later = found.tank.later
    assert later is not None
    assert f"from {later.stretches[0].start_pa / 1e5:.2f} bar:" in told
    assert f"Lowest in the tank in it: {later.lowest[0] / 1e5:.2f} bar" in told
    assert f"the motor runs {motor.duty * 100:.0f} % of the time" in told
    assert f"{work.air_used_m3 * 1000:.0f} l of free air" in told


def test_a_pattern_that_keeps_every_pressure_says_so() -> None:
    wide = (SITE + WORK).replace("tag: W2,", "tag: W2, coupling: 3/8,").replace("20 min", "20 s")
    told = words(wide)[1]
    assert "Every tool of the work pattern has its pressure all the time" in told
    assert "falls below" not in told


def test_words_where_waiting_does_not_help() -> None:
    text = SITE.replace(
        "[{tool: orbital sander, use: 15 %}, {tool: ratchet wrench, pressure: 6 bar}]",
        "[{tool: press, free air: 1 l/s, pressure: 7.5 bar}]",
    )
    assert "waiting does not fill the tank" in words(text)[1]
    assert "more than the cut-out" in words(text.replace("pressure: 7.5", "pressure: 8.9"))[1]


def test_words_of_a_motor_that_never_stops() -> None:
    small = SITE.replace("free air: 4 l/s", "free air: 1.5 l/s")
    assert "the motor never stops, and does not keep up" in words(small)[1]


def test_words_in_inch_pound_units() -> None:
    told = words(SITE + WORK, True)[1]
    assert " psi" in told
    assert " cfm" in told
    assert "ft³ of free air" in told
    assert not re.search(r"\d (bar|l/s|l)\b", told)


def test_the_answer_stands_for_sites_without_a_pattern_too() -> None:
    for path in sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml")):
        tank = network(path.read_text(encoding="utf-8")).tank
        assert tank.shown.stretches
        assert all(math.isfinite(v) for s in tank.shown.stretches for v in (s.start_s, s.end_s, s.start_pa, s.end_pa))
        assert dataclasses.replace(tank) == tank
