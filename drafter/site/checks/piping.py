"""The main: its material and sizes are in the tables, it is below the ceilings, its sleeves lead somewhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafter.finding import Finding, Place, Severity
from drafter.reader import is_read, nearest_hint
from drafter.site.checks.on_wall import point_past
from drafter.site.model import Compressor, LineValve, Outlet, Site, Sleeve, SpareTee, Tube, WallOf, Waypoint
from drafter.site.model.forms import PRACTICE
from drafter.site.wall import share_a_wall
from drafter.standards.limits import BELOW_CEILING_M
from drafter.standards.materials import (
    Material,
    find_material,
    find_refused_material,
    material,
    material_names,
    rating_pa,
)

LEAST_WALL, MOST_WALL = 0.02, 0.25
"""Walls of tubes as shares of the outside diameter, with a margin over those of the tables (common practice)."""

LEAST_BAND_M, LEAST_RING_BAND_M = 0.25, 0.05
"""Least height from the lowest a main may come to up to its high end, for a rise between them (common practice)."""

SAME_M = 0.0004
"""Outside diameters nearer than this are one."""


def check_material(site: Site) -> Iterator[Finding]:
    """Yield MAT001 for a material that must not carry air, REF004 for one that is not in the tables."""
    name, place = site.main.material, site.main.where("material")
    if find_material(name) is not None:
        return
    known = ", ".join(material_names())
    refused = find_refused_material(name)
    if refused is not None:
        fit = ", ".join(_fitting_materials(site)) or known
        message = f"{refused.name} must not carry compressed air: {refused.reason}"
        yield Finding("MAT001", Severity.ERROR, place, message, "main", fix=f"use one of {fit}", source=refused.source)
        return
    fix = f"{nearest_hint(name, material_names())}known here: {known}"
    yield Finding("REF004", Severity.ERROR, place, f"the material '{name}' is not known", "main", fix=fix)


def _fitting_materials(site: Site) -> list[str]:
    """The materials of which some size bears the relief valve's setting in the warmest room."""
    warmest_k = max(room.warmest_k for room in site.rooms.values() if is_read(room) and is_read(room.warmest_k))
    families = [material(name) for name in material_names()]
    relief_pa = site.compressor.relief_pa
    if not is_read(relief_pa):
        return []
    return [
        family.name
        for family in families
        if any(rating_pa(family, size, warmest_k) >= relief_pa for size in family.sizes)
    ]


def check_turns(site: Site) -> Iterator[Finding]:
    """Yield TURN001 for a main whose tube is to be bent, of a material that is not."""
    family = find_material(site.main.material)
    if site.main.turns == "bent" and family is not None and not family.bend_radius_factor:
        bending = ", ".join(name for name in material_names() if material(name).bend_radius_factor)
        message = f"{family.name} is not bent here: it turns by fittings"
        fix = f"write turns: fittings, or take a material that bends: {bending}"
        yield Finding("TURN001", Severity.ERROR, site.main.where("turns"), message, "main", fix=fix, source=PRACTICE)


def check_size(site: Site, attribute: str) -> Iterator[Finding]:
    """Yield REF005 for a size that the material's table does not have."""
    size = getattr(site.main, attribute)
    if size == "auto" or find_material(site.main.material) is None:
        return
    family = site.material
    if family.find_size(size) is None:
        names = [each.name for each in family.sizes]
        fix = f"write auto, or one of {', '.join(names)}"
        place = site.main.where(attribute)
        yield Finding("REF005", Severity.ERROR, place, f"{family.name} has no size '{size}'", "main", fix=fix)


def check_prices(site: Site) -> Iterator[Finding]:
    """Yield REF005 for a price of a size that the material's table does not have."""
    if find_material(site.main.material) is not None:
        yield from _no_such_sizes(site.material, site.main.prices or (), site.main.where("prices"))


