"""The rule by which a choice is taken, on outcomes made up."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafter.options.choosing import Choice, choose
from drafter.options.variant import Option
from drafter.quantity import Units

MakeOption = Callable[..., Option]
BAR = 1e5


def chosen(*options: Option) -> Choice:
    return choose(options, Units())


def taken(*options: Option) -> str | None:
    choice = chosen(*options)
    return choice.taken.id if choice.taken else None


def test_what_cannot_be_built_loses_to_what_can(made_up: MakeOption) -> None:
    choice = chosen(made_up("1", errors=1), made_up("2", warnings=5, cost=900.0, tube_m=500.0, keeps_pressure=False))
    assert choice.taken is not None
    assert choice.taken.id == "2"
    assert choice.loses == {"1": "cannot be built: WALL001"}
    assert choice.why == "it is the only one that can be"


def test_what_was_not_laid_out_cannot_be_built(made_up: MakeOption) -> None:
    assert taken(replace(made_up("1"), figures=None), made_up("2")) == "2"


def test_nothing_is_taken_where_nothing_can_be_built(made_up: MakeOption) -> None:
    choice = chosen(made_up("1", errors=1), made_up("2", errors=2))
    assert choice.taken is None
    assert set(choice.loses) == {"1", "2"}


def test_pressure_comes_before_cost(made_up: MakeOption) -> None:
    choice = chosen(made_up("1", keeps_pressure=False, cost=1.0), made_up("2", cost=9.0))
    assert choice.taken is not None
    assert choice.taken.id == "2"
    assert "needed" in choice.loses["1"]


def test_where_none_keeps_the_margin_the_most_pressure_wins(made_up: MakeOption) -> None:
    worst = made_up("1").figures.worst  # type: ignore[union-attr]
    low, high = (replace(worst, tool_pressure_pa=p * BAR, needed_pa=6.3 * BAR) for p in (6.4, 6.6))
    low_one, high_one = (
        made_up(id, keeps_pressure=False, worst=flow, cost=cost)
        for id, flow, cost in (("1", low, 1.0), ("2", high, 9.0))
    )
    assert taken(low_one, high_one) == "2"


def test_cost_comes_before_warnings(made_up: MakeOption) -> None:
    choice = chosen(made_up("1", cost=110.0), made_up("2", cost=100.0, warnings=3))
    assert choice.taken is not None
    assert choice.taken.id == "2"
    assert choice.loses == {"1": "costs 10.00 more"}
    assert choice.why == "it costs least, 100.00 for tube and fittings"


def test_what_has_no_price_loses_to_what_has(made_up: MakeOption) -> None:
    choice = chosen(made_up("1", cost=None), made_up("2", cost=100.0))
    assert choice.loses == {"1": "no price given for its tube"}


def test_costs_one_percent_apart_are_alike(made_up: MakeOption) -> None:
    assert taken(made_up("1", cost=100.9), made_up("2", cost=100.0)) == "1"
    assert taken(made_up("1", cost=101.1), made_up("2", cost=100.0)) == "2"


def test_warnings_come_before_metres(made_up: MakeOption) -> None:
    choice = chosen(made_up("1", warnings=1), made_up("2", tube_m=500.0))
    assert choice.taken is not None
    assert choice.taken.id == "2"
    assert choice.loses == {"1": "1 warning: WALL002"}


@pytest.mark.parametrize("fittings", ["bends", "tees", "other_fittings"])
def test_a_fitting_counts_as_60_centimetres_of_tube(made_up: MakeOption, fittings: str) -> None:
    few = {"bends": 10, "tees": 10, "other_fittings": 10}
    choice = chosen(made_up("1", tube_m=10.0, **few | {fittings: 20}), made_up("2", tube_m=10.0, **few))
    assert choice.loses == {"1": "6.00 m more pipework"}
    assert taken(made_up("1", tube_m=10.0, **few | {fittings: 20}), made_up("2", tube_m=16.0, **few)) == "1"


def test_pipework_five_percent_apart_is_alike_and_the_site_file_decides(made_up: MakeOption) -> None:
    none = {"bends": 0, "tees": 0, "other_fittings": 0}
    choice = chosen(made_up("2", tube_m=100.0, **none), made_up("1", tube_m=104.9, **none))
    assert choice.taken is not None
    assert choice.taken.id == "1"
    assert choice.loses == {"2": "no better than 1"}
    assert taken(made_up("2", tube_m=100.0, **none), made_up("1", tube_m=105.1, **none)) == "2"


def test_of_those_as_good_the_first_is_taken_where_the_given_one_lost(made_up: MakeOption) -> None:
    choice = chosen(made_up("1", errors=1), made_up("2"), made_up("3"), made_up("4"))
    assert choice.taken is not None
    assert choice.taken.id == "2"
    assert choice.why == "none of the others is better, though 2 are as good"
    assert choice.loses["3"] == choice.loses["4"] == "no better than 2"


OUTCOMES = st.lists(
    st.fixed_dictionaries(
        {
            "errors": st.integers(0, 1),
            "warnings": st.integers(0, 2),
            "keeps_pressure": st.booleans(),
            "cost": st.none() | st.floats(50.0, 200.0),
            "tube_m": st.floats(10.0, 40.0),
        }
    ),
    min_size=1,
    max_size=8,
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(outcomes=OUTCOMES)
def test_one_is_taken_and_every_other_has_its_reason(made_up: MakeOption, outcomes: list[dict[str, object]]) -> None:
    options = [made_up(str(number), **outcome) for number, outcome in enumerate(outcomes, 1)]
    choice = chosen(*options)
    kept = {choice.taken.id} if choice.taken else set()
    assert kept.isdisjoint(choice.loses)
    assert kept | set(choice.loses) == {option.id for option in options}
    assert all(choice.loses.values())
    assert (choice.taken is None) == (not any(option.can_be_built for option in options))
    if choice.taken:
        assert choice.taken.can_be_built
        least = [o for o in options if o.can_be_built and o.figures and o.figures.keeps_pressure]
        assert choice.taken in least or not least
