"""What every view is drawn from: the design, its schedules, the layers, symbols and units."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from drafter.drawing import Insert, Symbol
from drafter.geometry import Box, Point
from drafter.layout.concerned import Concerned, concerned
from drafter.layout.graph import Layout, Node, NodeKind, Run
from drafter.quantity import Units
from drafter.sheets.layers import Layers
from drafter.site.model import Site
from drafter.site.wall import Wall
from drafter.supports.design import Board, Console, Design
from drafter.takeoff import Takeoff
from drafter.takeoff.marks import Coupled, coupled
from drafter.takeoff.sleeves import Passage, passages

SYMBOL = 0.6
"""Size of device symbols on views, as a share of their full size."""

TREATMENT_SYMBOLS = {
    "aftercooler": "aftercooler",
    "separator": "separator",
    "filter": "filter",
    "coalescing filter": "coalescing_filter",
    "activated carbon filter": "adsorption_filter",
    "refrigeration dryer": "dryer",
    "desiccant dryer": "dryer",
    "regulator": "regulator",
    "lubricator": "lubricator",
    "excess-flow valve": "excess_flow_valve",
}

RIMS_MM = {
    NodeKind.VALVE.value: 1.8,
    NodeKind.DRAIN.value: 1.8,
    NodeKind.TREATMENT.value: 3.0,
    NodeKind.COUPLING.value: 2.5,
    NodeKind.SPARE_TEE.value: 1.5,
    "bracket": 0.9,
}
"""Half the height of signs on plan and elevations, where leaders to them end."""


_SOLD_AS = {
    NodeKind.VALVE: ("ball valve",),
    NodeKind.DRAIN: ("drain valve", "automatic drain"),
    NodeKind.COUPLING: ("quick coupling",),
}
"""What the names of the parts at some nodes begin with."""


@dataclass(frozen=True)
class Scene:
    """The design with all that is needed to draw it.

    Attributes:
        marks: the number of each drawn wall's elevation.
        warnings, errors: how many are open.
    """

    design: Design
    takeoff: Takeoff
    symbols: dict[str, Symbol]
    layers: Layers
    marks: dict[tuple[str, str], str]
    warnings: int = 0
    errors: int = 0

    @property
    def layout(self) -> Layout:
        return self.design.network.layout

    @property
    def site(self) -> Site:
        return self.layout.site

    @property
    def units(self) -> Units:
        return self.site.units

    @cached_property
    def passages(self) -> tuple[Passage, ...]:
        """Where pipes pass walls and decks."""
        return tuple(passages(self.design.network))

    @cached_property
    def boards(self) -> dict[str, Board]:
        """The backing boards by their tags."""
        return {board.tag: board for board in self.design.boards}

    @cached_property
    def consoles(self) -> dict[str, Console]:
        """The consoles by the nodes of what they carry."""
        return {console.node: console for console in self.design.consoles}

    @cached_property
    def revised(self) -> Concerned:
        """What the latest revision concerns."""
        return concerned(self.layout)

    @cached_property
    def coupled(self) -> tuple[Coupled, ...]:
        """Where pieces of tube are coupled in line."""
        return tuple(coupled(self.layout, self.takeoff.pieces))

    def size_of(self, run: Run) -> str:
        """Size of a run as it is written on drawings: nominal inches say so."""
        name = self.design.network.sizes[run.id].name
        return f"{name} in" if self.design.network.material.inch_sized else name

    def wall_of(self, node: Node) -> Wall:
        return self.site.wall(node.room, node.wall)

    def is_valve_of_line(self, node: Node) -> bool:
        """Whether a node is a valve at the tank or in the main, not one in a drop."""
        return node.kind is NodeKind.VALVE and not self.layout.outlet_at(node)

    def insert(
        self, layer: str, symbol: str, at: Point, angle_deg: float = 0.0, scale: float = 1.0, mirrored: bool = False,
        node: Node | None = None,
    ) -> Insert:  # fmt: skip
        return Insert(layer, symbol, at, angle_deg, mirrored, scale, self.attributes(symbol, node) if node else ())

    def attributes(self, symbol: str, node: Node) -> tuple[tuple[str, str], ...]:
        """Data of the thing at a node, for a parts schedule drawn from the DXF."""
        runs = self.layout.runs_at[node.id]
        line = self.size_of(runs[0]) if runs else ""
        return (
            ("TAG", node.tag),
            ("TYPE", node.what or self.symbols[symbol].title),
            ("SIZE", self._own_size(node) or line),
            ("LINE", line),
            ("LEVEL", self.units.level(node.at.z)),
            ("FLOW", self._flow(node)),
            ("ROOM", node.room),
            ("WALL", node.wall),
        )

    def _own_size(self, node: Node) -> str:
        """Size of what stands at a node as it is bought; empty where it has no tag of its own."""
        sold_as = _SOLD_AS.get(node.kind, (node.what,) if node.what else ())
        if not node.tag or not sold_as:
            return ""
        parts = self.takeoff.instances
        return next((part.size for part in parts if part.tag == node.tag and part.item.startswith(sold_as)), "")

    def _flow(self, node: Node) -> str:
        """The most free air that passes a node; empty where none does, as at a drain."""
        carried = [run.id for run in self.layout.runs_at[node.id] if self.design.network.carries(run.id)]
        flows = [self.design.network.pipe(id).free_air_m3_s for id in carried]
        return self.units.free_air(max(flows)) if flows and max(flows) > 0.0 else ""

    def used_symbol(self, node: Node) -> str:
        """Name of the symbol for what stands at a node; empty for plain fittings."""
        drains = "automatic_drain" if self.site.main.drains == "automatic" else "drain_valve"
        return {
            NodeKind.VALVE: "ball_valve_lockable" if node.tag == "V-01" else "ball_valve",
            NodeKind.DRAIN: drains,
            NodeKind.COUPLING: "outlet",
            NodeKind.TREATMENT: TREATMENT_SYMBOLS.get(node.what, "filter"),
            NodeKind.SERVICE: TREATMENT_SYMBOLS.get(node.what, "filter"),
        }.get(node.kind, "")


@dataclass(frozen=True, slots=True)
class Block:
    """A thing that stands in a room, or a space kept clear: its words and its extent from its wall [m]."""

    words: tuple[str, ...]
    wall: Wall
    from_left_m: float
    off_wall_m: float
    width_m: float
    depth_m: float
    bottom_m: float
    top_m: float
    keep_clear: bool

    @property
    def footprint(self) -> tuple[Point, ...]:
        """Its corners in plan, in the view's millimetres."""
        corners = self.wall.footprint(self.from_left_m, self.off_wall_m, self.width_m, self.depth_m)
        return tuple(mm(corner) for corner in corners)

    @property
    def face(self) -> tuple[Point, ...]:
        """Its corners as seen on its wall, in the view's millimetres."""
        right = self.from_left_m + self.width_m
        box = Box(self.from_left_m, self.bottom_m, right, self.top_m)
        return tuple(mm(corner) for corner in box.corners)


