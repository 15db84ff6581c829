"""The elevation of one wall, seen from inside the room: levels, drops, outlets, brackets and their places."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from drafter.drawing import Area, Dimension, Item, Line, Polyline, Text, View
from drafter.geometry import Point
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.lettering import text_width_mm
from drafter.sheets.behind_columns import parted
from drafter.sheets.bends import bend_arcs, straight_part
from drafter.sheets.beside_uprights import set_beside_uprights
from drafter.sheets.cuts import UNCUT, Cuts
from drafter.sheets.drain_signs import drain_sign
from drafter.sheets.elevation_labels import ElevationLabels
from drafter.sheets.falls import fall_text, set_fall, way_of_fall
from drafter.sheets.framing import board_outlines, on_board, stands, stud_lines, stud_numbers
from drafter.sheets.item_boxes import box_of_view, text_box
from drafter.sheets.passages import coupling_signs, sleeve_labels, sleeve_signs
from drafter.sheets.piece_numbers import piece_numbers
from drafter.sheets.placing import Ground, Label
from drafter.sheets.reading import read_with
from drafter.sheets.revision_marks import marks_in_elevation
from drafter.sheets.running_dimensions import STRIP_MM, row, set_out
from drafter.sheets.scene import SYMBOL, Scene, wave
from drafter.sheets.spare_tees import spare_tee_signs
from drafter.sheets.unions import union_signs
from drafter.sheets.wall_face import FLOOR_PAST_M, compressor_faces, level_line, wall_face
from drafter.sheets.wall_labels import wall_labels
from drafter.site.wall import Wall, in_words
from drafter.supports.design import Bracket

GAP_MM = 1.2
"""Gap in a pipe that passes behind another, on paper."""

OUTLET_ROOM_MM, SHORTEST_WAVE_MM = 10.0, 4.0

VALVE = 0.5
"""Scale of valves."""


def elevation_name(wall: Wall) -> str:
    """Name of a wall's view, in letters, digits and hyphens."""
    words = f"elevation-{wall.room}-{wall.name}".lower()
    return "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in words)


@dataclass(frozen=True, slots=True)
class Manner:
    """How an elevation is lettered: labels beside uprights in columns or each by itself, and the others in full."""

    in_columns: bool
    in_full: bool


IN_COLUMNS = Manner(True, True), Manner(True, False)
MANNERS = *IN_COLUMNS, Manner(False, False)
"""The clearest first; each next one takes less room."""


def elevation_view(
    scene: Scene, wall: Wall, manner: Manner, scale: int, scale_text: str, cuts: Cuts = UNCUT
) -> tuple[View, list[str]]:
    """Draw a wall's elevation at a scale, to be cut at match lines; also return the labels that found no room."""
    drawing = _Elevation(scene, wall, scale, cuts)
    items = drawing.draw(manner)
    title = elevation_title(scene, wall)
    view = View(elevation_name(wall), title, scale, scale_text, tuple(items), box_of_view(items, scale, scene.symbols))
    return view, drawing.ground.homeless


def elevation_title(scene: Scene, wall: Wall) -> str:
    of_room = f" OF {wall.room.upper()}" if len(scene.site.walls) > 1 else ""
    return f"ELEVATION {scene.marks[wall.room, wall.name]} - {in_words(wall.name).upper()}{of_room}"


