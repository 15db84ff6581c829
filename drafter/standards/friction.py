"""Darcy's friction factor from laminar to fully rough flow, for arrays of pipes."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

LAMINAR_BELOW = 2300.0
"""Reynolds number below which pipe flow is laminar. Source: common practice."""

TURBULENT_ABOVE = 4000.0
"""Reynolds number above which Colebrook's formula holds. Source: common practice."""

_SLOWEST = 1e-6
_DECADE = 2.0 / np.log(10.0)
_NEWTON_STEPS = 3


def friction_factor(reynolds: ArrayLike, relative_roughness: ArrayLike) -> Floats:
    """Darcy friction factor [1]; four times Fanning's.

    64/Re below 2300, Colebrook and White's formula above 4000, and between them a blend with the weight
    s^2 (3 - 2 s), s from 0 to 1, so that neither the factor nor its slope jumps. Below a Reynolds number of
    1e-6 the factor stays at its value there, so that still air gives a finite factor and no loss.

    Args:
        reynolds: Reynolds numbers, 0 or more [1].
        relative_roughness: roughness over bore, 0 to 0.05 [1]; broadcast against `reynolds`.

    Returns:
        Array of the broadcast shape.

    Source:
        Hagen and Poiseuille; Colebrook, J. Inst. Civ. Eng. 11(4), 1939, 133-156, solved by Newton steps from
        the first term of Serghides, Chem. Eng. 91(5), 1984, 63-64; the blend is common practice, as no
        reliable value exists there.
    """
    return friction_with_slope(reynolds, relative_roughness)[0]


def friction_with_slope(reynolds: ArrayLike, relative_roughness: ArrayLike) -> tuple[Floats, Floats]:
    """Friction factor [1] and its logarithmic slope, d ln f / d ln Re [1].

    Source:
        as `friction_factor`; the slope is its exact derivative.
    """
    re, roughness = np.broadcast_arrays(np.asarray(reynolds, float), np.asarray(relative_roughness, float))
    re = np.maximum(re, _SLOWEST)
    turbulent, turbulent_slope = _colebrook(np.maximum(re, LAMINAR_BELOW), roughness)
    if (re >= TURBULENT_ABOVE).all():
        return turbulent, turbulent_slope
    laminar = 64.0 / re
    span = TURBULENT_ABOVE - LAMINAR_BELOW
    s = np.clip((re - LAMINAR_BELOW) / span, 0.0, 1.0)
    weight = s * s * (3.0 - 2.0 * s)
    factor = laminar + weight * (turbulent - laminar)
    weight_slope = 6.0 * s * (1.0 - s) * re / span
    change = (1.0 - weight) * -laminar + weight * turbulent * turbulent_slope + weight_slope * (turbulent - laminar)
    return factor, change / factor


def _colebrook(re: Floats, roughness: Floats) -> tuple[Floats, Floats]:
    rough, smooth = roughness / 3.7, 2.51 / re
    x = -_DECADE * np.log(rough + 12.0 / re)
    for _ in range(_NEWTON_STEPS):
        inner = rough + smooth * x
        x = x - (x + _DECADE * np.log(inner)) / (1.0 + _DECADE * smooth / inner)
    share = _DECADE * smooth / (rough + smooth * x)
    return x**-2.0, -2.0 * share / (1.0 + share)
