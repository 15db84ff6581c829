"""Tube bent round corners: lengths by hand, turns without room, couplings off the bends, wrong bends seen."""

from __future__ import annotations

import dataclasses
import math
import random
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.finding import Severity
from drafter.layout.graph import Layout, NodeKind, RunKind
from drafter.pipeline import Designed, design
from drafter.report import to_json
from drafter.site.defaults import defaults_taken
from drafter.sizing.network import Network
from drafter.standards.materials import material
from drafter.supports import place_supports
from drafter.takeoff import Takeoff, take_off
from drafter.takeoff.bend_words import bends_words
from drafter.takeoff.job_tools import job_tools
from drafter.takeoff.order_of_work import order_of_work
from drafter.takeoff.part import Part
from drafter.takeoff.pieces import Piece
from drafter.takeoff.posing import misplaced
from drafter.takeoff.schedules import not_joined

SITES = Path(__file__).parents[2] / "example_sites"
NAMES = sorted(path.stem for path in SITES.glob("*.yaml"))
BENDING = ("polyamide tube", "multilayer tube")
HALL = """
site: Reed Bank Boat Hall (invented)
rooms: {{hall: {{{shape}, ceiling: 3.1 m}}}}
compressor:
  {{wall: {walls[0]}, from left: {compressor}, power: 2.2 kW, free air: 4.3 l/s, cut in: 7 bar, cut out: 8.5 bar,
   tank: 90 l, rated: 11 bar, relief: 10 bar}}
main: {{material: polyamide tube, size: {size}, height: 2.6 m, fall: {fall}, turns: bent, {more}
  path: [{walls[0]}, {walls[1]}]}}
outlets:
  - {{tag: A1, wall: {walls[0]}, from left: {first}, tools: [blow gun]}}
  - {{tag: A2, wall: {walls[1]}, from left: {second}, tools: [blow gun]}}
"""
SQUARE: dict[str, Any] = {"shape": "size: [9.4 m, 6.2 m]", "walls": ("north", "east")}
SLANT: dict[str, Any] = {
    "shape": "corners: {A: [0 m, 0 m], B: [0 m, 6 m], C: [6 m, 6 m], D: [9 m, 3 m], E: [9 m, 0 m]}",
    "walls": ("B-C", "C-D"),
}


def hall(
    first: str = "7 m", second: str = "2.5 m", fall: str = "0 %", size: str = "22 x 2", more: str = "", **shape: Any
) -> Designed:
    text = HALL.format(
        first=first, second=second, fall=fall, size=size, more=more, compressor="0.7 m", **(shape or SQUARE)
    )
    return design(text, "hall.yaml")


@cache
def bent(name: str, family: str) -> Designed:
    """An example in a family that bends, with its turns bent; sizes of a make are left out."""
    text = (SITES / f"{name}.yaml").read_text(encoding="utf-8")
    text = re.sub(r"material: [^,\n}]+", f"material: {family}", text)
    text = re.sub(r"  tubes:.*\n(?:    - .*\n)+", "", text).replace("size: [13 ft, 6 ft]", "size: [15 ft, 6 ft]")
    text = text.replace("main: {", "main: {turns: bent, ").replace("main:\n", "main:\n  turns: bent\n")
    return design(text, name)


def made(designed: Designed) -> tuple[Layout, Network, Takeoff]:
    assert designed.layout is not None, designed.findings
    assert designed.network is not None
    assert designed.takeoff is not None
    return designed.layout, designed.network, designed.takeoff


def between(takeoff: Takeoff, start: str, end: str) -> Piece:
    return next(piece for piece in takeoff.pieces if (piece.start, piece.end) == (start, end))


def test_a_right_angle_by_hand() -> None:
    """22 x 2, R = 8 x 22 = 176 mm, legs A and B, tees of 46 mm to the face, 33 mm insertion: A + B - 26 - 0.4292 R."""
    layout, _, takeoff = made(hall())
    a_m = 9.4 - 0.18 - 7.0
    b_m = 2.5 - 0.18
    piece = between(takeoff, "take-off A1", "take-off A2")
    assert piece.centre_to_centre_m == pytest.approx(a_m + b_m)
    assert piece.cut_m == pytest.approx(a_m + b_m - 2 * 0.046 + 2 * 0.033 - 0.4292 * 0.176, abs=1e-5)
    (bend,) = piece.bends
    assert bend.radius_m == pytest.approx(0.176)
    assert bend.from_m == pytest.approx(a_m - 0.046 + 0.033 - 0.176)
    assert bend.to_m - bend.from_m == pytest.approx(0.176 * math.pi / 2)
    assert bends_words(piece, layout.site.units) == "90° R 176, 2031 to 2307"


