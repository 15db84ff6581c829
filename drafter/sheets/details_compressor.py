"""Detail of the connection at the compressor: tank, valve, flexible connection, foot of the riser with its drain."""

from __future__ import annotations

import math

from drafter.drawing import MODULE_MM, Polyline
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, Run, RunKind
from drafter.sheets.detail_picture import Picture, Place
from drafter.sheets.scene import Scene
from drafter.supports.hose_end import at_hose

BESIDE_M, ABOVE_M, TANK_SHOWN_M = 0.05, 0.12, 0.36
"""Drawn beyond the riser and above the connection, and of the tank from the connection on."""

FEET_SHARE, TANK_SHARE = 0.08, 0.45
"""Of the set's height, as its feet and its tank are drawn."""

ON_TANK = (("relief_valve", 4.0, 0.85, "relief valve"), ("pressure_gauge", 3.0, 0.4, "gauge"))
"""What comes with a tank: symbol, how many modules above its foot it stands, how far back from the connection of
what is shown of the tank, its words."""

LEAST_FOR_GAUGE = 42.0
"""Drawn smaller [mm on paper a metre], the end of the tank has no room for the gauge."""

DRAIN_MODULES = 6.0
"""Height of a drain valve."""

FIXED_SHARE = 0.6
"""Size of the sign of a fixed bracket, of the others' size."""

SAG_SHARE, BOW_POINTS = 0.3, 16
"""How far the hose hangs down, of its span; with how many points it is drawn."""


def connection_runs(scene: Scene) -> tuple[Run, Run, Run]:
    """The flexible connection, the run to the foot of the riser, and the drip leg there."""
    layout = scene.layout
    flexible = next(run for run in layout.runs if run.kind is RunKind.FLEXIBLE)
    riser = next(run for run in layout.runs if run.start == flexible.end)
    leg = next(run for run in layout.runs if run.start == riser.end and run.kind is RunKind.DRIP_LEG)
    return flexible, riser, leg


def compressor_connection(scene: Scene, place: Place) -> Picture:
    """The end of the tank and its connection from the front, above the floor."""
    units, plant, layout = scene.units, scene.site.compressor, scene.layout
    flexible, riser, leg = connection_runs(scene)
    valve, hose_end, foot, drain = (
        layout.nodes[id] for id in (flexible.start, flexible.end, riser.end, leg.end)
    )  # fmt: skip
    tank = layout.nodes[layout.runs[0].start]
    spots = {node.id: layout.from_left_m(node) for node in (tank, valve, hose_end, foot)}
    away = 1 if spots[foot.id] > spots[tank.id] else -1
    shown_m = min(TANK_SHOWN_M, plant.width_m)
    ends = spots[tank.id] - away * shown_m, max(away * spot for spot in spots.values()) * away + away * BESIDE_M
    height_m = foot.at.z
    true = Box(min(ends), 0.0, max(ends), max(TANK_SHARE * plant.height_m, height_m) + ABOVE_M)
    low = 17.0 if scene.site.imperial else 11.0
    picture = Picture.fitted(scene, place, true, (4.0, low, 17.0, 8.0) if away > 0 else (17.0, low, 4.0, 8.0))
    picture.hatched((true.left, 0.0), (true.right, 0.0), Point(0.0, -1.0))
    _tank(picture, tank, height_m, away)
    _line(picture, spots, (tank, valve, hose_end, foot), drain)
    held = at_hose(layout, scene.design.brackets)
    if held is not None and held.run == riser.id:
        size = picture.symbol * FIXED_SHARE
        picture.sign(scene.layers.bracket, "bracket_fixed", held.from_left_m, height_m, 0.0, size)
    beside = 9.0 if away > 0 else 6.0
    picture.up(0.0, height_m, spots[foot.id], away * (beside + 7.0), units.length(height_m))
    picture.up(0.0, drain.at.z, spots[foot.id], away * beside, units.length(drain.at.z), -1)
    reach = sorted((spots[tank.id], spots[foot.id]))
    picture.across(reach[0], reach[1], 0.0, -8.5, units.length(reach[1] - reach[0]))
    sag_m = SAG_SHARE * abs(spots[hose_end.id] - spots[valve.id])
    picture.label((spots[valve.id] + spots[hose_end.id]) / 2, height_m - sag_m, "flexible", "connection")
    picture.label(spots[valve.id], height_m, valve.tag)
    picture.label(spots[foot.id], drain.at.z, drain.tag)
    return picture


