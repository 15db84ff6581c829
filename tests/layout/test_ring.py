"""Ring mains: closed round the room, falling both ways to one drained low point, fed from either side."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.finding import Finding, Severity
from drafter.layout import Layout, lay_out
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.layout.obstacles import obstacles_in
from drafter.pipeline import design
from drafter.site import read
from drafter.takeoff.part import faults

PLANT = """power: 2.2 kW, free air: 5 l/s, cut in: 6 bar, cut out: 8 bar, tank: 90 l, rated: 11 bar,
   relief: 10 bar"""
MAIN = "main: {{material: copper tube type L, height: {height}, fall: 1 %, off wall: 160 mm, arrangement: ring}}\n"
RECTANGLE = (
    """
site: Ring room (invented)
rooms:
  room: {size: [6 m, 7 m], ceiling: 3.2 m EXTRA}
compressor:
  {wall: north, from left: 0.3 m, width: 1 m, connection: {from left: 0.85 m, height: 0.6 m}, """
    + PLANT
    + """}
outlets:
  - {tag: O1, wall: north, from left: 4 m}
  - {tag: O2, wall: east, from left: 2.5 m}
  - {tag: O3, wall: south, from left: 4 m}
"""
)
L_SHAPE = (
    """
site: L-shaped ring (invented)
rooms:
  shop:
    corners: {A: [0 m, 0 m], B: [0 m, 6 m], C: [9 m, 6 m], D: [9 m, 3 m], E: [5 m, 3 m], F: [5 m, 0 m]}
    ceiling: 3.2 m
compressor:
  {wall: B-C, from left: 4 m, width: 1 m, connection: {from left: 4.7 m, height: 0.6 m}, """
    + PLANT
    + """}
outlets:
  - {tag: O1, wall: D-E, from left: 2 m}
  - {tag: O2, wall: E-F, from left: 1 m}
  - {tag: O3, wall: A-B, from left: 3 m}
"""
)
TWO_ROOMS = (
    """
site: Ring and branch (invented)
rooms:
  shop: {size: [8 m, 5 m], ceiling: 3.2 m, wall thickness: 200 mm}
  store: {size: [4 m, 3 m], behind: {room: shop, wall: north, from left: 2 m}, ceiling: 3.2 m}
compressor:
  {room: shop, wall: west, from left: 0.5 m, width: 0.8 m, """
    + PLANT
    + """}
outlets:
  - {tag: O1, room: shop, wall: east, from left: 1 m}
  - {tag: O2, room: store, wall: north, from left: 2 m}
