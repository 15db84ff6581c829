"""Where a union stands: in front of what cannot turn, so that the last threaded joint closes and the part comes out."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.sizing.bends import closes_ring
from drafter.standards.materials import Material

WORTH_A_UNION_M = 1.0
"""A shorter piece of main from bend to bend gets none: the string opens behind its last bend (value of our own)."""

ROOM_FOR_A_UNION_M = 0.4
"""A shorter piece has no room for a union, a bracket and two spanners: the piece after gets it (value of our own)."""


@dataclass(frozen=True, slots=True)
class Union:
    """A union in place.

    Attributes:
        node, run: it stands at this node's end of this run.
        at: its middle [m].
        why: in words, with the tag of what it serves.
    """

    node: str
    run: str
    size: str
    at: Point3
    why: str


def valve_item(family: Material) -> str:
    """Return what a valve in the line is bought as: the ends by which it comes out again.

    Of soldered and pressed tube no joint comes apart, so that its valves have union ends; push-in joints come apart by
    themselves, and behind a threaded valve stands a union.

    Source:
        common practice.
    """
    if family.joins_by == "thread":
        return "ball valve, threaded"
    return "ball valve with tube ends" if family.comes_apart else "ball valve with union ends for tube"


def union_reason(layout: Layout, family: Material, node: Node, run: Run) -> str:
    """Return why a union stands at a node's end of a run, in words; empty where none does.

    Threaded pipe gets one under each drop's valve, one behind each valve of the main, one where a ring closes and one
    in level pipe of the main behind each bend, or behind the last of several close together (`opens_behind`).
    Treatment units get one on either side and the first unit of an outlet one before it, unless the family's joints
    come apart by themselves.

    Source:
        common practice.
    """
    unit = f"{node.tag} comes out" if node.tag else f"units of {layout.outlet_at(node)} come out"
    if node.kind is NodeKind.TREATMENT and not family.comes_apart:
        return unit
    if node.kind is NodeKind.SERVICE and not family.comes_apart:
        first = run.end == node.id and layout.nodes[run.start].kind is not NodeKind.SERVICE
        return unit if first else ""
    if family.joins_by != "thread":
        return ""
    if node.kind is NodeKind.VALVE and run.outlet and run.start == node.id:
        return f"drop {run.outlet} closes and comes off"
    if node.kind is NodeKind.VALVE and run.kind is RunKind.MAIN and run.start == node.id:
        return f"{node.tag} comes out"
    if run.end == node.id and closes_ring(layout, run):
        return "the ring closes"
    return "the main comes apart here" if run.start == node.id and opens_behind(layout, run) else ""


def opens_behind(layout: Layout, run: Run) -> bool:
    """Whether the main comes apart where a run of it starts, so that no string with corners is closed at both its ends.

    Behind a bend it does where the run is long, or the last of a string of short ones; if that is too short for a
    union, behind the tee that it ends in.

    Source: common practice.
    """
    start, end = layout.nodes[run.start], layout.nodes[run.end]
    if run.kind is not RunKind.MAIN or layout.length_m(run) < ROOM_FOR_A_UNION_M:
        return False
    if start.kind is NodeKind.BEND:
        return end.kind is not NodeKind.BEND or layout.length_m(run) >= WORTH_A_UNION_M
    before = layout.runs_at[start.id][0]
    turned = before.kind is RunKind.MAIN and layout.nodes[before.start].kind is NodeKind.BEND
    return start.kind in _TEES and turned and layout.length_m(before) < ROOM_FOR_A_UNION_M


_TEES = (NodeKind.TEE, NodeKind.TAKE_OFF, NodeKind.SPARE_TEE)
