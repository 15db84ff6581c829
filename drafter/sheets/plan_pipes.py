"""The pipes of the plan, and the signs of what stands and hangs on them, seen from above."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.drawing import Insert, Item, Line, Polyline
from drafter.geometry import Point
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.sheets.bends import bend_arcs, straight_part
from drafter.sheets.scene import SYMBOL, Scene, mm, wave
from drafter.sheets.spare_tees import spare_tee_signs

MARK = 0.45
"""Size of plan signs, as a share of the symbols' full size."""

OUTLET_HALF_MM = 5.0
"""Half the sign of an outlet at its full size, on paper."""


ASIDE_MM = 4.0
"""How far before the main an outlet is drawn that leads along the wall."""

ON_MAIN_M, BELOW_M = 0.1, 0.1
"""Nearer to the main from side to side than this, what hangs lower than this is seen on it."""


class PlanPipes:
    """Draws the pipes of a scene for a plan of some scale."""

    def __init__(self, scene: Scene, scale: int) -> None:
        self.scene, self.scale = scene, scale
        self.layers, self.layout = scene.layers, scene.layout

    def at(self, node: Node) -> Point:
        return mm(node.at.plan)

    def is_below_main(self, node: Node) -> bool:
        """Whether a node is seen on the main although it lies below it."""
        at_m = self.scene.wall_of(node).measure(node.at.plan)[0]
        return any(low_m < at_m < high_m for low_m, high_m in self._mains_over(node))

    def _mains_over(self, node: Node) -> Iterator[tuple[float, float]]:
        """From where to where on a node's wall runs of the main lie higher and just as far off the wall [m]."""
        wall = self.scene.wall_of(node)
        off_m = wall.measure(node.at.plan)[1]
        for run in self.layout.runs:
            if run.kind is RunKind.MAIN and (run.room, run.wall) == (node.room, node.wall):
                ends = [self.layout.nodes[id].at for id in (run.start, run.end)]
                (a, main_off_m), (b, _) = (wall.measure(end.plan) for end in ends)
                if abs(off_m - main_off_m) < ON_MAIN_M and node.at.z < min(end.z for end in ends) - BELOW_M:
                    yield min(a, b), max(a, b)

    def pipes(self) -> list[Item]:
        found: list[Item] = []
        for run in self.layout.runs:
            start, end = self.layout.nodes[run.start], self.layout.nodes[run.end]
            a, b = self.at(start), self.at(end)
            if b.minus(a).length < 1.0 or run.kind is RunKind.BRANCH:
                continue
            if self.layout.is_upright(run):
                found.append(Line(self._layer(run), a, b))
            elif run.kind is RunKind.FLEXIBLE:
                found.append(Polyline(self.layers.hose, wave(a, b, 1.2 * self.scale)))
            else:
                found.append(Line(self._layer(run), *straight_part(self.scene, run, a, b, self.at), run.id))
        return [*found, *bend_arcs(self.scene, self.layout.runs, self.at, self._layer)]

    def _layer(self, run: Run) -> str:
        return self.layers.drop if run.outlet else self.layers.main

    def signs(self) -> list[Item]:
        """The signs of all devices and turns; one where two nodes lie above each other and turn alike."""
        found: dict[tuple[object, ...], Item] = {}
        for item in self._signs():
            found.setdefault(_place(item), item)
        return list(found.values())

    def _signs(self) -> list[Item]:
        scene, layers, found = self.scene, self.layers, list[Item]()
        for node in self.layout.nodes.values():
            at, runs = self.at(node), self.layout.runs_at[node.id]
            if node.kind is NodeKind.TAKE_OFF:
                rises = any(run.kind is RunKind.RISING for run in runs)
                angle = self._angle(runs[0]) if rises else 0.0
                found.append(scene.insert(layers.main, "rise" if rises else "tee_joint", at, angle, MARK))
            elif node.kind is NodeKind.SPARE_TEE:
                found += spare_tee_signs(scene, at, scene.wall_of(node).inward.angle_deg, self.scale)
            elif node.kind is NodeKind.BEND and runs[0].kind is RunKind.SWAN_NECK and runs[-1].kind is RunKind.DROP:
                found.append(scene.insert(layers.drop, "drop", at, self._angle(runs[0]), MARK))
            elif (node.kind is NodeKind.TEE and runs[0].kind is RunKind.RISER and len(runs) > 2) or (
                node.kind is NodeKind.BEND and {run.kind for run in runs} == {RunKind.TREATMENT, RunKind.RISER}
            ):
                found.append(scene.insert(layers.main, "rise", at, self._angle(runs[0]), MARK))
            elif self.layout.is_low_point(node):
                found.append(scene.insert(layers.main, "drop", at, self._angle(runs[0]), MARK))
            elif node.kind is NodeKind.COUPLING:
                found += [*self._units(node), self.outlet(node)]
            elif node.kind is NodeKind.TREATMENT or self.is_valve_from_above(node):
                layer = layers.equipment if node.kind is NodeKind.TREATMENT else layers.valve
                found.append(
                    scene.insert(layer, scene.used_symbol(node), at, self._angle(runs[0]), MARK - 0.05, node=node)
                )
        for run in self.layout.runs:
            start, end = self.layout.nodes[run.start], self.layout.nodes[run.end]
            if run.kind is RunKind.RISE and not self.layout.is_low_point(start):
                symbol = "rise" if end.at.z > start.at.z else "drop"
                found.append(scene.insert(layers.main, symbol, self.at(start), 0.0, MARK))
            if run.kind is RunKind.SLEEVE:
                a, b = (self.at(self.layout.nodes[id]) for id in (run.start, run.end))
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

    def outlet(self, node: Node) -> Insert:
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
        if abs(aside_mm) <= 1.0:
            return at, wall.inward, 0.0
        return at.plus(wall.inward, ASIDE_MM * self.scale), way, abs(aside_mm)

    def _units(self, node: Node) -> Iterator[Item]:
        """The pipe with the units of an outlet that leads along the wall."""
        foot, way, end_mm = self._branch(node)
        pipe_mm = end_mm - 2 * OUTLET_HALF_MM * SYMBOL * self.scale
        if end_mm > 0.0:
            yield Line(self.layers.drop, foot.plus(self.scene.wall_of(node).inward, -ASIDE_MM * self.scale), foot)
        if pipe_mm > 1.0:
            yield Line(self.layers.drop, foot, foot.plus(way, pipe_mm))

    def _angle(self, run: Run) -> float:
        way = self.layout.nodes[run.end].at.plan.minus(self.layout.nodes[run.start].at.plan)
        return way.angle_deg

    def is_valve_from_above(self, node: Node) -> bool:
        """Whether a node is a valve in level pipe of the line; those in upright pipe are seen in elevations."""
        return self.scene.is_valve_of_line(node) and not self.layout.is_upright(self.layout.runs_at[node.id][0])

    def is_drain_of_main(self, node: Node) -> bool:
        return node.kind is NodeKind.DRAIN and not self.layout.runs_at[node.id][0].outlet


def _place(item: Item) -> tuple[object, ...]:
    """What tells a sign from others: what it is and where, and whose."""
    if isinstance(item, Insert):
        return item.symbol, round(item.at.x), round(item.at.y), item.attributes
    return (item,)
