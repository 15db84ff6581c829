"""Hoses at the outlets as bought: those that the site file gives, with the plugs that fit its couplings."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.quantity import Units
from drafter.quantity.kinds import Kind
from drafter.site.model import Outlet, Site
from drafter.sizing.tool_end import hose_bore_m
from drafter.takeoff.numbers_told import s
from drafter.takeoff.part import HOSES
from drafter.takeoff.rows import Row


def is_given(outlet: Outlet) -> bool:
    """Whether the site file gives the hose of an outlet; of length 0 there is none to buy."""
    return not {"length_m", "bore_m"} <= {*outlet.hose.defaults} and outlet.hose.length_m > 0.0


def hose_rows(site: Site) -> Iterator[Row]:
    """Yield a row for each kind of hose, with the tags of its outlets."""
    tags = dict[tuple[str, str], list[str]]()
    for outlet in filter(is_given, site.outlets):
        tags.setdefault(hose_item(outlet, site.units), []).append(outlet.tag)
    for (item, size), here in tags.items():
        yield Row(HOSES, item, size, len(here), "pcs", len(here), tuple(here))


def hose_item(outlet: Outlet, units: Units) -> tuple[str, str]:
    """Return what a hose is bought as: item and size."""
    length, bore = units.long_length(outlet.hose.length_m), units.of_kind(Kind.LENGTH, hose_bore_m(outlet))
    return f"hose with plug and coupling, {outlet.coupling} body, of the site's profile", f"{length} x {bore}"


def not_in_it(site: Site) -> str:
    """Say which hoses and plugs the schedule leaves out."""
    without = [o.tag for o in site.outlets if not is_given(o) and (o.hose.length_m or "length_m" in o.hose.defaults)]
    hoses = f"hose{s(without)} with plug at {', '.join(without)}, the site file gives none; " if without else ""
    return f"not in it: {hoses}the tools' own plugs"
