"""How long a cutting plan takes and how near it comes to its bound, for lists like those of real jobs.

Run: python tests/takeoff/benchmark_cutting.py
"""

from __future__ import annotations

import random
import time

from drafter.takeoff.nesting import Nesting, nested

KERF = 30
STOCKS = {"6 m": [60_000], "3 m": [30_000], "3 m and 6 m": [30_000, 60_000], "coils": [250_000, 500_000, 1_000_000]}
LISTS = 5


def job(pieces: int, seed: int) -> list[int]:
    """Lengths in tenths of a millimetre: drops, pieces of the main, short pieces between fittings (invented)."""
    draw = random.Random(seed)
    kinds = draw.choices([(10_000, 22_000), (15_000, 30_000), (700, 4_000)], [0.45, 0.25, 0.30], k=pieces)
    return [draw.randint(*kind) for kind in kinds]


def timed(pieces: list[int], stocks: list[int]) -> tuple[Nesting, float]:
    """A plan, and how long it took [s]."""
    began = time.perf_counter()
    return nested(pieces, stocks, KERF), time.perf_counter() - began


def main() -> None:
    """Print the table."""
    print(f"{LISTS} lists each")
    print("pieces  stock        mean ms  longest ms  proved  bought/bound")
    for count in (10, 20, 40, 100, 1000):
        for name, stocks in STOCKS.items():
            plans = [timed(job(count, seed), stocks) for seed in range(LISTS)]
            times = [seconds for _, seconds in plans]
            proved = sum(nesting.proved for nesting, _ in plans)
            above = sum(nesting.cost[0] for nesting, _ in plans) / sum(nesting.least[0] for nesting, _ in plans)
            mean, longest = sum(times) / LISTS * 1e3, max(times) * 1e3
            print(f"{count:6}  {name:11}  {mean:7.2f}  {longest:10.2f}  {proved:6}  {above:12.4f}")


if __name__ == "__main__":
    main()