def test_half_a_right_angle_by_hand() -> None:
    """2 R tan(22.5 deg) - R pi/4 is 0.0430 R; no elbow stands there."""
    layout, network, takeoff = made(hall("4 m", "2.5 m", **SLANT))
    piece = between(takeoff, "take-off A1", "take-off A2")
    (bend,) = piece.bends
    assert math.degrees(bend.turn_rad) == pytest.approx(45.0)
    assert piece.cut_m == pytest.approx(piece.centre_to_centre_m - 0.026 - 0.04303 * 0.176, abs=1e-5)
    assert bends_words(piece, layout.site.units).startswith("45° R 176, ")
    assert not any(part.item == "elbow 45°" for part in takeoff.instances)
    assert not_joined(layout, takeoff) == []
    assert len(network.bends) == 3


def test_a_turn_that_no_elbow_has_is_bent() -> None:
    shape = {**SLANT, "shape": str(SLANT["shape"]).replace("C: [6 m", "C: [7.3 m")}
    layout, _, takeoff = made(hall("4 m", "2 m", **shape))
    assert {finding.rule for finding in takeoff.findings} == set()
    (bend,) = between(takeoff, "take-off A1", "take-off A2").bends
    assert 50.0 < math.degrees(bend.turn_rad) < 84.0
    assert not_joined(layout, takeoff) == []


@pytest.mark.parametrize("off_corner_mm, turns", [(256, True), (254, False)])
def test_a_leg_without_room_keeps_its_elbow(off_corner_mm: int, turns: bool) -> None:
    """A leg needs R, 33 mm of straight tube and the tee's 46 mm: 255 mm."""
    layout, network, takeoff = made(hall(first=f"{9.4 - 0.18 - off_corner_mm / 1000:.3f} m"))
    corner = next(
        id
        for id, node in layout.nodes.items()
        if node.kind is NodeKind.BEND and node.at.plan.x > 9.2 and node.at.z > 2.5
    )
    assert (corner in network.bends) is turns
    straight = between(takeoff, "take-off A1", "take-off A2" if turns else "elbow")
    assert bool(straight.bends) is turns
    assert not_joined(layout, takeoff) == []


@pytest.mark.parametrize("outside, bore, turns", [(22, 18, True), (75, 65, False)])
def test_a_bend_round_an_outside_corner_keeps_off_the_wall(outside: int, bore: int, turns: bool) -> None:
    """At 180 mm off both walls an arc of 600 mm radius leaves 600 - sqrt 2 x 420 = 6 mm to the corner of the wall."""
    shape = {
        "shape": "corners: {A: [0 m, 0 m], B: [0 m, 9 m], C: [6 m, 9 m], D: [6 m, 4 m], E: [9 m, 4 m], F: [9 m, 0 m]}",
        "walls": ("C-D", "D-E"),
    }
    tubes = f"tubes: [{{outside: 22 mm, bore: 18 mm}}, {{outside: {outside} mm, bore: {bore} mm}}], drop size: 22 x 2,"
    more = tubes if outside != 22 else ""
    size = "22 x 2" if outside == 22 else f"{outside} x 5"
    layout, network, takeoff = made(hall("3.5 m", "2.5 m", size=size, more=more, **shape))
    corner = next(node for node in layout.nodes.values() if node.kind is NodeKind.BEND and node.at.plan.y == 3.82)
    assert (corner.id in network.bends) is turns
    assert not_joined(layout, takeoff) == []


def test_swan_necks_keep_their_elbows_and_corners_risers_and_low_ends_are_bent() -> None:
    layout, network, takeoff = made(hall())
    kinds = {frozenset(layout.run_by_id[id].kind for id in bend.runs) for bend in network.bends.values()}
    assert kinds == {
        frozenset({RunKind.RISER, RunKind.MAIN}), frozenset({RunKind.MAIN}),
        frozenset({RunKind.MAIN, RunKind.DRIP_LEG}),
    }  # fmt: skip
    assert sum(part.item == "elbow 90°" for part in takeoff.instances) == 4


def test_fittings_are_the_default_and_stand_on_the_sheets_only_where_there_is_a_choice() -> None:
    text = (SITES / "bicycle_coop.yaml").read_text(encoding="utf-8")
    plain = design(text, "coop.yaml")
    layout, network, takeoff = made(plain)
    assert network.bends == {}
    assert all(len(piece.spans) == 1 for piece in takeoff.pieces)
    assert ("main: turns", "fittings", "common practice") in defaults_taken(layout.site)
    copper, _, _ = made(design(text.replace("polyamide tube", "copper tube type L"), "coop.yaml"))
    assert not any(what == "main: turns" for what, _, _ in defaults_taken(copper.site))


