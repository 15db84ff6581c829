"""What a site file left open: the defaults taken, with where they come from, for the sheets."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.quantity import Kind, Units
from drafter.reader import Entry, QuantityForm, keys_of
from drafter.site.model import Main, Opening, Site, Tube
from drafter.site.model.tubes import LEFT_OPEN, nearest_size
from drafter.standards.materials import material


def defaults_taken(site: Site) -> tuple[tuple[str, str, str], ...]:
    """Return (what, the value taken, its source) for each default that a design hangs on, each once."""
    found: dict[tuple[str, str, str], None] = {}
    for group, entry in _entries(site):
        for name, field in keys_of(type(entry)).items():
            source = field.metadata["source"]
            if field.name in entry.defaults and source and _plays_a_part(entry, field.name):
                value = _shown(getattr(entry, field.name), field.metadata["form"], site.units)
                if value:
                    found[f"{group}: {name}", value, source] = None
    return (*found, *_of_tubes(site))


def _of_tubes(site: Site) -> Iterator[tuple[str, str, str]]:
    """For each tube given, what is not said of it, and the nearest size that it is taken from."""
    for tube in site.main.tubes:
        family = material(site.main.material)
        near = nearest_size(family, tube.outside_m)
        taken = [
            f"{name} {_shown(getattr(near, field.name), field.metadata['form'], site.units)}"
            for name, field in keys_of(Tube).items()
            if field.name in LEFT_OPEN and field.name in tube.defaults
        ]
        if taken:
            yield f"tube {tube.name}", ", ".join(taken), f"{near.name} of {family.name}"


def _plays_a_part(entry: Entry, attribute: str) -> bool:
    """Whether a default matters: a door has no sill, a hinged door no tracks, not every tube can be bent."""
    if isinstance(entry, Main) and attribute == "turns":
        return material(entry.material).bend_radius_factor > 0.0
    if isinstance(entry, Opening):
        kinds = {"sill_m": "window", "headroom_m": "overhead door", "tracks_m": "overhead door"}
        return entry.kind == kinds.get(attribute, entry.kind)
    return True


def _entries(site: Site) -> Iterator[tuple[str, Entry]]:
    for name, room in site.rooms.items():
        yield f"room {name}", room
        for opening in room.openings:
            yield opening.kind, opening
        for keep in room.keep_clear:
            yield keep.kind, keep
        for service in room.services:
            yield service.kind, service
    yield "compressor", site.compressor
    yield "main", site.main
    yield "costs of the way", site.main.costs
    for outlet in site.outlets:
        yield "outlets", outlet
        yield "hose", outlet.hose
    for place in site.work_places:
        yield "places", place
    yield "demand", site.demand
    yield "site", site


def _shown(value: object, form: object, units: Units) -> str:
    if isinstance(form, QuantityForm) and isinstance(value, float):
        match form.kind:
            case Kind.LENGTH:
                return units.length_with_unit(value)
            case Kind.PRESSURE:
                return units.pressure(value)
            case Kind.TEMPERATURE:
                return units.temperature(value)
            case Kind.TEMPERATURE_DIFFERENCE:
                return units.temperature_difference(value)
            case Kind.TIME:
                return f"{value / 3600.0:.3g} h"
            case Kind.SLOPE:
                return units.slope(value)
            case Kind.SHARE:
                return f"{value * 100:.0f} %"
    return value if isinstance(value, str) else ""
