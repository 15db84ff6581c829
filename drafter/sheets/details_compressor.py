"""Detail of the connection at the compressor: tank, valve, flexible connection, foot of the riser with its drain."""

from __future__ import annotations

import math

from drafter.drawing import Polyline
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.sheets.detail_picture import Picture, Place
from drafter.sheets.scene import Scene, wave
from drafter.supports.hose_end import at_hose

BESIDE_M, ABOVE_M = 0.08, 0.25
MODULE_MM = 2.5
"""The module of the symbols' grid, at their full size."""

LEAST_FITTED_MM = 28.0
"""Where the set is drawn narrower, what is fitted on its tank is left out."""

SIDE_BY_SIDE_MODULES, DRAIN_MODULES = 5.0, 6.0
"""From middle to middle of a relief valve and a gauge; the height of a drain valve."""

FITTED_SHARE = 0.8
"""How high above the middle of the tank what is fitted on its end stands, of its radius."""

FIXED_SHARE = 0.6
"""Size of the sign of a fixed bracket, of the others' size."""

FEET_SHARE, TANK_SHARE = 0.08, 0.45
"""Of the set's height, as its feet and its tank are drawn."""


def connection_runs(scene: Scene) -> tuple[Run, Run, Run]:
    """The flexible connection, the run to the foot of the riser, and the drip leg there."""
    layout = scene.layout
    flexible = next(run for run in layout.runs if run.kind is RunKind.FLEXIBLE)
    riser = next(run for run in layout.runs if run.start == flexible.end)
    leg = next(run for run in layout.runs if run.start == riser.end and run.kind is RunKind.DRIP_LEG)
    return flexible, riser, leg


def compressor_connection(scene: Scene, place: Place) -> Picture:
    """The set and its connection from the front, above the floor."""
    units, plant, layout = scene.units, scene.site.compressor, scene.layout
    flexible, riser, leg = connection_runs(scene)
    valve, hose_end, foot, drain = (
        layout.nodes[id] for id in (flexible.start, flexible.end, riser.end, leg.end)
    )  # fmt: skip
    tank = layout.nodes[layout.runs[0].start]
    spots = {node.id: layout.from_left_m(node) for node in (tank, valve, hose_end, foot)}
    left, right = min(plant.from_left_m, *spots.values()), max(plant.from_left_m + plant.width_m, *spots.values())
    height_m = foot.at.z
    true = Box(left - BESIDE_M, 0.0, right + BESIDE_M, max(plant.height_m, height_m) + ABOVE_M)
    away = 1 if spots[foot.id] > spots[tank.id] else -1
    low = 17.0 if scene.site.imperial else 11.0
    picture = Picture.fitted(scene, place, true, (8.0, low, 17.0, 5.0) if away > 0 else (17.0, low, 8.0, 5.0))
    picture.hatched((true.left, 0.0), (true.right, 0.0), Point(0.0, -1.0))
    _set(picture, plant.from_left_m, plant.width_m, plant.height_m, away)
    _fitted_on_tank(picture, away)
    surface_m = _surface_m(plant.from_left_m, plant.width_m, plant.height_m, spots[tank.id], height_m)
    picture.line(scene.layers.main, (spots[tank.id], surface_m), (spots[tank.id], height_m))
    _line(picture, spots, (tank, valve, hose_end, foot), drain.at.z)
    held = at_hose(layout, scene.design.brackets)
    if held is not None and held.run == riser.id:
        picture.sign(
            scene.layers.bracket, "bracket_fixed", held.from_left_m, height_m, 0.0, picture.symbol * FIXED_SHARE
        )
    beside = 9.0 if away > 0 else 6.0
    picture.up(0.0, height_m, spots[foot.id], away * (beside + 7.0), units.length(height_m))
    picture.up(0.0, drain.at.z, spots[foot.id], away * beside, units.length(drain.at.z), -1)
    ends = sorted((spots[tank.id], spots[foot.id]))
    picture.across(ends[0], ends[1], 0.0, -8.5, units.length(ends[1] - ends[0]))
    picture.label(spots[valve.id], height_m, valve.tag)
    picture.label(spots[foot.id], drain.at.z, drain.tag)
    middle = (spots[valve.id] + spots[hose_end.id]) / 2
    picture.label(middle, height_m, "flexible connection")
    onward = "to T-01" if scene.site.treatment else "to the main"
    picture.label(spots[foot.id], true.top - 0.05, f"riser {scene.size_of(riser)}", onward)
    picture.label(plant.from_left_m + plant.width_m * 0.4, plant.height_m, tank.tag)
    return picture


def _tank_m(width_m: float, height_m: float) -> tuple[float, float]:
    """Height of the middle of a set's tank, and its radius [m]."""
    return (FEET_SHARE + TANK_SHARE / 2) * height_m, min(TANK_SHARE * height_m / 2, width_m / 4)


