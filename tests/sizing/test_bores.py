"""Bores: the least tube that keeps all limits, against every other choice; and what is said of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.layout import Layout
from drafter.sizing import Network
from drafter.sizing.bores import Choice, choose_bores
from drafter.sizing.cases import Piping
from drafter.sizing.explaining import price_words
from drafter.sizing.groups import groups_of, sizes_of_sections, total_cost, velocity_m_s
from drafter.sizing.least_cost import Row, least_cost
from drafter.sizing.sizing import piping_of
from drafter.standards import limits

Lay = Callable[..., Layout]
Tool = Callable[..., str]


def needing(piping: Piping, drop_pa: float) -> Mapping[str, float]:
    """A need at every outlet that leaves so much for the piping to lose."""
    return dict.fromkeys(piping.demand.peaks_m3_s, piping.supply_absolute_pa - drop_pa)


def keeps(piping: Piping, choice: Choice, chosen: tuple, drop_pa: float) -> bool:
    sizes = sizes_of_sections(piping, choice.groups, chosen)
    for tag, case in piping.worst_cases(sizes).items():
        if piping.at_coupling_pa(piping.solve(sizes, case), tag) < piping.supply_absolute_pa - drop_pa - 1.0:
            return False
    return all(
        velocity_m_s(piping, group.peak_m3_s, size) <= group.velocity_limit_m_s
        and (group.fed_by is None or chosen[group.fed_by].bore_m >= size.bore_m)
        for group, size in zip(choice.groups, chosen, strict=True)
    )


@pytest.mark.parametrize("drop_mbar", [25, 40, 60, 100])
@pytest.mark.parametrize("sizing", ["one size", "stepped"])
def test_no_cheaper_choice_keeps_all_limits(lay: Lay, tool: Tool, sizing: str, drop_mbar: int) -> None:
    """All combinations of sizes of a tree with three outlets are tried: none that keeps the limits costs less."""
    layout = lay([tool("3 l/s"), tool("2 l/s"), tool("1.5 l/s"), tool("2.5 l/s")][:3], f", sizing: {sizing}", width=60)
    piping = piping_of(layout)
    drop_pa = drop_mbar * 100.0
    choice = choose_bores(piping, needing(piping, drop_pa))
    assert keeps(piping, choice, choice.chosen, drop_pa)
    cost = total_cost(piping, choice.groups, choice.chosen)
    for chosen in product(*(group.sizes[:4] for group in choice.groups)):
        if total_cost(piping, choice.groups, chosen) < cost * (1.0 - 1e-9):
            assert not keeps(piping, choice, chosen, drop_pa), [size.name for size in chosen]
    assert choice.gap < 1e-6


def test_the_pressure_makes_the_main_larger_than_the_velocity_alone_would(lay: Lay, tool: Tool) -> None:
    piping = piping_of(lay([tool("3 l/s"), tool("2 l/s")], width=60))
    loose, tight = (choose_bores(piping, needing(piping, drop)) for drop in (0.25e5, 0.012e5))
    assert tight.chosen[0].bore_m > loose.chosen[0].bore_m
    assert set(tight.bound_by.values()) == {"tool"}


def test_what_no_size_can_give_a_tool_does_not_widen_the_pipes(lay: Lay, tool: Tool) -> None:
    """A tool that wants more than comes in is the compressor's fault: the bores are those for the loss alone."""
    piping = piping_of(lay([tool("3 l/s"), tool("2 l/s")]))
    beyond = choose_bores(piping, needing(piping, -1e5))
    assert beyond.chosen == choose_bores(piping, needing(piping, 0.3e5)).chosen
    assert set(beyond.bound_by.values()) == {"loss"}


def test_stepped_tube_never_costs_more_than_one_size(lay: Lay, tool: Tool) -> None:
    tools = [tool(f"{flow} l/s") for flow in (6, 2, 5, 1, 3)]
    costs = []
    for sizing in ("one size", "stepped"):
        piping = piping_of(lay(tools, f", sizing: {sizing}"))
        choice = choose_bores(piping, needing(piping, 0.1e5))
        costs.append(total_cost(piping, choice.groups, choice.chosen))
    assert costs[1] < costs[0]


def test_no_stretch_is_wider_than_the_one_that_feeds_it(sized: Callable[..., Network], tool: Tool) -> None:
    network = sized([tool(f"{flow} l/s") for flow in (6, 2, 5, 1, 3)], main=", sizing: stepped")
    for run in network.layout.runs:
        for after in network.layout.runs_at[run.end]:
            if after.start == run.end:
                assert network.sizes[after.id].bore_m <= network.sizes[run.id].bore_m
    assert len({size.name for size in network.sizes.values()}) > 2


@pytest.mark.parametrize("sizing", ["one size", "stepped"])
def test_drops_are_no_smaller_than_is_usual_unless_the_site_file_says_so(
    sized: Callable[..., Network], tool: Tool, sizing: str
) -> None:
    network = sized([tool("1 l/s"), tool("0.5 l/s")], main=f", sizing: {sizing}")
    drops = [choice for choice in network.choices if choice.where.startswith("drop")]
    assert {choice.size for choice in drops} == {"1/2"}
    assert {choice.decided_by for choice in drops} == {"the smallest that is usual for drops"}
    given = sized([tool("1 l/s"), tool("0.5 l/s")], main=f', sizing: {sizing}, drop size: "3/8"')
    assert {choice.size for choice in given.choices if choice.where.startswith("drop")} == {"3/8"}


