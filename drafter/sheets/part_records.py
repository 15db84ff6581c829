"""A record of every part in its place on the plan, from which a program counts the parts schedule again."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.drawing import Record
from drafter.geometry import Point3
from drafter.layout.graph import NodeKind, RunKind
from drafter.sheets.scene import Scene, mm
from drafter.takeoff.bought_as import bought_as
from drafter.takeoff.holding import board_item, bracket_item
from drafter.takeoff.part import SUPPORTS, TUBE, Part
from drafter.takeoff.posing import put_together
from drafter.takeoff.schedules import NOT_BOUGHT

KIND = "PART"


def part_records(scene: Scene) -> Iterator[Record]:
    """Yield a record of everything in the parts schedule, each where it is built in.

    What is bought once for the whole job, such as sealant, has its record at the datum.
    """
    takeoff, units, counted = scene.takeoff, scene.units, set[tuple[str, str, str]]()
    places = _places(scene)
    for part in takeoff.instances:
        if part.item not in NOT_BOUGHT:
            item = bought_as(part, scene.design.network)
            counted.add((part.group, item, part.size))
            yield _record(scene, part.group, item, part.size, part.tag, places[part.id], _quantity(part))
    for bracket in scene.design.brackets:
        item = bracket_item(bracket, units)
        counted.add((SUPPORTS, item, bracket.size.name))
        yield _record(scene, SUPPORTS, item, bracket.size.name, bracket.tag, bracket.at)
    for board in scene.design.boards:
        item, size = board_item(board, units)
        counted.add((SUPPORTS, item, size))
        plan = scene.site.wall(board.room, board.wall).at(board.from_left_m)
        yield _record(scene, SUPPORTS, item, size, board.tag, Point3(*plan, board.height_m))
    for row in takeoff.parts:
        if (row.group, row.item, row.size) not in counted:
            yield _record(
                scene, row.group, row.item, row.size, "", Point3(0.0, 0.0, 0.0), (f"{row.quantity:g}", row.unit)
            )


def _quantity(part: Part) -> tuple[str, str]:
    return (f"{part.cut_m:.4f}", "m") if part.group == TUBE else ("1", "pcs")


def _places(scene: Scene) -> dict[str, Point3]:
    """Where each part is; what stands between tank and riser, joined by the hose, at the tank."""
    layout, takeoff = scene.layout, scene.takeoff
    begins = next(run.end for run in layout.runs if run.kind is RunKind.FLEXIBLE)
    at, _ = put_together(takeoff.instances, takeoff.joints, (takeoff.start, layout.nodes[begins].at))
    tank = next(node for node in layout.nodes.values() if node.kind is NodeKind.TANK)
    return {part.id: at.get(part.id, tank.at) for part in takeoff.instances}


def _record(
    scene: Scene, group: str, item: str, size: str, tag: str, at: Point3, quantity: tuple[str, str] = ("1", "pcs")
) -> Record:
    count, unit = quantity
    level = scene.units.level(at.z)
    data = zip(
        ("GROUP", "ITEM", "SIZE", "QTY", "UNIT", "TAG", "LEVEL"),
        (group, item, size, count, unit, tag, level),
        strict=True,
    )
    return Record(scene.layers.part, KIND, mm(at.plan), tuple(data))
