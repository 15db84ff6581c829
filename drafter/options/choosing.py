"""Which choice to take: one rule, applied step by step, and what each of the others loses by.

1. It can be built: no finding is an error.
2. Every tool keeps its pressure, with a margin; where none keeps it, those that leave the worst tool most.
3. The least cost of tube and fittings, where the site file has prices; what has none loses to what has.
4. The fewest warnings.
5. The least pipework: metres of tube, with so many for each fitting.
6. What the site file says; else what is nearest to it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from drafter.options.figures import Figures
from drafter.options.variant import AS_GIVEN, Option
from drafter.quantity import Units

ALIKE_COST, ALIKE_PIPEWORK = 0.01, 0.05
"""Costs and metres that differ by less than such a share count as the same: they are known no better."""

ALIKE_PA = 0.02e5
"""Pressures nearer than this are one."""


@dataclass(frozen=True)
class Choice:
    """The outcome of the rule.

    Attributes:
        taken: None where nothing can be built.
        why: what decided for it, in words.
        loses: by id of each other option, why it is not taken.
    """

    taken: Option | None
    why: str
    loses: Mapping[str, str]


@dataclass(frozen=True)
class _Step:
    """One step of the rule: the options that go on, and why each of the others does not."""

    won_by: str
    lost: Mapping[str, str]


def choose(options: Sequence[Option], units: Units) -> Choice:
    """Return which of some options to take."""
    left, loses, won_by = list(options), dict[str, str](), "there is no other"
    for decide in _STEPS:
        step = decide(left, units)
        if step.lost:
            left = [option for option in left if option.id not in step.lost]
            loses |= step.lost
            won_by = step.won_by
    return Choice(left[0] if left else None, won_by, loses)


def _by_errors(options: Sequence[Option], _: Units) -> _Step:
    lost = {each.id: _error_words(each) for each in options if not each.can_be_built}
    return _Step("it is the only one that can be", lost)


def _error_words(option: Option) -> str:
    error = option.first_error
    return f"cannot be built: {error.rule}" if error else "cannot be built"


def _figures(option: Option) -> Figures:
    assert option.figures is not None
    return option.figures


def _by_pressure(options: Sequence[Option], units: Units) -> _Step:
    if any(_figures(each).keeps_pressure for each in options):
        lost = {each.id: _pressure_words(each, units) for each in options if not _figures(each).keeps_pressure}
        return _Step("the others do not keep it", lost)
    spare = {each.id: _figures(each).worst.tool_pressure_pa - _figures(each).worst.needed_pa for each in options}
    most = max(spare.values(), default=0.0)
    lost = {each.id: _pressure_words(each, units) for each in options if spare[each.id] < most - ALIKE_PA}
    return _Step("it leaves the worst tool most pressure, though none keeps the margin", lost)


def _pressure_words(option: Option, units: Units) -> str:
    worst = _figures(option).worst
    return f"{units.pressure(worst.tool_pressure_pa)} at {worst.tag}, {units.pressure(worst.needed_pa)} needed"


def _by_cost(options: Sequence[Option], _: Units) -> _Step:
    costs = {each.id: cost for each in options if (cost := _figures(each).cost) is not None}
    if not costs:
        return _Step("", {})
    least = min(costs.values())
    lost = {
        each.id: f"costs {costs[each.id] - least:.2f} more" if each.id in costs else "no price given for its tube"
        for each in options
        if costs.get(each.id, 2 * least) > least * (1 + ALIKE_COST)
    }
    return _Step(f"it costs least, {least:.2f} for tube and fittings", lost)


def _by_warnings(options: Sequence[Option], _: Units) -> _Step:
    least = min((len(each.warnings) for each in options), default=0)
    lost = {each.id: _warning_words(each) for each in options if len(each.warnings) > least}
    return _Step(f"it has the fewest warnings, {least}" if least else "it has no warnings", lost)


def _warning_words(option: Option) -> str:
    rules = ", ".join(dict.fromkeys(finding.rule for finding in option.warnings))
    return f"{len(option.warnings)} warning{'s' * (len(option.warnings) > 1)}: {rules}"


def _by_pipework(options: Sequence[Option], units: Units) -> _Step:
    least = min((_figures(each).pipework_m for each in options), default=0.0)
    lost = {
        each.id: f"{units.long_length(_figures(each).pipework_m - least)} more pipework"
        for each in options
        if _figures(each).pipework_m > least * (1 + ALIKE_PIPEWORK)
    }
    return _Step(f"it takes the least pipework, {units.long_length(least)}", lost)


def _by_what_was_given(options: Sequence[Option], _: Units) -> _Step:
    order = sorted(options, key=lambda each: (each.variant.group != AS_GIVEN, len(each.variant.changes)))
    lost = {each.id: f"no better than {order[0].id}" for each in order[1:]}
    as_good = "one is" if len(lost) == 1 else f"{len(lost)} are"
    return _Step(f"none of the others is better, though {as_good} as good", lost)


_STEPS = (_by_errors, _by_pressure, _by_cost, _by_warnings, _by_pipework, _by_what_was_given)
