"""Sheet sizes, margins and standard scales."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.geometry import Box

SIZES_MM: dict[str, tuple[float, float]] = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "Letter": (279.4, 215.9),
    "11x17": (431.8, 279.4),
    "ARCH C": (609.6, 457.2),
    "ARCH D": (914.4, 609.6),
}
"""Landscape width and height: ISO 216, ASME Y14.1 and the architectural sizes (from memory)."""

METRIC_SCALES = {n: f"1:{n}" for n in (10, 20, 50, 100, 200, 500)}
"""Reductions of ISO 5455 (from memory)."""

IMPERIAL_SCALES = {
    12: '1" = 1\'-0"',
    16: '3/4" = 1\'-0"',
    24: '1/2" = 1\'-0"',
    32: '3/8" = 1\'-0"',
    48: '1/4" = 1\'-0"',
    64: '3/16" = 1\'-0"',
    96: '1/8" = 1\'-0"',
    128: '3/32" = 1\'-0"',
    192: '1/16" = 1\'-0"',
    384: '1/32" = 1\'-0"',
}
"""Architect's scales."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper.

    Attributes:
        width_mm, height_mm: trimmed size, landscape.
        frame: the frame line: 20 mm filing margin left and 10 mm elsewhere (ISO 5457), or half an inch.
    """

    name: str
    width_mm: float
    height_mm: float
    frame: Box


def paper(name: str) -> Paper:
    """Return the paper of a name that a site file may hold."""
    width, height = SIZES_MM[name]
    if name.startswith("A") and not name.startswith("ARCH"):
        frame = Box(20.0, 10.0, width - 10.0, height - 10.0)
    else:
        frame = Box(12.7, 12.7, width - 12.7, height - 12.7)
    return Paper(name, width, height, frame)


def scales(imperial: bool) -> dict[int, str]:
    """Return the standard scales, largest drawing first: N of 1:N and how it is written."""
    return IMPERIAL_SCALES if imperial else METRIC_SCALES