def _tank(picture: Picture, tank: Node, height_m: float, away: int) -> None:
    """The end of a tank with what comes with it, broken off where the rest is left out.

    Args:
        height_m: of its connection above the floor.
    """
    scene, plant, layer = picture.scene, picture.scene.site.compressor, picture.scene.layers.equipment
    connection_m = scene.layout.from_left_m(tank)
    low, high = FEET_SHARE * plant.height_m, (FEET_SHARE + TANK_SHARE) * plant.height_m
    radius_m, middle_m = (high - low) / 2, (high + low) / 2
    cut_m = picture.true.left if away > 0 else picture.true.right
    end_m = max(cut_m, connection_m - radius_m) if away > 0 else min(cut_m, connection_m + radius_m)
    for y in (low, high):
        picture.line(layer, (cut_m, y), (end_m, y))
    picture.arc(layer, end_m, middle_m, radius_m, *((270.0, 90.0) if away > 0 else (90.0, 270.0)))
    picture.broken(Point(cut_m, middle_m), Point(float(away), 0.0), radius_m)
    foot_m = (cut_m + end_m) / 2
    picture.line(layer, (foot_m - 0.02, low), (foot_m - 0.03, 0.0), (foot_m + 0.03, 0.0), (foot_m + 0.02, low))
    picture.line(layer, (connection_m, middle_m), (connection_m, height_m))
    module_m = MODULE_MM * picture.symbol / picture.scale
    for symbol, modules, share, words in ON_TANK if picture.scale > LEAST_FOR_GAUGE else ON_TANK[:1]:
        x_m = connection_m - away * share * abs(connection_m - cut_m)
        on_m = middle_m + math.sqrt(max(0.0, radius_m**2 - max(0.0, away * (x_m - end_m)) ** 2))
        picture.line(layer, (x_m, on_m), (x_m, high + module_m))
        picture.sign(layer, symbol, x_m, high + (1.0 + modules) * module_m, 0.0, picture.symbol)
        picture.label(x_m, high + (1.0 + modules) * module_m, words)
    smaller = min(1.0, low / (DRAIN_MODULES * module_m))
    x_m = foot_m + away * 0.09
    picture.sign(
        layer, "drain_valve", x_m, low - smaller * DRAIN_MODULES / 2 * module_m, 0.0, smaller * picture.symbol
    )  # fmt: skip
    picture.label(x_m, low / 3, "tank drain")
    picture.label(end_m, middle_m, tank.tag)


def _line(picture: Picture, spots: dict[str, float], nodes: tuple[Node, Node, Node, Node], drain: Node) -> None:
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
    start_m, end_m = at + away * half_m, spots[hose_end.id]
    shares = [number / BOW_POINTS for number in range(BOW_POINTS + 1)]
    sag_m = SAG_SHARE * abs(end_m - start_m)
    bow = [(start_m + share * (end_m - start_m), height_m - 4.0 * sag_m * share * (1 - share)) for share in shares]
    picture.items.append(Polyline(layers.hose, tuple(picture.point(*spot) for spot in bow)))
    picture.line(layers.main, (end_m, height_m), (x, height_m), (x, picture.true.top))
    picture.broken(Point(x, picture.true.top), Point(0.0, 1.0), 0.0)
    picture.line(layers.main, (x, height_m), (x, drain.at.z))
    picture.sign(layers.drain, scene.used_symbol(drain), x, drain.at.z - 1.5 * half_m, 0.0, picture.symbol)
