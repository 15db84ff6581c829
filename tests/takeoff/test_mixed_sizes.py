"""Mains of several sizes: every tee, elbow, valve and closing node mates, whatever sizes meet there."""

from __future__ import annotations

import dataclasses
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.layout.graph import NodeKind, Run, RunKind
from drafter.pipeline import design
from drafter.sizing import Network
from drafter.standards.materials import TubeSize, material
from drafter.supports import place_supports
from drafter.takeoff import Takeoff, take_off
from drafter.takeoff.part import faults
from drafter.takeoff.tees import branch_of, tee_sizes

TOP = Path(__file__).parents[2]
NAMES = sorted(path.stem for path in (TOP / "example_sites").glob("*.yaml"))


@cache
def network_of(name: str) -> Network:
    network = design((TOP / "example_sites" / f"{name}.yaml").read_bytes(), name).network
    assert network is not None
    return network


def taken_off(network: Network, sizes: dict[str, TubeSize]) -> Takeoff:
    return take_off(place_supports(dataclasses.replace(network, sizes=sizes)))


def falling(network: Network, steps: list[int]) -> dict[str, TubeSize]:
    """Sizes that never grow along the flow: each run's is so many steps below the smallest that feeds it."""
    family, index = network.material, dict[str, int]()
    for number, run in enumerate(network.layout.runs):
        feeding = [index[other.id] for other in network.layout.runs_at[run.start] if other.end == run.start]
        index[run.id] = max(0, min([*feeding, len(family.sizes) - 1]) - steps[number % len(steps)])
    return {run: family.sizes[i] for run, i in index.items()}


@settings(deadline=None)
@given(st.sampled_from(NAMES), st.lists(st.integers(0, 2), min_size=1, max_size=40))
def test_sizes_that_fall_along_the_flow_mate(name: str, steps: list[int]) -> None:
    network = network_of(name)
    takeoff = taken_off(network, falling(network, steps))
    assert faults(takeoff.instances, takeoff.joints) == []
    said = [finding.subject.split(", ") for finding in takeoff.findings if finding.rule == "CUT001"]
    short = {subject for subjects in said for subject in subjects}
    for piece in takeoff.pieces:
        run = network.layout.run_by_id[piece.run]
        assert piece.cut_m > 0.0
        assert piece.cut_m > 0.02 or (run.outlet or run.id) in short


@settings(deadline=None)
@given(st.sampled_from(NAMES), st.randoms(use_true_random=False))
def test_any_sizes_mate_or_are_said_to_be_too_short(name: str, random: object) -> None:
    network = network_of(name)
    choice = random.choice  # type: ignore[attr-defined]
    sizes = {run.id: choice(network.material.sizes) for run in network.layout.runs}
    takeoff = taken_off(network, sizes)
    assert faults(takeoff.instances, takeoff.joints) == []
    assert {finding.rule for finding in takeoff.findings} <= {"CUT001"}
    assert all(piece.cut_m > 0.0 for piece in takeoff.pieces)


def test_a_stepped_main_has_reducing_tees_named_in_the_trades_order() -> None:
    """Copper: 1 in before the first take-off of a line, 3/4 in behind it, 1/2 in drops: a tee 1 x 3/4 x 1/2."""
    network = network_of("cabinet_shop")
    layout, family = network.layout, network.material
    take_off_node = next(node for node in layout.nodes.values() if node.kind is NodeKind.TAKE_OFF)
    named = {"1": family.find_size("1"), "3/4": family.find_size("3/4"), "1/2": family.find_size("1/2")}
    before = {layout.runs_at[take_off_node.id][0].id}
    while added := {
        other.id
        for run in layout.runs
        if run.id in before
        for other in layout.runs_at[run.start]
        if other.end == run.start and other.id not in before
    }:
        before |= added

    def size_of(run: Run) -> TubeSize:
        found = named["1/2" if run.outlet else "1" if run.id in before else "3/4"]
        assert found is not None
        return found

    takeoff = taken_off(network, {run.id: size_of(run) for run in layout.runs})
    tees = {part.size for part in takeoff.instances if part.item == "reducing tee"}
    assert "1 x 3/4 x 1/2" in tees
    assert faults(takeoff.instances, takeoff.joints) == []


