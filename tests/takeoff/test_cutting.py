"""The cutting plan of a job: every piece once, all cuts in, the route rebuilt, coils in metre marks."""

from __future__ import annotations

import dataclasses
import itertools
import json
import random
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import Designed, design
from drafter.quantity import Units
from drafter.report import report_text, to_json
from drafter.standards.materials import material
from drafter.takeoff.cutting import RECUT_M, REUSABLE_M, SQUARING_M, SizeCutting, cut_allowance_m, cutting_plan, laid_m
from drafter.takeoff.cutting_words import bound_words, has_no_spare, purchase_words
from drafter.takeoff.nesting import nested
from drafter.takeoff.pieces import Piece, Span

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
PUBLISHED = json.loads((Path(__file__).parents[1] / "data" / "bin_packing.json").read_text(encoding="utf-8"))
SITE = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")

families = st.sampled_from(["copper tube type L", "polyamide tube", "steel pipe schedule 40"])


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def designed(request: pytest.FixtureRequest) -> Designed:
    return design(request.param.read_bytes(), request.param.name)


def pieces_of(lengths: list[float], size: str) -> list[Piece]:
    return [Piece(number, (Span("P1", 0.0, 1.0),), size, "a", "b", cut, cut) for number, cut in enumerate(lengths, 1)]


def check_plan(plan: SizeCutting, pieces: list[Piece], lost_m: float, stocks_m: Sequence[float]) -> None:
    cut_m = {piece.number: piece.cut_m for piece in pieces if piece.size == plan.size}
    assert sorted(number for bar in plan.bars for number in bar.pieces) == sorted(cut_m)
    laid = {piece.number: laid_m(piece, max(stocks_m)) for piece in pieces}
    for bar in plan.bars:
        ends = [start + laid[number] for number, start in zip(bar.pieces, bar.starts_m, strict=True)]
        assert ends[-1] <= bar.stock_m + 1e-6
        assert bar.starts_m[0] == 0.0
        for end, start in zip(ends, bar.starts_m[1:], strict=False):
            assert start - end == pytest.approx(lost_m, abs=1e-9)
        assert bar.offcut_m == pytest.approx(max(0.0, bar.stock_m - ends[-1] - lost_m), abs=1e-6)
        lengths = [laid[number] for number in bar.pieces]
        assert lengths == sorted(lengths, reverse=True) or max(b - a for a, b in itertools.pairwise(lengths)) < 1e-4
    assert plan.bought_m >= plan.least_m - 1e-9
    kept = sum(bar.offcut_m for bar in plan.bars if bar.offcut_m >= REUSABLE_M)
    assert plan.bought_m == pytest.approx(plan.cut_m + kept + plan.waste_m)
    assert sum(count * length for count, length in plan.purchase) == pytest.approx(plan.bought_m)


@settings(deadline=None, max_examples=50)
@given(st.lists(st.floats(0.05, 3.0), min_size=1, max_size=25), families, st.sampled_from([None, 0.0, 0.002]))
def test_each_piece_comes_out_of_one_length(lengths: list[float], name: str, kerf_m: float | None) -> None:
    family = material(name)
    pieces = pieces_of(lengths, family.sizes[1].name)
    (plan,) = cutting_plan(pieces, family, kerf_m)
    check_plan(plan, pieces, cut_allowance_m(family, kerf_m), family.stock_lengths_m)
    assert all(bar.stock_m in family.stock_lengths_m for bar in plan.bars)


@settings(deadline=None, max_examples=30)
@given(st.lists(st.floats(0.05, 3.0), min_size=1, max_size=25), st.randoms(use_true_random=False))
def test_the_order_of_the_list_does_not_matter(lengths: list[float], shuffler: random.Random) -> None:
    pieces = pieces_of(lengths, "1")
    other = pieces[:]
    shuffler.shuffle(other)
    family = material("copper tube type L")
    assert cutting_plan(other, family)[0].bars == cutting_plan(pieces, family)[0].bars


def test_the_plan_of_a_job_is_whole(designed: Designed) -> None:
    assert designed.takeoff is not None
    assert designed.network is not None
    takeoff, family = designed.takeoff, designed.network.material
    assert [plan.size for plan in takeoff.cutting] == list(dict.fromkeys(piece.size for piece in takeoff.pieces))
    assert [bar.number for bar in takeoff.bars] == list(range(1, len(takeoff.bars) + 1))
    for plan in takeoff.cutting:
        check_plan(plan, list(takeoff.pieces), cut_allowance_m(family), family.stock_lengths_m)
        row, *spare = (row for row in takeoff.parts if row.unit == "m" and row.size == plan.size)
        assert len(spare) == has_no_spare(plan)
        assert row.order == pytest.approx(plan.bought_m)
        assert row.quantity == pytest.approx(plan.cut_m, abs=0.01)


