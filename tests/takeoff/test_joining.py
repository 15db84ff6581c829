"""Whether parts can be joined: many kinds of mistakes, unions where threads could not turn, places that are met."""

from __future__ import annotations

import dataclasses
import random
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.finding import Severity
from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.pipeline import Designed, design
from drafter.standards.materials import material, material_names
from drafter.supports import place_supports
from drafter.takeoff import Takeoff, take_off
from drafter.takeoff.part import Joint, Part, Port, faults
from drafter.takeoff.schedules import not_joined
from drafter.takeoff.turning import stuck

SITES = Path(__file__).parents[2] / "example_sites"
NAMES = sorted(path.stem for path in SITES.glob("*.yaml"))
THREADED = "steel pipe schedule 40"


@cache
def made_of(name: str, family: str, turns: str = "fittings") -> Designed:
    """An example in another family; sizes of a make, and walls too short for its swan necks, are left out."""
    text = (SITES / f"{name}.yaml").read_text(encoding="utf-8")
    text = re.sub(r"material: [^,\n}]+", f"material: {family}", text)
    text = text.replace("main: {", f"main: {{turns: {turns}, ").replace("main:\n", f"main:\n  turns: {turns}\n")
    text = re.sub(r"  tubes:.*\n(?:    - .*\n)+", "", text).replace("size: [13 ft, 6 ft]", "size: [15 ft, 6 ft]")
    return design(text, name)


def takeoff_of(designed: Designed) -> Takeoff:
    assert designed.takeoff is not None, designed.findings
    return designed.takeoff


def wrong(designed: Designed, parts: tuple[Part, ...], joints: tuple[Joint, ...]) -> list[str]:
    assert designed.layout is not None
    return not_joined(designed.layout, dataclasses.replace(takeoff_of(designed), instances=parts, joints=joints))


@pytest.mark.parametrize("family", material_names())
@pytest.mark.parametrize("name", NAMES)
def test_every_family_goes_together_on_every_example(name: str, family: str) -> None:
    designed = made_of(name, family)
    takeoff = takeoff_of(designed)
    assert wrong(designed, takeoff.instances, takeoff.joints) == []
    assert [finding for finding in takeoff.findings if finding.severity is Severity.ERROR] == []


@pytest.mark.parametrize("family", material_names())
@pytest.mark.parametrize("name", NAMES)
def test_unions_stand_where_they_must_and_nowhere_else(name: str, family: str) -> None:
    """Threaded pipe: each drop, main behind a bend, long or the last of a string, main behind a valve, closed ring.

    With treatment, both its sides unless joints come apart by hand.
    """
    designed, kind = made_of(name, family), material(family)
    assert designed.layout is not None
    layout = designed.layout
    units = sum(node.kind is NodeKind.TREATMENT for node in layout.nodes.values())
    served = sum(bool(outlet.service) for outlet in layout.site.outlets)
    expected = 0 if kind.comes_apart else 2 * units + served
    if kind.joins_by == "thread":
        expected += len(layout.site.outlets) + (layout.site.main.arrangement == "ring")
        mains = [run for run in layout.runs if run.kind is RunKind.MAIN]
        expected += sum(layout.nodes[run.start].kind is NodeKind.VALVE for run in mains)
        expected += sum(_opens(layout, run) for run in mains if layout.nodes[run.start].kind is NodeKind.BEND)
    takeoff = takeoff_of(designed)
    assert len(takeoff.unions) == expected
    assert sum(part.item.startswith("union") for part in takeoff.instances) == expected
    rows = [row for row in takeoff.parts if row.item.startswith("union")]
    assert sum(row.quantity for row in rows) == expected


def _opens(layout: Layout, run: Run) -> bool:
    """Of no example is the last of a string too short, so that the piece after it would have the union."""
    last = layout.nodes[run.end].kind is not NodeKind.BEND
    assert not last or layout.length_m(run) >= 0.4
    return last or layout.length_m(run) >= 1.0


