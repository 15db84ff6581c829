"""Stage 4's result: the sized network with its brackets."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.finding import Finding
from drafter.geometry import Point3
from drafter.sizing.network import Network
from drafter.standards.materials import TubeSize


@dataclass(frozen=True, slots=True)
class Bracket:
    """A bracket on a wall.

    Attributes:
        tag: ``B-01`` and so on, wall by wall from the left.
        run: id of the run it holds.
        at: the pipe's centre there [m].
        from_left_m: from the left-hand corner of its wall.
        stand_off_m: pipe centre from the face of the wall.
        fixed: a fixed point; the others let the pipe slide.
    """

    tag: str
    run: str
    at: Point3
    room: str
    wall: str
    from_left_m: float
    stand_off_m: float
    size: TubeSize
    fixed: bool


@dataclass(frozen=True)
class Design:
    """Everything there is to draw and to buy, and what was found while placing brackets."""

    network: Network
    brackets: tuple[Bracket, ...]
    findings: tuple[Finding, ...] = ()
