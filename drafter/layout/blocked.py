"""What is in the way of the main, in words."""

from __future__ import annotations

import math

from drafter.finding import Finding, Severity
from drafter.layout.numbered_graph import Edges, reachable
from drafter.layout.obstacles import Obstacle
from drafter.layout.ways import RISER, Ways, outlet_key, waypoint_key
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
    at_edge = [obstacle for piece, obstacle in ways.closed.items() if len(piece & reached) == 1]
    blocking = {obstacle.name: obstacle for obstacle in at_edge or ways.closed.values()}
    if blocking:
        place, why = main.where("height_m"), ", ".join(in_words(site, obstacle) for obstacle in blocking.values())
        fix = "change the height of the main, or move what blocks it or the outlet"
    elif main.path:
        place = (lost or passed_by)[0].where("wall") if lost or passed_by else main.place
        why = "the walls of 'path' do not lead there"
        fix = "add the walls between to 'path'"
    else:
        place, why, fix = main.place, "no wall leads there", "let the rooms share a wall"
    names = ", ".join(outlet.tag for outlet in lost) if len(lost) < len(site.outlets) else "any outlet"
    if not lost:
        names = ", ".join(f"the place of line {point.place.line} to come by" for point in passed_by)
    message = f"at {units.length_with_unit(main.height_m)} the main cannot reach {names}: {why}"
    return Finding("ROUTE001", Severity.ERROR, place, message, "main", fix=fix)


def in_words(site: Site, obstacle: Obstacle) -> str:
    """Name an obstacle with the heights between which it is in the way."""
    low, high = site.units.length_with_unit(obstacle.bottom_m), obstacle.top_m
    if math.isinf(high):
        return f"{obstacle.name} (at {low} above floor)"
    return f"{obstacle.name} (from {low} to {site.units.length_with_unit(high)} above floor)"