@pytest.mark.parametrize("family", BENDING)
@pytest.mark.parametrize("name", NAMES)
def test_bent_examples_go_together(name: str, family: str) -> None:
    layout, network, takeoff = made(bent(name, family))
    assert [finding for finding in takeoff.findings if finding.severity is Severity.ERROR] == []
    assert not_joined(layout, takeoff) == []
    turns = sum(node.kind is NodeKind.BEND and len(layout.runs_at[id]) == 2 for id, node in layout.nodes.items())
    elbows = sum(part.item.startswith("elbow") for part in takeoff.instances)
    assert elbows == turns - len(network.bends)
    assert len(network.bends) >= 3
    assert sum(len(piece.bends) for piece in takeoff.pieces) == len(network.bends)
    loops = int(layout.site.main.arrangement == "ring")
    assert len(takeoff.instances) - len(takeoff.joints) == 1 - loops


@settings(deadline=None, max_examples=25)
@given(st.sampled_from(NAMES), st.sampled_from(BENDING), st.randoms(use_true_random=False))
def test_pieces_and_fittings_rebuild_the_route_in_any_sizes(name: str, family: str, chance: random.Random) -> None:
    network = bent(name, family).network
    assert network is not None
    of_outlet = {run.outlet: chance.choice(network.material.sizes) for run in network.layout.runs}
    sizes = {run.id: of_outlet[run.outlet] for run in network.layout.runs}
    resized = dataclasses.replace(network, sizes=sizes)
    takeoff = take_off(place_supports(resized))
    overlap = any(finding.severity is Severity.ERROR for finding in takeoff.findings)
    assert overlap or not_joined(network.layout, takeoff) == []
    for line in resized.tube_lines:
        pieces = [piece for piece in takeoff.pieces if piece.run in {run.id for run in line.runs}]
        assert sum(len(piece.bends) for piece in pieces) == len(line.bends)
        for piece in pieces:
            tube = network.material.find_size(piece.size)
            assert tube is not None
            marks = [0.0, *(at for bend in piece.bends for at in (bend.from_m, bend.to_m)), piece.cut_m]
            assert marks == sorted(marks)
            if piece.bends:
                assert min(marks[1], piece.cut_m - marks[-2]) >= 2 * tube.insertion_m - 1e-9
    for bend in resized.bends.values():
        assert len({sizes[id] for id in bend.runs}) == 1


def test_short_lengths_are_coupled_on_the_straight() -> None:
    """1 m lengths: every coupling keeps off the bends by what goes into it, and the tube still ends where it must."""
    layout, network, takeoff = made(hall(more="stock: [1 m],"))
    assert [finding for finding in takeoff.findings if finding.severity is Severity.ERROR] == []
    tube = material("polyamide tube").find_size("22 x 2")
    assert tube is not None
    assert all(piece.cut_m <= 1.0 + 1e-9 for piece in takeoff.pieces)
    bends = [(piece, bend) for piece in takeoff.pieces for bend in piece.bends]
    assert len(bends) == len(network.bends) == 3
    for piece, bend in bends:
        assert min(bend.from_m, piece.cut_m - bend.to_m) >= 2 * tube.insertion_m - 1e-9
    assert not_joined(layout, takeoff) == []


@pytest.mark.parametrize("outside, bore, errors", [(63, 53, set[str]()), (75, 65, {"CUT002"})])
def test_a_bend_too_long_for_the_lengths_sold_is_an_error(outside: int, bore: int, errors: set[str]) -> None:
    """In 1 m: the arc of 8 diameters and 90 mm at either end is 972 mm of 63 mm tube, 1122 mm of 75 mm."""
    tubes = (
        "{outside: 22 mm, bore: 18 mm}, "
        f"{{outside: {outside} mm, bore: {bore} mm, centre to face: 70 mm, insertion: 45 mm}}"
    )
    more = f"tubes: [{tubes}], drop size: 22 x 2, stock: [1 m],"
    _, network, takeoff = made(hall("6.5 m", size=f"{outside} x 5", more=more))
    assert len(network.bends) == 2
    assert {finding.rule for finding in takeoff.findings} == errors


def wrong_bends(parts: tuple[Part, ...], chance: random.Random) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """One mistake of each kind in a bent piece of tube, by chance."""
    number = chance.choice([n for n, part in enumerate(parts) if part.bends])
    part = parts[number]
    which = chance.randrange(len(part.bends))
    bend = part.bends[which]
    off = chance.choice((-1.0, 1.0)) * chance.uniform(0.004, 0.08)
    for what, others in (
        ("wrong radius", (dataclasses.replace(bend, radius_m=bend.radius_m + off),)),
        ("bend elsewhere", (dataclasses.replace(bend, from_m=bend.from_m + off),)),
        ("wrong turn", (dataclasses.replace(bend, turn_rad=bend.turn_rad + math.copysign(0.05, off)),)),
        ("bent the other way", (dataclasses.replace(bend, way=type(bend.way)(*(-way for way in bend.way))),)),
        ("missing bend", ()),
        ("bent twice", (bend, bend)),
    ):
        bends = (*part.bends[:which], *others, *part.bends[which + 1 :])
        yield what, (*parts[:number], dataclasses.replace(part, bends=bends), *parts[number + 1 :])


