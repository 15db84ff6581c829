"""The main: its material and sizes are in the tables, it is below the ceilings, its sleeves lead somewhere."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.reader import is_read, nearest_hint
from drafter.site.checks.on_wall import point_past
from drafter.site.model import Compressor, Outlet, Site, Sleeve, WallOf
from drafter.site.wall import share_a_wall
from drafter.standards.materials import find_material, find_refused_material, material_names

BELOW_CEILING_M = 0.05
"""Least distance of the main's centre from the ceiling, for its brackets (common practice)."""


def check_material(site: Site) -> Iterator[Finding]:
    """Yield MAT001 for a material that must not carry air, REF004 for one that is not in the tables."""
    name, place = site.main.material, site.main.where("material")
    if find_material(name) is not None:
        return
    known = ", ".join(material_names())
    refused = find_refused_material(name)
    if refused is not None:
        message = f"{refused.name} must not carry compressed air: {refused.reason}"
        yield Finding(
            "MAT001", Severity.ERROR, place, message, "main", fix=f"use one of {known}", source=refused.source
        )
        return
    fix = f"{nearest_hint(name, material_names())}known here: {known}"
    yield Finding("REF004", Severity.ERROR, place, f"the material '{name}' is not known", "main", fix=fix)


def check_size(site: Site, attribute: str) -> Iterator[Finding]:
    """Yield REF005 for a size that the material's table does not have."""
    size, family = getattr(site.main, attribute), find_material(site.main.material)
    if size != "auto" and family is not None and family.find_size(size) is None:
        names = [each.name for each in family.sizes]
        fix = f"write auto, or one of {', '.join(names)}"
        place = site.main.where(attribute)
        yield Finding("REF005", Severity.ERROR, place, f"{family.name} has no size '{size}'", "main", fix=fix)


def check_prices(site: Site) -> Iterator[Finding]:
    """Yield REF005 for a price of a size that the material's table does not have."""
    family = find_material(site.main.material)
    if family is None:
        return
    for size in site.main.prices or ():
        if family.find_size(size) is None:
            names = [each.name for each in family.sizes]
            message = f"{family.name} has no size '{size}' to be priced"
            fix = f"{nearest_hint(size, names)}the sizes are {', '.join(names)}"
            yield Finding("REF005", Severity.ERROR, site.main.where("prices"), message, "main", fix=fix)


def check_main_height(site: Site) -> Iterator[Finding]:
    """Yield PLACE008 for a main at or above the ceiling of a room it serves: the lowest of them says it."""
    stops: list[Outlet | WallOf | Compressor] = [*site.outlets, *site.main.path, site.compressor]
    served = {stop.room for stop in stops if is_read(stop) and is_read(stop.room)}
    ceilings = {name: site.rooms[name].ceiling_m for name in sorted(served) if is_read(site.rooms[name].ceiling_m)}
    lowest = min(ceilings, key=lambda name: ceilings[name], default=None)
    if lowest is not None and site.main.height_m > ceilings[lowest] - BELOW_CEILING_M:
        height, ceiling = (site.units.length_with_unit(m) for m in (site.main.height_m, ceilings[lowest]))
        most = site.units.length_with_unit(ceilings[lowest] - BELOW_CEILING_M)
        message = f"the main at {height} is too near or above the ceiling of {lowest}, which is at {ceiling}"
        fix = f"its centre can be at most {most} above floor"
        yield Finding("PLACE008", Severity.ERROR, site.main.where("height_m"), message, "main", height, most, fix)


def check_sleeve(site: Site, sleeve: Sleeve) -> Iterator[Finding]:
    """Yield PLACE001 for a sleeve past its wall, PLACE011 for one that leads into no other room."""
    wall = site.wall(sleeve.room, sleeve.wall)
    past = tuple(point_past(site, wall, sleeve, "the sleeve", "main"))
    yield from past
    spot = wall.at(sleeve.from_left_m)
    behind = [
        face
        for name, faces in site.walls.items()
        if name != sleeve.room
        for face in faces
        if share_a_wall(wall, face) and 0.0 <= face.measure(spot)[0] <= face.length_m
    ]
    if not past and not behind and len(site.walls) == len(site.rooms):
        place = sleeve.where("from_left_m")
        message = f"no room lies behind this spot of the {wall.name} wall of {wall.room}"
        fix = "measure again, or check where the room behind lies"
        yield Finding("PLACE011", Severity.ERROR, place, message, "main", fix=fix)
