"""The treatment does not give an outlet the air its use asks for.

Why: tools wear by dust and standing water, paint shows every drop of water and oil.
Passes: particles, water and oil of the treatment train and the outlet's own units, typical of their kinds, reach
the outlet's class: the one given, or the usual one of what the air is for.
Fails: a warning with the units to add; a note for outlets for tools whose use is not given in the site file.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import NOTE, WARNING, Rule
from drafter.sizing.air_quality import OutletAir, outlet_air
from drafter.standards.purity import air_use, purity_words
from drafter.supports.design import Design

RULE = Rule("AIR001", "air unfit for its use", "ISO 8573-1:2010, read in two independent summaries", (WARNING, NOTE))


def check(design: Design) -> Iterator[Finding]:
    unfit = [air for air in outlet_air(design.network) if not air.fits]
    usual = [air for air in unfit if not air.asked_for and air.used_for == "tools"]
    for air in unfit:
        if air not in usual:
            yield _finding(design, [air], WARNING)
    for to_add in dict.fromkeys(air.to_add for air in usual):
        yield _finding(design, [air for air in usual if air.to_add == to_add], NOTE)


def _finding(design: Design, airs: list[OutletAir], severity: Severity) -> Finding:
    """One finding for outlets that lack the same."""
    first, tags = airs[0], ", ".join(air.tag for air in airs)
    outlet = next(outlet for outlet in design.network.layout.site.outlets if outlet.tag == first.tag)
    given = "purity" if outlet.purity else "air_for" if outlet.air_for else "tools"
    source = RULE.source if outlet.purity else f"{RULE.source}; {air_use(first.used_for).source}"
    return RULE.finding(
        severity,
        outlet.where(given),
        f"{tags} for {first.used_for}: the treatment gives air of about class {first.reached}, "
        f"wanted is {first.wanted}",
        measured=str(first.reached),
        limit=f"{first.wanted}: {purity_words(first.wanted)}",
        fix=_what_helps(design, first) + ("" if first.used_for == "paint" else "; or say which class does"),
        write=_what_does(first),
        subject=first.tag,
        source=source,
    )


def _what_helps(design: Design, air: OutletAir) -> str:
    """What to add; a dryer that stands there already but does not dry enough is named instead."""
    dryers = [unit.kind for unit in design.network.layout.site.treatment if unit.kind.endswith("dryer")]
    adds = [unit for unit in air.to_add if not (unit.endswith("dryer") and dryers)]
    if len(adds) == len(air.to_add):
        sheets = "their data sheets confirm" if len(adds) > 1 else "its data sheet confirms"
        return f"add {' and '.join(adds)}, as {sheets}"
    lower = f"the {dryers[-1]} does not dry enough: set a lower dew point, or take a desiccant dryer"
    return f"{lower}; add {' and '.join(adds)}" if adds else lower


def _what_does(air: OutletAir) -> str:
    """For tools a lower class may be written; paint is spoilt by it."""
    return "" if air.used_for == "paint" else f"class: {air.reached}"
