"""Marks on the walls: what stands where, from the left-hand corner and above the floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.quantity import Units
from drafter.supports.design import Bracket, Console, Design
from drafter.takeoff.consoles import on_console
from drafter.takeoff.holding import held_by
from drafter.takeoff.pieces import COUPLING, Piece
from drafter.takeoff.sleeves import Passage, level_at_wall_m, passages


@dataclass(frozen=True, slots=True)
class Mark:
    """Something to mark on a wall.

    Attributes:
        from_left_m, height_m: from its left-hand corner, above the floor [m].
        fixed_at_m: where one works to fix it: of a hanger the height of ceiling or joist, else the mark's own.
    """

    room: str
    wall: str
    what: str
    tag: str
    from_left_m: float
    height_m: float
    fixed_at_m: float


_MARKED = {
    NodeKind.TAKE_OFF: "take-off on the main",
    NodeKind.SPARE_TEE: "spare tee on the main",
    NodeKind.VALVE: "valve",
    NodeKind.DRAIN: "drain valve",
}


def marks_of(design: Design, pieces: Sequence[Piece] = ()) -> tuple[Mark, ...]:
    """Return the marks of all walls, wall by wall from the left; with them where pieces of tube are coupled."""
    layout, through = design.network.layout, list(passages(design.network))
    marks = [_bracket_mark(bracket, layout.site.units) for bracket in design.brackets]
    marks += [
        _mark(
            b.room,
            b.wall,
            f"left end of board, half its height, {b.between[0]} to {b.between[1]}",
            b.tag,
            b.from_left_m,
            b.height_m,
        )
        for b in design.boards
    ]
    consoles = {console.node: console for console in design.consoles}
    cored = {id: p for p in through if not p.deck for id in (p.run.start, p.run.end)}
    for node in layout.nodes.values():
        what = (
            f"sleeve, core {cored[node.id].sleeve.core}"
            if node.id in cored
            else _standing(layout, node, consoles.get(node.id))
        )
        if what and node.tag != "V-01":
            tag = node.tag or layout.outlet_at(node)
            level_m = level_at_wall_m(layout, node) if node.id in cored else node.at.z
            marks.append(_mark(node.room, node.wall, what, tag, layout.from_left_m(node), level_m))
    marks += [_deck_mark(layout, passage) for passage in through if passage.deck]
    marks += _coupling_marks(layout, pieces)
    order = [(face.room, face.name) for face in layout.site.faces]
    marks.sort(key=lambda mark: (order.index((mark.room, mark.wall)), round(mark.from_left_m, 4), -mark.height_m))
    return tuple(marks)


def _mark(room: str, wall: str, what: str, tag: str, from_left_m: float, height_m: float) -> Mark:
    return Mark(room, wall, what, tag, from_left_m, height_m, height_m)


def _standing(layout: Layout, node: Node, console: Console | None) -> str:
    """What stands at a node, or how the main turns there; empty where nothing is marked."""
    what = node.what if node.kind is NodeKind.VALVE else ""
    what = what or _MARKED.get(node.kind, "") or on_console(layout, node, console)
    for run in layout.runs_at[node.id]:
        if run.kind is RunKind.RISE:
            other = layout.nodes[run.start if run.end == node.id else run.end]
            what = f"{'upper' if other.at.z < node.at.z else 'lower'} end of an upright of the main"
    if out_m := layout.steps_out_to_m(node):
        back = layout.goes_across(layout.runs_at[node.id][0])
        off = layout.site.units.length_with_unit(out_m)
        what = f"main turns back from {off} off the wall" if back else f"main turns out to {off} off the wall"
    return what


def _deck_mark(layout: Layout, passage: Passage) -> Mark:
    """Where an upright pipe passes a deck."""
    run = passage.run
    start, end = (layout.nodes[id] for id in (run.start, run.end))
    off_m = layout.site.wall(run.room, run.wall).measure(start.at.plan)[1]
    words = f"sleeve through the {passage.deck}, {layout.site.units.length_with_unit(off_m)} off the wall, "
    words += f"{passage.hole} {passage.sleeve.core}"
    tag, from_left_m = run.outlet or end.tag, layout.from_left_m(start)
    return _mark(run.room, run.wall, words, tag, from_left_m, passage.underside_m)


@dataclass(frozen=True, slots=True)
class Coupled:
    """Where a piece of tube is coupled to the next of its line.

    Attributes:
        before, after: their numbers.
        slips: whether the coupling is slipped over one end, then back.
    """

    run: Run
    at: Point3
    before: int
    after: int
    slips: bool


def coupled(layout: Layout, pieces: Sequence[Piece]) -> Iterator[Coupled]:
    """Yield where pieces are coupled in line."""
    for before, after in pairwise(pieces):
        if before.end == COUPLING and after.start == COUPLING:
            span = before.spans[-1]
            run = layout.run_by_id[span.run]
            start, end = (layout.nodes[id].at for id in (run.start, run.end))
            at = start.towards(end, span.end * end.minus(start).length)
            yield Coupled(run, at, before.number, after.number, after.slips)


def _coupling_marks(layout: Layout, pieces: Sequence[Piece]) -> Iterator[Mark]:
    """Where a piece is coupled to the next of its line: a bracket keeps off it."""
    for each in coupled(layout, pieces):
        run = each.run
        from_left_m = layout.site.wall(run.room, run.wall).measure(each.at.plan)[0]
        what = f"{'slip coupling' if each.slips else 'coupling'} of pieces {each.before} and {each.after}"
        yield _mark(run.room, run.wall, what, "", from_left_m, each.at.z)


def _bracket_mark(bracket: Bracket, units: Units) -> Mark:
    fixed_at_m = bracket.at.z + (bracket.stand_off_m if bracket.hangs else 0.0)
    words = _held_by(bracket, units) + _holding(bracket, units)
    return Mark(bracket.room, bracket.wall, words, bracket.tag, bracket.from_left_m, bracket.at.z, fixed_at_m)


def _held_by(bracket: Bracket, units: Units) -> str:
    """Which bracket or hanger it is, what it is screwed to and how far off that the pipe runs."""
    place, number = held_by(bracket)
    on = f" on {place} {number}" if number else " on the column" if place == "column" else ""
    on += f", stud {bracket.stud}" if bracket.board and bracket.stud else ""
    off = units.length_with_unit(bracket.stand_off_m)
    if not bracket.hangs:
        return f"bracket {bracket.size.name}{on}, {off} off"
    return f"hanger {bracket.size.name}{on}, pipe {off} below the {place}"


def _holding(bracket: Bracket, units: Units) -> str:
    """How it holds the pipe, where it does not just let it slide."""
    if bracket.fixed:
        return ", FIXED, rod braced" if bracket.hangs else ", FIXED"
    return f", loose: lets the pipe move {units.room_to_move(bracket.gives_m)} sideways" if bracket.gives_m else ""
