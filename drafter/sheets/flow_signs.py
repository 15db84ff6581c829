"""How each station of the flow diagram is drawn: its symbols, tags and numbers, and the room they take."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from drafter.drawing import Item, Line, Text
from drafter.geometry import Point
from drafter.layout.graph import NodeKind, RunKind
from drafter.lettering import text_width_mm, wrapped
from drafter.sheets.flow_chains import COMPRESSOR, HOSE, RING, TAKE_OFF, TANK, TEE, Station
from drafter.sheets.item_boxes import box_of_view
from drafter.sheets.scene import Scene
from drafter.sizing.network import OutletFlow
from drafter.standards.components import component

TEXT_MM, TAG_MM, PITCH_MM = 2.5, 3.5, 3.9
SIZES = (1.0, 0.8, 0.6)
"""Sizes of symbols as shares of their full size: smaller ones are no longer legible."""

PLANT, DOT = 1.2, 0.8
"""Compressor and tank are drawn so much larger, dots smaller."""

ABOVE_LINE_MM = 6.6
"""Base line of pressures over the line; flows stand lower, between the stations."""

VALVE_MM, BRANCH_MM, DRAIN_MM = -22.0, -34.0, -38.0
"""Along a drop, below the main, for symbols of full size: the middle of its valve, its branch, the top of its drain."""

WIDEST_WORDS_MM = 24.0
LETTER_ROOM_MM = 4.0
"""To either side of a tee, for the letter at which its branch may go on."""


@dataclass(frozen=True, slots=True)
class Room:
    """The room a station takes about its place on the line [mm].

    Attributes:
        left, right, above, below: of all of it, with its texts.
        near: to either side, of what stands so close to the line that no text finds room there.
        half: of the line that its symbol stands in for.
    """

    left: float
    right: float
    above: float
    below: float
    near: float
    half: float


def pressure_in_main_pa(flow: OutletFlow, cut_in_pa: float) -> float:
    """Return the gauge pressure where an outlet's drop leaves the main, in its worst case [Pa].

    Source:
        `drafter.sizing.ladder`: the level before its drop.
    """
    before = cut_in_pa
    for step in flow.ladder:
        if step.what in ("drop", "units at the outlet", "coupling"):
            return before
        before = step.gauge_pressure_pa
    return before


@dataclass(frozen=True)
class Signs:
    """Draws stations at places on a level line, with symbols of a size."""

    scene: Scene
    size: float = SIZES[-1]

    @property
    def plant(self) -> float:
        return self.size * PLANT

    @cached_property
    def _rooms(self) -> dict[Station, Room]:
        return {}

    def room(self, station: Station) -> Room:
        """The room that a station takes, as it is drawn."""
        if station not in self._rooms:
            box = box_of_view(self.items(station, Point(0.0, 0.0), 1), 1.0, self.scene.symbols)
            left, right = max(-box.left, 0.5), max(box.right, 0.5)
            half, open_line = self._half(station), station.kind in (TAKE_OFF, TEE, RING)
            near = 1.0 if open_line else max(left, right)
            if station.branches:
                left, right = max(left, LETTER_ROOM_MM), max(right, LETTER_ROOM_MM)
            self._rooms[station] = Room(left, right, max(box.top, 6.0), max(-box.bottom, 9.0), near, half)
        return self._rooms[station]

    def _half(self, station: Station) -> float:
        if station.kind in ("valve", "treatment", HOSE, COMPRESSOR, TANK):
            scale = self.plant if station.kind in (COMPRESSOR, TANK) else self.size
            return self.scene.symbols[self._symbol(station)].size[0] / 2 * scale
        return 0.0

    def _symbol(self, station: Station) -> str:
        fixed = {COMPRESSOR: "compressor", TANK: "air_receiver", HOSE: "flexible_hose"}
        return fixed.get(station.kind) or self.scene.used_symbol(station.node)

    def items(self, station: Station, at: Point, way: int) -> list[Item]:
        """Draw a station; ``way`` is +1 where the line runs to the right, -1 to the left."""
        return list(self._drawn(station, at, way))

    def _drawn(self, station: Station, at: Point, way: int) -> Iterator[Item]:
        match station.kind:
            case "compressor":
                return self._compressor(station, at)
            case "tank":
                return self._tank(at)
            case "valve":
                return self._valve(station, at, way)
            case "treatment":
                return self._unit(station, at, way)
            case "hose":
                return iter([self.scene.insert(self.scene.layers.hose, "flexible_hose", at, scale=self.size)])
            case "take-off":
                return self._take_off(station, at)
            case "drain":
                return self._drain(station, at)
            case "spare tee":
                return self._spare(station, at)
            case "sleeve":
                return self._sleeve(station, at)
            case "end":
                end = at.plus(Point(way * 1.25 * self.size, 0.0))
                return iter([self.scene.insert(self.scene.layers.main, "plug", end, 0.0, self.size)])
            case _:
                return iter([self._dot(at)])

    def _below(self, at: Point, lines: list[str], bold: bool = False) -> Iterator[Item]:
        """Lines of text one below the other, centred, the first one's tops at a point; the first may be a tag."""
        layer, y = self.scene.layers.text, at.y
        for number, line in enumerate(lines):
            tag = bold and number == 0
            height = TAG_MM if tag else TEXT_MM
            place = self.scene.layers.tag if tag else layer
            yield Text(place, Point(at.x, y), line, height, "top", weight="bold" if tag else "regular")
            y -= height + PITCH_MM - TEXT_MM

    def _compressor(self, station: Station, at: Point) -> Iterator[Item]:
        scene, units, plant = self.scene, self.scene.units, self.scene.site.compressor
        delivered = scene.design.network.supply.delivered_m3_s
        yield scene.insert(scene.layers.equipment, "compressor", at, scale=self.plant, node=station.node)
        motor = at.plus(Point(0.0, -18.75 * self.plant))
        yield scene.insert(scene.layers.equipment, "electric_motor", motor, scale=self.plant)
        words = [station.node.tag, units.power(plant.power_w), f"gives {units.free_air(delivered)}"]
        yield from self._below(at.plus(Point(0.0, -29.0 * self.plant)), words, bold=True)

    def _tank(self, at: Point) -> Iterator[Item]:
        scene, units, plant = self.scene, self.scene.units, self.scene.site.compressor
        yield scene.insert(scene.layers.equipment, "air_receiver", at, scale=self.plant)
        top, bottom = 5.0 * self.plant, -5.0 * self.plant
        yield scene.insert(
            scene.layers.equipment, "relief_valve", at.plus(Point(0.0, top + 10.0 * self.size)), scale=self.size
        )
        yield scene.insert(
            scene.layers.drain, "drain_valve", at.plus(Point(0.0, bottom - 7.5 * self.size)), scale=self.size
        )
        opens = f"opens at {units.pressure(plant.relief_pa)}"
        yield Text(scene.layers.text, at.plus(Point(0.0, top + 20.0 * self.size + 1.2)), opens, TEXT_MM, "bottom")
        words = [
            f"tank {units.volume(plant.tank_m3)}",
            f"rated {units.pressure(plant.rated_pa)}",
            f"cut-in {units.pressure(plant.cut_in_pa)}",
            f"cut-out {units.pressure(plant.cut_out_pa)}",
        ]
        yield from self._below(at.plus(Point(0.0, bottom - 15.0 * self.size - 1.5)), words)

    def _valve(self, station: Station, at: Point, way: int) -> Iterator[Item]:
        symbol = self._symbol(station)
        yield self.scene.insert(
            self.scene.layers.valve, symbol, at, scale=self.size, mirrored=way < 0, node=station.node
        )  # fmt: skip
        top = self.scene.symbols[symbol].size[1] / 2 * self.size + 1.2
        yield Text(self.scene.layers.tag, at.plus(Point(0.0, top)), station.node.tag, TEXT_MM, "bottom", weight="bold")

    def _unit(self, station: Station, at: Point, way: int) -> Iterator[Item]:
        scene, node = self.scene, station.node
        symbol = scene.symbols[self._symbol(station)]
        yield scene.insert(scene.layers.equipment, symbol.name, at, scale=self.size, mirrored=way < 0, node=node)
        top = symbol.size[1] / 2 * self.size
        yield Text(scene.layers.tag, at.plus(Point(0.0, top + 1.2)), node.tag, TEXT_MM, "bottom", weight="bold")
        words = wrapped(node.what, WIDEST_WORDS_MM, TEXT_MM)
        yield from self._below(at.plus(Point(0.0, -top - 1.5)), [*words, *self._unit_numbers(station)])

    def _unit_numbers(self, station: Station) -> Iterator[str]:
        """What a unit of the treatment train takes at full flow, or what a regulator holds."""
        units = self.scene.units
        unit = next(each for each in self.scene.site.treatment if each.place == station.node.place)
        drop_pa = unit.drop_pa if unit.drop_pa is not None else component(unit.kind).pressure_drop_pa
        yield f"takes {units.pressure_drop(drop_pa)}"
        if unit.set_pa is not None:
            yield f"set {units.pressure(unit.set_pa)}"

    def _dot(self, at: Point) -> Item:
        return self.scene.insert(self.scene.layers.main, "tee_joint", at, scale=DOT * self.size)

    def _drain(self, station: Station, at: Point) -> Iterator[Item]:
        scene = self.scene
        yield self._dot(at)
        yield Line(scene.layers.drop, at, at.plus(Point(0.0, -4.0 * self.size)))
        middle = at.plus(Point(0.0, -11.5 * self.size))
        yield scene.insert(scene.layers.drain, self._symbol(station), middle, scale=self.size, node=station.node)
        under = at.plus(Point(0.0, -19.0 * self.size - 1.2))
        yield Text(scene.layers.tag, under, station.node.tag, TEXT_MM, "top", weight="bold")

    def _spare(self, station: Station, at: Point) -> Iterator[Item]:
        scene, units = self.scene, self.scene.units
        spare = next(each for each in scene.design.network.spare_tees if each.tag == station.node.tag)
        yield self._dot(at)
        yield Line(scene.layers.drop, at, at.plus(Point(0.0, -4.0 * self.size)))
        yield scene.insert(scene.layers.drop, "plug", at.plus(Point(0.0, -5.25 * self.size)), -90.0, self.size)
        under = at.plus(Point(0.0, -6.5 * self.size - 1.2))
        yield Text(scene.layers.tag, under, spare.tag, TEXT_MM, "top", weight="bold")
        yield self._pressure(at, units.pressure(spare.now_pa))

    def _pressure(self, at: Point, words: str) -> Text:
        return Text(self.scene.layers.text, at.plus(Point(0.0, ABOVE_LINE_MM)), words, TEXT_MM, "bottom")

    def _sleeve(self, station: Station, at: Point) -> Iterator[Item]:
        yield self.scene.insert(self.scene.layers.sign, "sleeve", at, scale=self.plant)
        words = wrapped(f"into {station.node.room}", WIDEST_WORDS_MM, TEXT_MM)
        yield from self._below(at.plus(Point(0.0, -3.0)), words)

    def _take_off(self, station: Station, at: Point) -> Iterator[Item]:
        scene, layers, units = self.scene, self.scene.layers, self.scene.units
        flow = next(each for each in scene.design.network.outlets if each.tag == station.outlet)
        runs = [run for run in scene.layout.runs if run.outlet == station.outlet]
        nodes = {scene.layout.nodes[run.end].kind: scene.layout.nodes[run.end] for run in runs}
        yield self._dot(at)
        yield self._pressure(at, units.pressure(pressure_in_main_pa(flow, scene.site.compressor.cut_in_pa)))
        valve, half = at.plus(Point(0.0, VALVE_MM * self.size)), 5.0 * self.size
        tee = at.plus(Point(0.0, BRANCH_MM * self.size))
        yield Line(layers.drop, at, valve.plus(Point(0.0, half)))
        yield Line(layers.drop, valve.plus(Point(0.0, -half)), tee)
        node = nodes[NodeKind.VALVE]
        yield scene.insert(layers.valve, "ball_valve", valve, -90.0, self.size, node=node)
        yield Text(layers.tag, valve.plus(Point(-5.0 * self.size, 0.0)), node.tag, TEXT_MM, "right", weight="bold")
        yield Text(layers.text, valve.plus(Point(5.0 * self.size, 0.0)), scene.size_of(runs[0]), TEXT_MM, "left")
        if NodeKind.DRAIN in nodes:
            yield scene.insert(layers.drop, "tee_joint", tee, scale=DOT * self.size)
            drain, node = at.plus(Point(0.0, DRAIN_MM * self.size)), nodes[NodeKind.DRAIN]
            yield Line(layers.drop, tee, drain)
            middle = drain.plus(Point(0.0, -7.5 * self.size))
            yield scene.insert(layers.drain, scene.used_symbol(node), middle, scale=self.size, node=node)
            yield Text(layers.tag, middle.plus(Point(-5.2 * self.size, 0.0)), node.tag, TEXT_MM, "right", weight="bold")
        else:
            yield Text(layers.text, tee.plus(Point(-1.5, 0.0)), "rises", TEXT_MM, "bottom right")
        yield from self._outlet(flow, tee)

    def _outlet(self, flow: OutletFlow, tee: Point) -> Iterator[Item]:
        """The branch of an outlet: its units in the order of flow, its coupling, and what it gets."""
        scene, layers, units = self.scene, self.scene.layers, self.scene.units
        words = [flow.tag, units.free_air(flow.free_air_m3_s), units.pressure(flow.gauge_pressure_pa)]
        widest = max(text_width_mm(flow.tag, TAG_MM, "bold"), *(text_width_mm(word, TEXT_MM) for word in words[1:]))
        runs = [run for run in scene.layout.runs if run.outlet == flow.tag and run.kind is RunKind.BRANCH]
        here = tee.plus(Point(max(15.0 * self.size, 6.0 * self.size + widest / 2), 0.0))
        yield Line(layers.drop, tee, here)
        first, here = here, here.plus(Point(0.0, -3.0 * self.size))
        for node in (scene.layout.nodes[run.end] for run in runs):
            symbol, angle = scene.used_symbol(node), 0.0 if node.kind is NodeKind.COUPLING else -90.0
            size, scale = scene.symbols[symbol].size, self.size * (1.0 if angle else PLANT)
            length = (size[0] if angle else size[1]) * scale
            yield Line(layers.drop, first, here)
            middle = here.plus(Point(0.0, -length / 2))
            yield scene.insert(layers.outlet, symbol, middle, angle, scale, node=node)
            first, here = here.plus(Point(0.0, -length)), here.plus(Point(0.0, -length - 1.0))
        yield from self._below(first.plus(Point(0.0, -1.5)), words, bold=True)
