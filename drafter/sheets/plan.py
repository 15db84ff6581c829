"""The plan: the building, the main with its falls and levels, every outlet, valve and drain with its tag."""

from __future__ import annotations

from functools import cached_property

from drafter.drawing import Item, Text, View
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind, RunKind
from drafter.quantity import Units
from drafter.sheets.bends import on_tube
from drafter.sheets.building import building, compressor_in_plan
from drafter.sheets.cuts import UNCUT, Cuts
from drafter.sheets.enlarged_reference import frame_of, reference_to
from drafter.sheets.enlarged_region import Region, crowded_region
from drafter.sheets.falls import fall_text, set_fall, way_of_fall
from drafter.sheets.item_boxes import box_of_view
from drafter.sheets.label_places import RINGS_MM
from drafter.sheets.part_records import equipment_record, part_records
from drafter.sheets.placing import Ground, Label
from drafter.sheets.plan_dimensions import plan_dimensions
from drafter.sheets.plan_labels import block_labels, keep_off_walls, room_label
from drafter.sheets.plan_north import plan_north
from drafter.sheets.plan_pipes import PlanPipes
from drafter.sheets.reading import read_with
from drafter.sheets.revision_marks import marks_in_plan
from drafter.sheets.scene import RIMS_MM, SYMBOL, Scene, mm
from drafter.site.model import Room
from drafter.site.wall import in_words
from drafter.standards.limits import FREEZING_K

ROOM_MM = (3.5, 2.5)
WIDE_ROOM_MM = 50.0
"""Heights of room names, the first that fits, and how wide a room has the larger one where it is set late."""

LONG_ENOUGH_FOR_SLOPE_MM = 14.0
LEVEL, LEVEL_RINGS_MM = "level", RINGS_MM[:7]
"""A level stands near its pipe: on a long leader it would be read at another."""


def plan_view(scene: Scene, scale: int, scale_text: str, cuts: Cuts = UNCUT) -> tuple[View, list[str]]:
    """Draw the plan at a scale, to be cut at match lines; also return the labels that found no room."""
    drawing = Plan(scene, scale, cuts)
    items = drawing.draw(rooms_first=True)
    if drawing.ground.homeless:
        drawing = Plan(scene, scale, cuts)
        items = drawing.draw(rooms_first=False)
    records = (*part_records(scene), equipment_record(scene))
    view = View("plan", "PLAN", scale, scale_text, (*items, *records), drawing.whole)
    return view, drawing.ground.homeless


