"""The route of whole sites made by chance: as short as an exact search finds, clear of everything, always the same."""

from __future__ import annotations

import pytest
from generated_site import site_text
from hypothesis import given, settings
from hypothesis import strategies as st
from minimum_tree import least_cost

from drafter.layout import Layout, lay_out, routes
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.numbered_graph import Edges
from drafter.layout.obstacles import obstacles_in
from drafter.layout.steiner import Tree, cheapest_tree
from drafter.site import read


def laid_out(text: str) -> Layout:
    site, findings = read(text, "made.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return layout


@pytest.mark.parametrize("outlets", [4, 6, 8, 12])
@pytest.mark.parametrize("seed", range(3))
def test_no_tree_of_the_open_ways_is_cheaper(outlets: int, seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every tree searched for on the way is held against an integer program over the same ways."""
    searched: list[tuple[Edges, list[str], Tree | None]] = []

    def recorded(edges: Edges, terminals: list[str]) -> Tree | None:
        searched.append((edges, terminals, cheapest_tree(edges, terminals)))
        return searched[-1][2]

    monkeypatch.setattr(routes, "cheapest_tree", recorded)
    layout = laid_out(site_text(outlets, 1 + seed, seed))
    edges, terminals, tree = searched[-1]
    assert tree is not None
    least_m = least_cost(edges, terminals)
    assert tree.bound <= least_m + 1e-6
    assert tree.cost == pytest.approx(least_m)
    assert ("no way costs less" in layout.reasons[0]) == (tree.gap < 5e-4)


def lines_in(layout: Layout) -> set[tuple[object, ...]]:
    """Every run by its kind, its outlet and where it lies, to the tenth of a millimetre."""
    ends = {id: tuple(round(x, 4) + 0.0 for x in node.at) for id, node in layout.nodes.items()}
    return {(run.kind, run.outlet, ends[run.start], ends[run.end]) for run in layout.runs}


@settings(max_examples=15, deadline=None)
@given(st.integers(3, 12), st.integers(1, 3), st.integers(0, 500))
def test_what_holds_for_every_site(outlets: int, rooms: int, seed: int) -> None:
    """Every outlet is fed, no piece of main meets an obstacle, and the order of the outlets makes no difference."""
    layout = laid_out(site_text(outlets, rooms, seed))
    fed = {layout.nodes[run.end].tag for run in layout.runs if layout.nodes[run.end].kind is NodeKind.COUPLING}
    assert fed == {outlet.tag for outlet in layout.site.outlets}
    for run in layout.runs:
        start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
        if run.kind is RunKind.MAIN:
            assert not any(obstacle.meets(start, end) for obstacle in obstacles_in(layout.site, run.room))
    assert lines_in(laid_out(site_text(outlets, rooms, seed, shuffled=seed + 1))) == lines_in(layout)
    assert laid_out(site_text(outlets, rooms, seed)).runs == layout.runs
