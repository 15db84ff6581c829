"""The schedules: parts counted from the assembly, cutting plan, and marks on each wall."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from drafter.finding import Finding, Severity
from drafter.layout.graph import Layout, NodeKind, RunKind
from drafter.sizing.unions import Union
from drafter.standards.components import component
from drafter.supports.design import Design
from drafter.takeoff.assembling import Assembling
from drafter.takeoff.bought_as import bought_as
from drafter.takeoff.consoles import console_rows
from drafter.takeoff.cutting import Bar, SizeCutting, cutting_plan
from drafter.takeoff.cutting_words import spare_tube
from drafter.takeoff.fixings import fixing_rows
from drafter.takeoff.holding import board_rows, bracket_rows, spares
from drafter.takeoff.hoses import hose_rows
from drafter.takeoff.marks import Mark, marks_of
from drafter.takeoff.part import FITTINGS, SUNDRIES, TUBE, Joint, Part, faults
from drafter.takeoff.pieces import Piece
from drafter.takeoff.posing import misplaced
from drafter.takeoff.prices import Bill, bill, price_findings
from drafter.takeoff.rows import Row
from drafter.takeoff.sleeves import sleeve_rows
from drafter.takeoff.turning import stuck

NOT_BOUGHT = ("compressor on tank",)


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
        rows,
        pieces,
        cutting,
        marks_of(design, pieces),
        instances,
        joints,
        findings,
        unions,
        assembling.start,
        bill(rows, site),
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
            groups.setdefault((part.group, bought_as(part, design.network), part.size), []).append(part)
    rows: list[Row] = []
    for (group, item, size), parts in groups.items():
        if group == TUBE:
            metres = sum(part.cut_m for part in parts)
            ordered = sum(plan.bought_m for plan in cutting if plan.size == size)
            rows.append(Row(group, item, size, round(metres, 2), "m", ordered, ()))
            rows += spare_tube(item, [plan for plan in cutting if plan.size == size], design.network.material)
            continue
        count, tags = len(parts), tuple(part.tag or part.serves for part in parts)
        spare = spares(count) if group == FITTINGS else 0
        rows.append(Row(group, item, size, count, "pcs", count + spare, tuple(tag for tag in tags if tag)))
    rows += [*bracket_rows(design), *board_rows(design), *console_rows(design), *fixing_rows(design)]
    rows += [*hose_rows(design.network.layout.site), *_sundries(design, instances)]
    order = list(dict.fromkeys([TUBE, *(row.group for row in rows)]))
    return tuple(sorted(rows, key=lambda row: (order.index(row.group), row.item, row.size)))


def _sundries(design: Design, instances: tuple[Part, ...]) -> list[Row]:
    threads = sum(port.kind == "male" for part in instances for port in part.ports)
    sealant = Row(SUNDRIES, "thread sealant, for so many joints", "", threads, "joints", threads, ())
    return [sealant, *sleeve_rows(design.network), *_drain_tubes(design)]


def _drain_tubes(design: Design) -> Iterator[Row]:
    """What leads water away from units, and from the tank where its drain opens by itself."""
    layout = design.network.layout
    tags = [n.tag for n in layout.nodes.values() if n.kind is NodeKind.TREATMENT and component(n.what).drains]
    if layout.site.compressor.drain == "automatic":
        tags.insert(0, "C-01")
    if tags:
        yield Row(
            SUNDRIES, "drain tube and vessel, oily water is collected", "", len(tags), "pcs", len(tags), tuple(tags)
        )
