"""What is to be read on the finished pipe: markers at their places, tags of valves, drains, units and outlets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Literal

from drafter.layout.graph import Layout, Node, NodeKind, RunKind
from drafter.sheets.care import draining_times
from drafter.sheets.purposes import purpose
from drafter.site.wall import with_article
from drafter.sizing.network import Network
from drafter.standards.materials import TubeSize
from drafter.standards.rule_sets import labels_apart_m, rule_set
from drafter.supports.lines import PipeLine, pipe_lines

Toward = Literal["left", "right", "both", "up"]

FROM_END_M = 0.4
"""From a turn or a wall to the middle of the marker beside it (value of our own)."""

SHORTEST_M = 1.0
"""Lines of the main that are shorter get none of their own (value of our own)."""


@dataclass(frozen=True, slots=True)
class PipeMarker:
    """A marker of the pipe.

    Attributes:
        place: where it goes, in words.
        toward: which way the air flows, for somebody who faces the wall.
        pressure: that the pipe works at, in words.
    """

    place: str
    toward: Toward
    size: TubeSize
    pressure: str


@dataclass(frozen=True, slots=True)
class Tag:
    """A tag that hangs at a thing: its name, and what whoever uses it must know."""

    name: str
    lines: tuple[str, ...]


def pipe_markers(network: Network) -> list[PipeMarker]:
    """Return the markers of riser and main, from the compressor outwards.

    Source:
        places after ASME A13.1: behind changes of direction, on both sides of walls, every 50 ft of straight pipe.
    """
    order = {run.id: number for number, run in enumerate(network.layout.runs)}
    lines = [line for line in pipe_lines(network) if line.is_main and not line.upright]
    lines.sort(key=lambda line: min(order[run.id] for run in line.runs))
    return [*_of_riser(network), *(marker for line in lines for marker in _of_line(network, line))]


def _of_riser(network: Network) -> Iterator[PipeMarker]:
    site = network.layout.site
    run = next((run for run in network.layout.runs if run.kind is RunKind.RISER), None)
    if run is not None:
        words = f"riser at the compressor, {with_article(run.wall)}: turn it so that the arrow points up"
        yield PipeMarker(words, "up", network.sizes[run.id], site.units.pressure(site.compressor.cut_out_pa))


def _of_line(network: Network, line: PipeLine) -> Iterator[PipeMarker]:
    site, units = network.layout.site, network.layout.site.units
    pressure = units.pressure(network.leaks.test_gauge_pa)
    toward = _toward(network.layout, line)
    for station_m in marked_stations_m(network.layout, line, toward):
        run = line.runs[line.part_at(station_m)]
        wall = site.wall_words(run.room, run.wall, with_article)
        place = f"{wall}, {units.length_with_unit(station_m)} from its left-hand corner"
        yield PipeMarker(place, toward, network.sizes[run.id], pressure)


def _toward(layout: Layout, line: PipeLine) -> Toward:
    if layout.site.main.arrangement == "ring":
        return "both"
    run = line.runs[0]
    start_m, end_m = (line.wall.measure(layout.nodes[id].at.plan)[0] for id in (run.start, run.end))
    return "right" if end_m > start_m else "left"


def marked_stations_m(layout: Layout, line: PipeLine, toward: Toward) -> list[float]:
    """Return where the markers of a line of the main stand, from the wall's left-hand corner [m].

    One stands where the air comes in, one where the line leaves through a wall, the others no farther apart than
    the standard has it.
    """
    low_m, high_m = line.low_m, line.high_m
    through = {id for run in layout.runs if run.kind is RunKind.SLEEVE for id in (run.start, run.end)}
    ends = (line.runs[0], line.runs[-1])
    low_passes, high_passes = (bool({run.start, run.end} & through) for run in ends)
    if high_m - low_m < SHORTEST_M and not (low_passes or high_passes):
        return []
    inset_m = min(FROM_END_M, (high_m - low_m) / 2.0)
    fixed = {low_m + inset_m} if low_passes or toward != "left" else set()
    if high_passes or toward == "left":
        fixed.add(high_m - inset_m)
    beyond = sorted({low_m, *fixed, high_m})
    for before_m, after_m in pairwise(beyond):
        parts = ceil((after_m - before_m) / labels_apart_m() - 1e-9)
        fixed |= {before_m + (after_m - before_m) * number / parts for number in range(1, parts)}
    return sorted(fixed)


def tags(network: Network) -> list[Tag]:
    """Return the tags of the compressor, of every valve, drain and unit, and of the outlets."""
    layout = network.layout
    things = [node for node in layout.nodes.values() if node.tag and node.kind in _HANGS]
    things.sort(key=lambda node: (list(_HANGS).index(node.kind), len(node.tag), node.tag))
    return [_of_tank(network), *(_tag(network, node) for node in things)]


_HANGS = (NodeKind.VALVE, NodeKind.DRAIN, NodeKind.TREATMENT, NodeKind.COUPLING)


def label_count(network: Network) -> int:
    """Return how many markers and tags are wanted on the pipe, its valves and drains, and the tank."""
    kinds = (NodeKind.VALVE, NodeKind.DRAIN, NodeKind.TANK)
    return len(pipe_markers(network)) + sum(node.kind in kinds for node in network.layout.nodes.values())


def _of_tank(network: Network) -> Tag:
    plant, units = network.layout.site.compressor, network.layout.site.units
    starts = "runs on and loads by itself" if plant.unloads else "starts by itself"
    return Tag(
        "C-01",
        (
            f"Compressed air, {units.pressure(plant.cut_out_pa)}; relief valve {units.pressure(plant.relief_pa)}. "
            f"The set {starts}.",
            "Before any work: switch off, lock out, bleed tank and line to zero.",
            "Hot parts. Ear protection where the plate says so. The air is not for breathing.",
        ),
    )


def _tag(network: Network, node: Node) -> Tag:
    if node.tag == "V-01":
        lost = network.layout.site.units.free_air(network.leaks.openings[0].free_air_m3_s)
        return Tag(
            node.tag,
            (
                f"MAIN VALVE. Stop the set and close it when leaving: a torn-off hose lets {lost} out.",
                "Before any work: close it, lock it, bleed the line to zero.",
            ),
        )
    if node.kind is NodeKind.VALVE:
        return Tag(node.tag, (f"{_capital(purpose(network.layout, node.id))}. Open and close it slowly.",))
    if node.kind is NodeKind.DRAIN:
        often = "See weekly that it lets water out" if network.layout.site.main.drains == "automatic" else "Open it"
        times = "" if often.startswith("See") else f" {draining_times(network, node.id)}, until no water comes"
        words = f"{_capital(purpose(network.layout, node.id))}. {often}{times}."
        return Tag(node.tag, (words, "Slowly, over a bucket, face and hands aside."))
    if node.kind is NodeKind.TREATMENT:
        return Tag(node.tag, tuple(_of_unit(network, node)))
    return Tag(node.tag, tuple(_of_outlet(network, node)))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _of_unit(network: Network, node: Node) -> Iterator[str]:
    site = network.layout.site
    unit = next((unit for unit in site.treatment if unit.place == node.place), None)
    at = f" Set to {site.units.pressure(unit.set_pa)}, no more." if unit is not None and unit.set_pa else ""
    yield f"{_capital(node.what)}.{at}"
    yield "Bleed the line to zero before its bowl or housing is opened."


def _of_outlet(network: Network, node: Node) -> Iterator[str]:
    site = network.layout.site
    outlet = next(each for each in site.outlets if each.tag == node.tag)
    flow = next(each for each in network.outlets if each.tag == node.tag)
    names = ", ".join(dict.fromkeys(use.tool for use in outlet.tools))
    most = site.units.pressure(network.leaks.test_gauge_pa)
    made_for = f"For {names}, at" if names else "At"
    yield f"{made_for} least {site.units.pressure(flow.tool_pressure_pa)} at the tool; at rest up to {most}."
    gun = site.units.pressure(rule_set(site.rule_set).blow_gun_pa.value)
    yield f"Shut its valve and bleed the hose before uncoupling. Cleaning: below {gun}; never at anybody."
