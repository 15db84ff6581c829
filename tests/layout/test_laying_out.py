"""Layouts worked out by hand, and what must hold for every layout."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.finding import Finding
from drafter.layout import Layout, lay_out
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.obstacles import obstacles_in
from drafter.site import read
from drafter.standards.materials import material

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
ROOM = """
site: Worked room (invented)
rooms:
  room: {{size: [6 m, 7 m], ceiling: 3 m{extra}}}
compressor:
  {{wall: north, from left: 0.3 m, width: 1 m, off wall: 0.3 m, depth: 0.5 m, power: 2.2 kW, free air: 5 l/s,
   cut in: 6 bar, cut out: 8 bar, tank: 90 l, rated: 11 bar, relief: 10 bar,
   connection: {{from left: 0.85 m, height: 0.6 m}}}}
main: {{material: copper tube type L, height: {height}, fall: 1 %, off wall: 160 mm, drop off wall: 60 mm}}
outlets:
{outlets}
"""
THREE = """  - {tag: O1, wall: north, from left: 2 m, height: 1.2 m}
  - {tag: O2, wall: north, from left: 4.6 m, height: 1.2 m}
  - {tag: O3, wall: east, from left: 2.5 m, height: 1 m}"""


def laid_out(
    outlets: str = THREE, height: str = "2.45 m", extra: str = ""
) -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(ROOM.format(outlets=outlets, height=height, extra=extra), "room.yaml")
    assert site is not None, findings
    return lay_out(site)


def take_off_of(layout: Layout, tag: str) -> tuple[float, float, float]:
    run = next(run for run in layout.runs if run.outlet == tag)
    return tuple(layout.nodes[run.start].at)


def test_levels_and_drops_of_three_outlets_by_hand() -> None:
    """The riser stands 0.15 m clear of the set's right end, at 1.45 m; the main is 160 mm off the walls.

    O1: 2.00 - 1.45 = 0.55 m along, 5.5 mm down. O2: 3.15 m, 31.5 mm. The corner is at 6 - 0.16 = 5.84 m, 4.39 m
    along; O3 is 2.5 - 0.16 = 2.34 m past it: 6.73 m along, 67.3 mm down.
    """
    layout, findings = laid_out()
    assert findings == ()
    assert layout is not None
    assert take_off_of(layout, "O1") == pytest.approx((2.0, 7 - 0.16, 2.4445))
    assert take_off_of(layout, "O2") == pytest.approx((4.6, 7 - 0.16, 2.4185))
    assert take_off_of(layout, "O3") == pytest.approx((6 - 0.16, 7 - 2.5, 2.3827))
    drops = {
        tag: sum(layout.length_m(run) for run in layout.runs if run.outlet == tag and run.kind is RunKind.DROP)
        for tag in ("O1", "O2", "O3")
    }
    rise = material("copper tube type L").take_off_rise_m
    assert drops["O1"] == pytest.approx(2.4445 + rise - 1.2)
    assert drops["O2"] == pytest.approx(2.4185 + rise - 1.2)
    assert drops["O3"] == pytest.approx(2.3827 + rise - 1.0)


def test_the_low_end_turns_down_past_the_last_outlet() -> None:
    """0.3 m past O3: 2.8 m from the left, 7.03 m along, 2.45 - 0.0703 = 2.3797 m high, down to 0.3 m."""
    layout, _ = laid_out()
    assert layout is not None
    leg = next(run for run in layout.runs if run.kind is RunKind.DRIP_LEG and not run.outlet and run.wall == "east")
    top, drain = layout.nodes[leg.start], layout.nodes[leg.end]
    assert tuple(top.at) == pytest.approx((5.84, 7 - 2.8, 2.3797))
    assert tuple(drain.at) == pytest.approx((5.84, 7 - 2.8, 0.3))
    assert drain.kind is NodeKind.DRAIN


def test_counts_by_hand() -> None:
    """Each drop has a valve, an outlet and a drain; the plant has a valve and a drain, the main's end a drain."""
    layout, _ = laid_out()
    assert layout is not None
    kinds = [node.kind for node in layout.nodes.values()]
    assert kinds.count(NodeKind.VALVE) == 4
    assert kinds.count(NodeKind.DRAIN) == 5
    assert kinds.count(NodeKind.COUPLING) == 3
    assert kinds.count(NodeKind.TAKE_OFF) == 3


def test_a_main_that_serves_both_sides_divides_at_the_riser() -> None:
    outlets = "  - {tag: W, wall: west, from left: 3 m}\n  - {tag: E, wall: north, from left: 5 m}"
    layout, findings = laid_out(outlets)
    assert findings == ()
    assert layout is not None
    top = next(n for n in layout.nodes.values() if n.kind is NodeKind.TEE and n.at.z == pytest.approx(2.45))
    assert sum(run.kind is RunKind.MAIN for run in layout.runs_at[top.id]) == 2
    ends = [run for run in layout.runs if run.kind is RunKind.DRIP_LEG and not run.outlet]
    assert len(ends) == 3