@pytest.mark.parametrize("family", BENDING)
@pytest.mark.parametrize("name", ["bicycle_coop", "boat_shed"])
def test_wrong_bends_are_caught(name: str, family: str) -> None:
    layout, _, takeoff = made(bent(name, family))
    chance, seen = random.Random(f"{name} {family}"), set[str]()
    for _ in range(40):
        for what, parts in wrong_bends(takeoff.instances, chance):
            assert not_joined(layout, dataclasses.replace(takeoff, instances=parts)), what
            seen.add(what)
    assert len(seen) == 6


def test_each_bent_cut_counts_where_its_line_ends() -> None:
    """A bent piece 3 mm too long puts what hangs behind it 3 mm off."""
    layout, _, takeoff = made(bent("bicycle_coop", "polyamide tube"))
    for number, part in enumerate(takeoff.instances):
        if part.bends:
            longer = dataclasses.replace(part, cut_m=part.cut_m + 0.003)
            parts = (*takeoff.instances[:number], longer, *takeoff.instances[number + 1 :])
            faults = not_joined(layout, dataclasses.replace(takeoff, instances=parts))
            assert any("3 mm off its place" in fault for fault in faults)


def test_a_lone_bent_piece_lands_where_the_arc_does() -> None:
    """From the first end 1 m on, a quarter of R 0.2 m to the left, 0.5 m on: at (1.2, 0.7)."""
    from drafter.geometry import Point3
    from drafter.takeoff.part import Joint, Port, TubeBend

    east, north = Point3(1.0, 0.0, 0.0), Point3(0.0, 1.0, 0.0)
    back = Point3(-1.0, 0.0, 0.0)
    bend = TubeBend(1.0, 0.2, math.pi / 2, north)
    cut_m = 1.0 + 0.2 * math.pi / 2 + 0.5
    tube = Part("1", "tube", "tube", "22", (Port("tube", "22", "a", back), Port("tube", "22", "b", north)), "1", cut_m)
    start = Part("0", "fittings", "cap", "22", (Port("socket", "22", "a", east),))
    end = Part("2", "fittings", "cap", "22", (Port("socket", "22", "b", Point3(0.0, -1.0, 0.0)),), "X")
    parts = (start, dataclasses.replace(tube, bends=(bend,)), end)
    joints = (Joint(("0", 0), ("1", 0)), Joint(("1", 1), ("2", 0)))
    assert misplaced(parts, joints, ("0", Point3(0.0, 0.0, 0.0)), {"X": Point3(1.2, 0.7, 0.0)}) == []
    assert misplaced(parts, joints, ("0", Point3(0.0, 0.0, 0.0)), {"X": Point3(1.2, 0.703, 0.0)})


def test_a_bend_into_a_drain_leaves_no_make_up_piece_before_it() -> None:
    """With an elbow the last of the main is cut on site; bent down into its free drip leg it need not be."""
    layout, _, takeoff = made(hall())
    last = next(piece for piece in takeoff.pieces if piece.bends and piece.end.startswith("D-"))
    assert not last.make_up
    assert between(takeoff, "take-off A1", "take-off A2").make_up
    assert layout.run_by_id[last.run].kind is RunKind.MAIN


def test_work_tools_and_data_say_how_it_is_bent() -> None:
    designed = hall()
    _, _, takeoff = made(designed)
    assert designed.design is not None
    (step,) = [step for step in order_of_work(designed.design, takeoff) if step.what.startswith("Bend ")]
    numbers = [piece.number for piece in takeoff.pieces if piece.bends]
    assert step.which.startswith(f"pieces {numbers[0]}-{numbers[-1]}, 3 bends")
    (last,) = [piece.number for piece in takeoff.pieces if piece.bends and piece.make_up]
    assert step.which.endswith(f"; {last} when the rest of the line stands, each bend where its corner falls")
    assert any(
        row.item.startswith("former") and row.use == "bends: 22 x 2" for row in job_tools(designed.design, takeoff)
    )
    data = to_json(designed.findings, designed.design, takeoff)
    piece = next(piece for piece in data["pieces"] if piece["to"] == "take-off A2")
    assert piece["bends"] == [{"from_m": 2.031, "to_m": 2.3075, "radius_m": 0.176, "turn_deg": 90.0}]
    assert len(piece["pipes"]) == 2
