"""Details of a drop: how it leaves the main, the outlet at the wall, the drip leg."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.sheets.detail_picture import Picture, Place
from drafter.sheets.scene import Scene
from drafter.site.model import Outlet

NECK_BELOW_M, BESIDE_M = 0.16, 0.05
LEG_ABOVE_M, LEG_BELOW_M = 0.10, 0.125
FLOOR_BELOW_M, FLOOR_BELOW_IN_FEET_M, ABOVE_VALVE_M = 0.25, 0.5, 0.15
VALVE_BODY_M = 0.05
IN_LINE_M = 0.001
"""Shown of a pipe beyond its fittings; body of a small drain valve as it is drawn."""


@dataclass(frozen=True)
class Drop:
    """The drop of one outlet, as its details need it."""

    scene: Scene
    outlet: Outlet

    @property
    def runs(self) -> list[Run]:
        return [run for run in self.scene.layout.runs if run.outlet == self.outlet.tag]

    def node(self, kind: NodeKind) -> Node:
        """The one node of a kind that the drop leads to."""
        return next(node for node in self.nodes if node.kind is kind)

    @property
    def nodes(self) -> list[Node]:
        return [self.scene.layout.nodes[run.end] for run in self.runs]

    @property
    def main(self) -> Node:
        return self.scene.layout.take_offs[self.outlet.tag]

    def off_wall_m(self, node: Node) -> float:
        """How far a node lies off the outlet's wall [m]."""
        return self.scene.site.wall(self.outlet.room, self.outlet.wall).measure(node.at.plan)[1]

    @property
    def is_along_wall(self) -> bool:
        """Whether its branch leads along the wall rather than into the room."""
        coupling = self.node(NodeKind.COUPLING)
        foot = self.scene.layout.outlet_foot(coupling)
        return abs(self.off_wall_m(coupling) - self.off_wall_m(foot)) < IN_LINE_M

    @property
    def side(self) -> int:
        """Where its branch leads from the drop as one faces the wall: 1 to the right, -1 along it to the left."""
        layout, coupling = self.scene.layout, self.node(NodeKind.COUPLING)
        aside_m = layout.from_left_m(coupling) - layout.from_left_m(layout.outlet_foot(coupling))
        return -1 if self.is_along_wall and aside_m < 0.0 else 1

    def out_m(self, node: Node) -> float:
        """How far a node of the branch lies out: off the wall, or from the drop where the branch leads along it [m]."""
        if not self.is_along_wall:
            return self.off_wall_m(node)
        foot = self.scene.layout.outlet_foot(self.node(NodeKind.COUPLING))
        return node.at.plan.minus(foot.at.plan).length

    def outside_m(self, run: Run) -> float:
        return self.scene.design.network.sizes[run.id].outside_m

    @property
    def main_run(self) -> Run:
        """The run that brings the air to the take-off."""
        return self.scene.layout.runs_at[self.main.id][0]


def drops(scene: Scene) -> list[Drop]:
    """The drops that hang from the main, those with units at the outlet first."""
    layout = scene.layout
    hanging = [Drop(scene, outlet) for outlet in scene.site.outlets if not layout.rises_to(outlet.tag)]
    return sorted(hanging, key=lambda drop: (layout.steps_out_to_m(drop.main) > 0.0, not drop.outlet.service))


