"""How long the reach of the hoses takes: prints outlets, things on the floor, seconds, share of the floor reached.

Run: python tests/layout/benchmark_reach.py
"""

from __future__ import annotations

import random
import time
from dataclasses import replace

from drafter.geometry import Point3
from drafter.layout.reach import reach_of
from drafter.site import Site, read

SITE = """
site: Benchmark hall (invented)
rooms: {{hall: {{size: [22 m, 15 m], ceiling: 5 m, equipment: [{things}]}}}}
compressor: {{wall: north, from left: 0.2 m, power: 4 kW, free air: 10 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 3.6 m}}
outlets: [{{tag: A1, wall: south, from left: 6 m, hose: {{length: 10 m}}}}]
places: [{places}]
"""
THING = "{{kind: machine, wall: south, from left: {:.2f} m, off wall: {:.2f} m, width: {:.2f} m, depth: {:.2f} m}}"
PLACE = "{{name: place {}, wall: south, from left: {:.2f} m, off wall: {:.2f} m}}"


def hall(things: int, places: int) -> Site:
    """A hall with machines and places anywhere."""
    chance = random.Random(things)
    sizes = [
        (chance.uniform(1, 19), chance.uniform(1, 12), chance.uniform(0.5, 3), chance.uniform(0.5, 2))
        for _ in range(things)
    ]
    spots = [(number, chance.uniform(0, 22), chance.uniform(0, 15)) for number in range(places)]
    text = SITE.format(
        things=", ".join(THING.format(*size) for size in sizes), places=", ".join(PLACE.format(*spot) for spot in spots)
    )
    site, findings = read(text, "hall.yaml")
    assert site is not None, findings
    return site


def main() -> None:
    for outlets, things, places in ((10, 5, 0), (20, 15, 0), (20, 15, 5), (40, 30, 10)):
        site = hall(things, places)
        tags = [f"A{number}" for number in range(outlets)]
        couplings = {tag: Point3(22.0 * number / outlets, 0.1, 1.2) for number, tag in enumerate(tags)}
        site = replace(site, outlets=tuple(replace(site.outlets[0], tag=tag) for tag in tags))
        began = time.perf_counter()
        (room,) = reach_of(site, couplings).rooms
        took = time.perf_counter() - began
        print(f"{outlets:3} outlets {things:3} things {places:3} places: {took:.3f} s, {room.share:.0%} reached")


if __name__ == "__main__":
    main()
