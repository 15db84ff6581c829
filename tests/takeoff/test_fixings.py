"""What holds the pipe and what that is held by: rods, joiners, screws, sleeves; counted by hand on small sites."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from drafter.layout.graph import RunKind
from drafter.pipeline import Designed, design
from drafter.supports import Design
from drafter.takeoff import Takeoff
from drafter.takeoff.fixings import posts_behind
from drafter.takeoff.holding import rods_m
from drafter.takeoff.order_of_work import order_of_work
from drafter.takeoff.part import FIXINGS, SUNDRIES

SITES = Path(__file__).parents[2] / "example_sites"

HANGS = """
site: Hanging room (invented)
rooms:
  hall:
    size: [9 m, 6 m]
    ceiling: CEILING
    crossings: [{wall: north, from left: 6 m, joists: {spacing: 600 mm, first: 300 mm}}]
compressor: {wall: north, from left: 0.4 m, power: 2.2 kW, free air: 4.5 l/s, cut in: 7.5 bar, cut out: 9 bar,
  tank: 100 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube type L, height: 2.6 m, fall: 1 %, path: [north, crossing 1, south]}
outlets:
  - {tag: A1, wall: north, from left: 3.6 m, tools: [blow gun]}
  - {tag: A2, wall: south, from left: 2.6 m, tools: [ratchet wrench]}
