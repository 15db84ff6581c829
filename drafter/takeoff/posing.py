"""Puts the parts together in space, one by one from the compressor, and looks whether they land where they belong."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from drafter.geometry import Point3
from drafter.takeoff.part import Joint, Part, Port

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
    return [*found, *_place_faults(parts, at, places)]


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
    ways = [port.way for port in part.ports if port.way is not None]
    if len(ways) > 1:
        found = sorted(_angle(one, other) for n, one in enumerate(ways) for other in ways[:n])
        expected = [math.radians(angle) for angle in _ANGLES.get(part.item, _STRAIGHT)]
        if len(found) != len(expected) or any(abs(a - b) > OFF_BODY for a, b in zip(found, expected, strict=True)):
            yield f"{part.called} does not turn as the pipes at it do"
    if part.cut_m and any(port.size != part.size for port in part.ports):
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
    """Where the centre of the other part comes; None where one of the two bends."""
    here, there = part.ports[index], other.ports[number]
    if here.way is None or there.way is None:
        return None
    out, back = _reach(part, here), _reach(other, there)
    return Point3(*(a + w * out - v * back for a, w, v in zip(at, here.way, there.way, strict=True)))


def _reach(part: Part, port: Port) -> float:
    return part.cut_m / 2 if part.cut_m else port.reach_m