@pytest.mark.parametrize("family", material_names())
def test_every_valve_of_the_line_comes_out(family: str) -> None:
    """Joints undone by hand let it go, threaded ones have the union beside it; else it has unions of its own."""
    designed, kind = made_of("cabinet_shop", family), material(family)
    takeoff = takeoff_of(designed)
    valves = [part for part in takeoff.instances if part.tag.startswith("V-") and part.tag != "V-01"]
    assert {"V-02", "V-03"} <= {part.tag for part in valves}
    assert all(("union ends" in part.item) == (kind.joins_by != "thread" and not kind.comes_apart) for part in valves)
    if kind.joins_by == "thread":
        assert any(union.why == "V-03 comes out" for union in takeoff.unions)


@pytest.mark.parametrize("name", NAMES)
def test_no_bracket_stands_on_a_union(name: str) -> None:
    designed = made_of(name, THREADED)
    assert designed.design is not None
    sizes = designed.design.network.sizes
    for union in takeoff_of(designed).unions:
        off_m = min(bracket.at.minus(union.at).length for bracket in designed.design.brackets)
        assert off_m >= sizes[union.run].union_length_m / 2 + 0.03, union


@pytest.mark.parametrize("name", NAMES)
def test_threaded_pipe_without_its_unions_could_not_be_closed(name: str) -> None:
    """With ends that do not turn: a thread too many for each ring, and for each thing that stands but the first."""
    takeoff = takeoff_of(made_of(name, THREADED))
    assert stuck(takeoff.instances, takeoff.joints) == []
    fast = tuple(dataclasses.replace(part, ends_turn=False) for part in takeoff.instances)
    found = stuck(fast, takeoff.joints)
    standing = sum(part.stands for part in fast)
    rings = sum("closes a ring" in fault for fault in found)
    assert rings == (1 if name == "boat_shed" else 0)
    assert len(found) - rings == standing - 1


def test_a_chain_between_two_ends_that_cannot_turn_needs_a_union() -> None:
    male, female = Port("male", "1"), Port("female", "1")
    tank, unit = (Part(n, "supply", n, "1", (female,), stands=True) for n in ("tank", "unit"))
    pipe = Part("pipe", "tube", "pipe", "1", (male, male))
    joints = (Joint(("tank", 0), ("pipe", 0)), Joint(("pipe", 1), ("unit", 0)))
    assert stuck((tank, pipe, unit), joints) == ["no union between tank tank and unit unit, which cannot turn"]
    assert stuck((tank, pipe, dataclasses.replace(unit, stands=False)), joints) == []
    assert stuck((tank, dataclasses.replace(pipe, ends_turn=True), unit), joints) == []
    pushed = tuple(
        dataclasses.replace(part, ports=tuple(Port({"male": "tube"}.get(p.kind, "socket"), "1") for p in part.ports))
        for part in (tank, pipe, unit)
    )
    assert stuck(pushed, joints) == []


def test_a_union_takes_its_length_out_of_the_piece() -> None:
    """3/4 in: from the valve's middle 33 mm, the union's 55 mm, to the tee's face; threads go in at both ends."""
    designed = made_of("bicycle_coop", THREADED)
    assert designed.layout is not None
    assert designed.network is not None
    layout = designed.layout
    for run in layout.runs:
        if run.kind is RunKind.DROP and layout.nodes[run.start].kind is NodeKind.VALVE:
            size = designed.network.sizes[run.id]
            (piece,) = [piece for piece in takeoff_of(designed).pieces if piece.run == run.id]
            taken = size.valve_length_m / 2 + size.union_length_m + size.centre_to_face_m
            assert piece.cut_m == pytest.approx(layout.length_m(run) - taken + 2 * size.insertion_m, abs=1e-6)