def take_off(drop: Drop, place: Place) -> Picture:
    """The swan neck across the wall: off the top of the main, over, and down."""
    scene, units, layers = drop.scene, drop.scene.units, drop.scene.layers
    neck = [run for run in drop.runs if run.kind is RunKind.SWAN_NECK]
    over_main, over_drop = (scene.layout.nodes[run.end] for run in neck)
    main_m, drop_m = drop.off_wall_m(over_main), drop.off_wall_m(over_drop)
    rise_m = over_main.at.z - drop.main.at.z
    thick_m, thin_m = drop.outside_m(drop.main_run), drop.outside_m(neck[0])
    far_m = max(main_m, drop_m) + thick_m / 2
    true = Box(0.0, -NECK_BELOW_M, far_m + BESIDE_M, rise_m + thin_m / 2 + 0.01)
    picture = Picture.fitted(scene, place, true, (18.0 if scene.site.imperial else 10.0, 16.0, 22.0, 6.0))
    picture.hatched((0.0, true.bottom), (0.0, true.top), Point(-1.0, 0.0))
    picture.ring(layers.main, main_m, 0.0, thick_m / 2)
    rising, down = (main_m, thick_m / 2), (drop_m, true.bottom)
    picture.tube(layers.drop, thin_m, rising, (main_m, rise_m), (drop_m, rise_m), down)
    picture.across(0.0, drop_m, true.bottom, -6.0, units.length(drop_m))
    picture.across(0.0, main_m, true.bottom, -13.0, units.length(main_m))
    picture.up(0.0, rise_m, main_m, (far_m - main_m) * picture.scale + 8.0, units.length(rise_m))
    picture.label(main_m + thick_m / 2, 0.0, f"main {scene.size_of(drop.main_run)}")
    picture.label(drop_m, -0.6 * NECK_BELOW_M, f"drop {scene.size_of(neck[0])}")
    return picture


def outlet_at_wall(drop: Drop, place: Place) -> Picture:
    """The outlet from its valve to its drain, above the floor: from the front where its units stand along the wall."""
    scene, units, layers = drop.scene, drop.scene.units, drop.scene.layers
    valve, tee, drain = (drop.node(kind) for kind in (NodeKind.VALVE, NodeKind.TEE, NodeKind.DRAIN))
    coupling = drop.node(NodeKind.COUPLING)
    off_m, reach_m = drop.out_m(tee), drop.out_m(coupling)
    below_m = FLOOR_BELOW_IN_FEET_M if scene.site.imperial else FLOOR_BELOW_M
    floor_m, top_m = max(0.0, drain.at.z - below_m), valve.at.z + ABOVE_VALVE_M
    ends = (-BESIDE_M if drop.is_along_wall else 0.0, reach_m + BESIDE_M)
    side, (near_mm, far_mm) = drop.side, (21.0, 17.0)
    if side < 0:
        ends, near_mm, far_mm = (-ends[1], -ends[0]), far_mm, near_mm
    true = Box(ends[0], floor_m, ends[1], top_m)
    picture = Picture.fitted(scene, place, true, (near_mm, 12.0, far_mm, 1.0))
    if not drop.is_along_wall:
        picture.hatched((0.0, floor_m), (0.0, top_m), Point(-1.0, 0.0))
    picture.hatched((true.left, floor_m), (true.right, floor_m), Point(0.0, -1.0))
    if floor_m > 0.0 and not drop.is_along_wall:
        picture.broken(Point(0.0, drain.at.z - below_m / 2), Point(0.0, 1.0), 0.0)
    half = 5.0 * picture.symbol / picture.scale
    picture.line(layers.drop, (off_m, top_m), (off_m, valve.at.z + half))
    picture.line(layers.drop, (off_m, valve.at.z - half), (off_m, drain.at.z))
    picture.sign(layers.valve, "ball_valve", off_m, valve.at.z, -90.0, picture.symbol)
    picture.sign(layers.drain, scene.used_symbol(drain), off_m, drain.at.z - 1.5 * half, 0.0, picture.symbol)
    picture.label(side * reach_m, tee.at.z, drop.outlet.tag, f"coupling {drop.outlet.coupling}")
    _branch(drop, picture, off_m, tee.at.z)
    for height, line_mm in ((tee.at.z, 11.5), (valve.at.z, 18.5)):
        picture.up(floor_m, height, true.left if side > 0 else true.right, -side * line_mm, units.length(height))
    picture.across(min(0.0, side * reach_m), max(0.0, side * reach_m), floor_m, -8.0, units.length(reach_m))
    picture.label(off_m, valve.at.z, valve.tag)
    picture.label(off_m, drain.at.z - half, drain.tag)
    return picture


