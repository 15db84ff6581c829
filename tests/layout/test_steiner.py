"""The tree that joins the outlets, against an exact search on small graphs."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from drafter.layout.steiner import cheapest_tree, reachable


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
    assert sum(ring(costs)[a][b] for a, b in map(tuple, tree)) == sum(costs) - max(gaps)


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
    assert tree == {frozenset(("m", t)) for t in "abc"}