def test_pieces_and_fittings_rebuild_the_route_to_a_millimetre(designed: Designed) -> None:
    """Node to node: what the fitting at either end takes, the pieces between, less what they go into sockets.

    Runs with a union in them are left to the test of where each part comes to lie.
    """
    assert designed.takeoff is not None
    assert designed.network is not None
    network, layout = designed.network, designed.network.layout
    plain = (NodeKind.BEND, NodeKind.TEE, NodeKind.TAKE_OFF)
    checked, with_union = 0, {union.run for union in designed.takeoff.unions}
    for run in layout.runs:
        ends = (layout.nodes[run.start], layout.nodes[run.end])
        if run.kind in (RunKind.CONNECTION, RunKind.FLEXIBLE) or any(end.kind not in plain for end in ends):
            continue
        if run.id in with_union:
            continue
        sizes = [{network.sizes[each.id] for each in layout.runs_at[end.id]} for end in ends]
        tube = network.sizes[run.id]
        if any(max(at_node, key=lambda size: size.outside_m) != tube for at_node in sizes):
            continue
        pieces = [piece for piece in designed.takeoff.pieces if piece.run == run.id]
        faces = 2 * tube.centre_to_face_m + (len(pieces) - 1) * tube.coupling_length_m
        length = sum(piece.cut_m for piece in pieces) - 2 * len(pieces) * tube.insertion_m + faces
        assert length == pytest.approx(layout.length_m(run), abs=0.0005)
        checked += 1
    assert checked > 5


def test_kerf_and_recut() -> None:
    copper, steel, coil = map(material, ("copper tube type L", "steel pipe schedule 40", "polyamide tube"))
    assert cut_allowance_m(copper) == cut_allowance_m(steel) == SQUARING_M
    assert cut_allowance_m(steel, 0.005) == 0.005
    assert cut_allowance_m(copper, 0.0) == 0.0
    assert cut_allowance_m(coil) == RECUT_M
    assert cut_allowance_m(coil, 0.002) == RECUT_M + 0.002


def test_a_make_up_piece_is_left_longer_until_it_is_measured() -> None:
    family = material("aluminium tube")
    tight = [dataclasses.replace(piece, make_up=piece.number == 2) for piece in pieces_of([4.0, 1.995], "20 x 1.5")]
    (plan,) = cutting_plan(tight, family)
    assert plan.purchase == ((1, 6.0), (1, 3.0))
    assert len(cutting_plan(pieces_of([4.0, 1.995], "20 x 1.5"), family)[0].bars) == 1
    whole = dataclasses.replace(pieces_of([6.0], "20 x 1.5")[0], make_up=True)
    assert len(cutting_plan([whole], family)[0].bars) == 1


def test_a_coil_runs_through_where_bars_need_couplings() -> None:
    """No joint in a straight line that a coil can do: metre marks from its free end, long pieces first."""
    family = material("polyamide tube")
    (plan,) = cutting_plan(pieces_of([2.0, 21.0, 1.0], family.sizes[0].name), family)
    (bar,) = plan.bars
    assert bar.stock_m == 25.0
    assert bar.pieces == (2, 1, 3)
    assert bar.starts_m == pytest.approx((0.0, 21.05, 23.10))
    assert bar.offcut_m == pytest.approx(0.85)


