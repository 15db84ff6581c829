"""Parts with ports, and joints between them: what is bought, and how it mates."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.geometry import Point3
from drafter.layout.numbered_graph import reachable

TUBE, FITTINGS, VALVES, OUTLETS = "tube", "fittings", "valves and drains", "outlets"
HOSES = "hoses and plugs, at the outlets"
SUPPLY, TREATMENT, SUPPORTS, FIXINGS, SUNDRIES = (
    "compressor connection",
    "treatment",
    "supports",
    "fixings",
    "sundries",
)


@dataclass(frozen=True, slots=True)
class Port:
    """One end of a part.

    Attributes:
        kind: ``tube`` (plain end), ``socket``, ``male`` or ``female`` thread, ``open`` (air leaves or enters here).
        size: name of the tube size, or of the thread such as ``G 1/2``.
        key: of the place where it is joined; both ends of a joint carry the same.
        way: out of the part, one long; None where the part bends or its place does not matter.
        reach_m: from the part's centre to where the other end of the joint comes to rest.
    """

    kind: str
    size: str
    key: str = ""
    way: Point3 | None = None
    reach_m: float = 0.0


@dataclass(frozen=True, slots=True)
class TubeBend:
    """A bend in a piece of tube.

    Attributes:
        from_m: from the first end of the piece, along it, to where the bend begins.
        radius_m: of the centre line.
        turn_rad: how far the tube turns.
        way: of the tube behind the bend, one long.
    """

    from_m: float
    radius_m: float
    turn_rad: float
    way: Point3

    @property
    def to_m(self) -> float:
        """From the first end of the piece, along it, to where the bend ends."""
        return self.from_m + self.radius_m * self.turn_rad


@dataclass(frozen=True, slots=True)
class Part:
    """One thing to buy or cut.

    Attributes:
        id: unique.
        group: heading in the schedule.
        item, size: as the trade names it.
        ports: its ends.
        tag: as on the drawings.
        serves: tag of the outlet that a unit without a tag of its own belongs to.
        cut_m: length of a piece of tube; 0 for everything else.
        stands: held by the floor or a wall, so that it cannot be turned into its place.
        ends_turn: its two ends turn against each other, as those of a union do.
        bends: of a piece of tube, from its first end on.
        made_for: what a unit must do, in words for the parts schedule.
    """

    id: str
    group: str
    item: str
    size: str
    ports: tuple[Port, ...]
    tag: str = ""
    cut_m: float = 0.0
    stands: bool = False
    ends_turn: bool = False
    bends: tuple[TubeBend, ...] = ()
    made_for: str = ""
    serves: str = ""

    @property
    def called(self) -> str:
        """What a message calls it."""
        return f"{self.item} {self.tag or self.id}"


@dataclass(frozen=True, slots=True)
class Joint:
    """Two ports put together: part id and index of the port, twice."""

    first: tuple[str, int]
    second: tuple[str, int]


MATES = {frozenset(("tube", "socket")), frozenset(("male", "female"))}


def faults(parts: tuple[Part, ...], joints: tuple[Joint, ...]) -> list[str]:
    """Return what does not go together: open ends, ends used twice, ends that do not mate, loose parts."""
    by_id = {part.id: part for part in parts}
    found = [f"{part.id} stands twice" for part in parts if by_id[part.id] is not part]
    used: dict[tuple[str, int], int] = {}
    for joint in joints:
        for end in (joint.first, joint.second):
            used[end] = used.get(end, 0) + 1
        found += _mating(by_id, joint)
    for part in parts:
        for index, port in enumerate(part.ports):
            times = used.get((part.id, index), 0)
            if times != (0 if port.kind == "open" else 1):
                found.append(f"{part.item} {part.id} end {index} is joined {times} times")
    if len(_hanging_together(parts, joints)) != len([part for part in parts if part.ports]):
        found.append("the parts do not all hang together")
    return found


def _mating(by_id: dict[str, Part], joint: Joint) -> Iterator[str]:
    ports = []
    for id, index in (joint.first, joint.second):
        part = by_id.get(id)
        if part is None or index >= len(part.ports):
            yield f"a joint names {id} end {index}, which is not there"
        else:
            ports.append(part.ports[index])
    if len(ports) == 2:
        one, other = ports
        if frozenset((one.kind, other.kind)) not in MATES or one.size != other.size:
            yield f"{one.kind} {one.size} does not fit {other.kind} {other.size}"


def _hanging_together(parts: tuple[Part, ...], joints: tuple[Joint, ...]) -> set[str]:
    beside: dict[str, set[str]] = {}
    for joint in joints:
        beside.setdefault(joint.first[0], set()).add(joint.second[0])
        beside.setdefault(joint.second[0], set()).add(joint.first[0])
    return reachable(beside, next((part.id for part in parts if part.ports), ""))
