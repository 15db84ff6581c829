"""How long networks of 10, 100 and 1 000 pipes take; run with --benchmark-enable."""

import numpy as np
import pytest

from drafter.sizing.solving.solver import solve


def tree(pipes):
    end = np.arange(1, pipes + 1)
    return (end - 1) // 3, end, pipes + 1


def grid(pipes):
    side = round((1.0 + np.sqrt(1.0 + 2.0 * pipes)) / 2.0)
    number = np.arange(side * side).reshape(side, side)
    start = np.concatenate([number[:, :-1].ravel(), number[:-1].ravel()])
    end = np.concatenate([number[:, 1:].ravel(), number[1:].ravel()])
    return start, end, side * side


@pytest.mark.parametrize("pipes", [10, 100, 1000])
@pytest.mark.parametrize("shape", [tree, grid])
def test_solve(benchmark, shape, pipes):
    start, end, nodes = shape(pipes)
    count = start.size
    outflow = np.where(np.arange(nodes) % 2, 0.05 / nodes, 0.0)
    arrays = (np.full(count, 5.0), np.full(count, 0.035), np.full(count, 7e-6), np.full(count, 1.0))
    state = benchmark(solve, start, end, *arrays, nodes, outflow, [0], [8e5], 293.15)
    assert state.converged
    assert not state.choked
