"""The tree that joins the outlets, against an exact search on small graphs."""

from __future__ import annotations

import random
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from minimum_tree import least_cost

from drafter.layout.numbered_graph import reachable
from drafter.layout.steiner import cheapest_tree


def ring(costs: list[int]) -> dict[str, dict[str, float]]:
    edges: dict[str, dict[str, float]] = {}
    for i, cost in enumerate(costs):
        a, b = f"s{i}", f"s{(i + 1) % len(costs)}"
        edges.setdefault(a, {})[b] = float(cost)
        edges.setdefault(b, {})[a] = float(cost)
    return edges


@given(st.lists(st.integers(1, 50), min_size=4, max_size=9), st.data())
def test_on_a_ring_the_widest_gap_is_left_out(costs: list[int], data: st.DataObject) -> None:
    names = [f"s{i}" for i in range(len(costs))]
    terminals = data.draw(st.lists(st.sampled_from(names), min_size=2, max_size=len(names), unique=True))
    tree = cheapest_tree(ring(costs), terminals)
    assert tree is not None
    at = sorted(int(name[1:]) for name in terminals)
    gaps = [
        sum(costs[(a + k) % len(costs)] for k in range((b - a) % len(costs)))
        for a, b in zip(at, at[1:] + at[:1], strict=True)
    ]
    assert tree.cost == sum(costs) - max(gaps)
    assert tree.gap == 0.0


def test_a_cut_graph_has_no_tree() -> None:
    edges = {"a": {"b": 1.0}, "b": {"a": 1.0}, "c": {}}
    assert cheapest_tree(edges, ["a", "c"]) is None
    assert reachable(edges, "a") == {"a", "b"}


def test_a_branch_point_is_used() -> None:
    """A star with a middle: joining the three tips costs three, over the middle that is no terminal."""
    edges: dict[str, dict[str, float]] = {"m": dict.fromkeys("abc", 1.0)} | {t: {"m": 1.0} for t in "abc"}
    for one, other in combinations("abc", 2):
        edges[one][other] = edges[other][one] = 2.1
    tree = cheapest_tree(edges, ["a", "b", "c"])
    assert tree is not None
    assert tree.pieces == {frozenset(("m", t)) for t in "abc"}
    assert (tree.cost, tree.bound) == (3.0, 3.0)


def grid(size: int, chance: random.Random) -> dict[str, dict[str, float]]:
    """A square grid of streets of uneven length."""
    edges: dict[str, dict[str, float]] = {}
    for x in range(size):
        for y in range(size):
            for across, up in ((1, 0), (0, 1)):
                if x + across < size and y + up < size:
                    a, b, cost = f"{x},{y}", f"{x + across},{y + up}", chance.uniform(1.0, 3.0)
                    edges.setdefault(a, {})[b] = cost
                    edges.setdefault(b, {})[a] = cost
    return edges


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("size, count", [(4, 4), (5, 6), (6, 8)])
def test_on_grids_the_tree_is_the_cheapest_or_nearly_so(size: int, count: int, seed: int) -> None:
    chance = random.Random(seed)
    edges = grid(size, chance)
    terminals = chance.sample(sorted(edges), count)
    tree, best = cheapest_tree(edges, terminals), least_cost(edges, terminals)
    assert tree is not None
    assert tree.bound <= best + 1e-6
    assert best - 1e-6 <= tree.cost <= 1.03 * best


@given(st.integers(0, 10_000), st.integers(3, 6), st.data())
@settings(max_examples=60, deadline=None)
def test_what_every_tree_keeps(seed: int, size: int, data: st.DataObject) -> None:
    edges = grid(size, random.Random(seed))
    terminals = data.draw(st.lists(st.sampled_from(sorted(edges)), min_size=1, max_size=9, unique=True))
    tree = cheapest_tree(edges, terminals)
    assert tree is not None
    assert tree.bound <= tree.cost + 1e-9
    kept: dict[str, dict[str, float]] = {}
    for a, b in map(tuple, tree.pieces):
        kept.setdefault(a, {})[b] = kept.setdefault(b, {})[a] = edges[a][b]
    assert set(terminals) <= reachable(kept, terminals[0])
    assert len(tree.pieces) == max(0, len(kept) - 1)
    assert all(len(others) > 1 or name in terminals for name, others in kept.items())
    other = cheapest_tree(edges, [terminals[0], *reversed(terminals[1:])])
    assert other is not None
    assert other.pieces == tree.pieces
