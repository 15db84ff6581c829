"""How clean and dry the air comes to each outlet, against what it is used for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drafter.site.model import Outlet
from drafter.sizing.network import Network
from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, atmospheric_pressure_pa, dew_point_at_pressure_k
from drafter.standards.components import component
from drafter.standards.purity import WORSE, Purity, air_use, parse_purity, water_class
from drafter.standards.tools import find_tool

OIL_FREE_CLASS = 3
"""Oil of an oil-free compressor: what the air of a workshop brings in, from memory."""


@dataclass(frozen=True, slots=True)
class OutletAir:
    """The air of one outlet.

    Attributes:
        tag: of the outlet.
        used_for: tools, paint or blow-off.
        wanted, reached: classes; those reached are typical of the kinds of units.
        asked_for: whether the site file gives the class or the use.
        dew_point_k: highest of the year, at the outlet's pressure.
        expanded_dew_point_k: of the same air let down to the atmosphere.
        to_add: units that would close the gap, in words.
    """

    tag: str
    used_for: str
    wanted: Purity
    reached: Purity
    asked_for: bool
    dew_point_k: float
    expanded_dew_point_k: float
    to_add: tuple[str, ...]

    @property
    def fits(self) -> bool:
        return self.reached.meets(self.wanted)


def use_of(outlet: Outlet) -> str:
    """Return what an outlet's air is for: as the site file says, else paint where one of its tools sprays it.

    Source:
        `drafter/standards/tools.yaml`.
    """
    tools = [find_tool(use.tool) for use in outlet.tools]
    return outlet.air_for or ("paint" if any(tool and tool.air_for == "paint" for tool in tools) else "tools")


def wanted_purity(outlet: Outlet) -> Purity:
    """Return the class an outlet's air should have.

    Source:
        the site file, else `drafter/standards/purity.yaml`.
    """
    return parse_purity(outlet.purity) or air_use(use_of(outlet)).purity


def outlet_air(network: Network) -> tuple[OutletAir, ...]:
    """Return the air of every outlet, in the order of the site file.

    Water is that of the worst day at hard running, all that falls out behind the last bowl counted as carried along.

    Source:
        classes of ISO 8573-1:2010; what units reach from `drafter/standards/components.yaml`.
    """
    site = network.layout.site
    plant = [unit.kind for unit in site.treatment]
    atmosphere_pa = atmospheric_pressure_pa(site.altitude_m)
    found = []
    for outlet, node in zip(site.outlets, network.layout.couplings, strict=True):
        wanted = wanted_purity(outlet)
        days = [day.before[node.id] for day in (network.water.warm, network.water.cold)]
        liquids = [air.liquid_ratio * FREE_AIR_DENSITY_KG_M3 * 1000.0 for air in days]
        worst = max(water_class(air.dew_point_k, liquid) for air, liquid in zip(days, liquids, strict=True))
        reached = replace(purity_behind([*plant, *outlet.units], site.compressor.oil), water=worst)
        wettest = max(days, key=lambda air: air.dew_point_k)
        expanded_k = dew_point_at_pressure_k(wettest.dew_point_k, wettest.absolute_pressure_pa, atmosphere_pa)
        asked = bool(outlet.purity or outlet.air_for)
        to_add = units_to_add(wanted, reached)
        use = use_of(outlet)
        found.append(OutletAir(outlet.tag, use, wanted, reached, asked, wettest.dew_point_k, expanded_k, to_add))
    return tuple(found)


def purity_behind(units: Sequence[str], oil: str) -> Purity:
    """Return the classes for particles and oil behind a chain of units, in the order of flow; water is left open.

    Args:
        oil: of the compressor, `lubricated` or `oil-free`.

    Source:
        typical of each kind of unit, `drafter/standards/components.yaml`.
    """
    particles, oily = WORSE, OIL_FREE_CLASS if oil == "oil-free" else WORSE
    for name in units:
        unit = component(name)
        if unit.particle_class is not None:
            particles = min(particles, unit.particle_class)
        if unit.oil_class is not None and oily <= (unit.needs_oil_class or WORSE):
            oily = min(oily, unit.oil_class)
        particles = WORSE if "particles" in unit.adds else particles
        oily = WORSE if "oil" in unit.adds else oily
    return Purity(particles, WORSE, oily)


def units_to_add(wanted: Purity, reached: Purity) -> tuple[str, ...]:
    """Return the units that would bring air from the purity reached to the one wanted.

    Source:
        common practice, as typical classes of `drafter/standards/components.yaml`.
    """
    units = []
    if reached.water > wanted.water and wanted.water <= 6:
        units.append(_dryer(wanted.water))
    if (reached.particles > wanted.particles and wanted.particles < 6) or reached.oil > wanted.oil:
        units.append("a coalescing filter")
    elif reached.particles > wanted.particles or reached.water > wanted.water >= 7:
        units.append("a filter at the outlet")
    if reached.oil > wanted.oil and wanted.oil <= 1:
        units.append("an activated carbon filter behind it")
    return tuple(units)


def _dryer(wanted: int) -> str:
    if wanted >= 4:
        return "a refrigeration dryer"
    return f"a desiccant dryer for {('-70', '-70', '-40', '-20')[wanted]} °C with a filter behind it"
