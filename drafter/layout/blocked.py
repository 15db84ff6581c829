"""What is in the way of the main, in words."""

from __future__ import annotations

import math
from collections.abc import Iterable

from drafter.finding import Finding, Severity
from drafter.layout.numbered_graph import Edges, reachable
from drafter.layout.obstacles import CLEAR_M, PIPE_M, Obstacle
from drafter.layout.steps_round import NoStep
from drafter.layout.ways import RISER, Ways, outlet_key, station_in_words, waypoint_key
from drafter.site.model import Site


def blocked(site: Site, ways: Ways, edges: Edges) -> Finding:
    """Return the finding that names the outlets the main cannot reach, and why.

    Args:
        edges: the ways still open.
    """
    units, main = site.units, site.main
    reached = reachable(edges, RISER)
    lost = [outlet for outlet in site.outlets if outlet_key(outlet.tag) not in reached]
    passed_by = [p for number, p in enumerate(main.waypoints, 1) if waypoint_key(number) not in reached]
    at_edge = [piece for piece in ways.closed if len(piece & reached) == 1]
    blocking = {ways.closed[piece].name: piece for piece in at_edge or ways.closed}
    if blocking:
        place = main.where("height_m")
        why = ", ".join(_met(site, ways, piece) for piece in blocking.values())
        fix = _mended(site, ways, blocking.values())
    elif main.path:
        place = (lost or passed_by)[0].where("wall") if lost or passed_by else main.place
        why = "the walls of 'path' do not lead there"
        fix = "add the walls between to 'path'"
    else:
        place, why = main.place, "no wall leads there"
        fix = "let the rooms share a wall; a line in the ground between houses is not laid out"
    names = ", ".join(outlet.tag for outlet in lost) if len(lost) < len(site.outlets) else "any outlet"
    if not lost:
        names = ", ".join(f"the place of line {point.place.line} to come by" for point in passed_by)
    message = f"at {units.length_with_unit(main.height_m)} the main cannot reach {names}: {why}"
    return Finding("ROUTE001", Severity.ERROR, place, message, "main", fix=fix)


def _met(site: Site, ways: Ways, piece: frozenset[str]) -> str:
    """What closes a piece, and how low the main would be there where it is higher at its high end."""
    obstacle, said = ways.closed[piece], in_words(site, ways.closed[piece])
    refused = ways.no_step_round(obstacle)
    if refused:
        return f"{said}, and {station_in_words(refused.key)} leaves no room to step round it"
    if site.main.height_m >= obstacle.top_m + CLEAR_M + PIPE_M and piece in ways.met_m:
        units = site.units
        least = units.length_with_unit(obstacle.top_m + CLEAR_M + PIPE_M)
        return f"{said}, to which it would have fallen to {units.length_with_unit(ways.met_m[piece])} of {least} needed"
    return said


def _moved(site: Site, refused: NoStep) -> str:
    """Where what leaves no room for a step would have to be."""
    what, units = station_in_words(refused.key), site.units
    if refused.free_m is None:
        return f"move {what} from between {refused.thing.on_site} and the corner"
    more = "or less" if refused.free_m < refused.at_m else "or more"
    return f"move {what} to {units.length_with_unit(refused.free_m)} from the left {more}"


def _mended(site: Site, ways: Ways, pieces: Iterable[frozenset[str]]) -> str:
    """What to move so that the main finds a way."""
    steps = dict.fromkeys(_moved(site, each) for piece in pieces if (each := ways.no_step_round(ways.closed[piece])))
    return "; or ".join([*steps, "move what blocks it or the outlet"])


def in_words(site: Site, obstacle: Obstacle) -> str:
    """Name an obstacle with the heights between which it is in the way."""
    low, high = site.units.length_with_unit(obstacle.bottom_m), obstacle.top_m
    if math.isinf(high):
        return f"{obstacle.name} (at {low} above floor)"
    return f"{obstacle.name} (from {low} to {site.units.length_with_unit(high)} above floor)"