def _surface_m(left_m: float, width_m: float, height_m: float, x_m: float, wanted_m: float) -> float:
    """Where an upright line through the tank's connection meets the tank, or the wanted height where it lies in it."""
    middle_m, radius_m = _tank_m(width_m, height_m)
    beyond_m = max(left_m + radius_m - x_m, x_m - (left_m + width_m - radius_m), 0.0)
    half_m = math.sqrt(max(0.0, radius_m**2 - beyond_m**2))
    return min(max(wanted_m, middle_m - half_m), middle_m + half_m)


def _set(picture: Picture, left_m: float, width_m: float, height_m: float, away: int) -> None:
    """A neutral outline of a set: a tank on feet, the compressor and its motor on top, nearer to the connection."""
    layer = picture.scene.layers.equipment
    middle_m, radius_m = _tank_m(width_m, height_m)
    low, high = middle_m - radius_m, middle_m + radius_m
    for y in (low, high):
        picture.line(layer, (left_m + radius_m, y), (left_m + width_m - radius_m, y))
    picture.arc(layer, left_m + radius_m, middle_m, radius_m, 90.0, 270.0)
    picture.arc(layer, left_m + width_m - radius_m, middle_m, radius_m, 270.0, 90.0)
    for share in (0.22, 0.78):
        x = left_m + share * width_m
        picture.line(layer, (x - 0.02, low), (x - 0.03, 0.0), (x + 0.03, 0.0), (x + 0.02, low))
    for first, last, top_m in ((0.32, 0.56, height_m), (0.62, 0.86, high + (height_m - high) * 0.7)):
        ends = (first, last) if away > 0 else (1.0 - last, 1.0 - first)
        picture.block(layer, left_m + ends[0] * width_m, high, left_m + ends[1] * width_m, top_m)


def _fitted_on_tank(picture: Picture, away: int) -> None:
    """Relief valve and gauge on the end of the tank away from the connection, its drain below; all come with it."""
    scene, plant, module_m = picture.scene, picture.scene.site.compressor, MODULE_MM * picture.symbol / picture.scale
    if plant.width_m * picture.scale < LEAST_FITTED_MM:
        return
    middle_m, radius_m = _tank_m(plant.width_m, plant.height_m)
    end_m = plant.from_left_m + (0.0 if away > 0 else plant.width_m)
    low_m, gap_m = middle_m - radius_m, 1.0 * module_m
    opens = f"opens at {scene.units.pressure(plant.relief_pa)}"
    on_end = [(0.75, "relief_valve", 4.0, ("relief valve,", opens)), (0.05, "pressure_gauge", 3.0, ("gauge",))]
    if (on_end[0][0] - on_end[1][0]) * radius_m < SIDE_BY_SIDE_MODULES * module_m:
        on_end.pop()
    for share, symbol, modules, words in on_end:
        x_m = end_m + away * share * radius_m
        top_m = _surface_m(plant.from_left_m, plant.width_m, plant.height_m, x_m, math.inf)
        foot_m = max(top_m, middle_m + FITTED_SHARE * radius_m) + gap_m
        picture.line(scene.layers.equipment, (x_m, top_m), (x_m, foot_m))
        picture.sign(scene.layers.equipment, symbol, x_m, foot_m + modules * module_m, 0.0, picture.symbol)
        picture.label(x_m, foot_m + modules * module_m, *words)
    x_m, smaller = plant.from_left_m + plant.width_m / 2, min(1.0, low_m / (DRAIN_MODULES * module_m))
    picture.sign(
        scene.layers.equipment,
        "drain_valve",
        x_m,
        low_m - smaller * DRAIN_MODULES / 2 * module_m,
        0.0,
        smaller * picture.symbol,
    )
    picture.label(x_m, low_m / 2, "tank drain")


def _line(picture: Picture, spots: dict[str, float], nodes: tuple[Node, Node, Node, Node], drain_m: float) -> None:
    """From the tank through the valve and the flexible connection to the foot, down to the drain and up."""
    scene, layers = picture.scene, picture.scene.layers
    tank, valve, hose_end, foot = nodes
    height_m, x = foot.at.z, spots[foot.id]
    away = 1 if x > spots[tank.id] else -1
    half_m = 5.0 * picture.symbol / picture.scale
    at = spots[valve.id]
    picture.sign(layers.valve, "ball_valve_lockable", at, height_m, 0.0, picture.symbol)
    if abs(at - spots[tank.id]) > half_m:
        picture.line(layers.main, (spots[tank.id], height_m), (at - away * half_m, height_m))
    ends = picture.point(at + away * half_m, height_m), picture.point(spots[hose_end.id], height_m)
    picture.items.append(Polyline(layers.hose, wave(*ends, 1.6)))
    picture.line(layers.main, (spots[hose_end.id], height_m), (x, height_m), (x, picture.true.top))
    leg_m = drain_m + 3.0 * half_m
    picture.line(layers.main, (x, height_m), (x, max(leg_m, drain_m)))
    picture.sign(layers.drain, scene.used_symbol(_drain(scene, foot)), x, drain_m + 1.5 * half_m, 0.0, picture.symbol)


def _drain(scene: Scene, foot: Node) -> Node:
    ends = (scene.layout.nodes[run.end] for run in scene.layout.runs_at[foot.id])
    return next(node for node in ends if node.kind is NodeKind.DRAIN)
