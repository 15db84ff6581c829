"""How long the solver takes, against one sparse solve of the same size and, where installed, against pandapipes.

Run: python tests/sizing/solving/benchmark_solver.py
"""

from __future__ import annotations

import dataclasses
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.linalg import spsolve

sys.path.insert(0, str(Path(__file__).parent))

from networks import Piping, grid, piping, tree

from drafter.sizing.solving import solve_cases


def best_ms(run: Callable[[], object]) -> float:
    """Shortest of several runs [ms], so that other work on the machine counts little."""
    times = []
    began = time.perf_counter()
    while len(times) < 5 or time.perf_counter() - began < 0.7:
        before = time.perf_counter()
        run()
        times.append(time.perf_counter() - before)
    return min(times) * 1e3


def sparse_solve_ms(network: Piping) -> float:
    """One solve of a system with the network's pattern, with the library's own defaults [ms]."""
    start, end, size = network.start, network.end, network.node_count
    values = np.random.default_rng(0).uniform(0.5, 1.5, start.size)
    entries = np.concatenate([values, values, -values, -values])
    places = (np.concatenate([start, end, start, end]), np.concatenate([start, end, end, start]))
    matrix = coo_array((entries, places), shape=(size, size)).tocsc()[1:, 1:].tocsc()
    right = np.ones(size - 1)
    return best_ms(lambda: spsolve(matrix, right))


def pandapipes_ms(network: Piping) -> float:
    """The same network by pandapipes with Colebrook's formula [ms]; NaN where it is not installed."""
    try:
        from pandapipes_network import colebrook_pressures_pa, pandapipes_network
    except ImportError:
        return float("nan")
    other = pandapipes_network(network)
    return best_ms(lambda: colebrook_pressures_pa(other))


def main() -> None:
    """Print the table."""
    print("shape   pipes  solve ms  in sparse solves  steps  pandapipes/solve")
    for name, shape in (("tree", tree), ("grid", grid)):
        for count in (10, 100, 1000, 10000):
            network = piping(shape(count))
            state = network.solve()
            assert state.converged
            taken, one, other = best_ms(network.solve), sparse_solve_ms(network), pandapipes_ms(network)
            size = network.start.size
            print(f"{name:6}{size:7}{taken:10.2f}{taken / one:18.1f}{state.iterations:7}{other / taken:18.0f}")
    network = piping(tree(10))
    draws = network.outflow_kg_s * np.random.default_rng(2).uniform(0.0, 2.0, (12, network.node_count))
    arguments = {field.name: getattr(network, field.name) for field in dataclasses.fields(network)}
    del arguments["outflow_kg_s"]
    together = best_ms(lambda: solve_cases(**arguments, outflows_kg_s=draws))
    apart = best_ms(lambda: [dataclasses.replace(network, outflow_kg_s=draw).solve() for draw in draws])
    print(f"12 cases of a tree of 10 pipes: {together:.2f} ms together, {apart:.2f} ms one by one")


if __name__ == "__main__":
    main()
