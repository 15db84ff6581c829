"""The order of work names every piece, tag and wall of the job, in an order that can be built; tools by family."""

from __future__ import annotations

import dataclasses
import re
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import Designed, design
from drafter.site.wall import in_words, with_article
from drafter.standards.joint_tools import CONDITIONS, joint_tools
from drafter.standards.materials import material, material_names
from drafter.supports import Design
from drafter.takeoff import Takeoff
from drafter.takeoff.job_tools import TOOL, USED_UP, job_tools
from drafter.takeoff.order_of_work import Step, order_of_work
from drafter.takeoff.working_height import LADDER, PLATFORM, height_care

SITES = Path(__file__).parents[2] / "example_sites"
NAMES = sorted(path.stem for path in SITES.glob("*.yaml"))


@cache
def made(name: str) -> Designed:
    return design((SITES / f"{name}.yaml").read_bytes(), name)


def stages(designed: Designed) -> tuple[Design, Takeoff]:
    assert designed.design is not None
    assert designed.takeoff is not None
    return designed.design, designed.takeoff


def steps_of(name: str) -> tuple[Step, ...]:
    return order_of_work(*stages(made(name)))


def pieces_in(step: Step) -> list[int]:
    numbers: list[int] = []
    for told in re.findall(r"^pieces? ([\d, -]+)", step.which):
        for part in told.split(", "):
            first, _, last = part.partition("-")
            numbers += range(int(first), int(last or first) + 1)
    return numbers


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_is_built_once(name: str) -> None:
    _, takeoff = stages(made(name))
    told = [number for step in steps_of(name) for number in pieces_in(step)]
    assert sorted(told) == [piece.number for piece in takeoff.pieces]


@pytest.mark.parametrize("name", NAMES)
def test_no_piece_is_built_before_what_carries_it(name: str) -> None:
    """From the compressor outwards: the piece before is in the same step or an earlier one."""
    design_, takeoff = stages(made(name))
    layout = design_.network.layout
    at = {number: step.number for step in steps_of(name) for number in pieces_in(step)}
    first = {
        run.id: at[next(p.number for p in takeoff.pieces if p.run == run.id)]
        for run in layout.runs
        if any(p.run == run.id for p in takeoff.pieces)
    }
    for run in layout.runs:
        before = [other for other in layout.runs_at[run.start] if other.end == run.start and other.id in first]
        if before and run.id in first:
            assert min(first[other.id] for other in before) <= first[run.id]


@pytest.mark.parametrize("name", NAMES)
def test_every_tag_is_in_it(name: str) -> None:
    design_, _ = stages(made(name))
    words = " ".join(f"{step.what} {step.which}" for step in steps_of(name))
    for node in design_.network.layout.nodes.values():
        if node.tag:
            assert re.search(rf"\b{node.tag}\b", words), node.tag


@pytest.mark.parametrize("name", NAMES)
def test_each_wall_is_marked_before_its_pipe_and_the_test_comes_before_air(name: str) -> None:
    steps = steps_of(name)
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    whats = [step.what for step in steps]

    def first(words: str) -> int:
        return next(number for number, what in enumerate(whats) if words in what)

    order = ["lock out", "level line", "Mark out", "cut by the cutting plan", "Stand the set", "Build the riser"]
    order += [
        "Build the main",
        "Build drop",
        "Before the test",
        "Low-pressure test",
        "Raise in steps",
        "connected and started",
    ]
    order += ["Leak check", "Hand over"]
    assert all(first(one) < first(other) for one, other in pairwise(order))
    marked = [what.partition(": ")[2] for what in whats if what.startswith("Mark out")]
    built = {what.partition("along ")[2].removeprefix("the ") for what in whats if what.startswith("Build the main")}
    design_, takeoff = stages(made(name))
    asked = {
        design_.network.layout.site.wall_words(mark.room, mark.wall, words)
        for mark in takeoff.marks
        if not mark.what.startswith("sleeve, core")
        for words in (in_words, with_article)
    }
    assert {wall for wall in built if wall in asked} <= set(marked)
    assert len(marked) == len(set(marked)) > 0


