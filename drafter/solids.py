"""What stands in space in the neutral drawing, in millimetres from the datum."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.geometry import Point, Point3


@dataclass(frozen=True, slots=True)
class Pipe:
    """A straight pipe in space: its centre line [mm] from the datum, its outside diameter, and its data.

    Its body, as thick as it is, has a layer of its own.
    """

    layer: str
    body_layer: str
    id: str
    start: Point3
    end: Point3
    outside_mm: float
    attributes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Edge:
    """A line in space [mm], such as the edge of a room."""

    layer: str
    start: Point3
    end: Point3


@dataclass(frozen=True, slots=True)
class Volume:
    """An upright block in space over a convex outline in plan [mm]: equipment, a column, a space to keep clear.

    Its data are its tag and its words, if no attributes are given.
    """

    layer: str
    words: str
    outline: tuple[Point, ...]
    bottom_mm: float
    top_mm: float
    tag: str = ""
    attributes: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Fitting:
    """A valve, drain or outlet in space, as a cube about its middle, and its data.

    ``kind`` is a name of the program's own for what it is.
    """

    layer: str
    kind: str
    at: Point3
    across_mm: float
    attributes: tuple[tuple[str, str], ...]


Solid = Pipe | Edge | Volume | Fitting
