"""The compressor: where it stands and gives its air, and the pressures of its data plate."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.geometry import Point
from drafter.reader import is_read
from drafter.site.checks.on_wall import SLACK_M, outline, overlap
from drafter.site.checks.standing import check_standing, name_of
from drafter.site.model import Column, Opening, Site, Standing, Treatment
from drafter.site.wall import Wall
from drafter.standards.air import FREE_AIR_PRESSURE_PA
from drafter.standards.components import component

PASSAGE_M = 0.6
"""Depth kept free before a doorway to walk through it (common practice)."""

SWING_STEPS = 6
SLACK_K = 0.01

SHORTEST_FILL_S = 1.0
"""Least time from cut-in to cut-out that is believed; real sets take tens of seconds and more."""


def check_compressor_place(site: Site) -> Iterator[Finding]:
    """Yield PLACE006, PLACE007 and PLACE010 for a compressor in the way, after what holds for all that stands."""
    compressor = site.compressor
    room, wall = site.rooms[compressor.room], site.wall(compressor.room, compressor.wall)
    yield from check_standing(site, compressor.room, compressor)
    here, place = outline(wall, compressor), compressor.where("from_left_m")
    standing: list[Column | Standing] = [*room.columns, *room.equipment]
    for thing in standing:
        there = outline(site.wall(compressor.room, thing.wall), thing)
        over = getattr(thing, "above_floor_m", 0.0) >= compressor.height_m
        if overlap(here, there) and not over:
            message = f"the compressor stands in the {name_of(thing)} of line {thing.place.line}"
            fix = "measure both again"
            yield Finding("PLACE006", Severity.ERROR, place, message, "compressor", fix=fix)
    for keep in room.keep_clear:
        there = site.wall(compressor.room, keep.wall).footprint(keep.from_left_m, 0.0, keep.width_m, keep.depth_m)
        if overlap(here, there) and keep.above_floor_m < compressor.height_m:
            message = f"the compressor stands in the keep-clear space of the {name_of(keep)}"
            fix = "move it out of that space"
            yield Finding(
                "PLACE007", Severity.ERROR, place, message, "compressor", fix=fix, source=keep_source(keep.kind)
            )
    for opening in room.openings:
        if opening.kind != "window" and overlap(here, _passage(opening, site.wall(compressor.room, opening.wall))):
            message = f"the compressor stands in the way of the {opening.kind} of line {opening.place.line}"
            fix = "move it clear of the doorway and the swing of the door"
            source = "common practice"
            yield Finding("PLACE010", Severity.ERROR, place, message, "compressor", fix=fix, source=source)


def keep_source(kind: str) -> str:
    """Return why a space is kept clear."""
    return "29 CFR 1910.303(g)(1), NEC 110.26" if kind == "electrical panel" else "as the site file says"


def _passage(opening: Opening, wall: Wall) -> tuple[Point, ...]:
    """The floor that a doorway needs: the swing of a door that opens inwards, else the depth of a step."""
    left, right = opening.from_left_m, opening.from_left_m + opening.width_m
    if opening.kind != "door" or opening.swing != "in":
        return wall.footprint(left, 0.0, opening.width_m, PASSAGE_M)
    hinge, towards = (left, 1) if opening.hinge == "left" else (right, -1)
    turns = [math.pi / 2 * step / SWING_STEPS for step in range(SWING_STEPS + 1)]
    edge = [
        wall.at(hinge + towards * opening.width_m * math.cos(turn), opening.width_m * math.sin(turn)) for turn in turns
    ]
    return (wall.at(hinge), *edge)


def check_connection(site: Site) -> Iterator[Finding]:
    """Yield PLACE009 for a connection that lies off the compressor set."""
    compressor, connection, units = site.compressor, site.compressor.connection, site.units
    assert connection is not None
    low_m, high_m = compressor.from_left_m, compressor.from_left_m + compressor.width_m
    if not low_m - SLACK_M <= connection.from_left_m <= high_m + SLACK_M:
        at, low, high = (units.length_with_unit(m) for m in (connection.from_left_m, low_m, high_m))
        message = f"the connection {at} from the corner does not lie on the compressor set"
        fix = f"measure it from the same corner as the set: from {low} to {high}"
        place = connection.where("from_left_m")
        yield Finding("PLACE009", Severity.ERROR, place, message, "compressor", at, f"{low} to {high}", fix)


def check_treatment(unit: Treatment) -> Iterator[Finding]:
    """Yield DEW001 for the dew point of a unit that is no dryer, DEW002 for one that its kind cannot reach."""
    if unit.dew_point_k is None:
        return
    dryer, place = component(unit.kind), unit.where("dew_point_k")
    if dryer.dew_point_k is None:
        message, fix = f"a {unit.kind} sets no dew point", "give it to the dryer, or take it out"
        yield Finding("DEW001", Severity.ERROR, place, message, fix=fix)
    elif dryer.lowest_k is not None and unit.dew_point_k < dryer.lowest_k - SLACK_K:
        asked, lowest = (f"{kelvin - 273.15:.3g} °C" for kelvin in (unit.dew_point_k, dryer.lowest_k))
        message = f"a {unit.kind} reaches no dew point of {asked}: its water would freeze in it"
        fix = f"write {lowest} or more, or take a desiccant dryer"
        yield Finding("DEW002", Severity.ERROR, place, message, "", asked, lowest, fix, source=dryer.source)


def check_treatment_loss(site: Site) -> Iterator[Finding]:
    """Yield PRES005 where the treatment takes all the pressure there is at the cut-in.

    Yield a warning PRES006 for a regulator set above what reaches it then.
    """
    units, cut_in_pa = site.units, site.compressor.cut_in_pa
    taken_pa = sum(
        component(unit.kind).pressure_drop_pa if unit.drop_pa is None else unit.drop_pa for unit in site.treatment
    )
    for unit in site.treatment:
        if unit.set_pa is not None and 0.0 < cut_in_pa - taken_pa < unit.set_pa:
            setting, left = units.pressure(unit.set_pa), units.pressure(cut_in_pa - taken_pa)
            message = f"a regulator set to {setting} holds nothing: at the cut-in the treatment leaves {left}"
            fix = f"set it below {left}, or raise the cut-in"
            yield Finding("PRES006", Severity.WARNING, unit.where("set_pa"), message, "", setting, left, fix)
    if site.treatment and taken_pa >= cut_in_pa:
        taken, cut_in = units.pressure(taken_pa), units.pressure(cut_in_pa)
        message = f"the treatment takes {taken} at full flow, all of the {cut_in} there is at the cut-in"
        fix = "check the drops of its units and the cut-in: each is in the pressure's own unit"
        place = site.compressor.where("cut_in_pa")
        yield Finding("PRES005", Severity.ERROR, place, message, "compressor", taken, cut_in, fix)


def check_cut_out(site: Site) -> Iterator[Finding]:
    """Yield PRES001 where the compressor would start at or above the pressure at which it stops."""
    plant, units = site.compressor, site.units
    if plant.cut_in_pa >= plant.cut_out_pa:
        cut_in, cut_out = units.pressure(plant.cut_in_pa), units.pressure(plant.cut_out_pa)
        message = f"the cut-in of {cut_in} is not below the cut-out of {cut_out}"
        fix = "read both again from the pressure switch: cut-in starts the motor, cut-out stops it"
        place = plant.where("cut_in_pa")
        yield Finding("PRES001", Severity.ERROR, place, message, "compressor", cut_in, cut_out, fix)


def check_relief(site: Site) -> Iterator[Finding]:
    """Yield PRES002 and PRES003 for a relief valve set at or below the cut-out, or above the tank's rating."""
    plant, units = site.compressor, site.units
    relief, place = units.pressure(plant.relief_pa), plant.where("relief_pa")
    if is_read(plant.rated_pa) and plant.relief_pa > plant.rated_pa:
        rated = units.pressure(plant.rated_pa)
        message = f"the relief valve opens at {relief}, above the {rated} that the tank is rated for"
        fix = f"it must be set at or below {rated}; read the valve and the data plate again"
        source = "29 CFR 1910.169(b)(3); ASME BPVC VIII-1 UG-125 (from memory)"
        yield Finding("PRES003", Severity.ERROR, place, message, "compressor", relief, rated, fix, source=source)
    if plant.relief_pa <= plant.cut_out_pa:
        cut_out = units.pressure(plant.cut_out_pa)
        message = f"the relief valve opens at {relief}, not above the cut-out of {cut_out}"
        fix = f"it must be set above {cut_out} and at or below what the tank is rated for"
        yield Finding(
            "PRES002", Severity.ERROR, place, message, "compressor", relief, cut_out, fix, source="common practice"
        )


def check_tank(site: Site) -> Iterator[Finding]:
    """Yield PRES004 for a tank that the compressor fills from cut-in to cut-out in less than a second."""
    plant = site.compressor
    held_m3 = plant.tank_m3 * max(0.0, plant.cut_out_pa - plant.cut_in_pa) / FREE_AIR_PRESSURE_PA
    if plant.cut_in_pa < plant.cut_out_pa and held_m3 < plant.free_air.value * SHORTEST_FILL_S:
        tank, delivered = site.units.volume(plant.tank_m3), site.units.free_air(plant.free_air.value)
        message = f"a tank of {tank} is filled by {delivered} in less than a second"
        fix = "read the tank's volume, the switch and the delivery again from their data plates"
        place = plant.where("tank_m3")
        yield Finding("PRES004", Severity.ERROR, place, message, "compressor", tank, "1 s", fix, source="mass balance")