@pytest.mark.parametrize(
    "name, ends, expected",
    [
        ("copper tube type L", ("3/4", "1", "1/2"), ("3/4", "1", "1/2")),
        ("copper tube type L", ("3/4", "3/4", "1"), ("3/4", "3/4", "1")),
        ("stainless press tube", ("28 x 1.2", "22 x 1.2", "15 x 1"), ("28 x 1.2", "28 x 1.2", "15 x 1")),
        ("stainless press tube", ("22 x 1.2", "22 x 1.2", "28 x 1.2"), ("28 x 1.2", "28 x 1.2", "28 x 1.2")),
        ("polyamide tube", ("22 x 2", "22 x 2", "15 x 1.5"), ("22 x 2", "22 x 2", "22 x 2")),
    ],
)
def test_which_tee_a_family_has(name: str, ends: tuple[str, ...], expected: tuple[str, ...]) -> None:
    family = material(name)
    sizes = [family.find_size(end) for end in ends]
    one, other, branch = (size for size in sizes if size is not None)
    assert tuple(size.name for size in tee_sizes(family, one, other, branch)) == expected


@pytest.mark.parametrize("name", NAMES)
def test_the_branch_of_a_tee_is_the_run_off_the_line(name: str) -> None:
    """At a take-off it is the swan neck, under a drop's valve the outlet's branch, at a low point the drip leg.

    Where the main turns up or down it is what lies level, or the upright of a main that goes on.
    """
    layout = network_of(name).layout
    for node in layout.nodes.values():
        runs = layout.runs_at[node.id]
        if len(runs) == 3:
            branch = runs[branch_of(layout, node, runs)]
            kinds = {run.kind for run in runs}
            if RunKind.SWAN_NECK in kinds:
                assert branch.kind is RunKind.SWAN_NECK
            elif RunKind.BRANCH in kinds:
                assert branch.kind is RunKind.BRANCH
            elif layout.is_low_point(node):
                assert branch.kind is (RunKind.MAIN if RunKind.RISE in kinds else RunKind.DRIP_LEG)
            elif RunKind.RISE in kinds:
                assert branch.kind is RunKind.RISE


def test_a_ring_valve_between_two_sizes_is_of_the_larger() -> None:
    network = network_of("boat_shed")
    layout, family = network.layout, network.material
    valve = next(node for node in layout.nodes.values() if node.tag == "V-02")
    into, out_of = layout.runs_at[valve.id]
    sizes = dict(network.sizes) | {into.id: family.sizes[1], out_of.id: family.sizes[2]}
    takeoff = taken_off(network, sizes)
    (part,) = [part for part in takeoff.instances if part.tag == "V-02"]
    assert part.size == family.sizes[2].name
    assert faults(takeoff.instances, takeoff.joints) == []


def test_large_fittings_given_get_a_wider_swan_neck() -> None:
    """50 mm tube of 95 mm centre to face on 25 mm drops of 70 mm: 95 + 70 + 10 = 175, so 180 mm up; 150 mm across."""
    text = (TOP / "example_sites" / "boat_shed.yaml").read_text(encoding="utf-8")
    start, end = text.index("  tubes:"), text.index("  arrangement:")
    tubes = (
        "  tubes: [{outside: 25 mm, bore: 21 mm, centre to face: 70 mm}, "
        "{outside: 50 mm, bore: 46 mm, centre to face: 95 mm}]\n"
    )
    done = design(text[:start] + tubes + text[end:], "wide.yaml")
    assert done.network is not None, done.findings
    assert done.network.material.take_off_rise_m == pytest.approx(0.18)
    assert done.network.material.take_off_offset_m == pytest.approx(0.15)
    assert done.takeoff is not None
    assert [f for f in done.takeoff.findings if "bend" in f.message and f.message.count("bend") == 2] == []


def test_a_piece_of_just_the_least_length_is_long_enough() -> None:
    """Stainless 28 x 1.2: two elbows of 50 mm and 10 mm between them are the 110 mm of the swan neck."""
    network = network_of("bus_depot")
    family = network.material
    size = family.find_size("28 x 1.2")
    assert size is not None
    assert 2 * size.centre_to_face_m + 0.01 == pytest.approx(family.take_off_offset_m)
    takeoff = taken_off(network, {run.id: size for run in network.layout.runs})
    assert takeoff.findings == ()
