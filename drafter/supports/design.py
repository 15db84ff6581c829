"""Stage 4's result: the sized network with its brackets and consoles, and the boards behind them."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.finding import Finding
from drafter.geometry import Point3
from drafter.sizing.network import Network
from drafter.standards.materials import TubeSize


@dataclass(frozen=True, slots=True)
class Bracket:
    """A bracket on a wall, or a hanger below a ceiling.

    Attributes:
        tag: ``B-01`` and so on, wall by wall from the left.
        run: id of the run it holds.
        at: the pipe's centre there [m].
        from_left_m: from the left-hand corner of its wall.
        stand_off_m: pipe centre from the face of the wall, or of the board or column it is screwed to; below the
            ceiling where it hangs.
        fixed: a fixed point; the others let the pipe slide.
        gives_m: how far it lets the pipe move sideways, to either side; 0 where it holds it.
        stud: number of the stud it is screwed to, from the left; 0 on masonry and on boards.
        board: tag of the backing board it is screwed to; empty without.
        on_column: screwed to the front of a column.
        hangs: from the ceiling, on a rod.
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
    stud: int = 0
    board: str = ""
    on_column: bool = False
    hangs: bool = False
    gives_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Console:
    """What carries an outlet or a unit, so that no pipe does.

    Attributes:
        node: id of the node it carries.
        tag: of the treatment unit, or of the outlet that it or its unit belongs to.
        at: the node's place [m].
        stud, board: what it is screwed to, as of a bracket.
        on_floor: a stand, screwed to the floor and to no wall.
    """

    node: str
    tag: str
    at: Point3
    room: str
    wall: str
    from_left_m: float
    stud: int = 0
    board: str = ""
    on_floor: bool = False


@dataclass(frozen=True, slots=True)
class Board:
    """A backing board screwed to what stands at either end of it.

    Attributes:
        tag: ``W-01`` and so on, wall by wall from the left.
        from_left_m: its left-hand end from the left-hand corner of the wall.
        height_m: of its middle above the floor.
        between: what it is screwed to, from the left, such as ``stud 3``.
    """

    tag: str
    room: str
    wall: str
    from_left_m: float
    length_m: float
    height_m: float
    between: tuple[str, str]


@dataclass(frozen=True)
class Design:
    """Everything there is to draw and to buy, and what was found while placing brackets."""

    network: Network
    brackets: tuple[Bracket, ...]
    findings: tuple[Finding, ...] = ()
    boards: tuple[Board, ...] = ()
    consoles: tuple[Console, ...] = ()