"""
)


def laid_out(text: str, height: str = "2.6 m") -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(text.replace(" EXTRA", "") + MAIN.format(height=height), "ring.yaml")
    assert site is not None, findings
    return lay_out(site)


def ring_of(text: str, height: str = "2.6 m") -> Layout:
    layout, findings = laid_out(text, height)
    assert layout is not None, findings
    assert findings == ()
    holds(layout)
    return layout


def low_point(layout: Layout) -> Node:
    (low,) = [n for n in layout.nodes.values() if n.kind is NodeKind.TEE and layout.is_low_point(n)]
    return low


def in_ring(layout: Layout) -> list[Run]:
    """The pieces that lie on the loop: those whose ends still hang together without them."""
    return [
        run for run in layout.runs if run.end in reached(layout, {run.id}) and run.start in reached(layout, {run.id})
    ]


def reached(layout: Layout, without: set[str]) -> set[str]:
    """What air can reach from the tank when some pieces are taken out."""
    seen, waiting = set(), [next(iter(layout.nodes))]
    while waiting:
        here = waiting.pop()
        seen.add(here)
        for run in layout.runs_at[here]:
            if run.id not in without:
                waiting += [id for id in (run.start, run.end) if id not in seen]
    return seen


def holds(layout: Layout) -> None:
    """Closed once, falling all the way to one drained low point, fed from both sides, clear of what stands there."""
    assert len(layout.runs) == len(layout.nodes)
    outlets = {node.id for node in layout.couplings}
    assert len(outlets) == len(layout.site.outlets)
    ring, fall = in_ring(layout), layout.site.main.fall
    assert {run.room for run in ring} == {layout.site.compressor.room}
    assert {run.wall for run in ring} == {wall.name for wall in layout.site.walls[layout.site.compressor.room]}
    assert all(run.kind is RunKind.MAIN for run in ring)
    assert all(outlets <= reached(layout, {run.id}) for run in ring)
    for run in layout.runs:
        if run.kind in (RunKind.MAIN, RunKind.SLEEVE):
            assert fall - 1e-9 <= layout.fall(run) <= 2.02 * fall
            start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
            assert run.kind is RunKind.SLEEVE or not any(
                thing.meets(start, end) for thing in obstacles_in(layout.site, run.room)
            )
    low = low_point(layout)
    assert low.at.z == min(layout.nodes[id].at.z for run in ring for id in (run.start, run.end))
    drain = layout.nodes[layout.runs_at[low.id][-1].end]
    assert (drain.kind, drain.at.plan) == (NodeKind.DRAIN, low.at.plan)


def test_a_rectangle_by_hand() -> None:
    """The riser stands at 1.45 m on the north wall, the main 160 mm off the walls.

    Once round is 2 x (6 - 0.32 + 7 - 0.32) = 24.72 m; half of it, 12.36 m. To the east corner 5.84 - 1.45 = 4.39 m,
    along the east wall 6.68 m; the low point stands the remaining 1.29 m past the next corner: on the south wall
    0.16 + 1.29 = 1.45 m from the left, 123.6 mm below the riser's top. The valves stand 0.27 m clear of the riser,
    which with its flexible connection takes the wall from 1.09 to 1.56 m.
    """
    layout = ring_of(RECTANGLE)
    low = low_point(layout)
    assert (low.wall, layout.from_left_m(low)) == ("south", pytest.approx(1.45))
    assert low.at.z == pytest.approx(2.6 - 0.1236)
    assert sum(layout.length_m(run) for run in in_ring(layout)) == pytest.approx(24.72, rel=1e-4)
    assert all(layout.fall(run) == pytest.approx(0.01) for run in in_ring(layout))
    valves = [n for n in layout.nodes.values() if n.kind is NodeKind.VALVE and layout.is_on_main(n)]
    assert [(n.tag, n.what, round(layout.from_left_m(n), 3)) for n in valves] == [
        ("V-02", "ring valve, arm to the right", 1.85),
        ("V-03", "ring valve, arm to the left", 0.8),
        ("V-04", "ring valve, half way round", 1.75),
    ]
    assert layout.reasons[0].startswith("The main is a ring along all walls of ")
    assert layout.reasons[0].endswith(
        "24.72 m round: its outlets get their air from both sides. With one of its valves shut every outlet still gets "
        "air, from the other side. With a second one shut too, that half way round or that of the arm, the part "
        "between them can be bled at its drains for work, while the other half keeps its air."
    )
    assert "+2.476" in layout.reasons[1]


def test_a_level_ring_is_said_to_be_level() -> None:
    site, _ = read(RECTANGLE.replace(" EXTRA", "") + MAIN.format(height="2.6 m").replace("fall: 1 %", "fall: 0 %"), "x")
    assert site is not None
    layout, findings = lay_out(site)
    assert layout is not None, findings
    assert {layout.nodes[run.end].at.z for run in in_ring(layout)} == {2.6}
    assert "level" in layout.reasons[1]


def test_an_l_shape_goes_round_every_corner() -> None:
    layout = ring_of(L_SHAPE)
    corners = [n for n in layout.nodes.values() if n.kind is NodeKind.BEND and layout.is_on_main(n)]
    assert len([n for n in corners if len(layout.runs_at[n.id]) == 2 and not layout.outlet_at(n)]) == 6


def test_another_room_hangs_on_the_ring_by_a_branch() -> None:
    layout = ring_of(TWO_ROOMS)
    (sleeve,) = [run for run in layout.runs if run.kind is RunKind.SLEEVE]
    assert layout.nodes[sleeve.start].kind is NodeKind.TEE
    assert layout.nodes[sleeve.start].room == "shop"
    ring = {id for run in in_ring(layout) for id in (run.start, run.end)}
    assert sleeve.start in ring
    assert sleeve.end not in ring
    assert any("sleeve" in reason for reason in layout.reasons)


def test_a_branch_that_is_blocked_names_its_outlet_only() -> None:
    """Cabinets to the ceiling stand on both sides of the only sleeve."""
    tall = ", equipment: [" + ", ".join(
        f"{{kind: cabinet, wall: south, from left: {left}, width: 0.6 m, height: 3.1 m}}" for left in ("0.9 m", "2.5 m")
    )
    text = TWO_ROOMS.replace("from left: 2 m}, ceiling: 3.2 m", "from left: 2 m}, ceiling: 3.2 m" + tall + "]")
    main = MAIN.format(height="2.6 m").replace("ring}", "ring, through: [{room: store, wall: south, from left: 2 m}]}")
    site, findings = read(text + main, "branch.yaml")
    assert site is not None, findings
    layout, (finding,) = lay_out(site)
    assert layout is None
    assert finding.rule == "ROUTE001"
    assert "cannot reach O2:" in finding.message
    assert "cabinet" in finding.message


@pytest.mark.parametrize(
    "thing, name",
    [
        (
            "openings: [{kind: overhead door, wall: south, from left: 0.4 m, width: 3 m, height: 2.2 m}]",
            "overhead door",
        ),
        ("equipment: [{kind: shelf, wall: west, from left: 3 m, width: 2 m, height: 2.7 m}]", "shelf"),
        ("keep clear: [{kind: volume, name: boiler, wall: east, from left: 4 m, width: 1 m, height: 2.6 m}]", "boiler"),
    ],
)
def test_what_blocks_the_ring_is_named_and_the_height_asked_for_passes_it(thing: str, name: str) -> None:
    text = RECTANGLE.replace(" EXTRA", ", " + thing)
    layout, (finding,) = laid_out(text)
    assert layout is None
    assert finding.rule == "ROUTE007"
    assert name in finding.message
    assert "dead end" in finding.fix
    height = re.search(r"raise the main to (\d+ mm)", finding.fix)
    assert height is not None
    raised, _ = laid_out(text.replace("ceiling: 3.2 m", "ceiling: 4 m"), height[1])
    assert raised is not None
    holds(raised)


def test_what_reaches_the_ceiling_is_passed_at_no_height() -> None:
    flue = ", services: [{kind: flue, wall: south, from left: 3 m, width: 0.3 m, above floor: 0 m, height: 3.2 m}]"
    layout, (finding,) = laid_out(RECTANGLE.replace(" EXTRA", flue))
    assert layout is None
    assert finding.rule == "ROUTE007"
    assert "flue" in finding.message
    assert "no height" in finding.fix


def test_a_low_point_off_half_way_makes_the_shorter_arm_fall_more() -> None:
    """A cabinet to 2 m stands where the low point would be; the ring passes above it, the drip leg does not."""
    cabinet = ", equipment: [{kind: cabinet, wall: south, from left: 0.8 m, width: 1.6 m, height: 2 m}]"
    layout = ring_of(RECTANGLE.replace(" EXTRA", cabinet))
    low = low_point(layout)
    assert not 0.8 <= layout.from_left_m(low) <= 2.4 or low.wall != "south"
    falls = sorted({round(layout.fall(run), 6) for run in in_ring(layout)})
    assert falls[0] == pytest.approx(0.01)
    assert 0.01 < falls[-1] < 0.02


def test_where_half_way_round_nothing_is_free_there_are_two_low_points() -> None:
    cabinets = ", equipment: [" + ", ".join(
        f"{{kind: cabinet, wall: {wall}, from left: {left}, width: {width}, height: 2 m}}"
        for wall, left, width in (("south", "0 m", "6 m"), ("east", "3 m", "3.9 m"))
    )
    text = RECTANGLE.replace(" EXTRA", cabinets + "]").replace(
        "wall: south, from left: 4 m", "wall: east, from left: 1 m"
    )
    layout, findings = laid_out(text)
    assert layout is not None, findings
    assert len([node for node in layout.nodes.values() if layout.is_low_point(node)]) == 2
    assert any("no low point finds room" in reason for reason in layout.reasons)


@pytest.mark.parametrize("lowest", [2.9, 2.85, 2.75, 2.7])
def test_a_ring_that_may_not_fall_far_has_as_many_low_points_as_that_takes(lowest: float) -> None:
    """P s / 2 H low points, rounded up, one more where they lie off the middle; every one drains."""
    text = RECTANGLE.replace(" EXTRA", "") + MAIN.format(height="3 m")
    site, findings = read(text, "ring.yaml")
    assert site is not None, findings
    height_m = site.main.height_m
    layout, findings = lay_out(site.with_main(lowest_m=height_m - (3.0 - lowest)))
    assert layout is not None, findings
    runs = in_ring(layout)
    assert min(layout.nodes[run.end].at.z for run in runs) >= height_m - (3.0 - lowest) - 1e-9
    lows = [node for node in layout.nodes.values() if layout.is_low_point(node)]
    round_m = sum(layout.nodes[run.end].at.plan.minus(layout.nodes[run.start].at.plan).length for run in runs)
    least = math.ceil(round_m * site.main.fall / (2 * (3.0 - lowest)) - 1e-9)
    assert least <= len(lows) <= least + 1
    assert all(abs(layout.fall(run)) >= site.main.fall - 1e-9 for run in runs)


def test_no_place_for_the_low_point() -> None:
    cabinets = ", equipment: [" + ", ".join(
        f"{{kind: cabinet, wall: {wall}, from left: {left}, width: {width}, height: 2 m}}"
        for wall, left, width in (("south", "0 m", "6 m"), ("east", "0 m", "6.9 m"), ("west", "0 m", "5.5 m"))
    )
    text = (
        RECTANGLE.replace(" EXTRA", cabinets + "]")
        .replace("wall: south, from left: 4 m", "wall: north, from left: 5 m")
        .replace("wall: east, from left: 2.5 m", "wall: north, from left: 4.6 m")
    )
    layout, (finding,) = laid_out(text)
    assert layout is None
    assert finding.rule == "DRAIN001"
    assert "ring" in finding.message


def test_a_valve_without_room_is_left_out_and_said() -> None:
    """Outlets stand every 0.4 m past the riser, as far as a valve would be looked for."""
    row = "".join(f"  - {{tag: N{n}, wall: north, from left: {1800 + 400 * n} mm}}\n" for n in range(9))
    text = RECTANGLE.replace("  - {tag: O1, wall: north, from left: 4 m}\n", row)
    layout, findings = laid_out(text)
    assert layout is not None
    assert [(f.rule, f.severity) for f in findings] == [("RING001", Severity.WARNING)]
    assert "right" in findings[0].message
    assert sum(n.what.startswith("ring valve, arm") for n in layout.nodes.values()) == 1


@pytest.mark.parametrize("text", [RECTANGLE, L_SHAPE, TWO_ROOMS], ids=["rectangle", "L-shape", "two rooms"])
@pytest.mark.parametrize("material", ["copper tube type L", "polyamide tube", "aluminium tube"])
def test_a_ring_is_taken_off_and_held_all_round(text: str, material: str) -> None:
    main = MAIN.format(height="2.6 m").replace("copper tube type L", material).replace("off wall: 160 mm, ", "")
    done = design(text.replace(" EXTRA", "") + main, "ring.yaml")
    assert done.takeoff is not None, done.findings
    assert done.design is not None
    assert done.layout is not None
    assert faults(done.takeoff.instances, done.takeoff.joints) == []
    assert len(done.takeoff.instances) == len(done.takeoff.joints)
    for run in in_ring(done.layout):
        start = done.layout.nodes[run.start].at
        places = sorted(b.at.minus(start).length for b in done.design.brackets if b.run == run.id)
        span = done.network.sizes[run.id].bracket_span_m if done.network else 0.0
        assert all(b - a <= span + 0.007 for a, b in pairwise(places))
        assert places or done.layout.length_m(run) < 0.6


@settings(deadline=None)
@given(
    st.integers(5, 12),
    st.integers(5, 12),
    st.lists(
        st.tuples(st.sampled_from(["north", "east", "south", "west"]), st.integers(5, 95)), min_size=1, max_size=8
    ),
)
def test_what_holds_for_any_outlets(width: int, depth: int, places: list[tuple[str, int]]) -> None:
    lengths = {"north": width, "south": width, "east": depth, "west": depth}
    head = RECTANGLE.partition("outlets:\n")[0].replace("[6 m, 7 m]", f"[{width} m, {depth} m]")
    outlets = "".join(
        f"  - {{tag: O{n}, wall: {wall}, from left: {share * lengths[wall] * 10} mm}}\n"
        for n, (wall, share) in enumerate(places)
    )
    site, findings = read(head.replace(" EXTRA", "") + "outlets:\n" + outlets + MAIN.format(height="2.6 m"), "any.yaml")
    if site is None:
        assert {finding.rule for finding in findings} == {"PLACE013"}
        return
    layout, found = lay_out(site)
    assert (layout is None) == any(finding.severity is Severity.ERROR for finding in found)
    if layout is not None:
        holds(layout)
        missing = sum(finding.rule == "RING001" for finding in found)
        assert sum(n.what.startswith("ring valve, arm") for n in layout.nodes.values()) == 2 - missing


def test_ring_valves_do_not_hang_over_the_compressor_where_no_ladder_stands() -> None:
    path = Path(__file__).parents[2] / "example_sites" / "boat_shed.yaml"
    designed = design(path.read_bytes(), path.name)
    assert designed.network is not None
    layout, plant = designed.network.layout, designed.network.layout.site.compressor
    valves = [node for node in layout.nodes.values() if node.kind is NodeKind.VALVE and node.tag in ("V-02", "V-03")]
    assert len(valves) == 2
    for node in valves:
        from_left_m = layout.from_left_m(node)
        assert not plant.from_left_m - 0.2 < from_left_m < plant.from_left_m + plant.width_m + 0.2
