"""The last part of the order of work: the tests, the first air, the hand-over."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import NodeKind
from drafter.sizing.before_regulator import BeforeRegulator, before_words, nearest_drain, whole_words
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S, low_test
from drafter.sizing.ratings import weakest_pipe
from drafter.supports.design import Design
from drafter.takeoff.numbers_told import span
from drafter.takeoff.schedules import Takeoff
from drafter.takeoff.setting_out import EYES, Words
from drafter.takeoff.unit_duty import setting

_SLACK_PA = 1.0
RISING = "Nobody at the pipe while the pressure rises."


def testing(design: Design, takeoff: Takeoff) -> Iterator[Words]:
    """Yield the tests: all of the piping, then what works at more than the main does."""
    layout, leaks = design.network.layout, design.network.leaks
    if _too_weak(design):
        yield _not_tested(design)
        return
    valves = span([node.tag for node in layout.nodes.values() if node.kind is NodeKind.VALVE and node.tag != "V-01"])
    at_outlets = [
        layout.outlet_at(node)
        for node in layout.nodes.values()
        if node.kind is NodeKind.SERVICE and "regulator" in node.what
    ]
    screwed_in = f", regulators at {', '.join(at_outlets)} screwed in" if at_outlets else ""
    yield (
        "Before the test: brackets tight, all valves but V-01 open",
        f"{len(design.brackets)} brackets; {valves} open{screwed_in}; {whole_words(layout, leaks.before)}",
        "The local code decides pressure, time and witness.",
    )
    yield (
        "Low-pressure test of the piping: leak fluid on every joint",
        f"{len(takeoff.joints)} joints at {low_test(layout.site.units)}",
        f"Everyone clear while it fills. {EYES} Bleed to zero before tightening anything.",
    )
    yield (
        "Raise in steps of a quarter, waiting at each, to the leak test",
        _test_told(design, leaks.test_gauge_pa),
        f"{RISING} {_at_most(design)}",
    )
    for part in leaks.before:
        yield _before_regulator(design, part)
    yield (
        "Bleed to zero; take test hose, plugs and test gauge off, put back what they stood in for",
        f"{nearest_drain(layout, layout.runs)} back in its place; V-01 still shut and locked",
        "The gauge reads zero and a drain stands open before anything is unscrewed.",
    )


def _too_weak(design: Design) -> bool:
    return design.network.leaks.test_gauge_pa > _most_pa(design) + _SLACK_PA


def _not_tested(design: Design) -> Words:
    units, leaks = design.network.layout.site.units, design.network.leaks
    return (
        "No test, no air: the line is weaker than its pressure; settle the errors first",
        f"good for {units.pressure(_most_pa(design))} in the air of its rooms, to be tested at "
        f"{units.pressure(leaks.test_gauge_pa)}",
        "A pipe above its rating bursts.",
    )


def _before_regulator(design: Design, part: BeforeRegulator) -> Words:
    return (
        f"Bleed to zero, then test V-01 to {part.regulator} alone at what it works at, in steps as before",
        f"{_test_told(design, part.gauge_pa)}; {before_words(part)}",
        f"{RISING} {_at_most(design)} Air at {part.left_open} means that {part.regulator} lets through. "
        f"Bleed to zero; set {part.regulator} later, put {part.filled_at} back.",
    )


def _test_told(design: Design, gauge_pa: float) -> str:
    units = design.network.layout.site.units
    return (
        f"{units.pressure(gauge_pa)} for {TEST_TIME_S / 60.0:.0f} min; may lose {units.pressure_drop(ACCEPTED_FALL_PA)}"
    )


def _at_most(design: Design) -> str:
    most = design.network.layout.site.units.pressure(_most_pa(design))
    return f"Relief valve of the test hose at {most} or less, never above what the plates of the units say."


def _most_pa(design: Design) -> float:
    """What the pressure must not pass: the relief valve's setting, the rating of the weakest size."""
    return min(weakest_pipe(design.network).gauge_pa, design.network.layout.site.compressor.relief_pa)


def handover(design: Design, takeoff: Takeoff) -> Iterator[Words]:
    """Yield what is done with the first air, and what is handed over; nothing where the line may not be tested."""
    if _too_weak(design):
        return
    layout, site = design.network.layout, design.network.layout.site
    near_first = sorted(layout.couplings, key=lambda node: layout.from_tank_m[node.id])
    yield (
        "Have the set connected and started, then blow the lines out drop by drop, the nearest first",
        ", ".join(node.tag for node in near_first),
        f"An electrician connects it. {EYES} Ear protection. Point no hose at anyone, hold no hand over a jet.",
    )
    regulators = [node for node in layout.nodes.values() if "regulator" in node.what]
    served = [f"{node.tag or layout.outlet_at(node)} {setting(design.network, node)}" for node in regulators]
    if served:
        yield "Set the regulators with a tool running", ", ".join(served), ""
    yield (
        "Leak check at working pressure, nothing in use; write the time of the fall down",
        f"{len(takeoff.joints)} joints, {len(site.outlets)} couplings",
        "Bleed to zero before tightening anything.",
    )
    drains = span([node.tag for node in layout.nodes.values() if node.kind is NodeKind.DRAIN])
    care = f"{drains} looked at weekly, the tank drained daily at first"
    if site.main.drains == "manual":
        care = f"{drains} and the tank drained daily at first"
    yield (
        "Hand over: tags on valves and drains, drawings as built, data plates, test record",
        f"{care}; V-01 closed when leaving",
        "",
    )