def _branch(drop: Drop, picture: Picture, off_m: float, height_m: float) -> None:
    """The branch with its units, and the coupling at its end."""
    scene, layers, here, side = drop.scene, drop.scene.layers, off_m, drop.side
    for node in [node for node in drop.nodes if node.kind in (NodeKind.SERVICE, NodeKind.COUPLING)]:
        symbol, at_m = scene.used_symbol(node), drop.out_m(node)
        last = node.kind is NodeKind.COUPLING
        scale = picture.symbol * (0.9 if last else 0.76)
        size = scene.symbols[symbol].size
        half_m = (size[1] if last else size[0]) / 2 * scale / picture.scale
        middle_m = max(at_m - half_m, here + half_m) if last else at_m
        picture.line(layers.drop, (side * here, height_m), (side * (middle_m - half_m), height_m))
        angle, mirrored = (90.0 * side, False) if last else (0.0, side < 0)
        picture.sign(layers.outlet, symbol, side * middle_m, height_m, angle, scale, mirrored)
        here = middle_m + half_m
        if not last:
            picture.label(side * at_m, height_m + half_m * 0.8, node.what)


def outlet_words(drop: Drop) -> str:
    """How the picture of an outlet is seen."""
    if not drop.is_along_wall:
        return "From the side."
    tee, units = drop.node(NodeKind.TEE), drop.scene.units
    return f"From the front, {units.length_with_unit(drop.off_wall_m(tee))} off the wall."


def drip_leg(drop: Drop, place: Place) -> Picture:
    """The drip leg from the front: the tee of the branch, the leg, its drain valve above the floor."""
    scene, units, layers = drop.scene, drop.scene.units, drop.scene.layers
    leg = next(run for run in drop.runs if run.kind is RunKind.DRIP_LEG)
    tee, drain = (scene.layout.nodes[id] for id in (leg.start, leg.end))
    outside_m, size = drop.outside_m(leg), scene.design.network.sizes[leg.id]
    length_m, half_m = tee.at.z - drain.at.z, size.centre_to_face_m
    true = Box(-0.09, -length_m - LEG_BELOW_M, 0.09, LEG_ABOVE_M)
    picture = Picture.fitted(scene, place, true, (16.0, 10.0, 16.0, 4.0))
    picture.tube(layers.drop, outside_m, (0.0, -half_m), (0.0, -length_m), cut=False)
    picture.tube(layers.drop, outside_m, (0.0, half_m), (0.0, true.top))
    wide_m = outside_m * 0.7
    picture.block(layers.drop, -wide_m, -half_m, wide_m, half_m)
    if drop.is_along_wall:
        picture.tube(layers.drop, outside_m, (wide_m, 0.0), (true.right, 0.0))
    else:
        picture.ring(layers.drop, 0.0, 0.0, outside_m / 2)
    body, low = VALVE_BODY_M / 2, -length_m
    middle, foot = low - body, low - 2.0 * body
    picture.block(layers.drain, -body, foot, body, low)
    picture.line(layers.drain, (body, middle), (2.2 * body, middle), (2.2 * body, middle - 1.4 * body))
    for x in (-body / 2, body / 2):
        picture.line(layers.drain, (x, foot), (x, foot - 0.8 * body))
    picture.hatched((true.left, true.bottom), (true.right, true.bottom), Point(0.0, -1.0))
    picture.up(low, 0.0, 0.0, -wide_m * picture.scale - 10.0, units.length(length_m))
    picture.up(true.bottom, low, 0.0, 2.2 * body * picture.scale + 6.0, units.length(drain.at.z))
    picture.label(-body, middle, drain.tag)
    if drop.is_along_wall:
        picture.label(true.right, outside_m / 2, f"branch to {drop.outlet.tag}")
    else:
        picture.label(wide_m, 0.0, f"branch to {drop.outlet.tag},", "towards you")
    picture.label(outside_m / 2, -length_m / 2, f"leg {scene.size_of(leg)}")
    return picture


def leg_words(scene: Scene) -> Iterator[str]:
    """How long the drip legs are, from the shortest to the longest."""
    layout, units = scene.layout, scene.units
    legs = [run for run in layout.runs if run.kind is RunKind.DRIP_LEG and run.outlet]
    lengths = sorted(layout.length_m(run) for run in legs)
    short, long = units.length(lengths[0]), units.length_with_unit(lengths[-1])
    yield f"Legs of the outlets: {long}." if short == units.length(lengths[-1]) else f"Legs: {short} to {long}."
