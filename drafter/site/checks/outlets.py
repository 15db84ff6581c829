"""Outlets: tags of their own, tools in the table, free spots on the walls."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from drafter.finding import Finding, Severity
from drafter.geometry import Point
from drafter.reader import is_read, nearest_hint
from drafter.site.checks.on_wall import SLACK_M, point_past
from drafter.site.checks.plant import keep_source
from drafter.site.checks.standing import name_of
from drafter.site.model import Column, Opening, Outlet, Site, Standing, ToolUse
from drafter.site.wall import Wall
from drafter.standards.purity import parse_purity
from drafter.standards.tools import find_tool, tool_names

APART_M = 0.05
FACE_M = 0.01
"""How far off the wall the face of an outlet is taken to be."""

REACH_M = 0.3
"""Least gap behind a thing that still lets a hand at an outlet (common practice)."""


def check_tag(outlet: Outlet, earlier: Sequence[Outlet]) -> Iterator[Finding]:
    """Yield TAG001 for a tag used before, whatever its capitals; TAG002 for one the drawings give themselves."""
    if not is_read(outlet.tag):
        return
    tag, place = outlet.tag, outlet.where("tag")
    readable = [other for other in earlier if is_read(other.tag)]
    first = next((other for other in readable if other.tag.lower() == tag.lower()), None)
    if first is not None:
        message = f"the tag {tag} is used already, on line {first.where('tag').line}"
        yield Finding("TAG001", Severity.ERROR, place, message, tag, fix="give every outlet a tag of its own")
    if re.fullmatch(r"[VDBCTP]-\d+", tag):
        message = f"{tag} looks like a tag that the drawings give to valves, drains, brackets or spare tees"
        yield Finding("TAG002", Severity.ERROR, place, message, tag, fix="choose another, such as A1")


def check_tool(outlet: Outlet, use: ToolUse) -> Iterator[Finding]:
    """Yield REF003 for a tool that is not in the table and brings no figures of its own."""
    if find_tool(use.tool) is None and (use.free_air is None or use.pressure_pa is None):
        own = f"{{tool: {use.tool}, free air: ..., pressure: ...}}"
        fix = f"{nearest_hint(use.tool, tool_names())}Or give its own figures: {own}"
        message = f"the tool '{use.tool}' is not in the table"
        tag = outlet.tag if is_read(outlet.tag) else ""
        yield Finding("REF003", Severity.ERROR, use.where("tool"), message, tag, fix=fix)


def check_class(outlet: Outlet) -> Iterator[Finding]:
    """Yield CLASS001 for a class of air that the standard has not."""
    if outlet.purity and parse_purity(outlet.purity) is None:
        message = f"'{outlet.purity}' is no class of compressed air"
        fix = "write particles:water:oil, such as 1:4:2: particles 1 to 7, water 1 to 9, oil 1 to 4, or X"
        source = "ISO 8573-1:2010"
        yield Finding("CLASS001", Severity.ERROR, outlet.where("purity"), message, outlet.tag, fix=fix, source=source)


def check_outlet_place(site: Site, outlet: Outlet) -> Iterator[Finding]:
    """Yield PLACE001, 002, 004 or 007 for an outlet past its wall, in an opening, too high, or kept clear of."""
    wall, units, tag = site.wall(outlet.room, outlet.wall), site.units, outlet.tag
    yield from point_past(site, wall, outlet, f"outlet {tag}", tag)
    if outlet.height_m > wall.ceiling_m:
        height, ceiling = units.length_with_unit(outlet.height_m), units.length_with_unit(wall.ceiling_m)
        message, fix = f"outlet {tag} at {height} is above the ceiling", f"the ceiling is at {ceiling}"
        yield Finding("PLACE004", Severity.ERROR, outlet.where("height_m"), message, tag, height, ceiling, fix)
    room, place = site.rooms[outlet.room], outlet.where("from_left_m")
    for opening in room.openings:
        if opening.wall == outlet.wall and _is_in(outlet, opening):
            message = f"outlet {tag} is in the {opening.kind} of line {opening.place.line}"
            fix = f"keep off {_stretch(site, opening.from_left_m, opening.width_m)}"
            yield Finding("PLACE002", Severity.ERROR, place, message, tag, fix=fix)
    for keep in room.keep_clear:
        off_left_m, off_wall_m = site.wall(outlet.room, keep.wall).measure(_face(wall, outlet))
        beside = 0.0 < off_left_m - keep.from_left_m < keep.width_m and off_wall_m < keep.depth_m
        if beside and keep.above_floor_m <= outlet.height_m <= keep.above_floor_m + keep.height_m:
            message = f"outlet {tag} is in the keep-clear space of the {name_of(keep)}"
            fix = f"keep off {_stretch(site, keep.from_left_m, keep.width_m)} of its {keep.wall} wall"
            yield Finding("PLACE007", Severity.ERROR, place, message, tag, fix=fix, source=keep_source(keep.kind))


def check_outlet_in_reach(site: Site, outlet: Outlet) -> Iterator[Finding]:
    """Yield PLACE006 for an outlet behind a column, PLACE012 for one behind a thing: a warning if it may serve it."""
    wall, place = site.wall(outlet.room, outlet.wall), outlet.where("from_left_m")
    room, spot = site.rooms[outlet.room], _face(wall, outlet)
    for column in room.columns:
        if _is_before(site.wall(outlet.room, column.wall), column, spot):
            message = f"outlet {outlet.tag} is behind the column of line {column.place.line}"
            fix = f"keep off {_stretch(site, column.from_left_m, column.width_m)} of its {column.wall} wall"
            yield Finding("PLACE006", Severity.ERROR, place, message, outlet.tag, fix=fix)
    for thing in room.equipment:
        level = thing.above_floor_m < outlet.height_m < thing.height_m
        if level and _is_before(site.wall(outlet.room, thing.wall), thing, spot):
            message = f"outlet {outlet.tag} is behind the {name_of(thing)} of line {thing.place.line}, out of reach"
            fix = f"keep off {_stretch(site, thing.from_left_m, thing.width_m)}, or go higher"
            severity = Severity.WARNING if thing.leaves_room_behind else Severity.ERROR
            yield Finding("PLACE012", severity, place, message, outlet.tag, fix=fix, source="common practice")


def check_outlets_apart(site: Site, first: Outlet, second: Outlet) -> Iterator[Finding]:
    """Yield PLACE013 for two outlets in one place."""
    if first.room == second.room and first.wall == second.wall:
        apart_m = abs(first.from_left_m - second.from_left_m)
        if apart_m < APART_M:
            apart, least = (site.units.length_with_unit(m) for m in (apart_m, APART_M))
            message = f"outlets {first.tag} and {second.tag} are in one place"
            place = second.where("from_left_m")
            fix = "measure again, or make them one outlet"
            yield Finding("PLACE013", Severity.ERROR, place, message, second.tag, apart, least, fix)


def _face(wall: Wall, outlet: Outlet) -> Point:
    return wall.at(outlet.from_left_m, FACE_M)


def _is_in(outlet: Outlet, opening: Opening) -> bool:
    """Whether an outlet is in the hole of an opening, or above it where an overhead door needs its headroom."""
    along = outlet.from_left_m - opening.from_left_m
    return -SLACK_M < along < opening.width_m + SLACK_M and opening.bottom_m < outlet.height_m < opening.top_m


def _is_before(wall: Wall, thing: Column | Standing, spot: Point) -> bool:
    """Whether a thing stands over a spot in plan, or before it with too small a gap for a hand."""
    along_m, off_wall_m = wall.measure(spot)
    beside = 0.0 < along_m - thing.from_left_m < thing.width_m
    return beside and thing.off_wall_m - REACH_M <= off_wall_m < thing.off_wall_m + thing.depth_m


def _stretch(site: Site, from_left_m: float, width_m: float) -> str:
    low, high = (site.units.length_with_unit(m) for m in (from_left_m, from_left_m + width_m))
    return f"the stretch from {low} to {high}"