def test_sealant_is_counted_for_every_thread_of_the_pipe() -> None:
    steel, copper = (takeoff_of(made_of("bicycle_coop", family)) for family in (THREADED, "copper tube type L"))
    row = {
        name: next(row for row in takeoff.parts if row.item.startswith("thread sealant"))
        for name, takeoff in (("steel", steel), ("copper", copper))
    }
    plain = sum(port.kind == "tube" for part in copper.instances for port in part.ports)
    unions = len(steel.unions)
    assert row["steel"].quantity == row["copper"].quantity + plain + unions


def swapped(joints: tuple[Joint, ...], one: int, other: int) -> tuple[Joint, ...]:
    changed = list(joints)
    changed[one] = Joint(joints[one].first, joints[other].second)
    changed[other] = Joint(joints[other].first, joints[one].second)
    return tuple(changed)


def put(parts: tuple[Part, ...], number: int, part: Part) -> tuple[Part, ...]:
    return (*parts[:number], part, *parts[number + 1 :])


def branch_lost(
    parts: tuple[Part, ...], joints: tuple[Joint, ...], tee: Part
) -> tuple[tuple[Part, ...], tuple[Joint, ...]]:
    """Take all that hangs on a tee's branch away, and put a coupling of the same ends in the tee's place."""
    gone, waiting = set[str](), [joint for joint in joints if (tee.id, 2) in (joint.first, joint.second)]
    lost = [end[0] for joint in waiting for end in (joint.first, joint.second) if end[0] != tee.id]
    while lost:
        id = lost.pop()
        gone.add(id)
        beside = [(j.first[0], j.second[0]) for j in joints if id in (j.first[0], j.second[0])]
        lost += [a if b == id else b for a, b in beside if {a, b} - {id, tee.id} - gone]
    kept = tuple(
        dataclasses.replace(part, item="coupling", ports=part.ports[:2]) if part is tee else part
        for part in parts
        if part.id not in gone
    )
    return kept, tuple(j for j in joints if j.first[0] not in gone and j.second[0] not in gone)


def mistakes(designed: Designed, chance: random.Random) -> Iterator[tuple[str, tuple[Part, ...], tuple[Joint, ...]]]:
    """One mistake of each of nine kinds, and of two more where tube is bent, in places left to chance."""
    takeoff = takeoff_of(designed)
    parts, joints = takeoff.instances, takeoff.joints
    number, joint = chance.randrange(len(parts)), chance.randrange(len(joints))
    part = parts[number]
    yield "lost part", parts[:number] + parts[number + 1 :], joints
    yield "lost joint", parts, joints[:joint] + joints[joint + 1 :]
    yield "duplicate", (*parts, dataclasses.replace(part, id=f"{len(parts) + 1}")), joints
    end = chance.randrange(len(part.ports))
    for what, change in (
        ("wrong size", lambda port: dataclasses.replace(port, size=f"{port.size}?")),
        ("wrong gender", lambda port: dataclasses.replace(port, kind=OTHER[port.kind])),
    ):
        if part.ports[end].kind != "open":
            ports = tuple(change(port) if n == end else port for n, port in enumerate(part.ports))
            yield what, put(parts, number, dataclasses.replace(part, ports=ports)), joints
    tubes = [n for n, each in enumerate(parts) if each.cut_m]
    piece = chance.choice(tubes)
    longer = parts[piece].cut_m + chance.choice((-1.0, 1.0)) * chance.uniform(0.0045, 0.2)
    yield "wrong cut length", put(parts, piece, dataclasses.replace(parts[piece], cut_m=longer)), joints
    other = chance.randrange(len(joints))
    if not {joints[joint].second, joints[joint].first} & {joints[other].second, joints[other].first}:
        yield "swapped joint ends", parts, swapped(joints, joint, other)
    elbow = chance.choice([n for n, each in enumerate(parts) if each.item.startswith("elbow")])
    yield "elbow to coupling", put(parts, elbow, dataclasses.replace(parts[elbow], item="coupling")), joints
    tee = chance.choice([each for each in parts if each.item.endswith("tee")])
    yield "lost branch", *branch_lost(parts, joints, tee)
    if bent := [n for n, each in enumerate(parts) if each.bends]:
        piece = chance.choice(bent)
        (bend, *others), off = parts[piece].bends, chance.choice((-1.0, 1.0)) * chance.uniform(0.004, 0.1)
        wider = dataclasses.replace(bend, radius_m=bend.radius_m + off)
        for what, bends in (("wrong bend", (wider, *others)), ("missing bend", tuple(others))):
            yield what, put(parts, piece, dataclasses.replace(parts[piece], bends=bends)), joints