def test_only_sizes_with_a_price_are_chosen(sized: Callable[..., Network], tool: Tool) -> None:
    prices = ', prices: {"3/8": 9, "1": 5, "1-1/4": 4.5}'
    network = sized([tool("3 l/s"), tool("2 l/s")], main=prices)
    assert {size.name for size in network.sizes.values()} == {"1-1/4"}


@pytest.mark.parametrize("sizing", ["one size", "stepped"])
def test_the_sizes_next_to_the_chosen_are_tried(sized: Callable[..., Network], tool: Tool, sizing: str) -> None:
    network = sized([tool("6 l/s"), tool("5 l/s"), tool("3 l/s")], main=f", sizing: {sizing}", width=40)
    assert sorted(run for choice in network.choices for run in choice.runs) == sorted(network.sizes)
    for choice in network.choices:
        assert {network.sizes[run].name for run in choice.runs} == {choice.size}
        if choice.smaller:
            assert choice.smaller.velocity_m_s > choice.velocity_m_s
            least_of_drops = choice.where.startswith("drop") and choice.size == network.material.least_drop
            assert not choice.smaller.keeps or least_of_drops
        if choice.larger:
            assert choice.larger.velocity_m_s < choice.velocity_m_s
            assert choice.larger.gauge_pressure_pa > (choice.smaller.gauge_pressure_pa if choice.smaller else 0.0)


def test_the_velocity_limit_holds_at_the_peak_behind_each_stretch(lay: Lay, tool: Tool) -> None:
    piping = piping_of(lay([tool(f"{flow} l/s") for flow in (6, 2, 5, 1, 3)], ", sizing: stepped", ", at once: 2"))
    for group in groups_of(piping):
        fastest = velocity_m_s(piping, group.peak_m3_s, group.sizes[0])
        limit = limits.BRANCH_VELOCITY_PREFERRED_M_S if group.is_drop else limits.MAIN_VELOCITY_PREFERRED_M_S
        assert fastest <= limit.value
        behind = piping.sections.sections[group.sections[0]].outlets
        assert group.peak_m3_s == pytest.approx(sum(sorted(map(piping.demand.peaks_m3_s.get, behind))[-2:]))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_the_integer_program_finds_what_trying_all_finds(seed: int) -> None:
    """Random trees of four groups with three sizes and two rows; every combination is tried beside the program."""
    random = np.random.default_rng(seed)
    costs = [np.sort(random.uniform(1, 9, 3)) for _ in range(4)]
    widths = [np.array([1.0, 2.0, 3.0])] * 4
    fed_by = [None, 0, 0, 1]
    rows = [
        Row(tuple(np.sort(random.uniform(0, 5, 3))[::-1] if random.random() < 0.8 else None for _ in range(4)), budget)
        for budget in random.uniform(2, 12, 2)
    ]
    found = least_cost(costs, widths, fed_by, rows)

    def keeps_rows(chosen: tuple[int, ...]) -> bool:
        drops = [sum(p[i] for p, i in zip(row.contributions, chosen, strict=True) if p is not None) for row in rows]
        falls = all(b is None or widths[n][chosen[n]] <= widths[b][chosen[b]] for n, b in enumerate(fed_by))
        return falls and all(drop <= row.budget + 1e-9 for drop, row in zip(drops, rows, strict=True))

    tried = [
        sum(cost[i] for cost, i in zip(costs, chosen, strict=True))
        for chosen in product(range(3), repeat=4)
        if keeps_rows(chosen)
    ]
    assert (found is None) == (not tried)
    if found is not None:
        assert sum(cost[i] for cost, i in zip(costs, found.chosen, strict=True)) == pytest.approx(min(tried), rel=1e-6)
        assert found.bound == pytest.approx(min(tried), rel=1e-6)


def test_what_the_next_size_costs_more_or_less(sized: Callable[..., Network], tool: Tool) -> None:
    """By hand: the length of the stretch times the difference of the two prices."""
    prices = ', prices: {"3/8": 3, "1/2": 4, "3/4": 6.5, "1": 9}'
    network = sized([tool("6 l/s"), tool("5 l/s"), tool("3 l/s")], main=prices)
    main = network.choices[0]
    length_m = sum(network.layout.length_m(network.layout.run_by_id[run]) for run in main.runs)
    each = {"3/8": 3.0, "1/2": 4.0, "3/4": 6.5, "1": 9.0}
    assert main.larger is not None
    more = length_m * (each[main.larger.size] - each[main.size])
    assert price_words(network, main, main.larger) == f"; tube {more:.2f} dearer"
    plain = sized([tool("6 l/s"), tool("5 l/s"), tool("3 l/s")])
    assert plain.choices[0].larger is not None
    assert price_words(plain, plain.choices[0], plain.choices[0].larger) == ""


def test_sizes_that_are_given_are_held_against_the_next_ones_too(sized: Callable[..., Network], tool: Tool) -> None:
    network = sized([tool("6 l/s"), tool("5 l/s")], main=', size: "3/4"')
    main = network.choices[0]
    assert main.decided_by == "size given in the site file"
    assert main.smaller is not None
    assert main.larger is not None
    assert (main.smaller.size, main.larger.size) == ("1/2", "1")
    assert main.smaller.velocity_m_s > main.velocity_m_s > main.larger.velocity_m_s