def check_other_prices(site: Site) -> Iterator[Finding]:
    """Yield REF004 and REF005 for prices of no material or size, PRICE001 for those of the main's own material."""
    own, place = find_material(site.main.material), site.main.where("other_prices")
    for name, prices in (site.main.other_prices or {}).items():
        family = find_material(name)
        if family is None:
            fix = f"{nearest_hint(name, material_names())}known here: {', '.join(material_names())}"
            yield Finding("REF004", Severity.ERROR, place, f"the material '{name}' is not known", "main", fix=fix)
        elif family == own:
            message = f"the main is {family.name} itself, which is no other material"
            yield Finding("PRICE001", Severity.ERROR, place, message, "main", fix="move its prices to 'prices'")
        elif is_read(prices):
            yield from _no_such_sizes(family, prices, place)


def _no_such_sizes(family: Material, sizes: Iterable[str], place: Place) -> Iterator[Finding]:
    names = [each.name for each in family.sizes]
    unknown = [size for size in sizes if size not in names]
    if unknown:
        called = f"size '{unknown[0]}'" if len(unknown) == 1 else f"sizes {', '.join(map(repr, unknown))}"
        fix = f"{nearest_hint(unknown[0], names)}the sizes are {', '.join(names)}"
        message = f"{family.name} has no {called} to be priced"
        yield Finding("REF005", Severity.ERROR, place, message, "main", fix=fix)


def check_tube(site: Site, tube: Tube) -> Iterator[Finding]:
    """Yield TUBE001 for a bore that is no smaller than its tube, TUBE002 for a wall that no tube has.

    Yield TUBE004 for a tube that would go farther into a fitting than to its centre.
    """
    place = tube.where("bore_m")
    outside, bore = (f"{round(m * 1000, 2):g} mm" for m in (tube.outside_m, tube.bore_m))
    wall_m = (tube.outside_m - tube.bore_m) / 2
    if wall_m <= 0.0:
        message = f"the bore of {bore} is not smaller than the outside diameter of {outside}"
        fix = "give the outside diameter and the clear width inside, both as the maker prints them"
        yield Finding("TUBE001", Severity.ERROR, place, message, "main", bore, outside, fix)
    elif not LEAST_WALL <= wall_m / tube.outside_m <= MOST_WALL:
        wall = f"{wall_m * 1000:.2f} mm"
        least, most = (f"{share * tube.outside_m * 1000:.1f}" for share in (LEAST_WALL, MOST_WALL))
        message = f"a tube of {outside} outside and {bore} bore has a wall of {wall}"
        fix = f"check both against the maker's table: walls of {least} to {most} mm are made"
        yield Finding(
            "TUBE002", Severity.ERROR, place, message, "main", wall, f"{least} to {most} mm", fix, source=PRACTICE
        )
    family = find_material(site.main.material)
    if family is not None:
        size = tube.size(family)
        if size.insertion_m > size.centre_to_face_m:
            inside, face = (f"{round(m * 1000, 1):g} mm" for m in (size.insertion_m, size.centre_to_face_m))
            message = f"{size.name} goes {inside} into its fittings, farther than their {face} from centre to face"
            fix = "measure a fitting and give both 'insertion' and 'centre to face'"
            place = tube.where("insertion_m" if tube.insertion_m is not None else "centre_to_face_m")
            yield Finding("TUBE004", Severity.ERROR, place, message, "main", inside, face, fix)


def check_tubes_apart(first: Tube, second: Tube) -> Iterator[Finding]:
    """Yield TUBE003 for two tubes of one outside diameter, or of which the smaller has the larger bore."""
    small, large = sorted((first, second), key=lambda tube: tube.outside_m)
    if large.outside_m - small.outside_m < SAME_M:
        message = f"{first.name} and {second.name} are of one outside diameter"
    elif large.bore_m <= small.bore_m:
        message = f"{large.name} is larger outside than {small.name}, but not inside"
    else:
        return
    fix = "keep the one that is bought, or correct its figures"
    yield Finding("TUBE003", Severity.ERROR, second.place, message, "main", fix=fix)


