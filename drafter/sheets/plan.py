"""The plan: the building, the main with its falls and levels, every outlet, valve and drain with its tag."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.drawing import Insert, Item, Line, Polyline, Text, View
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.quantity import Units
from drafter.sheets.bends import bend_arcs, on_tube, straight_part
from drafter.sheets.building import building, compressor_in_plan
from drafter.sheets.falls import fall_text, set_fall, way_of_fall
from drafter.sheets.item_boxes import box_of_view
from drafter.sheets.label_places import RINGS_MM
from drafter.sheets.part_records import equipment_record, part_records
from drafter.sheets.placing import UNCUT, Cuts, Ground, Label
from drafter.sheets.plan_dimensions import plan_dimensions
from drafter.sheets.plan_labels import block_labels, keep_off_walls, room_label
from drafter.sheets.plan_north import plan_north
from drafter.sheets.scene import RIMS_MM, SYMBOL, Scene, mm, wave
from drafter.sheets.spare_tees import spare_tee_signs
from drafter.site.model import Room
from drafter.site.wall import in_words
from drafter.standards.limits import FREEZING_K

ROOM_MM = (3.5, 2.5)
WIDE_ROOM_MM = 50.0
"""Heights of room names, the first that fits, and how wide a room has the larger one where it is set late."""

MARK = 0.45
"""Size of plan signs, as a share of the symbols' full size."""

OUTLET_HALF_MM = 5.0
"""Half the sign of an outlet at its full size, on paper."""

ON_MAIN_M = 0.1
"""Nearer to the main from side to side than this, a unit below is seen on it."""

LONG_ENOUGH_FOR_SLOPE_MM = 14.0
LEVEL, LEVEL_RINGS_MM = "level", RINGS_MM[:7]
"""A level stands near its pipe: on a long leader it would be read at another."""


def plan_view(scene: Scene, scale: int, scale_text: str, cuts: Cuts = UNCUT) -> tuple[View, list[str]]:
    """Draw the plan at a scale, to be cut at match lines; also return the labels that found no room."""
    drawing = _Plan(scene, scale, cuts)
    items = drawing.draw(rooms_first=True)
    if drawing.ground.homeless:
        drawing = _Plan(scene, scale, cuts)
        items = drawing.draw(rooms_first=False)
    records = (*part_records(scene), equipment_record(scene))
    view = View("plan", "PLAN", scale, scale_text, (*items, *records), drawing.whole)
    return view, drawing.ground.homeless


