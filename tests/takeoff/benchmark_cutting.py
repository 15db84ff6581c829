"""How long a cutting plan takes, and how near it comes to its bound: `python tests/takeoff/benchmark_cutting.py`."""

from __future__ import annotations

import random
import time

from drafter.takeoff.packing import pack


def job(count: int, chance: random.Random) -> list[float]:
    """Pieces as real jobs have them: drops, pieces of main, short pieces between fittings."""
    kinds = [(0.9, 1.6)] * 45 + [(0.3, 5.9)] * 25 + [(0.08, 0.3)] * 30
    return [chance.uniform(*chance.choice(kinds)) for _ in range(count)]


def main() -> None:
    """Print the table."""
    print("pieces  jobs  proved  mean over bound  ms a job")
    for count in (10, 20, 40, 100, 300, 1000):
        jobs = [job(count, random.Random(seed)) for seed in range(20 if count <= 100 else 3)]
        before = time.perf_counter()
        plans = [pack(lengths, (3.0, 6.0)) for lengths in jobs]
        taken_ms = (time.perf_counter() - before) * 1e3 / len(jobs)
        over = sum(plan.bought_m / plan.least_m - 1.0 for plan in plans) / len(jobs)
        proved = sum(plan.bought_m <= plan.least_m + 1e-9 for plan in plans)
        print(f"{count:6}{len(jobs):6}{proved:8}{over:16.2%}{taken_ms:11.1f}")


if __name__ == "__main__":
    main()