def blocks(site: Site, room: str) -> list[Block]:
    """Return the furniture and the keep-clear spaces of a room."""
    data, found = site.rooms[room], []
    for thing in data.equipment:
        wall = site.wall(room, thing.wall)
        found.append(
            Block(
                (thing.name or thing.kind,), wall, thing.from_left_m, thing.off_wall_m, thing.width_m,
                thing.depth_m, thing.above_floor_m, thing.height_m, False,
            )
        )  # fmt: skip
    for keep in data.keep_clear:
        wall = site.wall(room, keep.wall)
        top = keep.above_floor_m + keep.height_m
        words: tuple[str, ...] = ("keep clear:", keep.name or keep.kind)
        if keep.kind == "electrical panel":
            words += (f"{site.units.length_with_unit(keep.depth_m)} deep",)
        found.append(
            Block(words, wall, keep.from_left_m, 0.0, keep.width_m, keep.depth_m, keep.above_floor_m, top, True)
        )
    for service in data.services:
        wall, top = site.wall(room, service.wall), service.above_floor_m + service.height_m
        found.append(
            Block(
                (service.name or service.kind,), wall, service.from_left_m, 0.0, service.width_m,
                service.depth_m, service.above_floor_m, top, False,
            )
        )  # fmt: skip
    return found


def mm(point: Point) -> Point:
    """A point in plan or on a wall, metres to the view's millimetres."""
    return Point(point.x * 1000.0, point.y * 1000.0)


def wave(start: Point, end: Point, height: float) -> tuple[Point, ...]:
    """Points of a wavy line, the sign of a flexible connection."""
    way = end.minus(start)
    side = way.unit.left
    count = 24
    return tuple(
        start.plus(way, i / count).plus(side, height * math.sin(2 * math.pi * 1.5 * i / count))
        for i in range(count + 1)
    )


def hold_words(scene: Scene) -> str:
    """What the titles of lists that money is spent by end with, where findings are open."""
    return "; settle CHECK BEFORE BUILDING first" if scene.warnings or scene.errors else ""