class _Plan:
    def __init__(self, scene: Scene, scale: int, cuts: Cuts) -> None:
        self.scene, self.scale, self.cuts = scene, scale, cuts
        self.layers, self.layout = scene.layers, scene.layout
        self.ground = Ground(scale)
        self.items: list[Item] = []
        self.labels: list[Label] = []
        self.whole = Box(0.0, 0.0, 0.0, 0.0)
        self.floors = {room: tuple(mm(wall.left) for wall in walls) for room, walls in scene.site.walls.items()}

    def draw(self, rooms_first: bool) -> list[Item]:
        """Draw all; the names of rooms take their place within them first, or else what the others leave.

        What all of it takes up is ``whole`` then.
        """
        self.ground.keep_off(self.cuts)
        self._add(building(self.scene.site, self.layers))
        keep_off_walls(self.ground, self.scene.site)
        self._add([*compressor_in_plan(self.scene.site, self.layers), *self._pipes(), *self._signs()])
        self._add(plan_dimensions(self.scene, self.ground, self.cuts))
        self._add([self.scene.insert(self.layers.sign, "datum", Point(0.0, 0.0), scale=SYMBOL)])
        self._rooms(rooms_first)
        self._elevation_marks()
        self._falls()
        self._tags()
        self._names()
        self.items += self.ground.set_all(self.labels)
        self.whole = box_of_view(self.items, self.scale, self.scene.symbols)
        self.items += plan_north(self.scene, self.ground, self.whole, list(self.floors.values()))
        return self.items

    def _add(self, items: list[Item]) -> None:
        self.items += items
        self.ground.enter(items, self.scene.symbols)

    def _at(self, node: Node) -> Point:
        return mm(node.at.plan)

    def _pipes(self) -> list[Item]:
        found: list[Item] = []
        for run in self.layout.runs:
            start, end = self.layout.nodes[run.start], self.layout.nodes[run.end]
            a, b = self._at(start), self._at(end)
            if b.minus(a).length < 1.0 or run.kind is RunKind.BRANCH:
                continue
            if run.kind is RunKind.FLEXIBLE:
                found.append(Polyline(self.layers.hose, wave(a, b, 1.2 * self.scale)))
            else:
                found.append(Line(self._layer(run), *straight_part(self.scene, run, a, b, self._at), run.id))
        return [*found, *bend_arcs(self.scene, self.layout.runs, self._at, self._layer)]

    def _layer(self, run: Run) -> str:
        return self.layers.drop if run.outlet else self.layers.main

    def _signs(self) -> list[Item]:
        scene, layers, found = self.scene, self.layers, list[Item]()
        for node in self.layout.nodes.values():
            at, runs = self._at(node), self.layout.runs_at[node.id]
            if node.kind is NodeKind.TAKE_OFF:
                rises = any(run.kind is RunKind.RISING for run in runs)
                angle = self._angle(runs[0]) if rises else 0.0
                found.append(scene.insert(layers.main, "rise" if rises else "tee_joint", at, angle, MARK))
            elif node.kind is NodeKind.SPARE_TEE:
                found += spare_tee_signs(scene, at, scene.wall_of(node).inward.angle_deg, self.scale)
            elif node.kind is NodeKind.BEND and runs[0].kind is RunKind.SWAN_NECK and runs[-1].kind is RunKind.DROP:
                found.append(scene.insert(layers.drop, "drop", at, self._angle(runs[0]), MARK))
            elif node.kind is NodeKind.TEE and runs[0].kind is RunKind.RISER and len(runs) > 2:
                found.append(scene.insert(layers.main, "rise", at, self._angle(runs[0]), MARK))
            elif self.layout.is_low_point(node):
                found.append(scene.insert(layers.main, "drop", at, self._angle(runs[0]), MARK))
            elif node.kind is NodeKind.COUPLING:
                found += [*self._units(node), self._outlet(node)]
            elif node.kind is NodeKind.TREATMENT or self._is_valve_from_above(node):
                layer = layers.equipment if node.kind is NodeKind.TREATMENT else layers.valve
                found.append(
                    scene.insert(layer, scene.used_symbol(node), at, self._angle(runs[0]), MARK - 0.05, node=node)
                )
        for run in self.layout.runs:
            start, end = self.layout.nodes[run.start], self.layout.nodes[run.end]
            if run.kind is RunKind.RISE and not self.layout.is_low_point(start):
                symbol = "rise" if end.at.z > start.at.z else "drop"
                found.append(scene.insert(layers.main, symbol, self._at(start), 0.0, MARK))
            if run.kind is RunKind.SLEEVE:
                a, b = (self._at(self.layout.nodes[id]) for id in (run.start, run.end))
                middle = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
                found.append(scene.insert(layers.sign, "sleeve", middle, self._angle(run), SYMBOL))
        for bracket in scene.design.brackets:
            run = self.layout.run_by_id[bracket.run]
            ends = [self.layout.nodes[id].at for id in (run.start, run.end)]
            if ends[0].plan.minus(ends[1].plan).length > 0.3:
                wall = scene.site.wall(bracket.room, bracket.wall)
                angle = wall.inward.angle_deg + 90.0
                symbol = "bracket_fixed" if bracket.fixed else "bracket"
                found.append(scene.insert(layers.bracket, symbol, mm(bracket.at.plan), angle, 0.4))
        return found

    def _outlet(self, node: Node) -> Insert:
        """The sign of an outlet, before its drop, or along the wall where its units lead there."""
        foot, way, end_mm = self._branch(node)
        half = OUTLET_HALF_MM * SYMBOL * self.scale
        at = foot.plus(way, max(half, end_mm - half))
        return self.scene.insert(self.layers.outlet, "outlet", at, way.angle_deg + 90.0, SYMBOL, node=node)

    def _branch(self, node: Node) -> tuple[Point, Point, float]:
        """Where the branch of an outlet begins in plan, the way it is drawn, and how long it is along the wall."""
        wall, main = self.scene.wall_of(node), self.scene.site.main
        off = (main.off_wall_m or 0.0) or wall.measure(self.layout.take_offs[node.tag].at.plan)[1]
        s = wall.measure(self.layout.outlet_foot(node).at.plan)[0]
        aside_mm = (wall.measure(node.at.plan)[0] - s) * 1000.0
        way = wall.along if aside_mm > 0.0 else wall.along.turned(180.0)
        at = mm(wall.at(s, off))
        return (at, way, abs(aside_mm)) if abs(aside_mm) > 1.0 else (at, wall.inward, 0.0)

    def _units(self, node: Node) -> Iterator[Item]:
        """The pipe with the units of an outlet that leads along the wall."""
        foot, way, end_mm = self._branch(node)
        pipe_mm = end_mm - 2 * OUTLET_HALF_MM * SYMBOL * self.scale
        if pipe_mm > 1.0:
            yield Line(self.layers.drop, foot, foot.plus(way, pipe_mm))

    def _angle(self, run: Run) -> float:
        way = self.layout.nodes[run.end].at.plan.minus(self.layout.nodes[run.start].at.plan)
        return way.angle_deg

    def _elevation_marks(self) -> None:
        for (room, name), number in self.scene.marks.items():
            wall = self.scene.site.wall(room, name)
            size = self.scene.symbols["elevation_mark"].size
            half = max(size) / 2 * 0.7
            for off in (1.3, 1.7, 2.1, 1.0, 2.6, 0.8):
                for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
                    at = mm(wall.at(share * wall.length_m, off))
                    small = self.ground.paper(at)
                    box = Box(small.x - half, small.y - half, small.x + half, small.y + half)
                    if self.ground.free(box):
                        break
                else:
                    continue
                break
            angle = wall.inward.angle_deg + 90.0
            self._add(
                [
                    self.scene.insert(self.layers.sign, "elevation_mark", at, angle, 0.7),
                    Text(self.layers.tag, at, number, 3.0, "centre", weight="bold"),
                ]
            )
            if self.scene.site.rooms[room].size_m:
                self.labels.append(Label(self.layers.text, self.layers.tag, at, (in_words(name),), 2.0))

    def _falls(self) -> None:
        """Size and fall beside a long piece of main, on each wall and for each way it falls there."""
        done: set[tuple[str, str, bool]] = set()
        runs = [run for run in self.layout.runs if run.kind is RunKind.MAIN]
        for run in sorted(runs, key=lambda run: -self.layout.length_m(run)):
            a, b = (self._at(self.layout.nodes[id]) for id in (run.start, run.end))
            wall = self.scene.site.wall(run.room, run.wall)
            way = b.minus(a).unit
            piece = (run.room, run.wall, way.dot(wall.along) > 0.0)
            if piece in done or b.minus(a).length < LONG_ENOUGH_FOR_SLOPE_MM * self.scale:
                continue
            done.add(piece)
            text, down = fall_text(self.scene, run), way_of_fall(self.scene, run, way)
            for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.25, 0.75):
                at = a.plus(b.minus(a), share).plus(wall.inward, 3.2 * self.scale)
                if set_fall(self.scene, self.ground, self.items, at, down, wall.inward, text):
                    break

    def _tags(self) -> None:
        units = self.scene.units
        for node in self.layout.nodes.values():
            at, lines = self._at(node), (node.tag,)
            if node.kind is NodeKind.COUPLING:
                self._label(node, self._outlet(node).at, (node.tag, units.level(node.at.z)), 3.0)
                continue
            if node.kind is NodeKind.TANK:
                tank = units.volume(self.scene.site.compressor.tank_m3)
                wall = self.scene.wall_of(node)
                plant = self.scene.site.compressor
                middle = plant.from_left_m + plant.width_m / 2
                at = mm(wall.at(middle, plant.off_wall_m + plant.depth_m))
                left, off = units.length(plant.from_left_m), units.length(plant.off_wall_m)
                placed = f"left end at {left}, {off} off the wall"
                self._label(node, at, (node.tag, f"compressor, {tank} tank", placed), 3.0)
                continue
            main_end = node.kind is NodeKind.DRAIN and not self.layout.runs_at[node.id][0].outlet
            device = node.kind in (NodeKind.TREATMENT, NodeKind.SPARE_TEE) or self._is_valve_from_above(node)
            if device or main_end:
                below = node.kind is NodeKind.TREATMENT and self._is_below_main(node)
                self._label(node, at, (*lines, units.level(node.at.z)) if below else lines, 2.5)
            elif node.kind in (NodeKind.BEND, NodeKind.TEE) and self._is_high_or_low(node):
                self._label(node, on_tube(self.scene, node, self._at), self._level_lines(node), 2.5, LEVEL)

    def _is_below_main(self, node: Node) -> bool:
        """Whether a node is seen on the main although it lies below it."""
        wall = self.scene.wall_of(node)
        at, off = wall.measure(node.at.plan)
        for run in self.layout.runs:
            if run.kind is RunKind.MAIN and (run.room, run.wall) == (node.room, node.wall):
                (a, main_off), (b, _) = (wall.measure(self.layout.nodes[id].at.plan) for id in (run.start, run.end))
                if min(a, b) < at < max(a, b) and abs(off - main_off) < ON_MAIN_M:
                    return True
        return False

    def _is_valve_from_above(self, node: Node) -> bool:
        """Whether a node is a valve in level pipe of the line; those in upright pipe are seen in elevations."""
        return self.scene.is_valve_of_line(node) and not self.layout.is_upright(self.layout.runs_at[node.id][0])

    def _level_lines(self, node: Node) -> tuple[str, ...]:
        """The main's level at a node; where it steps out round something, how far off its wall it goes on."""
        units, out_m = self.scene.units, self.layout.steps_out_to_m(node)
        return units.level(node.at.z), *([f"out to {units.length(out_m)}"] if out_m else [])

    def _is_high_or_low(self, node: Node) -> bool:
        """Whether the main's level is worth writing here: at the riser's top, at corners, at low ends.

        A step round something has it once, where the air comes to it.
        """
        runs = self.layout.runs_at[node.id]
        kinds = {run.kind for run in runs}
        in_step = any(run.kind is RunKind.MAIN and self.layout.goes_across(run) for run in runs)
        if in_step and (self.layout.goes_across(runs[0]) or not self.layout.steps_out_to_m(node)):
            return False
        return RunKind.MAIN in kinds and RunKind.SLEEVE not in kinds and not any(run.outlet for run in runs)

    def _label(self, node: Node, at: Point, lines: tuple[str, ...], height_mm: float, kind: str = "") -> None:
        """Label what stands at a node, in no other room than its own."""
        elsewhere = tuple(corners for room, corners in self.floors.items() if room != node.room)
        kind = kind or node.kind.value
        layer = self.layers.tag
        rim_mm, rings = RIMS_MM.get(kind, 0.0), LEVEL_RINGS_MM if kind == LEVEL else RINGS_MM
        self.labels.append(
            Label(layer, layer, at, lines, height_mm, True, rings, kind=kind, elsewhere=elsewhere, rim_mm=rim_mm)
        )

    def _rooms(self, first: bool) -> None:
        """Each room's name, ceiling and air within it, small where it must be; else beside it."""
        site, units = self.scene.site, self.scene.units
        for room, walls in site.walls.items():
            air, ceiling = _air(site.rooms[room], units), f"ceiling {units.level(site.rooms[room].ceiling_m)}"
            lines = (room.upper(), ceiling, air)
            labels = [room_label(self.layers, walls, lines, size) for size in ROOM_MM]
            within = (self.ground.set_within(label) for label in labels) if first else ()
            if found := next(filter(None, within), None):
                self.items += found
            else:
                floor = Box.around(self.floors[room])
                wide = min(floor.width, floor.height) / self.scale > WIDE_ROOM_MM
                self.labels.append(labels[0] if wide else labels[-1])

    def _names(self) -> None:
        site = self.scene.site
        for room, walls in site.walls.items():
            if site.rooms[room].corners_m:
                for wall in walls:
                    corner = (wall.name.partition("-")[0],)
                    self.labels.append(Label(self.layers.text, self.layers.tag, mm(wall.left), corner, 3.0, True))
            self.labels += block_labels(self.layers, site, room)


def _air(room: Room, units: Units) -> str:
    """Between what temperatures a room's air lies; pipe and water in it take them."""
    frost = ": FROST" if room.coldest_k < FREEZING_K.value else ""
    return f"air {units.temperature(room.coldest_k)} to {units.temperature(room.warmest_k)}{frost}"