OTHER = {"tube": "socket", "socket": "tube", "male": "female", "female": "male"}
KINDS = {
    "lost part", "lost joint", "wrong size", "wrong gender", "wrong cut length", "duplicate", "swapped joint ends",
    "elbow to coupling", "lost branch",
}  # fmt: skip


BENT_KINDS = {"wrong bend", "missing bend"}


@pytest.mark.parametrize(
    "family, turns",
    [
        ("polyamide tube", "fittings"),
        ("copper tube type L", "fittings"),
        (THREADED, "fittings"),
        ("polyamide tube", "bent"),
    ],
)
@pytest.mark.parametrize("name", ["boat_shed", "bus_depot"])
def test_all_kinds_of_mistakes_are_caught(name: str, family: str, turns: str) -> None:
    designed, chance = made_of(name, family, turns), random.Random(f"{name} {family}")
    made = set[str]()
    for _ in range(40):
        for what, parts, joints in mistakes(designed, chance):
            assert wrong(designed, parts, joints), what
            made.add(what)
    assert made == (KINDS | BENT_KINDS if turns == "bent" else KINDS)


def test_swapped_ends_of_like_kind_are_caught_by_their_places_alone() -> None:
    """Two elbows' pipes put into each other's: every end still mates, but not where the drawing has it."""
    designed = made_of("boat_shed", "polyamide tube")
    takeoff = takeoff_of(designed)
    by_id = {part.id: part for part in takeoff.instances}

    def ends(joint: Joint) -> list[Port]:
        return [by_id[id].ports[index] for id, index in (joint.first, joint.second)]

    alike = [
        (one, other)
        for one in range(0, len(takeoff.joints), 3)
        for other in range(one)
        if [(p.kind, p.size) for p in ends(takeoff.joints[one])]
        == [(p.kind, p.size) for p in ends(takeoff.joints[other])]
    ]
    chance = random.Random(7)
    unseen = 0
    for one, other in chance.sample(alike, 60):
        joints = swapped(takeoff.joints, one, other)
        unseen += not faults(takeoff.instances, joints)
        assert wrong(designed, takeoff.instances, joints)
    assert unseen > 30


def test_each_cut_counts_where_its_line_ends() -> None:
    """A piece 3 mm too long puts the outlet or drain behind it 3 mm off, or opens the ring."""
    designed = made_of("boat_shed", THREADED)
    takeoff = takeoff_of(designed)
    for number, part in enumerate(takeoff.instances):
        if part.cut_m:
            longer = put(takeoff.instances, number, dataclasses.replace(part, cut_m=part.cut_m + 0.003))
            assert any(
                "off its place" in fault or "closes a ring" in fault
                for fault in wrong(designed, longer, takeoff.joints)
            )


@settings(deadline=None, max_examples=30)
@given(st.sampled_from(NAMES), st.randoms(use_true_random=False))
def test_threaded_pipe_of_any_sizes_goes_together_or_is_said_to_overlap(name: str, chance: random.Random) -> None:
    network = made_of(name, THREADED).network
    assert network is not None
    sizes = {run.id: chance.choice(network.material.sizes[1:6]) for run in network.layout.runs}
    takeoff = take_off(place_supports(dataclasses.replace(network, sizes=sizes)))
    overlap = any(finding.severity is Severity.ERROR for finding in takeoff.findings)
    assert {finding.rule for finding in takeoff.findings} <= {"CUT001"}
    assert overlap or not_joined(network.layout, takeoff) == []


