"""Signs of an elevation for what a fitter cores and couples: sleeves through walls and decks, tube joined in line."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.drawing import Item
from drafter.geometry import Point
from drafter.layout.graph import RunKind
from drafter.sheets.placing import Label
from drafter.sheets.scene import SYMBOL, Scene
from drafter.site.wall import Wall
from drafter.takeoff.sleeves import Passage, level_at_wall_m

COUPLING = 0.45
SLEEVE_KIND, SLEEVE_TEXT_MM = "sleeve", 2.5


def sleeve_signs(scene: Scene, wall: Wall) -> list[Item]:
    """Draw the sleeves through a wall, seen end on, and those through decks before it."""
    return [
        scene.insert(
            scene.layers.sign, "sleeve" if passage.deck else "sleeve_end", at, 90.0 * bool(passage.deck), SYMBOL
        )
        for passage, at in _passed(scene, wall)
    ]


def sleeve_labels(scene: Scene, wall: Wall) -> list[Label]:
    """What each sleeve is cored to; of those through walls the level in its face too, and where the main goes on."""
    layers, found = scene.layers, list[Label]()
    for passage, at in _passed(scene, wall):
        lines = (f"sleeve, {passage.hole} {passage.sleeve.core}", *_leading(scene, passage, wall))
        found.append(Label(layers.text, layers.tag, at, lines, SLEEVE_TEXT_MM, kind=SLEEVE_KIND, rim_mm=1.5))
    return found


def _leading(scene: Scene, passage: Passage, wall: Wall) -> tuple[str, ...]:
    """Of a sleeve through a wall its level there, and the elevation that the main goes on to."""
    if passage.deck:
        return ()
    ends = [scene.layout.nodes[id] for id in (passage.run.start, passage.run.end)]
    here, there = sorted(ends, key=lambda node: (node.room, node.wall) != (wall.room, wall.name))
    number = scene.marks.get((there.room, there.wall), "")
    return (scene.units.level(level_at_wall_m(scene.layout, here)) + (f"  to {number}" if number else ""),)


def _passed(scene: Scene, wall: Wall) -> Iterator[tuple[Passage, Point]]:
    """The sleeves that are seen at a wall, and where in its elevation."""
    layout = scene.layout
    for passage in scene.passages:
        run = passage.run
        ends = [layout.nodes[id] for id in (run.start, run.end)]
        if passage.deck and (run.room, run.wall) == (wall.room, wall.name):
            middle_m = passage.underside_m + passage.thick_m / 2
            yield passage, Point(wall.measure(ends[0].at.plan)[0] * 1000.0, middle_m * 1000.0)
        elif run.kind is RunKind.SLEEVE:
            for node in ends:
                if (node.room, node.wall) == (wall.room, wall.name):
                    yield passage, Point(wall.measure(node.at.plan)[0] * 1000.0, node.at.z * 1000.0)


def coupling_signs(scene: Scene, wall: Wall) -> list[Item]:
    """Draw the couplings of tube in line."""
    found: list[Item] = []
    for each in scene.coupled:
        run = each.run
        if (run.room, run.wall) == (wall.room, wall.name):
            ends = [scene.layout.nodes[id].at for id in (run.start, run.end)]
            a, b = (Point(wall.measure(at.plan)[0], at.z) for at in ends)
            at = Point(wall.measure(each.at.plan)[0] * 1000.0, each.at.z * 1000.0)
            angle = b.minus(a).angle_deg
            found.append(scene.insert(scene.layers.valve, "pipe_coupling", at, angle, COUPLING))
    return found
