"""Where a union stands: in front of what cannot turn, so that the last threaded joint closes and the part comes out."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.sizing.bends import closes_ring
from drafter.standards.materials import Material

WORTH_A_UNION_M = 1.0
"""Shorter pieces of main behind a bend get none: what stands before them is taken apart instead (value of our own)."""


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

    Threaded pipe gets one under each drop's valve, one behind each valve and each bend of the main and one where a ring
    closes.
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
    turns = node.kind is NodeKind.BEND and run.kind is RunKind.MAIN and run.start == node.id
    return "the main comes apart here" if turns and layout.length_m(run) >= WORTH_A_UNION_M else ""
