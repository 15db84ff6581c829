"""The widths of lines that DXF files know; a program takes the nearest for any other."""

from __future__ import annotations

WIDTHS_MM = tuple(
    hundredths / 100
    for hundredths in (
        0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211
    )
)  # fmt: skip
"""Source: group 370 of the DXF reference, as the library lists it."""


def nearest_widths(width_mm: float) -> tuple[float, ...]:
    """Return the width itself if it is one of them to a hundredth of a millimetre, or else those next to it."""
    same = [each for each in WIDTHS_MM if abs(each - width_mm) < 0.0051]
    if same:
        return (same[0],)
    below, above = ([each for each in WIDTHS_MM if (each < width_mm) is less] for less in (True, False))
    return (*below[-1:], *above[:1])