def test_cautions_stand_where_they_belong() -> None:
    steps = steps_of("bus_depot")
    panel = [step for step in steps if step.what.endswith("west wall of workshop") and step.what.startswith("Mark")]
    assert ["Keep off the electrical panel." in step.care for step in panel] == [True]
    high = [step for step in steps if step.what.startswith("Build the main")]
    assert high
    assert all("platform or tower, two people" in step.care for step in high)
    by_word = {
        word: next(step for step in steps if word in step.what) for word in ("lock out", "Low-pressure", "connected")
    }
    assert "electrician" in by_word["lock out"].care
    assert "eye protection" in by_word["Low-pressure"].care
    assert "electrician" in by_word["connected"].care
    assert "Bleed to zero" in by_word["Low-pressure"].care


def test_a_main_within_reach_needs_no_ladder() -> None:
    text = (SITES.parent / "tests" / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
    design_, takeoff = stages(
        design(
            text.replace("height: 2.6 m", "height: 1.99 m").replace(
                "wall: south, from left: 3 m", "wall: south, from left: 3 m, height: 0.9 m"
            ),
            "low",
        )
    )
    steps = order_of_work(design_, takeoff)
    mains = [step for step in steps if step.what.startswith("Build the main")]
    assert mains
    assert not any("adder" in step.care or "platform" in step.care for step in mains)


@pytest.mark.parametrize("family", material_names())
def test_each_family_has_its_tools(family: str) -> None:
    found = joint_tools(family)
    words = " ".join(tool.tool for tool in found.tools)
    assert found.making.startswith("cut square")
    assert found.care
    assert re.search("cutter|shears", words)
    assert ("press tool" in words) == ("press" in material(family).joint)
    assert ("threader" in words) == (material(family).joins_by == "thread")
    assert ("insertion gauge" in words) == ("push-in" in material(family).joint or family == "stainless press tube")
    assert all(tool.when in ("", *CONDITIONS) for tool in found.tools)
    assert {tool.when for tool in found.tools} >= set(CONDITIONS) - {"short"}
    assert all(item.amount > 0.0 and item.per in ("joint", "end", "thread", "outside") for item in found.consumables)


def test_consumables_are_counted_from_the_joints() -> None:
    """Solder 1.2 m of wire for each metre of outside diameter: of a 7/8 in joint 27 mm."""
    design_, takeoff = stages(made("cabinet_shop"))
    used = {row.item: row for row in job_tools(design_, takeoff) if row.kind == USED_UP}
    outside = {size.name: size.outside_m for size in design_.network.material.sizes}
    metres = sum(2 * outside[piece.size] * 1.2 for piece in takeoff.pieces)
    wire = used["lead-free solder wire, where soldered"]
    assert metres <= wire.amount < metres + 1.0
    threads = sum(port.kind == "male" for part in takeoff.instances for port in part.ports)
    assert threads * 0.4 <= used["thread sealant rated for air"].amount < threads * 0.4 + 1.0
    assert 2.0 * len(takeoff.joints) <= used["leak fluid"].amount < 2.0 * len(takeoff.joints) + 10.0


def test_tools_that_come_in_sizes_name_them() -> None:
    design_, takeoff = stages(made("bus_depot"))
    (press,) = [row for row in job_tools(design_, takeoff) if row.kind == TOOL and row.item.startswith("press tool")]
    assert press.use == f"joints: {', '.join(sorted({piece.size for piece in takeoff.pieces}))}"


def test_unions_are_closed_last_where_they_stand() -> None:
    text = re.sub(
        r"material: [^,\n}]+", "material: steel pipe schedule 40", (SITES / "boat_shed.yaml").read_text("utf-8")
    )
    designed = design(re.sub(r"  tubes:.*\n(?:    - .*\n)+", "", text), "shed")
    steps = order_of_work(*stages(designed))
    closing = [step for step in steps if "last." in step.care and "Close" in step.care]
    assert sum("main" in step.what for step in closing) == 6
    assert sum("riser" in step.what for step in closing) == 1
    assert sum("drop" in step.what for step in closing) == 10


def test_make_up_pieces_are_cut_when_their_line_stands() -> None:
    _, takeoff = stages(made("bus_depot"))
    (cut,) = [step for step in steps_of("bus_depot") if "cut by the cutting plan" in step.what]
    told = re.search(r"make-up ([\d, -]+) when", cut.which)
    assert told is not None
    numbers: list[int] = []
    for part in told[1].split(", "):
        first, _, last = part.partition("-")
        numbers += range(int(first), int(last or first) + 1)
    assert numbers == [piece.number for piece in takeoff.pieces if piece.make_up]


def test_a_deck_is_looked_at_before_a_hole_is_made() -> None:
    (hole,) = [step for step in steps_of("machinery_shed") if "sleeves" in step.what]
    assert hole.which == "1: mezzanine, hole 42 mm"
    assert "Look first what the deck is built of" in hole.care


def test_the_last_tube_of_a_ring_swings_past_its_neighbour() -> None:
    """All brackets on the two pieces stay open, and one more at either end, so that the tubes can swing."""
    design_, takeoff = stages(made("boat_shed"))
    (care,) = [step.care for step in order_of_work(design_, takeoff) if "slip coupling" in step.care]
    (number,) = [n for n, piece in enumerate(takeoff.pieces) if piece.slips]
    before, last = takeoff.pieces[number - 1], takeoff.pieces[number]
    told = set(re.findall(r"B-\d+", care.partition(" still open")[0]))
    on_them = {bracket.tag for bracket in design_.brackets if bracket.run in (*before.runs, *last.runs)}
    assert on_them < told
    assert len(told) == len(on_them) + 2
    assert f"onto piece {last.number}, swing its end past that of piece {before.number}" in care


def test_a_job_without_sleeves_cores_no_wall() -> None:
    design_, takeoff = stages(made("bicycle_coop"))
    assert not any(run.kind is RunKind.SLEEVE for run in design_.network.layout.runs)
    assert not any("sleeves" in step.what for step in order_of_work(design_, takeoff))
    (core,) = [step for step in steps_of("bus_depot") if "sleeves" in step.what]
    assert core.which == "2: north wall of workshop, core 65 mm; east wall of store, core 65 mm"
    assert "platform or tower, two people" in core.care
    assert "deck" not in core.care
    assert core.number < min(step.number for step in steps_of("bus_depot") if step.what.startswith("Mark out"))


def test_what_is_not_drained_by_hand_is_looked_at() -> None:
    designed = made("bicycle_coop")
    design_, takeoff = stages(designed)
    layout = design_.network.layout
    main = dataclasses.replace(layout.site.main, drains="automatic")
    site = dataclasses.replace(layout.site, main=main)
    network = dataclasses.replace(design_.network, layout=dataclasses.replace(layout, site=site))
    last = order_of_work(dataclasses.replace(design_, network=network), takeoff)[-1]
    drains = [node.tag for node in layout.nodes.values() if node.kind is NodeKind.DRAIN]
    told = f"{drains[0]} to {drains[-1]}"
    assert last.which == f"{told} looked at weekly, the tank drained daily at first; V-01 closed when leaving"
    assert order_of_work(design_, takeoff)[-1].which.startswith(f"{told} and the tank drained daily at first;")
    assert any(node.kind is NodeKind.DRAIN for node in layout.nodes.values())


def test_hangers_are_fixed_at_the_height_of_the_ceiling() -> None:
    """The crossing of the shed: its main at 4.3 m, the joists it hangs from at 4.6 m."""
    (step,) = [step for step in steps_of("machinery_shed") if step.what.endswith("brackets: crossing 1")]
    assert step.care.startswith("Up to 4600 mm, where the hangers are fixed. Working platform or tower, two people.")


@pytest.mark.parametrize("high_m, said", [(1.99, []), (2.5, [LADDER]), (2.99, [LADDER]), (3.01, [PLATFORM])])
def test_what_one_works_from(high_m: float, said: list[str]) -> None:
    design_, _ = stages(made("bicycle_coop"))
    assert height_care(design_.network, high_m) == said


def test_what_is_too_heavy_for_one_takes_two() -> None:
    """A length of 3/4 in pipe, 6.4 m of 1.68 kg/m, is 10.8 kg; on the floor one handles it."""
    design_, takeoff = stages(made("machinery_shed"))
    long = max(takeoff.pieces, key=lambda piece: piece.cut_m)
    short = min(takeoff.pieces, key=lambda piece: piece.cut_m)
    assert long.cut_m == pytest.approx(6.4, abs=0.01)
    care = height_care(design_.network, 2.5, [short, long])
    assert care == [f"{PLATFORM} Piece {long.number} weighs 11 kg."]
    assert height_care(design_.network, 2.5, [short]) == [LADDER]
    assert height_care(design_.network, 1.5, [long]) == []


def test_lines_are_blown_out_in_the_order_of_the_pipe() -> None:
    """Outlets named in the file from the far end on."""
    text = (SITES / "bicycle_coop.yaml").read_text(encoding="utf-8")
    head, _, rest = text.partition("outlets:\n")
    lines = [line for line in rest.splitlines() if line.startswith("  - {tag")]
    assert len(lines) > 2
    turned = design(f"{head}outlets:\n" + "\n".join(reversed(lines)), "turned")
    design_, takeoff = stages(turned)
    (step,) = [step for step in order_of_work(design_, takeoff) if "nearest first" in step.what]
    layout = design_.network.layout
    far = {node.tag: layout.from_tank_m[node.id] for node in layout.couplings}
    told = step.which.split(", ")
    assert sorted(told) == sorted(far)
    assert [far[tag] for tag in told] == sorted(far.values())
    assert told != [outlet.tag for outlet in layout.site.outlets]


def test_what_stands_before_a_regulator_is_tested_at_what_it_works_at() -> None:
    """Cut-out 135 psi before the regulator, 105 psi behind it, relief valve at 150 psi."""
    steps = steps_of("cabinet_shop")
    (whole,) = [step for step in steps if step.what.startswith("Raise in steps")]
    (part,) = [step for step in steps if step.what.startswith("Bleed to zero, then test")]
    assert whole.which.startswith("105 psi for 30 min")
    assert part.number == whole.number + 1
    assert part.what.startswith("Bleed to zero, then test V-01 to T-04 alone")
    assert part.which.startswith("135 psi for 30 min")
    assert "test hose in place of D-01; V-01 shut; T-04 screwed right out, D-02 open behind it" in part.which
    assert "150 psi or less" in part.care
    assert not any("alone" in step.what for step in steps_of("bus_depot"))


def test_a_stand_is_set_before_the_pipe_that_meets_its_unit_and_its_floor_is_drilled() -> None:
    for name, stands in (("boat_shed", ["T-02"]), ("bicycle_coop", [])):
        steps = steps_of(name)
        set_ = [step for step in steps if step.what.startswith("Set the stand")]
        assert [tag for step in set_ for tag in re.findall(r"T-\d+", step.which)] == stands
        if stands:
            (riser,) = [step for step in steps if step.what.startswith("Build the riser")]
            assert set_[0].number == riser.number - 1
        design_, takeoff = stages(made(name))
        assert any("floor's anchors" in row.item for row in job_tools(design_, takeoff)) == bool(stands)
