"""Treatment units and quick couplings with generic figures, and flow through a restriction after ISO 6358."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from drafter.standards.air import FREE_AIR_TEMPERATURE_K
from drafter.standards.data_file import read_data_file
from drafter.standards.entry_names import find_entry

WITH_BOWLS = ("separator", "filter", "coalescing filter", "activated carbon filter", "lubricator")
"""Units, as a site file names them, with a bowl that is drawn off downwards."""


@dataclass(frozen=True, slots=True)
class Component:
    """A unit in the line that costs pressure.

    Attributes:
        name: as a site file names it.
        also_called: other spellings a site file may use.
        pressure_drop_pa: at the unit's rated flow, clean [Pa].
        change_at_pa: drop at which the element is changed [Pa]; None where there is none.
        purge_share: share of the air the unit uses up itself [1].
        length_m: face to face [m].
        source: where the figures come from.
        drains: whether it keeps the water that comes to it, in a bowl or by a drain of its own.
        dew_point_k: pressure dew point of the air that leaves a dryer [K]; None for other units.
        lowest_k: lowest dew point a dryer of that kind can be set to [K]; None where nothing sets it.
        particle_class, oil_class: best class of ISO 8573-1 the air leaves with; None where it changes nothing.
        needs_oil_class: worst class for oil that it can take; None where any will do.
        heavy: stands on the floor or a console of its own.
        adds: `particles` or `oil`, where the unit spoils the air with them.
    """

    name: str
    also_called: tuple[str, ...]
    pressure_drop_pa: float
    change_at_pa: float | None
    purge_share: float
    length_m: float
    source: str
    drains: bool = False
    dew_point_k: float | None = None
    lowest_k: float | None = None
    particle_class: int | None = None
    oil_class: int | None = None
    needs_oil_class: int | None = None
    adds: tuple[str, ...] = ()
    heavy: bool = False


@dataclass(frozen=True, slots=True)
class QuickCoupling:
    """A coupling and its plug.

    Attributes:
        name: as a site file names it.
        also_called: other spellings a site file may use.
        sonic_conductance_m3_s_pa: free air per inlet pressure when choked, C of ISO 6358 [m3/(s Pa)].
        critical_ratio: pressure ratio below which the flow is choked, b of ISO 6358 [1].
        length_m: how far it stands out of the line [m].
        source: where the figures come from.
    """

    name: str
    also_called: tuple[str, ...]
    sonic_conductance_m3_s_pa: float
    critical_ratio: float
    length_m: float
    source: str


def component_names() -> tuple[str, ...]:
    """Names of the treatment units a site file may use.

    Source:
        `components.yaml`.
    """
    return tuple(component.name for component in _components())


def find_component(name: str) -> Component | None:
    """The treatment unit of that name or spelling, whatever the case; None where there is none.

    Source:
        `components.yaml`; every figure is typical and to be replaced by the data sheet.
    """
    return find_entry(_components(), name)


def component(name: str) -> Component:
    """The treatment unit of that name or spelling.

    Raises:
        ValueError: none has it; the message lists those there are.

    Source:
        as `find_component`.
    """
    found = find_component(name)
    if found is None:
        raise ValueError(f"no treatment unit is called {name!r}; known: {', '.join(component_names())}")
    return found


def coupling_names() -> tuple[str, ...]:
    """Names of the quick couplings a site file may use.

    Source:
        `components.yaml`.
    """
    return tuple(coupling.name for coupling in _couplings())


def find_coupling(name: str) -> QuickCoupling | None:
    """The quick coupling of that name or spelling, whatever the case; None where there is none.

    Source:
        `components.yaml`; every figure is typical and to be replaced by the data sheet.
    """
    return find_entry(_couplings(), name)


def restriction_flow_m3_s(
    sonic_conductance_m3_s_pa: float,
    critical_ratio: float,
    upstream_absolute_pa: float,
    downstream_absolute_pa: float,
    temperature_k: float = FREE_AIR_TEMPERATURE_K,
) -> float:
    """Free air through a restriction [m3/s]; none where the downstream pressure is not the lower one.

    Source:
        ISO 6358-1 (formula read in several public sources, coefficients as in the standard from memory).
    """
    ratio = downstream_absolute_pa / upstream_absolute_pa
    if ratio >= 1.0:
        return 0.0
    choked_m3_s = _choked_m3_s(sonic_conductance_m3_s_pa, upstream_absolute_pa, temperature_k)
    if ratio <= critical_ratio:
        return choked_m3_s
    return choked_m3_s * math.sqrt(1.0 - ((ratio - critical_ratio) / (1.0 - critical_ratio)) ** 2)


def restriction_outlet_pa(
    sonic_conductance_m3_s_pa: float,
    critical_ratio: float,
    upstream_absolute_pa: float,
    free_air_m3_s: float,
    temperature_k: float = FREE_AIR_TEMPERATURE_K,
) -> float | None:
    """Absolute pressure behind a restriction that passes a flow [Pa]; None where it cannot pass it.

    Source:
        ISO 6358-1 solved for the downstream pressure.
    """
    share = free_air_m3_s / _choked_m3_s(sonic_conductance_m3_s_pa, upstream_absolute_pa, temperature_k)
    if share > 1.0:
        return None
    return upstream_absolute_pa * (critical_ratio + (1.0 - critical_ratio) * math.sqrt(1.0 - share**2))


def _choked_m3_s(sonic_conductance_m3_s_pa: float, upstream_pa: float, temperature_k: float) -> float:
    return sonic_conductance_m3_s_pa * upstream_pa * math.sqrt(FREE_AIR_TEMPERATURE_K / temperature_k)


@lru_cache(maxsize=1)
def _components() -> tuple[Component, ...]:
    content = read_data_file("components.yaml")
    return tuple(Component(**_entry(row, content)) for row in content["components"])


@lru_cache(maxsize=1)
def _couplings() -> tuple[QuickCoupling, ...]:
    content = read_data_file("components.yaml")
    return tuple(QuickCoupling(**_entry(row, content)) for row in content["couplings"])


def _entry(row: dict[str, Any], content: dict[str, Any]) -> dict[str, Any]:
    lists = {key: tuple(value) for key, value in row.items() if isinstance(value, list)}
    return row | lists | {"source": content["sources"][row["source"]]}
