"""A record of every part in its place on the plan, from which a program counts the parts schedule again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import TypeAlias

from drafter.drawing import Record
from drafter.geometry import Point3
from drafter.layout.graph import NodeKind
from drafter.quantity import Units
from drafter.quantity.kinds import FOOT_M
from drafter.sheets.joint_places import part_places
from drafter.sheets.scene import Scene, mm
from drafter.takeoff.bought_as import bought_as
from drafter.takeoff.consoles import console_item
from drafter.takeoff.holding import board_item, bracket_item
from drafter.takeoff.hoses import hose_item, is_given
from drafter.takeoff.part import HOSES, SUNDRIES, SUPPORTS, TUBE, Part
from drafter.takeoff.schedules import NOT_BOUGHT
from drafter.takeoff.sleeves import sleeve_item

KIND, EQUIPMENT = "PART", "EQUIPMENT"
ONE = "1", "pcs"
APART_M = 0.01
"""Records that are alike in all, place included, stand so far apart: none of them looks like a double."""

Entry: TypeAlias = tuple[str, str, str, str, Point3, tuple[str, str]]
"""Group, item, size, tag, place, how many and in what unit."""


def part_records(scene: Scene) -> Iterator[Record]:
    """Yield a record of everything in the parts schedule, each where it is built in.

    What is bought once for the whole job, such as sealant, has its record at the datum.
    """
    takeoff, units = scene.takeoff, scene.units
    places, numbers = part_places(scene), {(row.group, row.item, row.size): n for n, row in enumerate(takeoff.parts, 1)}
    found = [*_assembled(scene, places), *_held(scene), *_hoses(scene), *_passed(scene)]
    alike: Counter[tuple[object, ...]] = Counter()
    for group, item, size, tag, at, quantity in found:
        place = (group, item, size, tag, *(round(axis, 4) for axis in at))
        beside = Point3(at.x + APART_M * alike[place], at.y, at.z)
        alike[place] += 1
        yield _record(scene, (group, item, size, tag, beside, quantity), numbers[group, item, size])
    counted = {each[:3] for each in found}
    for number, row in enumerate(takeoff.parts, 1):
        if (row.group, row.item, row.size) not in counted:
            tags = " ".join(row.tags)
            quantity = (f"{row.quantity:g}", _unit(row.unit, units))
            yield _record(scene, (row.group, row.item, row.size, tags, Point3(0.0, 0.0, 0.0), quantity), number)


def _assembled(scene: Scene, places: Mapping[str, Point3]) -> Iterator[Entry]:
    """The parts that are joined: tube, fittings, valves, units, outlets."""
    for part in scene.takeoff.instances:
        if part.item not in NOT_BOUGHT:
            item = bought_as(part, scene.design.network)
            tag = part.tag or part.serves
            yield part.group, item, part.size, tag, places[part.id], _quantity(part, scene.units)


def _held(scene: Scene) -> Iterator[Entry]:
    """Brackets, backing boards, consoles."""
    layout, units = scene.layout, scene.units
    for bracket in scene.design.brackets:
        yield SUPPORTS, bracket_item(bracket, units), bracket.size.name, bracket.tag, bracket.at, ONE
    for board in scene.design.boards:
        item, size = board_item(board, units)
        plan = scene.site.wall(board.room, board.wall).at(board.from_left_m)
        yield SUPPORTS, item, size, board.tag, Point3(*plan, board.height_m), ONE
    for console in scene.design.consoles:
        yield (
            SUPPORTS,
            console_item(layout, console),
            "",
            console.tag,
            console.at,
            ONE,
        )


def _hoses(scene: Scene) -> Iterator[Entry]:
    """The hoses that the site file gives, each at its coupling."""
    at = {node.tag: node.at for node in scene.layout.couplings}
    for outlet in filter(is_given, scene.site.outlets):
        item, size = hose_item(outlet, scene.units)
        yield HOSES, item, size, outlet.tag, at[outlet.tag], ONE


def _passed(scene: Scene) -> Iterator[Entry]:
    """The sleeves, each where its pipe enters wall or deck."""
    for passage in scene.passages:
        item, size = sleeve_item(passage, scene.units)
        start = scene.layout.nodes[passage.run.start].at
        at = Point3(*start.plan, passage.underside_m) if passage.deck else start
        yield SUNDRIES, item, size, "", at, ONE


def _quantity(part: Part, units: Units) -> tuple[str, str]:
    if part.group != TUBE:
        return ONE
    return f"{part.cut_m / (FOOT_M if units.imperial else 1.0):.4f}", _unit("m", units)


def _unit(unit: str, units: Units) -> str:
    return "ft" if unit == "m" and units.imperial else unit


def _record(scene: Scene, entry: Entry, number: int) -> Record:
    group, item, size, tag, at, (count, unit) = entry
    level = scene.units.level(at.z)
    data = zip(
        ("NUMBER", "GROUP", "ITEM", "SIZE", "QTY", "UNIT", "TAG", "LEVEL"),
        (f"{number}", group, item, size, count, unit, tag, level),
        strict=True,
    )
    return Record(scene.layers.part, KIND, mm(at.plan), tuple(data))


def equipment_record(scene: Scene) -> Record:
    """What stands as C-01, with its data, where its connection is."""
    plant, units = scene.site.compressor, scene.units
    tank = next(node for node in scene.layout.nodes.values() if node.kind is NodeKind.TANK)
    data = (
        ("TAG", "C-01"),
        ("TYPE", "compressor on tank"),
        ("SIZE", units.volume(plant.tank_m3)),
        ("LEVEL", units.level(tank.at.z)),
        ("FLOW", units.free_air(scene.design.network.supply.delivered_m3_s)),
        ("POWER", units.power(plant.power_w)),
        ("CUT_IN", units.pressure(plant.cut_in_pa)),
        ("CUT_OUT", units.pressure(plant.cut_out_pa)),
        ("RELIEF", units.pressure(plant.relief_pa)),
        ("RATED", units.pressure(plant.rated_pa)),
        ("ROOM", plant.room),
        ("WALL", plant.wall),
    )
    return Record(scene.layers.part, EQUIPMENT, mm(tank.at.plan), data)
