"""Puts the parts together in space, one by one from the compressor, and looks whether they land where they belong."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from drafter.geometry import Point3
from drafter.takeoff.ends import back
from drafter.takeoff.part import Joint, Part

WITHIN_M = 0.002
"""How near each outlet, drain and valve must be met (our own, the width of a pencil line)."""

OFF_LINE, OFF_BODY = math.radians(1.0), math.radians(6.0)
"""How far two ends of a joint may be out of line, and a fitting's angle off that of the pipes, which fall a little."""

_ANGLES = {"elbow 90°": (90.0,), "elbow 45°": (135.0,), "tee": (90.0, 90.0, 180.0), "reducing tee": (90.0, 90.0, 180.0)}
_STRAIGHT = (180.0,)


def misplaced(
    parts: tuple[Part, ...], joints: tuple[Joint, ...], start: tuple[str, Point3], places: Mapping[str, Point3]
) -> list[str]:
    """Return what does not land in its place when the parts are put together with their lengths and turns.

    Args:
        parts, joints: without faults, each joint names ends that are there.
        start: the part to begin with, and where its centre is [m].
        places: where the parts of some tags belong [m].
    """
    at, found = put_together(parts, joints, start)
    return [*found, *_place_faults(parts, at, places)]


def put_together(
    parts: tuple[Part, ...], joints: tuple[Joint, ...], start: tuple[str, Point3]
) -> tuple[dict[str, Point3], list[str]]:
    """Return where the centre of each part comes that hangs on the first one, and what does not go together.

    A bent piece of tube comes where its first end does.

    Args:
        parts, joints: without faults, each joint names ends that are there.
        start: the part to begin with, and where its centre is [m].
    """
    by_id = {part.id: part for part in parts}
    found = [fault for part in parts for fault in _body_faults(part)]
    beside: dict[str, list[tuple[int, str, int]]] = {part.id: [] for part in parts}
    for joint in joints:
        (one, index), (other, number) = joint.first, joint.second
        found += _joint_faults(by_id[one], index, by_id[other], number)
        beside[one].append((index, other, number))
        beside[other].append((number, one, index))
    at = {start[0]: start[1]}
    waiting = list(at)
    while waiting:
        id = waiting.pop()
        for index, other, number in beside[id]:
            there = _centre(at[id], by_id[id], index, by_id[other], number)
            if there is None:
                continue
            if other not in at:
                at[other] = there
                waiting.append(other)
            elif at[other].minus(there).length > WITHIN_M:
                found.append(f"{by_id[other].called} closes a ring {_off(at[other], there)} off")
    return at, found


def _place_faults(parts: tuple[Part, ...], at: Mapping[str, Point3], places: Mapping[str, Point3]) -> Iterator[str]:
    tagged = {part.tag: part for part in parts if part.tag and not part.cut_m}
    for tag, place in places.items():
        part = tagged.get(tag)
        if part is None or part.id not in at:
            yield f"{tag} is not reached"
        elif at[part.id].minus(place).length > WITHIN_M:
            yield f"{tag} lands {_off(at[part.id], place)} off its place"


def _off(one: Point3, other: Point3) -> str:
    return f"{one.minus(other).length * 1000.0:.0f} mm"


def _body_faults(part: Part) -> Iterator[str]:
    """Whether the ends of a part stand to each other as a part of its kind has them."""
    if part.bends:
        yield from _bend_faults(part)
        return
    ways = [port.way for port in part.ports if port.way is not None]
    if len(ways) > 1:
        found = sorted(_angle(one, other) for n, one in enumerate(ways) for other in ways[:n])
        expected = [math.radians(angle) for angle in _ANGLES.get(part.item, _STRAIGHT)]
        if len(found) != len(expected) or any(abs(a - b) > OFF_BODY for a, b in zip(found, expected, strict=True)):
            yield f"{part.called} does not turn as the pipes at it do"
    if part.cut_m and any(port.size != part.size for port in part.ports):
        yield f"{part.called} has ends of another size"


def _bend_faults(part: Part) -> Iterator[str]:
    """Whether a bent piece of tube turns at its bends as the pipes do, and has them one after the other."""
    first, last = (port.way for port in part.ports)
    if first is None or last is None:
        yield f"{part.called} leads nowhere"
        return
    way, done_m = back(first), 0.0
    for bend in part.bends:
        if abs(_angle(way, bend.way) - bend.turn_rad) > OFF_LINE:
            yield f"{part.called} is not bent as the pipes at it turn"
        if bend.from_m < done_m:
            yield f"{part.called} has a bend that begins before its end or another bend"
        way, done_m = bend.way, bend.to_m
    if done_m > part.cut_m:
        yield f"{part.called} is too short for its bends"
    if _angle(way, last) > OFF_LINE:
        yield f"{part.called} does not turn as the pipes at it do"
    if any(port.size != part.size for port in part.ports):
        yield f"{part.called} has ends of another size"


def _joint_faults(one: Part, index: int, other: Part, number: int) -> Iterator[str]:
    first, second = one.ports[index], other.ports[number]
    if first.key != second.key:
        yield f"{one.called} end {index} is joined to {other.called} end {number}, which belongs elsewhere"
    elif first.way and second.way and math.pi - _angle(first.way, second.way) > OFF_LINE:
        yield f"{one.called} and {other.called} are not in line"


def _angle(one: Point3, other: Point3) -> float:
    return math.acos(max(-1.0, min(1.0, one.dot(other))))


def _centre(at: Point3, part: Part, index: int, other: Part, number: int) -> Point3 | None:
    """Where the centre of the other part comes; None where one of the two bends in a way of its own."""
    here, there = _from_centre(part, index), _from_centre(other, number)
    if here is None or there is None:
        return None
    return Point3(*(a + out - into for a, out, into in zip(at, here, there, strict=True)))


def _from_centre(part: Part, index: int) -> Point3 | None:
    """Where an end of a part is, from its centre; a bent piece of tube counts from its first end."""
    port = part.ports[index]
    if port.way is None:
        return None
    if part.bends:
        return _round_the_bends(part, port.way) if index else Point3(0.0, 0.0, 0.0)
    reach = part.cut_m / 2 if part.cut_m else port.reach_m
    return Point3(*(way * reach for way in port.way))


def _round_the_bends(part: Part, last: Point3) -> Point3:
    """Where a bent piece of tube ends, from its first end: straight on, round each bend, and straight on."""
    way, at, done_m = back(part.ports[0].way or last), Point3(0.0, 0.0, 0.0), 0.0
    for bend in part.bends:
        tangent_m = bend.radius_m * math.tan(bend.turn_rad / 2)
        straight_m = bend.from_m - done_m
        legs = zip(at, way, bend.way, strict=True)
        at = Point3(*(a + (straight_m + tangent_m) * into + tangent_m * out for a, into, out in legs))
        way, done_m = bend.way, bend.to_m
    return Point3(*(a + (part.cut_m - done_m) * w for a, w in zip(at, way, strict=True)))