def test_what_blocks_the_main_is_named() -> None:
    doors = (
        ", openings: [{kind: overhead door, wall: east, from left: 2 m, width: 3 m, height: 2.2 m},\n"
        "    {kind: overhead door, wall: west, from left: 2 m, width: 3 m, height: 2.2 m}]"
    )
    layout, (finding,) = laid_out("  - {tag: S, wall: south, from left: 3 m}", extra=doors)
    assert layout is None
    assert finding.rule == "ROUTE001"
    assert finding.message.count("overhead door") == 2
    assert "2600 mm" in finding.message


def test_where_nothing_is_free_past_the_last_outlet_the_main_falls_back_to_a_drain() -> None:
    """It drains 0.3 m before O, and rises by 3 mm from there to it."""
    cabinet = ", equipment: [{kind: cabinet, wall: east, from left: 2.6 m, width: 4.4 m, height: 2.2 m}]"
    layout, findings = laid_out("  - {tag: O, wall: east, from left: 2.4 m}", extra=cabinet)
    assert layout is not None, findings
    (low,) = [node for node in layout.nodes.values() if layout.is_low_point(node)]
    assert layout.from_left_m(low) == pytest.approx(2.1)
    assert layout.take_offs["O"].at.z - low.at.z == pytest.approx(0.003)


def test_no_room_for_the_low_end() -> None:
    cabinets = ", equipment: [" + ", ".join(
        f"{{kind: cabinet, wall: east, from left: {low} m, width: {high - low:.1f} m, height: 2.2 m}}"
        for low, high in ((0.0, 2.2), (2.6, 7.0))
    ) + "]"  # fmt: skip
    layout, findings = laid_out("  - {tag: O, wall: east, from left: 2.4 m}", extra=cabinets)
    assert layout is None
    assert [finding.rule for finding in findings] == ["DRAIN001"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_holds_for_every_example(path: Path) -> None:
    site, _ = read(path.read_bytes(), path.name)
    assert site is not None
    layout, findings = lay_out(site)
    assert layout is not None
    assert findings == ()
    holds(layout)


@given(
    st.integers(5, 14),
    st.integers(5, 14),
    st.lists(
        st.tuples(st.sampled_from(["north", "east", "south", "west"]), st.integers(5, 95)), min_size=1, max_size=8
    ),
)
def test_what_holds_for_any_room(width: int, depth: int, places: list[tuple[str, int]]) -> None:
    lengths = {"north": width, "south": width, "east": depth, "west": depth}
    outlets = "\n".join(
        f"  - {{tag: O{n}, wall: {wall}, from left: {share * lengths[wall] * 10} mm}}"
        for n, (wall, share) in enumerate(places)
    )
    text = ROOM.format(outlets=outlets, height="2.6 m", extra="").replace("[6 m, 7 m]", f"[{width} m, {depth} m]")
    site, findings = read(text, "any.yaml")
    if site is None:
        assert {finding.rule for finding in findings} == {"PLACE013"}
        return
    layout, found = lay_out(site)
    assert (layout is None) == bool(found)
    if layout is not None:
        holds(layout)


def holds(layout: Layout) -> None:
    """Every outlet is fed, every run is straight and new, every low end drains, nothing meets an obstacle."""
    seen = {next(iter(layout.nodes))}
    closing = []
    for run in layout.runs:
        assert run.start in seen
        closing += [run] if run.end in seen else []
        seen.add(run.end)
        assert layout.length_m(run) > 0.01
    ring = layout.site.main.arrangement == "ring"
    assert len(closing) == int(ring)
    assert seen == set(layout.nodes)
    assert [node.tag for node in layout.couplings] == [outlet.tag for outlet in layout.site.outlets]
    for node in layout.nodes.values():
        leaving = [run for run in layout.runs_at[node.id] if run.start == node.id]
        if not leaving:
            assert node.kind in (NodeKind.DRAIN, NodeKind.COUPLING)
    for run in layout.runs:
        start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
        if run.kind in (RunKind.MAIN, RunKind.SLEEVE):
            plan = end.plan.minus(start.plan).length
            least, most = (layout.site.main.fall * plan * share for share in (1, 2.01 if ring else 1))
            assert least - 1e-9 <= start.z - end.z <= most + 1e-9
        if run.kind is RunKind.MAIN:
            assert not any(thing.meets(start, end) for thing in obstacles_in(layout.site, run.room))
        if run.kind in (RunKind.DROP, RunKind.DRIP_LEG):
            assert math.hypot(end.x - start.x, end.y - start.y) < 1e-9
            assert end.z < start.z
