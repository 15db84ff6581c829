"""Nobody can stand before the compressor.

Why: a set that cannot be reached is not drained, its oil not looked at, its relief valve not tried.
Passes: 0.8 m free before its whole front, to the next wall, column or thing; vehicles drive away and do not count.
Fails: a note where something stands nearer.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.checks.on_wall import is_inside, outline, overlap
from drafter.site.checks.standing import name_of
from drafter.site.model import Column, Standing
from drafter.standards.limits import Limit
from drafter.supports.design import Design

BEFORE_M = Limit(0.8, "common practice, 0.8 to 1 m on the sides that are worked at")

RULE = Rule("PLANT003", "compressor without access", BEFORE_M.source, (NOTE,), Threshold(BEFORE_M, Kind.LENGTH))

_FINE_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    plant, most = site.compressor, RULE.limit(site)
    room, wall = site.rooms[plant.room], site.wall(plant.room, plant.wall)
    front_m = plant.off_wall_m + plant.depth_m
    standing: list[Column | Standing] = [*room.columns, *room.equipment]
    low = [thing for thing in standing if getattr(thing, "above_floor_m", 0.0) < plant.height_m]
    low = [thing for thing in low if getattr(thing, "kind", "") != "vehicle"]
    things = {name_of(thing): outline(site.wall(plant.room, thing.wall), thing) for thing in low}

    def in_the_way(depth_m: float) -> str:
        before = wall.footprint(plant.from_left_m, front_m, plant.width_m, depth_m)
        thing = next((name for name, there in things.items() if overlap(before, there)), "")
        return thing or ("" if is_inside(site, plant.room, before) else "wall")

    free_m, blocked_m = 0.0, most.value
    if in_the_way(blocked_m):
        while blocked_m - free_m > _FINE_M:
            middle_m = (free_m + blocked_m) / 2.0
            free_m, blocked_m = (free_m, middle_m) if in_the_way(middle_m) else (middle_m, blocked_m)
        measured, limit = site.units.length_with_unit(blocked_m), site.units.length_with_unit(most.value)
        yield RULE.finding(
            NOTE,
            plant.where("from_left_m"),
            f"before the compressor {measured} is free, then comes the {in_the_way(blocked_m)}",
            measured=measured,
            limit=limit,
            fix="move one of them",
            subject="compressor",
            source=most.source,
        )
