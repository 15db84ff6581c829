"""Where the main goes: round corners, from room to room, past what is in its way, and what is said where it cannot."""

from __future__ import annotations

import pytest

from drafter.finding import Finding
from drafter.layout import Layout, lay_out
from drafter.layout.graph import NodeKind, Run, RunKind
from drafter.layout.low_ends import find_low_end
from drafter.layout.route import Route, Step
from drafter.layout.wall_line import Station
from drafter.site import read

PLANT = """power: 2.2 kW, free air: 5 l/s, cut in: 6 bar, cut out: 8 bar, tank: 90 l, rated: 11 bar,
   relief: 10 bar"""
MAIN = "main: {{material: copper tube type L, height: {height}, fall: 1 %, off wall: 160 mm{more}}}\n"
L_SHAPE = (
    """
site: L-shaped room (invented)
rooms:
  shop:
    corners: {A: [0 m, 0 m], B: [0 m, 6 m], C: [9 m, 6 m], D: [9 m, 3 m], E: [5 m, 3 m], F: [5 m, 0 m]}
    ceiling: 3 m
compressor:
  {wall: B-C, from left: 4 m, width: 1 m, connection: {from left: 4.7 m, height: 0.6 m}, """
    + PLANT
    + """}
outlets:
  - {tag: O1, wall: D-E, from left: 2 m}
  - {tag: O2, wall: E-F, from left: 1 m}
"""
)
TWO_ROOMS = (
    """
site: Two rooms (invented)
rooms:
  shop: {size: [8 m, 5 m], ceiling: 3 m, wall thickness: 200 mm}
  store: {size: [4 m, 3 m], behind: {room: shop, wall: north, from left: 2 m}, ceiling: %s}
compressor:
  {room: shop, wall: north, from left: 0.3 m, width: 0.8 m, """
    + PLANT
    + """}
outlets:
  - {tag: O1, room: shop, wall: east, from left: 1 m}
  - {tag: O2, room: store, wall: north, from left: 2 m, height: 1 m}
"""
)


def laid_out(text: str, height: str = "2.5 m", more: str = "") -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(text + MAIN.format(height=height, more=more), "rooms.yaml")
    assert site is not None, findings
    return lay_out(site)


def of_main(text: str, more: str = "") -> tuple[Layout, list[Run]]:
    layout, findings = laid_out(text, more=more)
    assert findings == ()
    assert layout is not None
    return layout, [run for run in layout.runs if run.kind is RunKind.MAIN]


def refused(text: str, height: str = "2.5 m", more: str = "") -> Finding:
    layout, findings = laid_out(text, height, more)
    assert layout is None
    (finding,) = findings
    assert finding.fix
    assert finding.place.line
    return finding


def test_round_inside_and_outside_corners() -> None:
    """At the inside corner C the line stops 0.16 m short of both walls; at the outside corner E it runs 0.16 m past.

    The riser stands 0.45 m past the connection, at 5.15 m. To C: 9 - 0.16 - 5.15 = 3.69 m; along C-D:
    3 - 0.32 = 2.68 m; to O1 on D-E: 2 - 0.16 = 1.84 m; on past E: 4 + 0.16 - 2 = 2.16 m; to O2 on
    E-F: 1 + 0.16 = 1.16 m; and 0.3 m to its low end.
    """
    layout, runs = of_main(L_SHAPE)
    assert [run.wall for run in runs] == ["B-C", "C-D", "D-E", "D-E", "E-F", "E-F"]
    plan = [layout.nodes[run.end].at.plan.minus(layout.nodes[run.start].at.plan).length for run in runs]
    assert plan == pytest.approx([3.69, 2.68, 1.84, 2.16, 1.16, 0.3])
    assert layout.nodes[runs[3].end].at.plan == pytest.approx((5 - 0.16, 3 + 0.16))


def test_from_room_to_room_through_one_sleeve() -> None:
    layout, runs = of_main(TWO_ROOMS % "2.8 m")
    (sleeve,) = [run for run in layout.runs if run.kind is RunKind.SLEEVE]
    start, end = layout.nodes[sleeve.start], layout.nodes[sleeve.end]
    assert (start.room, end.room) == ("shop", "store")
    assert end.at.plan.minus(start.at.plan) == pytest.approx((0, 0.16 + 0.2 + 0.16))
    assert start.at.z - end.at.z == pytest.approx(0.0052)
    assert start.kind is NodeKind.TEE
    assert {run.room for run in runs} == {"shop", "store"}
    assert any("one sleeve" in reason or "a sleeve" in reason for reason in layout.reasons)


def test_the_main_has_no_fitting_where_it_only_runs_past_a_likely_sleeve() -> None:
    """Every bend turns: no two pieces of the main that meet at a plain bend lie in one line."""
    layout, _ = of_main(TWO_ROOMS % "2.8 m")
    for node in layout.nodes.values():
        if node.kind is NodeKind.BEND:
            arriving, leaving = layout.runs_at[node.id]
            one, other = (layout.nodes[run.end].at.minus(layout.nodes[run.start].at) for run in (arriving, leaving))
            assert one.dot(other) < 0.1 * one.length * other.length


def test_a_sleeve_where_the_site_file_wants_it() -> None:
    layout, _ = of_main(TWO_ROOMS % "2.8 m", ", through: [{room: store, wall: south, from left: 1 m}]")
    sleeve = next(run for run in layout.runs if run.kind is RunKind.SLEEVE)
    assert layout.nodes[sleeve.start].at.x == pytest.approx(2 + 4 - 1)


