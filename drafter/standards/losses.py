"""Loss coefficients of fittings, referred to the bore of the tube they sit in."""

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from drafter.standards.data_file import read_data_file


@dataclass(frozen=True, slots=True)
class Fitting:
    """One kind of fitting: either `multiple` of the fully rough friction factor or a fixed coefficient."""

    name: str
    multiple: float
    fixed: float
    source: str


def fitting_names() -> tuple[str, ...]:
    """Kinds of fitting `fitting_loss` knows.

    Source:
        `losses.yaml`, each entry with its own source.
    """
    return tuple(_fittings())


def fitting_source(name: str) -> str:
    """Where the coefficient of a kind of fitting comes from.

    Raises:
        ValueError: there is no such kind.

    Source:
        `losses.yaml`.
    """
    return _fitting(name).source


def rough_friction_factor(bore_m: float) -> float:
    """Friction factor f_T of fully rough flow in commercial steel pipe [1], the unit of the multiples.

    Linear between the bores of schedule 40 pipe, constant outside 9 to 63 mm.

    Source:
        Crane TP-410 p. A-26 for 1/2 to 2-1/2 in; 1/4 and 3/8 in computed with 0.0018 in of roughness.
    """
    table = _rough_friction()
    if bore_m <= table[0][0]:
        return table[0][1]
    for (lower_m, lower), (upper_m, upper) in pairwise(table):
        if bore_m <= upper_m:
            return lower + (upper - lower) * (bore_m - lower_m) / (upper_m - lower_m)
    return table[-1][1]


def fitting_loss(name: str, bore_m: float, insert_bore_ratio: float = 1.0) -> float:
    """Loss coefficient of one fitting, on the bore of the tube [1]; true within about 30 %.

    Args:
        name: one of `fitting_names()`.
        bore_m: bore of the tube [m].
        insert_bore_ratio: bore of the joint over bore of the tube [1]; below 1 the fitting has the narrow
            bore and the air is squeezed in and let out again.

    Raises:
        ValueError: there is no such kind of fitting.

    Source:
        Crane TP-410, K = n f_T; each kind with its own source in `losses.yaml`.
    """
    fitting = _fitting(name)
    narrow_m = bore_m * insert_bore_ratio
    coefficient = fitting.fixed + fitting.multiple * rough_friction_factor(narrow_m)
    return move_loss(coefficient, narrow_m, bore_m) + insert_loss(bore_m, narrow_m)


def bend_loss(bore_m: float, radius_m: float, turn_rad: float) -> float:
    """Loss coefficient of a bend in the tube itself, beyond that of straight tube as long, on its bore [1].

    A turn of other than a right angle counts by its share of one. Linear between the rows of the table, constant
    outside 1 to 20 bores.

    Args:
        radius_m: of the centre line [m].
        turn_rad: how far the tube turns [rad].

    Source:
        Crane TP-410 p. A-29, K = n f_T with n by radius over bore, less the friction pi/2 (r/d) f_T of the bend's own
        length that its formula for several bends names; from memory.
    """
    table, bores = _bends(), radius_m / bore_m
    bores = min(max(bores, table[0][0]), table[-1][0])
    (lower, low), (upper, high) = next(pair for pair in pairwise(table) if bores <= pair[1][0])
    multiple = low + (high - low) * (bores - lower) / (upper - lower)
    quarters = turn_rad / (math.pi / 2)
    return quarters * (multiple - math.pi / 2 * bores) * rough_friction_factor(bore_m)


def move_loss(coefficient: float, from_bore_m: float, to_bore_m: float) -> float:
    """The same loss referred to another bore [1].

    Source:
        continuity: the dynamic pressure goes with the fourth power of the bore (Crane TP-410).
    """
    return coefficient * (to_bore_m / from_bore_m) ** 4


def contraction_loss(small_bore_m: float, large_bore_m: float) -> float:
    """Sudden contraction, on the small bore [1].

    Source:
        Crane TP-410 p. A-26, 0.5 (1 - beta^2).
    """
    return 0.5 * (1.0 - (small_bore_m / large_bore_m) ** 2)


def enlargement_loss(small_bore_m: float, large_bore_m: float) -> float:
    """Sudden enlargement, on the small bore [1].

    Source:
        Crane TP-410 p. A-26, (1 - beta^2)^2 (Borda and Carnot).
    """
    return float((1.0 - (small_bore_m / large_bore_m) ** 2) ** 2)


def insert_loss(bore_m: float, insert_bore_m: float) -> float:
    """A joint whose nipple narrows the bore: contraction and enlargement, on the bore of the tube [1].

    Source:
        Crane TP-410 p. A-26, both formulas added and moved to the bore of the tube.
    """
    squeeze = contraction_loss(insert_bore_m, bore_m) + enlargement_loss(insert_bore_m, bore_m)
    return move_loss(squeeze, insert_bore_m, bore_m)


def _fitting(name: str) -> Fitting:
    if name not in _fittings():
        raise ValueError(f"no loss is known for a fitting called {name!r}; known: {', '.join(_fittings())}")
    return _fittings()[name]


@lru_cache(maxsize=1)
def _fittings() -> dict[str, Fitting]:
    rows = read_data_file("losses.yaml")["fittings"]
    return {
        row["name"]: Fitting(row["name"], row.get("multiple", 0.0), row.get("fixed", 0.0), row["source"])
        for row in rows
    }


@lru_cache(maxsize=1)
def _rough_friction() -> tuple[tuple[float, float], ...]:
    return tuple((row["bore_m"], row["factor"]) for row in read_data_file("losses.yaml")["rough_friction"])


@lru_cache(maxsize=1)
def _bends() -> tuple[tuple[float, float], ...]:
    return tuple((row["radius_over_bore"], row["multiple"]) for row in read_data_file("losses.yaml")["bends"])
