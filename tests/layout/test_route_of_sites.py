"""The route of whole sites made by chance: as short as an exact search finds, clear of everything, always the same."""

from __future__ import annotations

import pytest
from generated_site import site_text
from hypothesis import given, settings
from hypothesis import strategies as st
from minimum_tree import least_cost

from drafter.finding import errors
from drafter.layout import Layout, lay_out, routes
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.numbered_graph import Edges
from drafter.layout.obstacles import obstacles_in
from drafter.layout.steiner import Tree, cheapest_tree
from drafter.pipeline import design
from drafter.site import read


def laid_out(text: str) -> Layout:
    site, findings = read(text, "made.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return layout


PLAIN = [(outlets, 1 + seed, seed, False) for outlets in (4, 6, 8, 12) for seed in range(3)]
FULL = [(6, 1, 3, True), (4, 2, 1, True), (8, 2, 25, True), (5, 3, 11, True), (9, 1, 13, True)]


@pytest.mark.parametrize("outlets, rooms, seed, full", [*PLAIN, *FULL])
def test_no_tree_of_the_open_ways_is_cheaper(
    outlets: int, rooms: int, seed: int, full: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every tree searched for on the way is held against an integer program over the same ways."""
    searched: list[tuple[Edges, list[str], Tree | None]] = []

    def recorded(edges: Edges, terminals: list[str]) -> Tree | None:
        searched.append((edges, terminals, cheapest_tree(edges, terminals)))
        return searched[-1][2]

    monkeypatch.setattr(routes, "cheapest_tree", recorded)
    site, findings = read(site_text(outlets, rooms, seed, full=full), "made.yaml")
    assert site is not None, findings
    layout, _ = lay_out(site)
    edges, terminals, tree = searched[-1]
    assert tree is not None
    least_m = least_cost(edges, terminals)
    assert tree.bound <= least_m + 1e-6
    assert tree.cost == pytest.approx(least_m)
    if layout is not None:
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


def undrained(layout: Layout) -> list[str]:
    """Nodes of the main that water of it runs to and does not leave."""
    main = {run.id for run in layout.runs if run.kind in (RunKind.MAIN, RunKind.SLEEVE, RunKind.RISE)}
    found = []
    for id, node in layout.nodes.items():
        runs = layout.runs_at[id]
        ends = [layout.nodes[run.end if run.start == id else run.start].at.z for run in runs if run.kind is not
                RunKind.SWAN_NECK and run.kind is not RunKind.RISING]  # fmt: skip
        if any(run.id in main for run in runs) and all(z > node.at.z + 1e-9 for z in ends):
            found.append(id)
    return found


@settings(max_examples=25, deadline=None)
@given(st.integers(3, 12), st.integers(1, 3), st.integers(0, 500))
def test_what_holds_where_much_stands_in_the_way(outlets: int, rooms: int, seed: int) -> None:
    """Round columns, in front of pipes and across rooms: nothing is met, all drains, and the parts go together."""
    text = site_text(outlets, rooms, seed, full=True)
    done = design(text, "made.yaml")
    layout = done.layout
    if layout is None:
        assert errors(list(done.findings))
        return
    for run in layout.runs:
        start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
        if run.kind is RunKind.MAIN:
            assert not any(obstacle.meets(start, end) for obstacle in obstacles_in(layout.site, run.room))
    assert undrained(layout) == []
    assert not [finding for finding in done.findings if finding.rule == "JOIN001"]
    assert done.design is not None
    held = {bracket.run for bracket in done.design.brackets}
    long = [run for run in layout.runs if run.wall.startswith("crossing") and layout.length_m(run) > 1.5]
    assert all(run.id in held for run in long)
    assert design(text, "made.yaml").layout == layout