@pytest.mark.parametrize("from_left", ["2.2 m", "5.8 m"])
def test_a_sleeve_too_near_a_corner_of_the_room_behind(from_left: str) -> None:
    """The room behind reaches from 2 to 6 m; its line stops 0.16 m short, and a joint needs 0.15 m beside it."""
    finding = refused(TWO_ROOMS % "2.8 m", more=f", through: [{{room: shop, wall: north, from left: {from_left}}}]")
    assert finding.rule == "ROUTE006"
    assert "corner" in finding.message


def test_a_sleeve_in_a_window() -> None:
    window = "ceiling: 3 m, openings: [{kind: window, wall: north, from left: 3 m, width: 1 m, height: 2.4 m}]"
    text = (TWO_ROOMS % "2.8 m").replace("ceiling: 3 m", window)
    finding = refused(text, more=", through: [{room: shop, wall: north, from left: 3.5 m}]")
    assert (finding.rule, "opening" in finding.message) == ("ROUTE006", True)


def test_a_room_too_low_for_the_main_to_pass() -> None:
    """The way from the shop to the far room leads through a lobby that no outlet needs."""
    text = TWO_ROOMS % "2.4 m" + "  - {tag: O3, room: far, wall: west, from left: 1 m}\n"
    text = text.replace("  - {tag: O2, room: store, wall: north, from left: 2 m, height: 1 m}\n", "")
    far = "  far: {size: [3 m, 2 m], behind: {room: store, wall: north, from left: 0.5 m}, ceiling: 3 m}\n"
    finding = refused(text.replace("compressor:", far + "compressor:"))
    assert finding.rule == "ROUTE001"
    assert "ceiling of store (at 2400 mm above floor)" in finding.message


def test_walls_that_the_path_leaves_out() -> None:
    finding = refused(L_SHAPE, more=", path: [B-C, C-D]")
    assert finding.rule == "ROUTE001"
    assert "O1, O2" in finding.message or "any outlet" in finding.message
    assert "'path'" in finding.message


def test_the_path_given_is_followed() -> None:
    _, runs = of_main(L_SHAPE, ", path: [B-C, A-B, F-A, E-F, D-E]")
    assert list(dict.fromkeys(run.wall for run in runs)) == ["B-C", "A-B", "F-A", "E-F", "D-E"]


@pytest.mark.parametrize(
    "place, limits",
    [("wall: A-B, from left: 0.2 m", ("260 mm", "5740 mm")), ("wall: E-F, from left: 2.9 m", ("2740",))],
)
def test_an_outlet_too_near_a_corner(place: str, limits: tuple[str, ...]) -> None:
    finding = refused(L_SHAPE.replace("wall: E-F, from left: 1 m", place))
    assert (finding.rule, finding.subject) == ("ROUTE002", "O2")
    assert all(limit in finding.fix for limit in limits)


def test_two_outlets_too_near_each_other() -> None:
    finding = refused(L_SHAPE.replace("wall: E-F, from left: 1 m", "wall: D-E, from left: 2.08 m"))
    assert (finding.rule, finding.subject) == ("ROUTE005", "O2")
    assert "80 mm apart" in finding.message


def test_a_connection_too_high_for_the_main() -> None:
    tall = L_SHAPE.replace("from left: 4.7 m, height: 0.6 m", "from left: 4.7 m, height: 2.35 m")
    finding = refused(tall)
    assert finding.rule == "LEVEL004"
    assert "2550 mm" in finding.fix


def test_the_treatment_train_hangs_above_a_high_connection() -> None:
    """A line that went down to its treatment would hold water there."""
    tall = L_SHAPE.replace("from left: 4.7 m, height: 0.6 m", "from left: 4.7 m, height: 1.5 m")
    layout, _ = of_main(tall + "treatment: [filter]\n")
    (unit,) = [node for node in layout.nodes.values() if node.kind is NodeKind.TREATMENT]
    assert unit.at.z == pytest.approx(1.8)
    rising = [run for run in layout.runs if run.kind is RunKind.RISER]
    assert all(layout.nodes[run.end].at.z >= layout.nodes[run.start].at.z for run in rising)


def test_a_drop_behind_the_treatment_train() -> None:
    text = L_SHAPE.replace("wall: D-E, from left: 2 m", "wall: B-C, from left: 5.4 m") + "treatment: [filter]\n"
    finding = refused(text)
    assert (finding.rule, finding.subject) == ("ROUTE004", "O1")
    assert "riser and treatment train" in finding.message


@pytest.mark.parametrize("other_fitting_m, turns_at_m", [(9.0, 0.3), (0.45, 0.3), (0.35, None), (0.2, None)])
def test_a_low_end_keeps_clear_of_other_fittings(other_fitting_m: float, turns_at_m: float | None) -> None:
    """It turns down 0.3 m past the last take-off, unless another branch has a fitting within 0.1 m of that way."""
    site, _ = read(L_SHAPE + MAIN.format(height="2.5 m", more=""), "rooms.yaml")
    assert site is not None
    wall = site.wall("shop", "F-A")
    first, last = (Station(key, wall, s, wall.at(s, 0.16)) for key, s in (("riser", 1.0), ("outlet O1", 2.0)))
    end_step = Step(last, "riser", wall, False, 1.0, 2.49)
    route = Route((Step(first, "", wall, False, 0.0, 2.5), end_step))
    taken = [first.at, last.at, wall.at(2.0 + other_fitting_m, 0.16)]
    end = find_low_end(site, route, end_step, 0.16, (), taken)
    assert (end.length_m if end else None) == (turns_at_m and pytest.approx(turns_at_m))