def corners(name: str, at: tuple[float, float]) -> Designed:
    text = f"""
site: Slant Yard (invented)
rooms:
  shop:
    corners: {{A: [0 m, 0 m], B: [0 m, 6 m], C: [{at[0]} m, 6 m], D: [9 m, {at[1]} m], E: [9 m, 0 m]}}
    ceiling: 3.2 m
compressor:
  {{wall: A-B, from left: 3 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar,
   tank: 80 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.6 m, fall: 1 %, path: [A-B, B-C, C-D, D-E]}}
outlets:
  - {{tag: A1, wall: D-E, from left: 1.2 m}}
"""
    return design(text, name)


def test_corners_of_half_a_right_angle_take_their_own_elbow() -> None:
    designed = corners("slant.yaml", (6.0, 3.0))
    takeoff = takeoff_of(designed)
    assert sum(part.item == "elbow 45°" for part in takeoff.instances) == 2
    assert wrong(designed, takeoff.instances, takeoff.joints) == []


def test_a_turn_without_an_elbow_is_an_error() -> None:
    designed = corners("odd.yaml", (7.5, 3.2))
    found = [finding for finding in designed.findings if finding.rule == "JOIN002"]
    assert len(found) == 2
    assert {finding.severity for finding in found} == {Severity.ERROR}


def test_two_runs_in_line_get_a_coupling() -> None:
    """A bend of a plain main laid out straight: the node stays, the turn is gone."""
    designed = made_of("bicycle_coop", "copper tube type L")
    network = designed.network
    assert network is not None
    layout = network.layout
    end = next(run for run in layout.runs if run.kind is RunKind.DRIP_LEG and not run.outlet and run.room)
    middle = dataclasses.replace(layout.nodes[end.start], id="N999", kind=NodeKind.BEND)
    top, foot = layout.nodes[end.start].at, layout.nodes[end.end].at
    middle = dataclasses.replace(middle, at=top.towards(foot, top.minus(foot).length / 2))
    upper, lower = dataclasses.replace(end, end="N999"), dataclasses.replace(end, id="P999", start="N999")
    number = layout.runs.index(end)
    split = dataclasses.replace(
        layout,
        nodes={**layout.nodes, "N999": middle},
        runs=(*layout.runs[:number], upper, lower, *layout.runs[number + 1 :]),
    )
    sizes = {**network.sizes, "P999": network.sizes[end.id]}
    takeoff = take_off(place_supports(dataclasses.replace(network, layout=split, sizes=sizes)))
    assert sum(part.item == "coupling" for part in takeoff.instances) == 1 + sum(
        part.item == "coupling" for part in takeoff_of(designed).instances
    )
    assert not_joined(split, takeoff) == []


def test_fittings_that_overlap_are_an_error() -> None:
    """Tubes of a make whose fittings are longer than the outlet's branch."""
    text = (SITES / "boat_shed.yaml").read_text(encoding="utf-8")
    text = text.replace("    - {outside: 20 mm, bore: 17 mm}\n", "")
    text = text.replace("centre to face: 50 mm", "centre to face: 150 mm")
    found = [finding for finding in design(text, "long.yaml").findings if finding.rule == "CUT001"]
    assert found
    assert sum(finding.severity is Severity.ERROR for finding in found) == 1
    assert all(sum(other.severity is each.severity for other in found) == 1 for each in found)


def test_a_swan_neck_too_short_says_how_far_off_the_wall_the_main_must_be() -> None:
    path = SITES.parent / "tests" / "bad_sites" / "main_too_near_its_wall.yaml"
    text = path.read_text(encoding="utf-8")
    (short,) = [finding for finding in design(text.encode(), path.name).findings if finding.rule == "CUT001"]
    advised = re.search(r"off wall: (\d+ mm)", short.fix)
    assert advised is not None
    followed = text.replace("off wall: 90 mm", f"off wall: {advised[1]}")
    assert not [finding for finding in design(followed.encode(), path.name).findings if finding.rule == "CUT001"]
