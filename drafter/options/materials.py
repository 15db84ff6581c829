"""The materials a main can be of, each in one size and stepped; those the site's conditions refuse, with the reason."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drafter.layout.doorways import served_rooms
from drafter.options.variant import MATERIAL, Skipped, Variant
from drafter.site import Site
from drafter.standards.materials import Material, find_material, material, material_names, rating_pa

SIZINGS = ("one size", "stepped")


def material_variants(site: Site) -> tuple[list[Variant], list[Skipped]]:
    """Return every other material and sizing, and the materials that are refused."""
    own = find_material(site.main.material)
    variants, skipped = [], []
    for family in map(material, material_names()):
        why = "" if family == own else _refusal(site, family)
        if why:
            skipped.append(Skipped(family.name, why))
            continue
        for sizing in SIZINGS:
            if family != own or sizing != site.main.sizing:
                changes = {"sizing": sizing} if family == own else _changed_to(site, family, sizing)
                variants.append(Variant(MATERIAL, f"{family.name}, {sizing}", changes))
    return variants, skipped


def _changed_to(site: Site, family: Material, sizing: str) -> Mapping[str, Any]:
    """What is said of the material given falls away with it: its tubes, sizes, stock lengths and prices."""
    prices = {find_material(name): each for name, each in (site.main.other_prices or {}).items()}
    changes = {"material": family.name, "sizing": sizing, "tubes": (), "size": "auto", "drop_size": "auto"}
    if site.main.turns == "bent" and not family.bend_radius_factor:
        changes["turns"] = "fittings"
    return {**changes, "stock_m": (), "kerf_m": None, "prices": prices.get(family), "other_prices": None}


def _refusal(site: Site, family: Material) -> str:
    """Why no size of a family may be used in the rooms served; empty where some size may."""
    units, relief_pa = site.units, site.compressor.relief_pa
    warmest_k = max(site.rooms[room].warmest_k for room in served_rooms(site))
    if warmest_k > family.max_temperature_k:
        most, warm = units.temperature(family.max_temperature_k), units.temperature(warmest_k)
        return f"has no rating above {most}; the warmest room is at {warm}"
    rated_pa = max(rating_pa(family, size, warmest_k) for size in family.sizes)
    if rated_pa < relief_pa - 1.0:
        rated, warm = units.pressure(rated_pa), units.temperature(warmest_k)
        return f"is rated {rated} gauge at most at {warm}; the relief valve is set at {units.pressure(relief_pa)}"
    return ""