def test_the_bound_is_told_where_the_search_left_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paper-roll widths in bars of 5.6 m: the least is 73; a plan that did not find it says what is not ruled out."""
    widths = next(known for known in PUBLISHED if known["name"] == "paper rolls")["sizes"]
    family, units = dataclasses.replace(material("aluminium tube"), stock_lengths_m=(5.6,)), Units()
    pieces = pieces_of([width / 1000 for width in widths], "20 x 1.5")
    (settled,) = cutting_plan(pieces, family, 0.0)
    assert settled.proved
    assert purchase_words(settled, units) == "73 x 5.60 m"
    assert bound_words(settled, units) == "no less will do"
    monkeypatch.setattr("drafter.takeoff.nesting.STEPS", 0)
    monkeypatch.setattr("drafter.takeoff.bar_patterns.MOST_PATTERNS", 0)
    (open_,) = cutting_plan(pieces, family, 0.0)
    assert len(open_.bars) > open_.least_bars == 73
    assert "at least 408.80 m in 73 lengths" in bound_words(open_, units)


def test_stock_lengths_and_kerf_of_the_site_file() -> None:
    text = SITE.replace("main: {", "main: {stock: [4 m, 2 m], kerf: 5 mm, ")
    assert text != SITE
    done = design(text, "yard.yaml")
    assert done.takeoff is not None
    assert {bar.stock_m for bar in done.takeoff.bars} <= {2.0, 4.0}
    assert max(piece.cut_m for piece in done.takeoff.pieces) <= 4.0
    for plan in done.takeoff.cutting:
        check_plan(plan, list(done.takeoff.pieces), 0.005, (2.0, 4.0))


def test_one_make_up_piece_a_straight_line(designed: Designed) -> None:
    """Each drop has one above its tee, each drip leg none, and no piece of a run that is split but its last."""
    assert designed.takeoff is not None
    assert designed.layout is not None
    layout, pieces = designed.layout, designed.takeoff.pieces
    waiting = [piece for piece in pieces if piece.make_up]
    assert len({piece.run for piece in waiting}) == len(waiting)
    for piece in waiting:
        run = layout.run_by_id[piece.run]
        assert layout.nodes[run.end].kind is not NodeKind.DRAIN
        assert piece is [each for each in pieces if each.run == piece.run][-1]
    drops = {run.outlet for run in layout.runs if run.kind is RunKind.DROP}
    kinds = {tag: [p for p in waiting if layout.run_by_id[p.run].outlet == tag] for tag in drops}
    assert all([layout.run_by_id[p.run].kind for p in found].count(RunKind.DROP) == 1 for found in kinds.values())


def test_report_and_data_say_the_plan(designed: Designed) -> None:
    assert designed.takeoff is not None
    assert designed.network is not None
    text = report_text(designed.findings, b"", designed.design, designed.takeoff)
    block = text.partition("TUBE TO BUY AND CUT")[2].partition("CAUTIONS")[0]
    units = designed.network.layout.site.units
    told = to_json(designed.findings, designed.design, designed.takeoff)
    for plan, data in zip(designed.takeoff.cutting, told["cutting"], strict=True):
        assert any(line.strip().startswith(plan.size) for line in block.splitlines())
        assert units.long_length(plan.bars[0].stock_m) in block
        assert data["bought_m"] == pytest.approx(sum(bar["stock_m"] for bar in data["bars"]), abs=1e-3)
        assert data["proved"] == plan.proved
    assert ("no less will do" in block) == any(plan.proved for plan in designed.takeoff.cutting)
    numbers = [piece["number"] for piece in told["pieces"]]
    assert sorted(n for size in told["cutting"] for bar in size["bars"] for n in bar["pieces"]) == numbers


@pytest.mark.parametrize("trim", ["0 mm", "10 mm", "60 mm", "200 mm"])
def test_the_first_end_of_each_length_is_cut_off_where_asked_for(trim: str) -> None:
    done = design(SITE.replace("main: {", f"main: {{stock: [4 m, 2 m], trim: {trim}, "), "yard.yaml")
    assert done.takeoff is not None, done.findings
    assert done.site is not None
    trim_m = float(trim.removesuffix(" mm")) / 1000.0
    allowed_m = cut_allowance_m(done.site.material)
    cut_m = {piece.number: piece for piece in done.takeoff.pieces}
    for bar in done.takeoff.bars:
        assert bar.starts_m[0] == pytest.approx(trim_m)
        taken_m = sum(laid_m(cut_m[number], 4.0 - trim_m) for number in bar.pieces)
        assert trim_m + taken_m + allowed_m * (len(bar.pieces) - 1) <= bar.stock_m + 1e-6
    assert max(piece.cut_m for piece in done.takeoff.pieces) <= 4.0 - trim_m + 1e-9


@given(st.lists(st.integers(100, 1900), min_size=1, max_size=7), st.integers(0, 60))
def test_trimmed_bars_cost_no_less_than_others_and_hold_their_pieces(pieces: list[int], trim: int) -> None:
    plain, trimmed = nested(pieces, [2000, 3000], 3), nested(pieces, [2000, 3000], 3, trim)
    assert sorted(piece for _, held in trimmed.bars for piece in held) == sorted(pieces)
    assert all(trim + sum(held) + 3 * (len(held) - 1) <= stock for stock, held in trimmed.bars)
    assert trimmed.cost >= trimmed.least >= plain.least