class Plan:
    """A plan while it is drawn."""

    def __init__(self, scene: Scene, scale: int, cuts: Cuts) -> None:
        self.scene, self.scale, self.cuts = scene, scale, cuts
        self.layers, self.layout = scene.layers, scene.layout
        self.pipes = PlanPipes(scene, scale)
        self.ground = Ground(scale)
        self.items: list[Item] = []
        self.labels: list[Label] = []
        self.enlarged: Region | None = None
        self.whole = Box(0.0, 0.0, 0.0, 0.0)
        self.floors = {room: tuple(mm(wall.left) for wall in walls) for room, walls in scene.site.walls.items()}

    def draw(self, rooms_first: bool) -> list[Item]:
        """Draw all; the names of rooms take their place within them first, or else what the others leave.

        What all of it takes up is ``whole`` then.
        """
        self.enlarged = crowded_region(self.scene, self.scale)
        self.ground.keep_off(self.cuts)
        self._add(building(self.scene.site, self.layers))
        keep_off_walls(self.ground, self.scene.site)
        self._add([*compressor_in_plan(self.scene.site, self.layers), *self.pipes.pipes(), *self.pipes.signs()])
        self._add(plan_dimensions(self.scene, self.ground, self.cuts, self.enlarged))
        self._add([self.scene.insert(self.layers.sign, "datum", Point(0.0, 0.0), scale=SYMBOL)])
        self._refer_to_enlarged()
        self._rooms(rooms_first)
        self._elevation_marks()
        self._falls()
        self._tags()
        self._say_what_is_below_main()
        self._names()
        self.items += self.ground.set_all(self.labels)
        self.items += marks_in_plan(self.scene, self.ground, self.items)
        self.whole = box_of_view(self.items, self.scale, self.scene.symbols)
        self.items += plan_north(self.scene, self.ground, self.whole, list(self.floors.values()))
        return self.items

    def _add(self, items: list[Item]) -> None:
        self.items += items
        self.ground.enter(items, self.scene.symbols)

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
            a, b = (self.pipes.at(self.layout.nodes[id]) for id in (run.start, run.end))
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

    def _refer_to_enlarged(self) -> None:
        """Frame what is drawn enlarged, and say where that stands."""
        if self.enlarged is not None:
            self._add(frame_of(self.scene, self.enlarged))
            self.items += reference_to(self.scene, self.enlarged, self.ground)

    def _tags(self) -> None:
        """The tags of all things, levels last; of those drawn enlarged only the compressor's and those of outlets."""
        fittings = (NodeKind.BEND, NodeKind.TEE)
        for node in sorted(self.layout.nodes.values(), key=lambda node: node.kind in fittings):
            if self.enlarged is None or not self.enlarged.holds(self.pipes.at(node)) or node.kind is NodeKind.COUPLING:
                self._tag(node)
            elif node.kind is NodeKind.TANK:
                self._label(node, self._front_of_compressor(), (node.tag,), 2.5)

    def _say_what_is_below_main(self) -> None:
        """Of units that hang right below the main and are seen on it, that they do."""
        units = [node for node in self.layout.nodes.values() if node.kind is NodeKind.TREATMENT]
        below = [node for node in units if self.pipes.is_below_main(node)]
        if below and not (self.enlarged is not None and self.enlarged.holds(self.pipes.at(below[0]))):
            tags = dict.fromkeys((below[0].tag, below[-1].tag))
            middle = below[len(below) // 2]
            lines = (f"{' to '.join(tags)} below the main",)
            layers, along = self.layers, self.scene.wall_of(middle).along
            self.labels.append(
                Label(layers.text, layers.tag, self.pipes.at(middle), lines, 2.0, along=along, rim_mm=3.0)
            )

    def _tag(self, node: Node) -> None:
        units, at, lines = self.scene.units, self.pipes.at(node), (node.tag,)
        if node.kind is NodeKind.COUPLING:
            self._label(node, self.pipes.outlet(node).at, (node.tag, units.level(node.at.z)), 3.0)
            return
        if node.kind is NodeKind.TANK:
            plant = self.scene.site.compressor
            left, off = units.length(plant.from_left_m), units.length(plant.off_wall_m)
            words = f"compressor, {units.volume(plant.tank_m3)} tank", f"left end at {left},", f"{off} off the wall"
            self._label(node, self._front_of_compressor(), (node.tag, *words), 2.5)
            return
        device = node.kind in (NodeKind.TREATMENT, NodeKind.SPARE_TEE) or self.pipes.is_valve_from_above(node)
        if device or self.pipes.is_drain_of_main(node):
            below = node.kind is NodeKind.TREATMENT and self.pipes.is_below_main(node)
            along = self.scene.wall_of(node).along if device else None
            self._label(node, at, (*lines, units.level(node.at.z)) if below else lines, 2.5, along=along)
        elif node.kind in (NodeKind.BEND, NodeKind.TEE) and self._is_high_or_low(node):
            self._label(node, on_tube(self.scene, node, self.pipes.at), self._level_lines(node), 2.5, LEVEL)

    def _front_of_compressor(self) -> Point:
        plant = self.scene.site.compressor
        wall = self.scene.site.wall(plant.room, plant.wall)
        return mm(wall.at(plant.from_left_m + plant.width_m / 2, plant.off_wall_m + plant.depth_m))

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

    def _label(
        self,
        node: Node,
        at: Point,
        lines: tuple[str, ...],
        height_mm: float,
        kind: str = "",
        along: Point | None = None,
    ) -> None:  # fmt: skip
        """Label what stands at a node, in no other room than its own."""
        elsewhere = tuple(corners for room, corners in self.floors.items() if room != node.room)
        kind = kind or node.kind.value
        layer = self.layers.tag
        rim_mm, rings = RIMS_MM.get(kind, 0.0), LEVEL_RINGS_MM if kind == LEVEL else RINGS_MM
        self.labels.append(
            Label(
                layer, layer, at, lines, height_mm, True, rings,
                kind=kind, along=along, elsewhere=elsewhere, rim_mm=rim_mm,
                told=read_with([self.ground.paper(at)], self._signs_at),
            )
        )  # fmt: skip

    @cached_property
    def _signs_at(self) -> list[Point]:
        """Where stands what has a tag or a level [mm on paper]."""
        found, paper, pipes = list[Point](), self.ground.paper, self.pipes
        for node in self.layout.nodes.values():
            if node.kind is NodeKind.COUPLING:
                found.append(paper(pipes.outlet(node).at))
            elif node.kind is NodeKind.TREATMENT or pipes.is_valve_from_above(node) or pipes.is_drain_of_main(node):
                found.append(paper(pipes.at(node)))
            elif node.kind in (NodeKind.BEND, NodeKind.TEE) and self._is_high_or_low(node):
                found.append(paper(on_tube(self.scene, node, pipes.at)))
        return found

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
            self.labels += block_labels(self.layers, site, room, self.ground)


def _air(room: Room, units: Units) -> str:
    """Between what temperatures a room's air lies; pipe and water in it take them."""
    frost = ": FROST" if room.coldest_k < FREEZING_K.value else ""
    return f"air {units.temperature(room.coldest_k)} to {units.temperature(room.warmest_k)}{frost}"
