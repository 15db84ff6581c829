"""What may stand in a network beside pipes: restrictions, regulators and nozzles, each kind as plain arrays."""

from dataclasses import dataclass

from numpy.typing import ArrayLike


@dataclass(frozen=True, slots=True)
class Restrictions:
    """Elements known by their flow characteristic, such as couplings, filters and valves.

    One array entry a restriction. They pass air both ways alike and are numbered on after the pipes.
    `drafter.standards.valves` turns a Kv or Cv into these figures.

    Attributes:
        start, end: node numbers.
        sonic_conductance_m3_s_pa: free air per inlet pressure when choked, C of ISO 6358 [m3/(s Pa)].
        critical_ratio: pressure ratio below which the flow is choked, b of ISO 6358, 0 or more, below 1 [1].
    """

    start: ArrayLike
    end: ArrayLike
    sonic_conductance_m3_s_pa: ArrayLike
    critical_ratio: ArrayLike


@dataclass(frozen=True, slots=True)
class Regulators:
    """Regulators without droop, each at the end of a pipe or restriction; air passes from start to end only.

    While its inlet allows, a regulator holds the pressure at the end of its element; otherwise the element
    stands wide open and costs what it costs. Where the pressure behind is the higher one it shuts. With a set
    pressure of `math.inf` it is a check valve.

    Attributes:
        element: number of the pipe, or of the restriction counted on after the pipes; none twice.
        set_absolute_pa: held at the end of the element [Pa].
    """

    element: ArrayLike
    set_absolute_pa: ArrayLike


@dataclass(frozen=True, slots=True)
class Nozzles:
    """Outlets that draw what the pressure before them drives: blow guns, open couplings, leaks.

    One array entry a nozzle; several may stand at one node.

    Attributes:
        node: number of the node each opens from.
        sonic_conductance_m3_s_pa: free air per inlet pressure when choked, C of ISO 6358 [m3/(s Pa)].
        critical_ratio: b of ISO 6358, 0 or more, below 1 [1].
        back_absolute_pa: pressure it blows into, the atmosphere's as a rule [Pa].
    """

    node: ArrayLike
    sonic_conductance_m3_s_pa: ArrayLike
    critical_ratio: ArrayLike
    back_absolute_pa: ArrayLike