"""


@cache
def made(name: str) -> Designed:
    return design((SITES / f"{name}.yaml").read_bytes(), name)


@cache
def hanging(ceiling: str) -> Designed:
    return design(HANGS.replace("CEILING", ceiling), "hangs")


def stages(designed: Designed) -> tuple[Design, Takeoff]:
    assert designed.design is not None, [finding.message for finding in designed.findings]
    assert designed.takeoff is not None
    return designed.design, designed.takeoff


def test_studs_and_boards_get_their_screws() -> None:
    """Two a bracket; a board lies on the studs at its ends and on those between, with two screws in each."""
    design_, takeoff = stages(made("cabinet_shop"))
    rows = {row.item: row.quantity for row in takeoff.parts if row.group == FIXINGS}
    assert rows["wood screw for brackets, into studs"] == 2 * sum(bool(b.stud) for b in design_.brackets)
    assert rows["wood screw for brackets, into backing boards"] == 2 * sum(bool(b.board) for b in design_.brackets)
    site = design_.network.layout.site
    from_bay = [board for board in design_.boards if board.length_m < 0.5]
    assert all(posts_behind(site, board) == 2 for board in from_bay)
    assert rows["wood screw for backing boards, into studs"] == 2 * sum(
        posts_behind(site, board) for board in design_.boards
    )
    assert not any("masonry" in item for item in rows)


def test_masonry_columns_and_joists_get_theirs() -> None:
    design_, takeoff = stages(made("machinery_shed"))
    rows = {row.item.split(",")[0]: row.quantity for row in takeoff.parts if row.group == FIXINGS}
    hung = [bracket for bracket in design_.brackets if bracket.hangs]
    fronts = [bracket for bracket in design_.brackets if bracket.on_column]
    braced = sum(bracket.fixed for bracket in hung)
    assert rows["rod screw for hangers into timber joists"] == len(hung) + braced > braced > 0
    assert rows["fixing for brackets"] == 2 * len(fronts) > 0
    assert rows["plug and screw for brackets"] == 2 * (len(design_.brackets) - len(hung) - len(fronts))


@pytest.mark.parametrize("ceiling, joiners", [("3.2 m", 0), ("4.2 m", 1), ("5.2 m", 2)])
def test_rods_longer_than_they_are_sold_are_joined(ceiling: str, joiners: int) -> None:
    design_, takeoff = stages(hanging(ceiling))
    hung = [bracket for bracket in design_.brackets if bracket.hangs]
    assert len(hung) > 2
    for bracket in hung:
        rods = rods_m(bracket)
        assert len(rods) == joiners + 1
        assert max(rods) <= 1.0
        assert bracket.stand_off_m <= sum(rods) < bracket.stand_off_m + 0.25
    assert sum(row.quantity for row in takeoff.parts if row.item.startswith("joiner")) == joiners * len(hung)
    assert all(("rods of 1000 mm + " in row.item) == (joiners > 0) for row in takeoff.parts if "hanger, " in row.item)


def test_hangers_are_marked_below_their_joist_and_fixed_at_it() -> None:
    design_, takeoff = stages(hanging("4.2 m"))
    by_tag = {bracket.tag: bracket for bracket in design_.brackets if bracket.hangs}
    marks = [mark for mark in takeoff.marks if mark.tag in by_tag]
    assert len(marks) == len(by_tag)
    for mark in marks:
        bracket = by_tag[mark.tag]
        below = f"pipe {bracket.stand_off_m * 1000:.0f} mm below the"
        place = "board" if bracket.board else "joist"
        words = f"hanger {bracket.size.name} on {place} {bracket.board or bracket.stud}, {below} {place}"
        assert mark.what == words + (", FIXED, rod braced" if bracket.fixed else "")
        assert mark.fixed_at_m == pytest.approx(4.2 - (0.019 if bracket.board else 0.0))


def test_a_hanger_below_a_bare_ceiling_says_so() -> None:
    _, takeoff = stages(
        design(HANGS.replace("CEILING", "3 m").replace(", joists: {spacing: 600 mm, first: 300 mm}", ""), "bare")
    )
    hung = [mark for mark in takeoff.marks if mark.what.startswith("hanger")]
    assert hung
    assert sum(mark.what.endswith("below the ceiling") for mark in hung) == len(hung) - 1
    assert sum(mark.what.endswith("below the ceiling, FIXED, rod braced") for mark in hung) == 1
    (row,) = [row for row in takeoff.parts if row.group == FIXINGS and "hangers" in row.item]
    assert (row.item, row.quantity) == ("anchor for hangers, into ceiling or roof", len(hung) + 1)
    assert "not in the site file" in row.size


def test_marks_and_parts_schedule_speak_of_the_same_brackets() -> None:
    """A fixed hanger has a braced rod; loose brackets are bought in steps of what the marks say they give."""
    for name, fixed, loose in (
        ("machinery_shed", "hanger, fixed point, rod braced along the pipe, with a rod of 500 mm", "loose, 5 mm"),
        ("bus_depot", "bracket, fixed point, 170 mm off the wall", "loose, 10 mm"),
        ("cabinet_shop", "bracket, fixed point, 0'-6 1/2\" off the wall", 'loose, 1/4"'),
    ):
        design_, takeoff = stages(made(name))
        held = [row for row in takeoff.parts if row.item.startswith(("bracket, ", "hanger, "))]
        assert any(row.item == fixed for row in held)
        assert any(row.item.startswith(f"bracket, {loose} or more to either side, ") for row in held)
        marks = [mark.what for mark in takeoff.marks if mark.tag.startswith("B-")]
        assert sum(row.quantity for row in held if "fixed point" in row.item) == sum("FIXED" in what for what in marks)
        (tightened,) = [
            step.care for step in order_of_work(design_, takeoff) if step.care.startswith("Tighten the brackets")
        ]
        assert all(bracket.tag in tightened for bracket in design_.brackets if bracket.gives_m)
        listed = sum(row.quantity for row in held if ", loose, " in row.item)
        assert listed == sum(", loose: lets the pipe move " in what for what in marks) > 0


def test_sleeves_have_bore_and_thickness() -> None:
    """35 mm tube: 45 mm or more, the next sleeve 50 mm, cored 65 mm."""
    _, takeoff = stages(made("bus_depot"))
    rows = [row for row in takeoff.parts if "sleeve" in row.item]
    assert {(row.group, row.size) for row in rows} == {(SUNDRIES, "bore 50 mm")}
    assert sum(row.quantity for row in rows) == 2
    assert all(re.fullmatch(r"wall sleeve with seal, \d+ mm thick", row.item) for row in rows)
    cores = [mark.what for mark in takeoff.marks if mark.what.startswith("sleeve")]
    assert cores == ["sleeve, core 65 mm"] * 4


def test_the_two_faces_of_a_sleeve_are_marked_at_the_level_of_the_pipe_there() -> None:
    """The pipe falls 1/8 in per ft: 1/16 in through a wall of 6 in; 8 ft 9 in at the top of the riser is the datum."""
    design_, takeoff = stages(made("cabinet_shop"))
    layout = design_.network.layout
    shop, closet = (mark for mark in takeoff.marks if mark.what.startswith("sleeve, core"))
    assert closet.height_m - shop.height_m == pytest.approx(6 * 0.0254 / 96, abs=1e-6)
    (run,) = (run for run in layout.runs if run.kind is RunKind.SLEEVE)
    off_m = layout.site.wall("closet", "east").measure(layout.nodes[run.start].at.plan)[1]
    assert closet.height_m == pytest.approx(layout.nodes[run.start].at.z - off_m / 96, abs=1e-5)


def test_deck_sleeves_have_the_size_of_what_passes() -> None:
    """Pipe of 1/2 in is 21.3 mm outside: the 32 mm sleeve."""
    _, takeoff = stages(made("machinery_shed"))
    (row,) = [row for row in takeoff.parts if "sleeve" in row.item]
    assert (row.item, row.size) == ("deck sleeve with seal, 200 mm thick", "bore 32 mm")
    (mark,) = [mark for mark in takeoff.marks if mark.what.startswith("sleeve through")]
    assert mark.what.endswith("hole 42 mm")
