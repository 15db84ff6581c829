"""The schedules: parts counted from the assembly, cutting plan, and marks on each wall."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from drafter.finding import Finding, Severity
from drafter.layout.graph import Layout, Node, NodeKind, RunKind
from drafter.quantity import Units
from drafter.site.decks import decks_passed
from drafter.supports.boards import BOARD_TALL_M, BOARD_THICK_M
from drafter.supports.design import Board, Bracket, Design
from drafter.takeoff.assembling import Assembling
from drafter.takeoff.consoles import console_rows, held_by
from drafter.takeoff.cutting import Bar, SizeCutting, cutting_plan
from drafter.takeoff.part import FITTINGS, SUNDRIES, SUPPORTS, TUBE, Joint, Part, faults
from drafter.takeoff.pieces import Piece
from drafter.takeoff.posing import misplaced
from drafter.takeoff.prices import Bill, bill, price_findings
from drafter.takeoff.rows import Row
from drafter.takeoff.turning import stuck
from drafter.takeoff.unions import Union

SPARE_SHARE = 0.1
"""Spare fittings and clips, rounded up (from memory)."""

ROD_STEP_M = 0.25
"""Rods are bought in steps of this and cut (common practice)."""

NOT_BOUGHT = ("compressor on tank",)


@dataclass(frozen=True, slots=True)
class Mark:
    """Something to mark on a wall, from its left-hand corner and above the floor [m]."""

    room: str
    wall: str
    what: str
    tag: str
    from_left_m: float
    height_m: float


@dataclass(frozen=True)
class Takeoff:
    """Everything to buy, cut and mark; ``instances`` and ``joints`` are what the rows were counted from.

    Attributes:
        start: id of the part the pipe begins with, behind the flexible connection.
        bill: what the parts cost; None where the site file has no prices.
    """

    parts: tuple[Row, ...]
    pieces: tuple[Piece, ...]
    cutting: tuple[SizeCutting, ...]
    marks: tuple[Mark, ...]
    instances: tuple[Part, ...]
    joints: tuple[Joint, ...]
    findings: tuple[Finding, ...]
    unions: tuple[Union, ...] = ()
    start: str = ""
    bill: Bill | None = None

    @property
    def bars(self) -> tuple[Bar, ...]:
        """The stock lengths of all sizes."""
        return tuple(bar for plan in self.cutting for bar in plan.bars)


def take_off(design: Design) -> Takeoff:
    """Count a design: parts that mate, pieces and their cutting plan, marks on the walls."""
    assembling = Assembling(design.network)
    assembling.run()
    pieces = tuple(assembling.pieces)
    site = design.network.layout.site
    cutting = cutting_plan(pieces, design.network.material, site.main.kerf_m)
    instances = tuple(assembling.parts)
    rows = _rows(design, instances, cutting)
    joints, findings, unions = tuple(assembling.joints), tuple(assembling.findings), tuple(assembling.unions)
    made = Takeoff(
        rows, pieces, cutting, _marks(design), instances, joints, findings, unions, assembling.start, bill(rows, site)
    )
    found = *findings, *price_findings(rows, site), *_joint_findings(design.network.layout, made)
    return replace(made, findings=found)


def not_joined(layout: Layout, takeoff: Takeoff) -> list[str]:
    """Return all that keeps the parts from going together: ends, threads that cannot turn, lengths and places."""
    parts, joints = takeoff.instances, takeoff.joints
    begins = next(run.end for run in layout.runs if run.kind is RunKind.FLEXIBLE)
    places = {node.tag: node.at for node in layout.nodes.values() if node.tag and node.kind in _IN_PLACE}
    places.pop("V-01", None)
    start = takeoff.start, layout.nodes[begins].at
    return faults(parts, joints) or [*stuck(parts, joints), *misplaced(parts, joints, start, places)]


_IN_PLACE = (NodeKind.VALVE, NodeKind.TREATMENT, NodeKind.COUPLING, NodeKind.DRAIN)


def _joint_findings(layout: Layout, takeoff: Takeoff) -> Iterator[Finding]:
    """What cannot be joined stops the drawing, unless what was found before says why already."""
    if any(finding.severity is Severity.ERROR for finding in takeoff.findings):
        return
    for fault in not_joined(layout, takeoff):
        yield Finding(
            "JOIN001",
            Severity.ERROR,
            layout.site.main.where("material"),
            f"the parts do not go together: {fault}",
            "main",
            fix="give other sizes or another way; if none helps, the program has a fault",
            source="every end is joined once, every threaded joint can be turned, every outlet is met within 2 mm",
        )


def _rows(design: Design, instances: tuple[Part, ...], cutting: tuple[SizeCutting, ...]) -> tuple[Row, ...]:
    groups: dict[tuple[str, str, str], list[Part]] = {}
    for part in instances:
        if part.item not in NOT_BOUGHT:
            groups.setdefault((part.group, part.item, part.size), []).append(part)
    rows: list[Row] = []
    for (group, item, size), parts in groups.items():
        if group == TUBE:
            metres = sum(part.cut_m for part in parts)
            ordered = sum(plan.bought_m for plan in cutting if plan.size == size)
            rows.append(Row(group, item, size, round(metres, 2), "m", ordered, ()))
            continue
        count = len(parts)
        spare = math.ceil(count * SPARE_SHARE) if group == FITTINGS else 0
        rows.append(Row(group, item, size, count, "pcs", count + spare, tuple(p.tag for p in parts if p.tag)))
    rows += [*_brackets(design), *_boards(design), *console_rows(design.network.layout)]
    rows += _sundries(design, instances)
    order = list(dict.fromkeys([TUBE, *(row.group for row in rows)]))
    return tuple(sorted(rows, key=lambda row: (order.index(row.group), row.item, row.size)))


def _brackets(design: Design) -> list[Row]:
    count: dict[tuple[str, str], int] = {}
    for bracket in design.brackets:
        key = (bracket_item(bracket, design.network.layout.site.units), bracket.size.name)
        count[key] = count.get(key, 0) + 1
    return [
        Row(SUPPORTS, kind, size, number, "pcs", number + math.ceil(number * SPARE_SHARE), ())
        for (kind, size), number in count.items()
    ]


def bracket_item(bracket: Bracket, units: Units) -> str:
    """Return what a bracket or hanger is bought as; rods of hangers are cut on site."""
    kind = f"{'hanger' if bracket.hangs else 'bracket'}, {'fixed point' if bracket.fixed else 'sliding'}"
    if bracket.hangs:
        rod_m = math.ceil(bracket.stand_off_m / ROD_STEP_M - 1e-6) * ROD_STEP_M
        return f"{kind}, with a rod of {units.length_with_unit(rod_m)}"
    return f"{kind}, {units.length_with_unit(bracket.stand_off_m)} off the {'column' if bracket.on_column else 'wall'}"


def _boards(design: Design) -> list[Row]:
    """Backing boards by length, cut from dressed boards of the usual width."""
    units = design.network.layout.site.units
    tags: dict[tuple[str, str], list[str]] = {}
    for board in design.boards:
        tags.setdefault(board_item(board, units), []).append(board.tag)
    return [Row(SUPPORTS, item, size, len(here), "pcs", len(here), tuple(here)) for (item, size), here in tags.items()]


def board_item(board: Board, units: Units) -> tuple[str, str]:
    """Return what a backing board is bought as: item and size."""
    size = "1 x 6 in nominal" if units.imperial else f"{BOARD_THICK_M * 1000:.0f} x {BOARD_TALL_M * 1000:.0f} mm"
    return f"backing board, {units.length_with_unit(board.length_m)} long", size


def _sundries(design: Design, instances: tuple[Part, ...]) -> list[Row]:
    threads = sum(port.kind == "male" for part in instances for port in part.ports)
    sleeves = sum(run.kind is RunKind.SLEEVE for run in design.network.layout.runs)
    rows = [Row(SUNDRIES, "thread sealant, for so many joints", "", threads, "joints", threads, ())]
    if sleeves:
        rows.append(Row(SUNDRIES, "wall sleeve with seal", "", sleeves, "pcs", sleeves, ()))
    return [*rows, *_deck_sleeve_rows(design.network.layout)]


def _deck_sleeve_rows(layout: Layout) -> list[Row]:
    """Sleeves through decks, by the thickness of the deck."""
    count: dict[float, int] = {}
    for run in layout.runs:
        start, end = (layout.nodes[id].at for id in (run.start, run.end))
        for deck in decks_passed(layout.site, run.room, start, end) if layout.is_upright(run) else ():
            count[deck.thickness_m] = count.get(deck.thickness_m, 0) + 1
    words = {
        thick: f"sleeve through a deck, {layout.site.units.length_with_unit(thick)} thick, with seal" for thick in count
    }
    return [Row(SUNDRIES, words[thick], "", number, "pcs", number, ()) for thick, number in count.items()]


def _deck_sleeves(layout: Layout) -> Iterator[Mark]:
    """Yield where upright pipes pass decks."""
    for run in layout.runs:
        start, end = (layout.nodes[id] for id in (run.start, run.end))
        for deck in decks_passed(layout.site, run.room, start.at, end.at) if layout.is_upright(run) else ():
            tag, from_left_m = run.outlet or end.tag, layout.from_left_m(start)
            off_m = layout.site.wall(run.room, run.wall).measure(start.at.plan)[1]
            words = f"sleeve through the {deck.name}, {layout.site.units.length_with_unit(off_m)} off the wall"
            yield Mark(run.room, run.wall, words, tag, from_left_m, deck.underside_m)


_MARKED = {
    NodeKind.TAKE_OFF: "take-off on the main",
    NodeKind.SPARE_TEE: "spare tee on the main",
    NodeKind.VALVE: "valve",
    NodeKind.DRAIN: "drain valve",
}


def _marks(design: Design) -> tuple[Mark, ...]:
    layout = design.network.layout
    marks = [
        Mark(b.room, b.wall, _held_by(b, layout.site.units), b.tag, b.from_left_m, b.at.z) for b in design.brackets
    ]
    marks += [
        Mark(b.room, b.wall, f"left end of board, {b.between[0]} to {b.between[1]}", b.tag, b.from_left_m, b.height_m)
        for b in design.boards
    ]
    for node in layout.nodes.values():
        what = _MARKED.get(node.kind, "") or _on_console(layout, node)
        if any(run.kind is RunKind.SLEEVE for run in layout.runs_at[node.id]):
            what = "sleeve"
        for run in layout.runs_at[node.id]:
            if run.kind is RunKind.RISE:
                other = layout.nodes[run.start if run.end == node.id else run.end]
                what = f"{'upper' if other.at.z < node.at.z else 'lower'} end of an upright of the main"
        if out_m := layout.steps_out_to_m(node):
            back = layout.goes_across(layout.runs_at[node.id][0])
            off = layout.site.units.length_with_unit(out_m)
            what = f"main turns back from {off} off the wall" if back else f"main turns out to {off} off the wall"
        if what and node.tag != "V-01":
            tag = node.tag or layout.outlet_at(node)
            marks.append(Mark(node.room, node.wall, what, tag, layout.from_left_m(node), node.at.z))
    marks += _deck_sleeves(layout)
    order = [(face.room, face.name) for face in layout.site.faces]
    marks.sort(key=lambda mark: (order.index((mark.room, mark.wall)), round(mark.from_left_m, 4), -mark.height_m))
    return tuple(marks)


def _on_console(layout: Layout, node: Node) -> str:
    """A treatment unit or an outlet, with what it is held by."""
    name = "outlet" if node.kind is NodeKind.COUPLING else node.what
    held = held_by(layout, node)
    return (
        f"{name}, on {'a stand or console' if held.startswith('stand') else held.partition(' for ')[0]}" if held else ""
    )


def _held_by(bracket: Bracket, units: Units) -> str:
    if bracket.hangs:
        held = f" on joist {bracket.stud}" if bracket.stud else f" on board {bracket.board}" if bracket.board else ""
        return f"hanger{held}, {units.length_with_unit(bracket.stand_off_m)} below it"
    if bracket.on_column:
        return "bracket on the column"
    if bracket.board:
        return f"bracket on board {bracket.board}" + (f", stud {bracket.stud}" if bracket.stud else "")
    return f"bracket on stud {bracket.stud}" if bracket.stud else "bracket"
