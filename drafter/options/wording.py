"""A comparison in words: the cells of its table, which choice to take, and what stands against the others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.options.choosing import Choice
from drafter.options.comparing import Comparison
from drafter.options.figures import FITTING_M, Figures
from drafter.options.passing import OVER, ROUND
from drafter.options.variant import AS_GIVEN, LEVEL, MATERIAL, WAY, Option
from drafter.quantity import Units
from drafter.sizing.arm_shut import arm_shut_words

HEADS = (
    "no.", "choice", "worst tool", "air", "main", "drops", "bores", "tube", "fittings", "brackets", "pipes hold",
    "warnings", "cost", "why, or why not",
)  # fmt: skip
NUMBERS = frozenset(("air", "tube", "brackets", "pipes hold", "warnings", "cost"))
TAKE = "TAKE THIS"
COLUMNS = (
    "Worst tool: the one with the least to spare; the gauge pressure it has with the compressor at cut-in, and needs. "
    "Air: the fastest in the main, in the drops. Fittings: bends, tees, others."
)
RULE = (
    "The rule: it can be built; then every tool keeps its pressure with a margin; then the least cost where prices are "
    "given; then the fewest warnings; then the least pipework; else what the site file says."
)
NOTHING = "-"


def row(option: Option, choice: Choice, units: Units) -> tuple[str, ...]:
    """Return the cells of an option, in the order of `HEADS`."""
    verdict = choice.loses.get(option.id, TAKE)
    figures, warnings = option.figures, str(len(option.warnings))
    if figures is None:
        blank = (NOTHING,) * (len(HEADS) - 5)
        return (option.id, option.variant.title, *blank, warnings, NOTHING, verdict)
    return (
        option.id,
        option.variant.title,
        _worst(figures, units),
        f"{_number(units.velocity(figures.main_m_s))}, {units.velocity(figures.drops_m_s)}",
        _range([size.name for size in figures.main_sizes]),
        _range([size.name for size in figures.drop_sizes]),
        _bores(figures, units),
        units.long_length(figures.tube_m),
        f"{figures.bends}, {figures.tees}, {figures.other_fittings}",
        str(figures.brackets),
        units.line_volume(figures.volume_m3),
        warnings,
        NOTHING if figures.cost is None else f"{figures.cost:.2f}",
        verdict,
    )


def _worst(figures: Figures, units: Units) -> str:
    worst = figures.worst
    if not worst.needed_pa:
        return f"{worst.tag} {units.pressure(worst.tool_pressure_pa)}"
    return f"{worst.tag} {_number(units.pressure(worst.tool_pressure_pa))}, {units.pressure(worst.needed_pa)}"


def _number(quantity: str) -> str:
    return quantity.partition(" ")[0]


def _range(names: Sequence[str]) -> str:
    """One or two names, or the first and the last of more."""
    return f"{names[0]} to {names[-1]}" if len(names) > 2 else ", ".join(names)


def _bores(figures: Figures, units: Units) -> str:
    factor, digits, unit = (1 / 0.0254, 2, "in") if units.imperial else (1000.0, 1, "mm")
    main, drops = (
        _range([f"{size.bore_m * factor:.{digits}f}" for size in sizes])
        for sizes in (figures.main_sizes, figures.drop_sizes)
    )
    return f"{main}; {drops} {unit}"


def doors(comparison: Comparison) -> list[tuple[str, str]]:
    """Return by which options, of those that differ in it, the main passes over doorways or stays clear of them."""
    found: dict[str, list[str]] = {}
    for option in comparison.options:
        if option.figures and option.variant.group in (AS_GIVEN, WAY, LEVEL):
            found.setdefault(_passing_words(option.figures), []).append(option.id)
    return [(", ".join(ids), words) for words, ids in found.items() if words]


def _passing_words(figures: Figures) -> str:
    said = []
    for how, words in ((OVER, "passes over"), (ROUND, "stays clear of")):
        names = [passing.doorway for passing in figures.passings if passing.how == how]
        if names:
            said.append(f"{words} the {', '.join(names)}")
    return "; ".join(said)


def recommendation(comparison: Comparison) -> str:
    """Return which choice to take, and why."""
    site, choice = comparison.site, comparison.choice
    assert site is not None
    assert choice is not None
    taken = choice.taken
    if taken is None:
        error = comparison.options[0].first_error
        return "None of these can be built as described." + (f" As given: {error.message}." if error else "")
    who = (
        "Stay with the job as given (1)"
        if taken.variant.group == AS_GIVEN
        else f"Take {taken.id} ({taken.variant.title})"
    )
    figures = taken.figures
    keeps = ", every tool keeps its pressure with a margin" if figures and figures.keeps_pressure else ""
    given = comparison.options[0].figures
    loses_ring = given and given.arms_shut and figures and not figures.arms_shut
    gives_up = " What it gives up: a ring is fed from both sides." if loses_ring else ""
    return f"{who}: it can be built{keeps}, and {choice.why}.{gives_up}"


def remarks(comparison: Comparison) -> Iterator[str]:
    """Yield the rule, how costs are counted, and what a ring gives with an arm shut."""
    site = comparison.site
    assert site is not None
    yield COLUMNS
    fitting = site.units.long_length(FITTING_M)
    yield f"{RULE} Pipework is the tube, as cut, with {fitting} for each fitting."
    priced = any(option.figures and option.figures.cost is not None for option in comparison.options)
    if priced:
        yield (
            f"Costs are those of the tube, as cut, at the prices of the site file, with {fitting} of its tube for each "
            "fitting. What has no price is not compared by cost."
        )
    else:
        yield "No prices are given, so costs are not compared: add 'prices' and 'other prices' to the main."
    for option in comparison.options:
        if option.figures and option.variant.group != MATERIAL:
            shut = [f"with {each.valve} shut {arm_shut_words(each, site.units)}" for each in option.figures.arms_shut]
            if shut and option.variant.group != LEVEL:
                yield f"{option.id} is a ring, which goes on with one of its valves shut: {'; '.join(shut)}."


def against(comparison: Comparison) -> list[tuple[str, str, str]]:
    """Return what keeps choices from being built or drawn up: (their numbers or name, rule, reason)."""
    reasons: dict[tuple[str, str], list[str]] = {}
    for option in comparison.options:
        error = option.first_error
        if error:
            reasons.setdefault((error.rule, error.message), []).append(option.id)
    found = [(", ".join(ids), rule, message) for (rule, message), ids in reasons.items()]
    skipped: dict[str, list[str]] = {}
    for each in comparison.skipped:
        skipped.setdefault(each.why, []).append(each.title)
    return [*found, *((", ".join(titles), "not drawn up", why) for why, titles in skipped.items())]
