"""Tube sizes of the make bought, and the family they make."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from drafter.quantity import Kind
from drafter.reader import Entry, QuantityForm, key
from drafter.site.model.forms import PRESSURE
from drafter.standards.materials import Material, TubeSize

_DIAMETER = QuantityForm(Kind.LENGTH, "2 mm", "170 mm")
_FITTING = QuantityForm(Kind.LENGTH, "1 mm", "300 mm")


@dataclass(frozen=True, kw_only=True)
class Tube(Entry):
    """One size of tube as its maker gives it; the rest is that of the nearest size of the material."""

    outside_m: float = key("outside", _DIAMETER, meaning="outside diameter")
    bore_m: float = key("bore", _DIAMETER, meaning="inside diameter")
    rating_pa: float | None = key("rating", PRESSURE, None, "of tube and joints")
    bracket_span_m: float | None = key(
        "bracket span", QuantityForm(Kind.LENGTH, "0.2 m", "6 m"), None, "of a level line"
    )
    centre_to_face_m: float | None = key("centre to face", _FITTING, None, "of an elbow or tee")
    insertion_m: float | None = key("insertion", _FITTING, None, "of the tube into a fitting")

    @property
    def name(self) -> str:
        """The size as drawings name it: outside diameter and wall in millimetres, such as ``25 x 2``."""
        return f"{round(self.outside_m * 1000, 1):g} x {round((self.outside_m - self.bore_m) * 500, 2):g}"

    def size(self, family: Material) -> TubeSize:
        """Return the size, with what is not given taken from the nearest of the family."""
        near = nearest_size(family, self.outside_m)
        given = {name: value for name in LEFT_OPEN if (value := getattr(self, name)) is not None}
        return replace(near, name=self.name, outside_m=self.outside_m, bore_m=self.bore_m, **given)


LEFT_OPEN = ("rating_pa", "bracket_span_m", "centre_to_face_m", "insertion_m")
"""What may be left open of a tube."""


def nearest_size(family: Material, outside_m: float) -> TubeSize:
    """Return the size of a family nearest in outside diameter, the smaller of two as near."""
    return min(family.sizes, key=lambda size: round(abs(size.outside_m - outside_m), 6))


def with_tubes(family: Material, tubes: Iterable[Tube]) -> Material:
    """Return a family with just the given sizes, or as it is where none are given.

    The swan neck is widened where the fittings given would not fit it.
    """
    sizes = tuple(sorted((tube.size(family) for tube in tubes), key=lambda size: size.outside_m))
    if not sizes:
        return family
    old = family.find_size(family.largest_drop)
    assert old is not None
    drops = [size for size in sizes if size.outside_m <= old.outside_m + 1e-6] or sizes[:1]
    drop = drops[-1]
    faces = max(size.centre_to_face_m for size in sizes)
    return replace(
        family,
        sizes=sizes,
        inch_sized=False,
        largest_drop=drop.name,
        take_off_rise_m=max(family.take_off_rise_m, _between_fittings_m(faces, drop.centre_to_face_m)),
        take_off_offset_m=max(
            family.take_off_offset_m, _between_fittings_m(drop.centre_to_face_m, drop.centre_to_face_m)
        ),
    )


def _between_fittings_m(one_face_m: float, other_face_m: float) -> float:
    """Centre to centre of two fittings with 10 mm of tube to be seen between them, rounded up to 10 mm."""
    return math.ceil((one_face_m + other_face_m + 0.01) * 100 - 1e-6) / 100
