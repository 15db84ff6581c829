"""Sites made by chance for tests of the layout: invented rooms in a row, openings, outlets along the walls."""

from __future__ import annotations

import random

PLANT = """compressor:
  {room: r1, wall: south, from left: 3 m, width: 1 m, power: 2.2 kW, free air: 5 l/s, cut in: 6 bar, cut out: 8 bar,
   tank: 90 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube type L, height: 2.6 m, fall: 0.5 %, off wall: 160 mm}
outlets:
"""


def site_text(outlets: int, rooms: int, seed: int, shuffled: int | None = None) -> str:
    """Return a site file with rooms side by side and outlets half a metre or more apart.

    Args:
        shuffled: seed of another order of the outlets in the file.
    """
    chance = random.Random(seed)
    deep_m = 6.0 + 0.35 * outlets / rooms
    lines = ["site: Made by chance (invented)", "rooms:"]
    for number in range(1, rooms + 1):
        behind = f", behind: {{room: r{number - 1}, wall: east, from left: 0 m}}" if number > 1 else ""
        door_m = chance.uniform(0.5, deep_m - 2.0)
        door = f"{{kind: opening, wall: west, from left: {door_m:.2f} m, width: 1.2 m, height: 2.7 m}}"
        doors = f", openings: [{door}]" if number == 1 else ""
        lines.append(f"  r{number}: {{size: [8 m, {deep_m:.2f} m], ceiling: 3.2 m{behind}{doors}}}")
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
    return "\n".join(lines) + "\n" + PLANT + "\n".join(rows) + "\n"