class _Elevation:
    def __init__(self, scene: Scene, wall: Wall, scale: int, cuts: Cuts) -> None:
        self.scene, self.wall, self.scale, self.cuts = scene, wall, scale, cuts
        self.layers, self.layout, self.units = scene.layers, scene.layout, scene.units
        self.ground = Ground(scale)
        self.items: list[Item] = []
        self.couplings: dict[str, Point] = {}
        self.runs = [run for run in self.layout.runs if (run.room, run.wall) == (wall.room, wall.name)]
        ends = {id for run in self.runs for id in (run.start, run.end)}
        self.nodes = [
            n for n in self.layout.nodes.values() if (n.room, n.wall) == (wall.room, wall.name) or n.id in ends
        ]

    def draw(self, manner: Manner) -> list[Item]:
        """Draw all; columns keep what is written beside upright pipes in order, but take more room."""
        self.ground.keep_off(self.cuts)
        face = wall_face(self.scene, self.wall)
        self._add(face)
        for hatched in (item for item in face if isinstance(item, Area)):
            self.ground.take(self.ground.around(hatched.boundary))
        self._add([*board_outlines(self.scene, self.wall), *stands(self.scene, self.wall)])
        self._add(self._pipes())
        self._add(self._signs())
        self._name_compressor()
        for places in stud_numbers(self.scene, self.wall, self.scale):
            free: list[Item] = [text for text in places if self.ground.free(text_box(text, self.scale))]
            self._add(free[:1])
        self._add(self._running_dimensions())
        self._add(self._bracket_strip())
        self._add(self._overall())
        self._add(level_line(self.scene, self.wall, self.scale))
        self._falls()
        named = ElevationLabels(
            self.scene, self.wall, self.scale, self.nodes, self._at, self._side, lambda node: self.couplings[node.id]
        ).labels()
        named += sleeve_labels(self.scene, self.wall)
        if manner.in_columns:
            faces = [item.points for item in face if isinstance(item, Polyline)]
            columns, named = set_beside_uprights(self.ground, named, self._uprights(), faces)
            self.items += columns
        alone = self._told(label if manner.in_full else label.shortened for label in named)
        self.items += self.ground.set_all([*alone, *wall_labels(self.scene, self.wall, self.scale)])
        self.items += marks_in_elevation(self.scene, self.wall, self.ground, self.items)
        self.items += piece_numbers(self.scene, self.ground, self.runs, self._at)
        return [*stud_lines(self.scene, self.wall, self.scale, self.items), *self.items]

    def _add(self, items: list[Item]) -> None:
        self.items += items
        self.ground.enter(items, self.scene.symbols, marked=True)

    def _told(self, labels: Iterable[Label]) -> list[Label]:
        """Labels that stand where each is read with its own thing."""
        paper, here = self.ground.paper, (node for node in self.nodes if node.room == self.wall.room)
        things = [paper(self.couplings.get(node.id) or self._at(node)) for node in here]
        return [replace(label, told=read_with(map(paper, (label.anchor, *label.belongs)), things)) for label in labels]

    def _name_compressor(self) -> None:
        """Write its tag on the tank, where nothing else is written."""
        faces = compressor_faces(self.scene.site, self.wall)
        if faces is None:
            return
        tag = next(node.tag for node in self.layout.nodes.values() if node.kind is NodeKind.TANK)
        self.items += self.ground.label(Label(self.layers.tag, self.layers.tag, faces[0].centre, (tag,), bold=True))
        for face in faces:
            self.ground.take(self.ground.around(face.corners), drawn=True)

    def _at(self, node: Node) -> Point:
        return Point(self.wall.measure(node.at.plan)[0] * 1000.0, node.at.z * 1000.0)

    def _pipes(self) -> list[Item]:
        found: list[Item] = []
        for run in self.runs:
            a, b = (self._at(self.layout.nodes[id]) for id in (run.start, run.end))
            first = self.layout.nodes[run.start]
            if run.kind is RunKind.DROP and first.kind is NodeKind.BEND:
                main = self.layout.take_offs[run.outlet]
                a = Point(a.x, main.at.z * 1000.0 - GAP_MM * self.scale)
            if b.minus(a).length < 1.0 or run.kind is RunKind.BRANCH:
                continue
            if run.kind is RunKind.FLEXIBLE:
                found.append(self._hose(first, a, b))
                continue
            straight = straight_part(self.scene, run, a, b, self._at)
            for start, end, hidden in parted(self.scene, self.wall, run, *straight):
                found.append(Line(self.layers.behind if hidden else self._layer(run), start, end, run.id))
        return [*found, *bend_arcs(self.scene, self.runs, self._at, self._layer)]

    def _hose(self, valve: Node, start: Point, end: Point) -> Polyline:
        """The flexible connection past the sign of the valve it begins at; straight where it is seen from its end."""
        half = self.scene.symbols[self.scene.used_symbol(valve)].size[0] / 2 * VALVE * self.scale
        past = min(half, end.minus(start).length)
        begins = start.plus(end.minus(start).unit, past)
        short = end.minus(begins).length < SHORTEST_WAVE_MM * self.scale
        return Polyline(self.layers.hose, (begins, end) if short else wave(begins, end, 1.2 * self.scale))

    def _layer(self, run: Run) -> str:
        return self.layers.drop if run.outlet or run.kind is RunKind.DRIP_LEG else self.layers.main

    def _signs(self) -> list[Item]:
        found: list[Item] = []
        scene, layers, step = self.scene, self.layers, SYMBOL * self.scale
        for node in self.nodes:
            at, runs = self._at(node), self.layout.runs_at[node.id]
            symbol = scene.used_symbol(node)
            if node.kind is NodeKind.TAKE_OFF:
                found.append(scene.insert(layers.main, "tee_joint", at, scale=0.5))
            elif node.kind is NodeKind.SPARE_TEE:
                found += spare_tee_signs(scene, at, 90.0, self.scale)
            elif node.kind is NodeKind.VALVE:
                upright = self.layout.is_upright(runs[0])
                found.append(scene.insert(layers.valve, symbol, at, 90.0 if upright else 0.0, VALVE, node=node))
            elif node.kind is NodeKind.DRAIN:
                found.append(drain_sign(scene, node, at, self.scale))
            elif node.kind is NodeKind.TREATMENT:
                back = self._at(self.layout.nodes[runs[0].start]).x > at.x
                found.append(scene.insert(layers.equipment, symbol, at, 0.0, 0.4, mirrored=back, node=node))
            elif node.kind is NodeKind.COUPLING:
                found += self._outlet(node, step)
        found += sleeve_signs(scene, self.wall)
        found += coupling_signs(scene, self.wall)
        found += union_signs(scene, self.runs, self._at, self.scale)
        for bracket in scene.design.brackets:
            if (bracket.room, bracket.wall) == (self.wall.room, self.wall.name):
                at = Point(bracket.from_left_m * 1000.0, bracket.at.z * 1000.0)
                if bracket.hangs:
                    found.append(Line(layers.bracket, at, Point(at.x, self.wall.ceiling_m * 1000.0)))
                symbol = "bracket_fixed" if bracket.fixed else "bracket"
                found.append(scene.insert(layers.bracket, symbol, at, 90.0 if self._upright(bracket) else 0.0, 0.45))
        return found

    def _uprights(self) -> list[tuple[Point, Point]]:
        """The ends of all upright pipes."""
        runs = [run for run in self.runs if self.layout.is_upright(run)]
        return [(self._at(self.layout.nodes[run.start]), self._at(self.layout.nodes[run.end])) for run in runs]

    def _upright(self, bracket: Bracket) -> bool:
        return self.layout.is_upright(self.layout.run_by_id[bracket.run])

    def _outlet(self, node: Node, step: float) -> list[Item]:
        """The branch with its units and the coupling; turned aside to be seen where they point at the viewer."""
        found: list[Item] = []
        foot, side = self.layout.outlet_foot(node), self._side(node)
        at = self._at(foot)
        units = [n for n in self.nodes if n.kind is NodeKind.SERVICE and self.layout.outlet_at(n) == node.tag]
        for unit in units:
            symbol = self.scene.used_symbol(unit)
            half = self.scene.symbols[symbol].size[0] / 2 * 0.45 * self.scale
            middle = _beyond(at, half, side, self._at(unit))
            found.append(Line(self.layers.drop, at, middle.plus(Point(-side * half, 0.0))))
            found.append(self.scene.insert(self.layers.outlet, symbol, middle, 0.0, 0.45, mirrored=side < 0, node=unit))
            at = middle.plus(Point(side * half, 0.0))
        half = 5.0 * step
        middle = _beyond(at, half, side, self._at(node).plus(Point(-side * half, 0.0)))
        self.couplings[node.id] = middle
        found.append(Line(self.layers.drop, at, middle.plus(Point(-side * half, 0.0))))
        found.append(self.scene.insert(self.layers.outlet, "outlet", middle, side * 90.0, SYMBOL, node=node))
        return [item for item in found if not (isinstance(item, Line) and item.start == item.end)]

    def _side(self, node: Node) -> int:
        """The side of its drop on which an outlet is seen: 1 on the right, -1 on the left."""
        aside = self._at(node).x - self._at(self.layout.outlet_foot(node)).x
        return (1 if aside > 0.0 else -1) if abs(aside) > 1.0 else self._free_side(node)

    def _free_side(self, node: Node) -> int:
        """The side an outlet is turned to: the right, or the left where another pipe stands close on the right."""
        x = self._at(node).x
        beside = [self._at(other).x - x for other in self.nodes if other.kind in (NodeKind.DRAIN, NodeKind.COUPLING)]
        right, left = (min((abs(d) for d in beside if d * sign > 1.0), default=math.inf) for sign in (1, -1))
        return -1 if right < OUTLET_ROOM_MM * self.scale and left > right else 1

    def _running_dimensions(self) -> list[Item]:
        """Running dimensions below the floor: drops, outlets, riser, low ends, sleeves, from the left-hand corner."""
        return row(self.scene, self._stops(), 0.0, -1.0, self.ground, self.cuts.upright)[0]

    def _stops(self) -> list[float]:
        devices = NodeKind.COUPLING, NodeKind.TREATMENT, NodeKind.SPARE_TEE
        drops = set_out(self.scene, self.wall, self.nodes, devices)
        outlets = (node for node in self.nodes if node.kind is NodeKind.COUPLING)
        return sorted({*drops, *(self.units.snapped_m(self._at(node).x / 1000.0) for node in outlets)})

    def _bracket_strip(self) -> list[Item]:
        """Above the ceiling: for each bracket of the level pipes its place, its height and its tag."""
        here = [
            b
            for b in self.scene.design.brackets
            if (b.room, b.wall) == (self.wall.room, self.wall.name) and not self._upright(b)
        ]
        if not here:
            return []
        base = self.wall.ceiling_m * 1000.0
        stops = [self.units.snapped_m(b.from_left_m) for b in here]
        found, xs = row(self.scene, stops, base, 1.0, self.ground, self.cuts.upright)
        widest = max(text_width_mm(self.units.length(s), 2.5) for s in stops)
        heights = [self.units.length(b.at.z) for b in here]
        row_2 = base + (STRIP_MM + widest + 3.5) * self.scale
        row_3 = row_2 + (max(text_width_mm(h, 2.5) for h in heights) + 2.5) * self.scale
        for bracket, x, height in zip(here, xs, heights, strict=True):
            tag = "  ".join((bracket.tag, *on_board(self.scene, bracket.board)))
            found += [
                Text(self.layers.text, Point(x, row_2), height, 2.5, "left", 90.0),
                Text(self.layers.tag, Point(x, row_3), tag, 2.5, "left", 90.0),
            ]
        left = min(xs) - 4.0 * self.scale
        for y, words in ((base + STRIP_MM * self.scale, "from left"), (row_2, "height"), (row_3, "bracket")):
            found.append(Text(self.layers.text, Point(left, y), words, 2.5, "bottom right"))
        return found

    def _overall(self) -> list[Item]:
        length, top = self.wall.length_m * 1000.0, self.wall.ceiling_m * 1000.0
        widest = max(text_width_mm(self.units.length(s), 2.5) for s in (self.wall.length_m, *self._stops()))
        below = -(STRIP_MM + widest + 9.0) * self.scale
        aside = length + (FLOOR_PAST_M * 1000.0) + 7.0 * self.scale
        return [
            Dimension(
                self.layers.dims, Point(0.0, 0.0), Point(length, 0.0), Point(0.0, below), 0.0,
                self.units.length(self.wall.length_m),
            ),
            Dimension(
                self.layers.dims, Point(length, 0.0), Point(length, top), Point(aside, 0.0), 90.0,
                self.units.length(self.wall.ceiling_m),
            ),
        ]  # fmt: skip

    def _falls(self) -> None:
        """Size and fall below the main, once for each way it falls on this wall."""
        done: set[bool] = set()
        runs = [run for run in self.runs if run.kind is RunKind.MAIN]
        for run in sorted(runs, key=lambda run: -self.layout.length_m(run)):
            a, b = (self._at(self.layout.nodes[id]) for id in (run.start, run.end))
            if (b.x > a.x) not in done and self._set_fall(run, a, b):
                done.add(b.x > a.x)

    def _set_fall(self, run: Run, a: Point, b: Point) -> bool:
        text, way = fall_text(self.scene, run), way_of_fall(self.scene, run, b.minus(a).unit)
        for off in (3.0, 6.0, 9.0):
            for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
                at = a.plus(b.minus(a), share).plus(Point(0.0, -off * self.scale))
                if set_fall(self.scene, self.ground, self.items, at, way, Point(0.0, -1.0), text):
                    return True
        return False


def _beyond(at: Point, half: float, side: int, true: Point) -> Point:
    """The middle of a sign where it truly is, or farther on where it would cover what comes before it."""
    return Point(max(at.x * side + half, true.x * side) * side, at.y)


def used_walls(layout: Layout) -> list[Wall]:
    """The walls and crossings that carry piping, room by room, clockwise."""
    used = {(run.room, run.wall) for run in layout.runs if run.kind is not RunKind.SLEEVE}
    return [face for face in layout.site.faces if (face.room, face.name) in used]
