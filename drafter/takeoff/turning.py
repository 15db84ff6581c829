"""Whether each threaded joint can be closed: what is screwed together is free to turn, or a union closes it."""

from __future__ import annotations

from drafter.takeoff.part import Joint, Part

SCREWED = frozenset(("male", "female"))


def stuck(parts: tuple[Part, ...], joints: tuple[Joint, ...]) -> list[str]:
    """Return where threaded joints cannot all be made up.

    A threaded joint is made by turning one of its two sides. Parts that hang together by such joints alone are put
    together one after the other, outwards from the one that stands, each turned onto what is there already. So they
    must not form a ring, and no more than one of them may stand fast; ends that turn against each other count apart.
    """
    by_id = {part.id: part for part in parts}
    above: dict[tuple[str, int], tuple[str, int]] = {}

    def body(end: tuple[str, int]) -> tuple[str, int]:
        id, index = end
        at = (id, index if by_id[id].ends_turn else 0)
        while at in above:
            at = above[at]
        return at

    found = []
    standing: dict[tuple[str, int], Part] = {(part.id, 0): part for part in parts if part.stands}
    for joint in joints:
        ends = [by_id[id].ports[index].kind for id, index in (joint.first, joint.second)]
        if frozenset(ends) != SCREWED:
            continue
        one, other = body(joint.first), body(joint.second)
        if one == other:
            found.append(f"{by_id[joint.first[0]].called} closes a ring of threaded joints that no union opens")
            continue
        above[other] = one
        if other in standing and one in standing:
            found.append(f"no union between {standing[one].called} and {standing[other].called}, which cannot turn")
        elif other in standing:
            standing[one] = standing[other]
    return found
