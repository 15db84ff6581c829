"""Free legs of the main: brackets near an end or a tee that moves let the pipe across it move sideways."""

from __future__ import annotations

from dataclasses import replace

from drafter.standards.expansion import TAKEN_UP_M
from drafter.supports.design import Bracket, Design
from drafter.supports.lines import PipeLine
from drafter.supports.straights import Giving


def with_free_legs(design: Design, lines: tuple[PipeLine, ...]) -> Design:
    """Return a design whose brackets give way wherever a free leg needs it; ``lines`` are all pipe lines.

    All of them give as far as the end or tee moves, though less would do farther from it: so there are
    fewer kinds to buy.
    """
    giving, gives_m = Giving.of(design, lines), dict[str, float]()
    for straight in giving.straights:
        for end in giving.movement(straight).pulls:
            free_m = min(end.needed_m or 0.0, end.leg_m or 0.0)
            if end.moves_m < TAKEN_UP_M:
                continue
            for off_m, bracket in giving.held_across(straight, end.node):
                if off_m < free_m and holds_sideways(bracket):
                    gives_m[bracket.tag] = max(end.takes_m, gives_m.get(bracket.tag, 0.0))
    return replace(design, brackets=tuple(replace(b, gives_m=gives_m.get(b.tag, 0.0)) for b in design.brackets))


def holds_sideways(bracket: Bracket) -> bool:
    """Whether a bracket has to be made loose to let its pipe move sideways.

    The fixed point never is; a hanger swings on its rod as it is (common practice).
    """
    return not bracket.fixed and not bracket.hangs and not bracket.gives_m
