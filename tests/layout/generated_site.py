"""Sites made by chance for tests of the layout: invented rooms in a row, openings, outlets along the walls."""

from __future__ import annotations

import random

PLANT = """compressor:
  {{room: r1, wall: south, from left: 3 m, width: 1 m, power: {kw:.1f} kW, free air: {l_s:.1f} l/s, cut in: 6 bar,
   cut out: 8 bar, tank: 90 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.6 m, fall: 0.5 %, off wall: 160 mm}}
outlets:
"""
OUTLETS_A_SET = 4.0
"""A set of 2.2 kW that gives 5 l/s keeps up with so many."""

MOST_SETS = 34.0
"""As much as a site file may say of a compressor's power."""


def site_text(outlets: int, rooms: int, seed: int, shuffled: int | None = None, full: bool = False) -> str:
    """Return a site file with rooms side by side and outlets half a metre or more apart.

    Args:
        shuffled: seed of another order of the outlets in the file.
        full: with columns and other services on the walls, and a crossing of each room.
    """
    chance = random.Random(seed)
    deep_m = 6.0 + 0.35 * outlets / rooms
    lines = ["site: Made by chance (invented)", "rooms:"]
    for number in range(1, rooms + 1):
        behind = f", behind: {{room: r{number - 1}, wall: east, from left: 0 m}}" if number > 1 else ""
        door_m = chance.uniform(0.5, deep_m - 2.0)
        door = f"{{kind: opening, wall: west, from left: {door_m:.2f} m, width: 1.2 m, height: 2.7 m}}"
        doors = f", openings: [{door}]" if number == 1 else ""
        more = _things(chance, deep_m) if full else ""
        lines.append(f"  r{number}: {{size: [8 m, {deep_m:.2f} m], ceiling: 3.2 m{behind}{doors}{more}}}")
    spots = [
        (f"r{number}", wall, step)
        for number in range(1, rooms + 1)
        for wall, length_m in (("north", 8.0), ("south", 8.0), ("east", deep_m))
        for step in range(int((length_m - 1.0) / 0.5))
        if (number, wall) != (1, "south")
    ]
    picked = chance.sample(spots, outlets)
    rows = [
        f"  - {{tag: O{number}, room: {room}, wall: {wall}, from left: {0.5 + step * 0.5:.2f} m}}"
        for number, (room, wall, step) in enumerate(picked, 1)
    ]
    if shuffled is not None:
        random.Random(shuffled).shuffle(rows)
    sets = min(max(1.0, outlets / OUTLETS_A_SET), MOST_SETS)
    return "\n".join(lines) + "\n" + PLANT.format(kw=2.2 * sets, l_s=5.0 * sets) + "\n".join(rows) + "\n"


def _things(chance: random.Random, deep_m: float) -> str:
    """Things a quarter of a metre off every place that an outlet may have."""

    def spot(length_m: float) -> float:
        return 0.67 + 0.5 * chance.randrange(2, int(length_m / 0.5) - 3)

    walls = (("north", 8.0), ("south", 8.0), ("east", deep_m))
    wall, length_m = chance.choice(walls)
    column = (
        f"{{wall: {wall}, from left: {spot(length_m):.2f} m, width: 0.16 m, depth: {chance.choice((0.2, 0.35))} m}}"
    )
    wall, length_m = chance.choice(walls)
    pipe = f"{{kind: water pipe, wall: {wall}, from left: {spot(length_m):.2f} m, width: 0.06 m, above floor: 0 m, "
    return (
        f", columns: [{column}], services: [{pipe}height: 3.2 m, clearance: 40 mm}}]"
        f", crossings: [{{wall: north, from left: {spot(8.0) + 0.08:.2f} m}}]"
    )