def check_main_height(site: Site) -> Iterator[Finding]:
    """Yield PLACE008 for a main at or above the ceiling of a room it serves: the lowest of them says it."""
    stops: list[Outlet | WallOf | Compressor] = [*site.outlets, *site.main.path, site.compressor]
    served = {stop.room for stop in stops if is_read(stop) and is_read(stop.room)}
    ceilings = {name: site.rooms[name].ceiling_m for name in sorted(served) if is_read(site.rooms[name].ceiling_m)}
    lowest = min(ceilings, key=lambda name: ceilings[name], default=None)
    if (
        lowest is not None
        and not site.main.level_open
        and site.main.height_m > ceilings[lowest] - BELOW_CEILING_M.value
    ):
        height, ceiling = (site.units.length_with_unit(m) for m in (site.main.height_m, ceilings[lowest]))
        most = site.units.length_with_unit(ceilings[lowest] - BELOW_CEILING_M.value)
        message = f"the main at {height} is too near or above the ceiling of {lowest}, which is at {ceiling}"
        fix = f"its centre can be at most {most} above floor"
        yield Finding("PLACE008", Severity.ERROR, site.main.where("height_m"), message, "main", height, most, fix)


def check_lowest(site: Site) -> Iterator[Finding]:
    """Yield LEVEL006 for a lowest level that leaves the main no height to fall in and rise again."""
    main, units = site.main, site.units
    most_m = main.height_m - (LEAST_RING_BAND_M if main.arrangement == "ring" else LEAST_BAND_M)
    if not main.lowest_m or main.level_open or main.lowest_m <= most_m + 1e-9:
        return
    height, lowest, most = (units.length_with_unit(m) for m in (main.height_m, main.lowest_m, most_m))
    message = f"a main at {height} that may not come below {lowest} has too little height to fall in"
    fix = f"'lowest' can be at most {most}; or raise the main"
    yield Finding(
        "LEVEL006", Severity.ERROR, main.where("lowest_m"), message, "main", lowest, most, fix, source=PRACTICE
    )


def check_falls(site: Site) -> Iterator[Finding]:
    """Yield FALL002 for a way of falling that does not go with the other things said of the main."""
    main, place = site.main, site.main.where("falls_to")
    if main.falls_to != "riser":
        return
    if main.arrangement == "ring":
        fix = "leave out 'falls to'; or write 'arrangement: dead end'"
        yield Finding("FALL002", Severity.ERROR, place, "a ring falls to low points of its own", "main", fix=fix)
    elif any(crossing.height_m for room in site.rooms.values() for crossing in room.crossings):
        message = "a main that falls back to the riser has no drain where a raised crossing comes down"
        fix = "leave out 'height' of the crossings, or 'falls to'"
        yield Finding("FALL002", Severity.ERROR, place, message, "main", fix=fix)
    elif main.lowest_m:
        fix = "leave out 'lowest' and give the 'height' that its high ends need; or leave out 'falls to'"
        message = "a main that falls back to the riser does not rise again"
        yield Finding("FALL002", Severity.ERROR, place, message, "main", fix=fix)


def check_ring_path(site: Site) -> Iterator[Finding]:
    """Yield a warning RING003 for walls of a path, or crossings, in the room that a ring goes round whole."""
    main, room = site.main, site.compressor.room
    if main.arrangement != "ring":
        return
    if site.rooms[room].crossings:
        place = site.rooms[room].where("crossings")
        message = f"'crossings' of {room} are not used: a ring follows all walls of its room"
        yield Finding(
            "RING003", Severity.WARNING, place, message, "main", fix="take them out, or write {arrangement: dead end}"
        )
    steps = [step for step in main.path if is_read(step) and is_read(step.room) and step.room == room]
    if steps:
        message = f"'path' names walls of {room}, and a ring follows all walls of its room"
        fix = "take them out of 'path', or write {arrangement: dead end}"
        yield Finding("RING003", Severity.WARNING, steps[0].place, message, "main", fix=fix)


def check_waypoint(site: Site, waypoint: Waypoint) -> Iterator[Finding]:
    """Yield PLACE001 for a place to come by that lies past its wall."""
    yield from point_past(site, site.wall(waypoint.room, waypoint.wall), waypoint, "the place to come by", "main")


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


def check_line_valve(site: Site, valve: LineValve) -> Iterator[Finding]:
    """Yield PLACE001 for a valve past the end of its wall."""
    yield from point_past(site, site.wall(valve.room, valve.wall), valve, "the valve", "main")


def check_spare_tee(site: Site, spare: SpareTee) -> Iterator[Finding]:
    """Yield PLACE001 for a spare tee past the end of its wall."""
    yield from point_past(site, site.wall(spare.room, spare.wall), spare, "the spare tee", "main")
