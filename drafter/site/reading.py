"""Text to a checked `Site`: reads the entries, fills in what follows from others, then looks for mistakes."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from typing import Any

from drafter.finding import Finding, errors
from drafter.reader import UNREAD, Reading, Unread, read_entry, schema
from drafter.site.checks import check_site
from drafter.site.model import Compressor, Connection, DrawingData, Main, Outlet, Room, Site
from drafter.site.plan import walls_of_rooms
from drafter.site.wall import Wall, find_wall

CONNECTION_INSET_M, CONNECTION_HEIGHT_M = 0.15, 0.6
"""Where a tank gives its air where the site file does not say: common practice."""


def read(text: str | bytes, file: str) -> tuple[Site | None, tuple[Finding, ...]]:
    """Read a site file.

    Args:
        text: what the file holds.
        file: its name, for findings.

    Returns:
        The site, or None where an error was found, and all findings in order of severity and place.
    """
    site, reading = read_entry(text, file, Site)
    if site is not None:
        site = _resolved(_readable(site, reading), reading)
        check_site(site, reading)
    findings = tuple(sorted(reading.findings, key=lambda finding: finding.order))
    return (None if errors(findings) else site), findings


def site_schema() -> dict[str, Any]:
    """Return the JSON Schema of site files, for editors that complete and check."""
    return schema(Site, "Site file of a compressed-air installation")


def _readable(site: Site, reading: Reading) -> Site:
    """Return the site without the groups that could not be read at all, so that the rest can be checked."""
    rooms: Mapping[str, Room] = {} if site.rooms is UNREAD else site.rooms
    reading.broken |= {name for name, room in rooms.items() if room is UNREAD}
    outlets: tuple[Outlet, ...] = () if site.outlets is UNREAD else site.outlets
    return replace(
        site,
        drawing=DrawingData() if site.drawing is UNREAD else site.drawing,
        rooms={name: room for name, room in rooms.items() if room is not UNREAD},
        outlets=tuple(outlet for outlet in outlets if outlet is not UNREAD),
    )


def _resolved(site: Site, reading: Reading) -> Site:
    """Return the site with its units, its plan, and the defaults that hang on other entries."""
    drawing, imperial = site.drawing, reading.imperial > reading.metric
    with suppress(Unread):
        imperial = drawing.units == "imperial" if drawing.units else imperial
        drawing = replace(
            drawing,
            units="imperial" if imperial else "metric",
            paper=drawing.paper or ("11x17" if imperial else "A3"),
            number=drawing.number or _initials(site.name),
        )
    walls = walls_of_rooms(site.rooms, reading)
    only = next(iter(site.rooms)) if len(site.rooms) == 1 and not reading.broken else ""
    compressor, main, threads = site.compressor, site.main, "NPT" if imperial else "G"
    with suppress(Unread):
        compressor = replace(compressor, room=compressor.room or only)
        if compressor.connection is None:
            compressor = replace(compressor, connection=_usual_connection(compressor, walls))
    with suppress(Unread):
        main = _with_rooms(main, only)
    with suppress(Unread):
        threads = site.threads or threads
    return replace(
        site,
        drawing=drawing,
        threads=threads,
        compressor=compressor,
        main=main,
        outlets=tuple(_in_room(outlet, only) for outlet in site.outlets),
        walls=walls,
        unread=frozenset(reading.broken),
    )


def _in_room(outlet: Outlet, only: str) -> Outlet:
    with suppress(Unread):
        return replace(outlet, room=outlet.room or only)
    return outlet


def _usual_connection(compressor: Compressor, walls: Mapping[str, tuple[Wall, ...]]) -> Connection:
    """The connection where none is given: near the end of the set that has more wall beside it, 0.6 m up."""
    wall = find_wall(walls.get(compressor.room, ()), compressor.wall)
    left, right = compressor.from_left_m, compressor.from_left_m + compressor.width_m
    to_the_right = wall is None or wall.length_m - right >= left
    inset = min(CONNECTION_INSET_M, compressor.width_m / 2)
    from_left_m = right - inset if to_the_right else left + inset
    return Connection(place=compressor.place, from_left_m=from_left_m, height_m=CONNECTION_HEIGHT_M)


def _with_rooms(main: Main, only: str) -> Main:
    return replace(
        main,
        path=tuple(replace(step, room=step.room or only) for step in main.path),
        through=tuple(replace(sleeve, room=sleeve.room or only) for sleeve in main.through),
    )


def _initials(name: str) -> str:
    letters = "".join(word[0] for word in name.split() if word[0].isalpha()).upper()
    return f"{letters[:4] or 'CA'}-01"
