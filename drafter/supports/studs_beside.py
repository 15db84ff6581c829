"""Outlets that stand just beside a stud: a little along the wall, and what holds their drop needs no boards."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from drafter.finding import Finding, Severity
from drafter.sizing.network import Network
from drafter.supports.design import Bracket, Console
from drafter.supports.framing import MEETS_M, studs_on

BESIDE_M = 0.05
"""An outlet may as well hang so far from where it was thought of (common practice)."""

FEWEST = 2
"""Boards that it must save to be worth saying."""


def studs_beside(network: Network, brackets: Sequence[Bracket], consoles: Sequence[Console]) -> Iterator[Finding]:
    """Yield CLIP004 for each outlet that could hang before a stud."""
    site = network.layout.site
    carried = _carried(network, brackets, consoles)
    for outlet in site.outlets:
        studs = studs_on(site, site.wall(outlet.room, outlet.wall))
        if not studs:
            continue
        nearest = min(studs, key=lambda stud: abs(stud.at_m - outlet.from_left_m))
        fixed = (each for each in carried.get(outlet.tag, ()) if abs(each.from_left_m - outlet.from_left_m) <= MEETS_M)
        boards = {each.board for each in fixed}
        if len(boards) < FEWEST:
            continue
        off_m = nearest.at_m - outlet.from_left_m
        if MEETS_M < abs(off_m) <= BESIDE_M + 1e-9:
            units, side = site.units, "right" if off_m > 0.0 else "left"
            beside, there = units.length_with_unit(abs(off_m)), units.length_with_unit(nearest.at_m)
            yield Finding(
                "CLIP004",
                Severity.NOTE,
                outlet.where("from_left_m"),
                f"{outlet.tag} hangs {beside} from {nearest.name}, to its {side}: {len(boards)} boards carry its drop",
                outlet.tag,
                fix=f"hang it {there} from the left-hand corner, and it is screwed to the stud",
                write=f"from left: {there}",
                source="common practice",
            )


def _carried(
    network: Network, brackets: Sequence[Bracket], consoles: Sequence[Console]
) -> Mapping[str, list[Bracket | Console]]:
    """What boards carry, by the outlet it belongs to."""
    outlets, found = (
        {run.id: run.outlet for run in network.layout.runs},
        defaultdict[str, list[Bracket | Console]](list),
    )
    for bracket in brackets:
        if bracket.board:
            found[outlets[bracket.run]].append(bracket)
    for console in consoles:
        if console.board:
            found[console.tag].append(console)
    return found
