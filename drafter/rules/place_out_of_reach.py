"""A place that the site file names is not reached by any hose.

Why: a hose that is a little too short is lengthened with what lies about, and its tool starves, or is pulled over.
Passes: each spot of the place, at the height of its work, is within the length of some hose on its way round walls,
columns and what stands on the floor; all round a thing, several hoses may share its sides.
Fails: a spot is beyond all of them, or no way leads there: doors are taken as shut.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.reach import PlaceReach, hose_length_m
from drafter.layout.reach_words import place_title, up_length
from drafter.rules.rule import WARNING, Rule
from drafter.supports.design import Design

RULE = Rule(
    "REACH001", "a place no hose reaches", "shortest ways in plan; height of the work: common practice", (WARNING,)
)


def check(design: Design) -> Iterator[Finding]:
    layout = design.network.layout
    for place in layout.reach.places if layout.site.work_places else ():
        if not place.is_reached:
            yield _finding(place, design)


def _finding(place: PlaceReach, design: Design) -> Finding:
    units = design.network.layout.site.units
    entry, remedy, what = place.entry, place.remedy, place_title(place)
    if remedy is None:
        message, measured = f"no way leads a hose to {what}: doors are taken as shut", "no way"
        fix = "put an outlet into its room, or check where it is and what stands about it"
    else:
        tag, more_m = remedy
        short, need = up_length(-place.left_m, units), up_length(_length_m(design, tag) + more_m, units)
        part = f" ({', '.join(place.in_part)} reach part of it)" if place.in_part else ""
        message, measured = f"no hose reaches {what}: the nearest lacks {short}{part}", f"{short} short"
        fix = f"hang a hose of {need} at {tag}, or put an outlet nearer"
    at = entry.where("around" if entry.around else "from_left_m")
    return RULE.finding(WARNING, at, message, measured=measured, limit="within a hose", fix=fix, subject=entry.title)


def _length_m(design: Design, tag: str) -> float:
    return next(hose_length_m(outlet) for outlet in design.network.layout.site.outlets if outlet.tag == tag)
