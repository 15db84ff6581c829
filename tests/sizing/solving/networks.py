"""Networks for tests and benchmark of the solver: made by rule, invented, of any size."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np

from drafter.sizing.solving import Solution, solve


@dataclass(frozen=True)
class Piping:
    """A network of pipes with one supply, node 0, as the arrays that `solve` takes."""

    start: np.ndarray
    end: np.ndarray
    length_m: np.ndarray
    bore_m: np.ndarray
    roughness_m: np.ndarray
    loss_coefficient: np.ndarray
    node_count: int
    outflow_kg_s: np.ndarray
    supply_nodes: tuple[int, ...] = (0,)
    supply_absolute_pa: tuple[float, ...] = (8e5,)
    temperature_k: float = 293.15

    def solve(self, **devices: object) -> Solution:
        arguments = [getattr(self, field.name) for field in dataclasses.fields(self)]
        return solve(*arguments, **devices)


def tree(pipes: int, children: int = 3) -> tuple[np.ndarray, np.ndarray, int]:
    """Starts, ends and number of nodes of a tree whose nodes have so many children."""
    end = np.arange(1, pipes + 1)
    return (end - 1) // children, end, pipes + 1


def grid(pipes: int) -> tuple[np.ndarray, np.ndarray, int]:
    """Starts, ends and number of nodes of a square mesh with about so many pipes."""
    side = round((1.0 + np.sqrt(1.0 + 2.0 * pipes)) / 2.0)
    number = np.arange(side * side).reshape(side, side)
    start = np.concatenate([number[:, :-1].ravel(), number[:-1].ravel()])
    end = np.concatenate([number[:, 1:].ravel(), number[1:].ravel()])
    return start, end, side * side


def piping(shape: tuple[np.ndarray, np.ndarray, int], *, drop_pa: float = 0.5e5, seed: int = 1) -> Piping:
    """Pipes of mixed length and bore on a shape, every second node drawing, some `drop_pa` lost in all."""
    start, end, nodes = shape
    chance = np.random.default_rng(seed)
    made = Piping(
        start,
        end,
        chance.uniform(1.0, 10.0, start.size),
        chance.choice([0.016, 0.021, 0.027, 0.035], start.size),
        np.full(start.size, 7e-6),
        chance.uniform(0.0, 3.0, start.size),
        nodes,
        np.where(np.arange(nodes) % 2, 1e-2 / nodes, 0.0),
    )
    for _ in range(4):
        lost = 8e5 - np.nanmin(made.solve().absolute_pressure_pa)
        made = dataclasses.replace(made, outflow_kg_s=made.outflow_kg_s * (drop_pa / lost) ** 0.54)
    return made
