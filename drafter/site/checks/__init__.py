"""Mistakes in a site that can be seen before anything is laid out: names, places and pressures.

Every check looks at one thing and yields its findings. A check that meets a value that could not be read
ends quietly, because what is wrong with that value is found already.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from itertools import combinations
from typing import TypeVar

from drafter.finding import Finding
from drafter.reader import Reading, Unread, is_read
from drafter.site.checks.demand import check_at_once, check_case_name, check_case_size, check_in_use
from drafter.site.checks.drawing import check_revisions
from drafter.site.checks.leak_test import check_leak_reading
from drafter.site.checks.openings import check_opening, check_openings_apart
from drafter.site.checks.outlets import (
    check_class,
    check_outlet_in_reach,
    check_outlet_place,
    check_outlets_apart,
    check_tag,
    check_tool,
)
from drafter.site.checks.piping import (
    check_falls,
    check_line_valve,
    check_lowest,
    check_main_height,
    check_material,
    check_other_prices,
    check_prices,
    check_ring_path,
    check_size,
    check_sleeve,
    check_spare_tee,
    check_tube,
    check_tubes_apart,
    check_turns,
    check_waypoint,
)
from drafter.site.checks.places import check_place_around, check_place_name, check_place_spot, check_place_told
from drafter.site.checks.plant import (
    check_compressor_place,
    check_connection,
    check_cut_out,
    check_relief,
    check_tank,
    check_treatment,
    check_treatment_loss,
)
from drafter.site.checks.rooms import check_rooms_apart, check_rooms_joined, check_temperatures
from drafter.site.checks.standing import (
    check_crossing,
    check_deck,
    check_doorway,
    check_keep_clear,
    check_service,
    check_standing,
)
from drafter.site.checks.walls import check_build, check_shared_studs, check_studs
from drafter.site.checks.work import check_run_apart, check_run_place, check_run_times, check_run_tool, check_starts
from drafter.site.model import Column, Site, Standing

Thing = TypeVar("Thing")


def check_site(site: Site, reading: Reading) -> None:
    """Add a finding for every name that means nothing and every thing that cannot be where it is said to be."""
    for check in (
        check_revisions(site.drawing),
        *_of_rooms(site),
        *_of_plant(site),
        *_of_outlets(site),
        *_of_places(site),
        *_of_work(site),
    ):
        with suppress(Unread):
            for finding in check:
                reading.findings.append(finding)


def _readable(group: Iterable[Thing]) -> list[Thing]:
    """The things of a group that could be read."""
    return [thing for thing in group if is_read(thing)] if is_read(group) else []


def _of_rooms(site: Site) -> Iterator[Iterator[Finding]]:
    yield check_rooms_apart(site)
    yield check_rooms_joined(site)
    yield check_shared_studs(site)
    for name in site.walls:
        room = site.rooms[name]
        yield check_temperatures(site, room)
        yield check_studs(site, room.studs)
        builds = _readable(room.builds)
        for number, build in enumerate(builds):
            yield check_build(room, build, builds[:number])
            yield check_studs(site, build.studs)
        openings = _readable(room.openings)
        for opening in openings:
            yield check_opening(site, name, opening)
        for first, second in combinations(openings, 2):
            yield check_openings_apart(first, second)
        standing: list[Column | Standing] = [*_readable(room.columns), *_readable(room.equipment)]
        for thing in standing:
            yield check_standing(site, name, thing)
            yield check_doorway(site, name, thing)
        for keep in _readable(room.keep_clear):
            yield check_keep_clear(site, name, keep)
        for service in _readable(room.services):
            yield check_service(site, name, service)
        for deck in _readable(room.decks):
            yield check_deck(site, name, deck)
        for crossing in _readable(room.crossings):
            yield check_crossing(site, name, crossing)
            yield check_studs(site, crossing.joists)


def _of_plant(site: Site) -> Iterator[Iterator[Finding]]:
    yield check_compressor_place(site)
    yield check_connection(site)
    yield check_cut_out(site)
    yield check_treatment_loss(site)
    yield check_relief(site)
    yield check_tank(site)
    for unit in _readable(site.treatment):
        yield check_treatment(unit)
    for reading in _readable(site.leak_tests):
        yield check_leak_reading(site, reading)
    yield check_material(site)
    yield check_turns(site)
    yield check_size(site, "size")
    yield check_size(site, "drop_size")
    yield check_prices(site)
    yield check_other_prices(site)
    yield check_main_height(site)
    yield check_lowest(site)
    yield check_falls(site)
    if is_read(site.main):
        tubes = _readable(site.main.tubes)
        for tube in tubes:
            yield check_tube(site, tube)
        for one, other in combinations(tubes, 2):
            yield check_tubes_apart(one, other)
        for sleeve in _readable(site.main.through):
            yield check_sleeve(site, sleeve)
        for spare in _readable(site.main.spare_tees):
            yield check_spare_tee(site, spare)
        for valve in _readable(site.main.valves):
            yield check_line_valve(site, valve)
        yield check_ring_path(site)
        for waypoint in _readable(site.main.waypoints):
            yield check_waypoint(site, waypoint)


def _of_outlets(site: Site) -> Iterator[Iterator[Finding]]:
    outlets = _readable(site.outlets)
    yield check_at_once(site)
    cases = _readable(site.demand.cases) if is_read(site.demand) else []
    for number, case in enumerate(cases):
        yield check_case_name(case, cases[:number])
        yield check_case_size(site, case)
        running = _readable(case.running)
        for place, use in enumerate(running):
            yield check_in_use(site, use, running[:place])
    for number, outlet in enumerate(outlets):
        yield check_outlet_place(site, outlet)
        yield check_outlet_in_reach(site, outlet)
        yield check_tag(outlet, outlets[:number])
        yield check_class(outlet)
        for tool in _readable(outlet.tools):
            yield check_tool(outlet, tool)
    for first, second in combinations(outlets, 2):
        yield check_outlets_apart(site, first, second)


def _of_places(site: Site) -> Iterator[Iterator[Finding]]:
    places = _readable(site.work_places)
    for number, place in enumerate(places):
        yield check_place_told(place)
        yield check_place_name(place, places[:number])
        yield check_place_around(site, place)
        yield check_place_spot(site, place)


def _of_work(site: Site) -> Iterator[Iterator[Finding]]:
    if site.work is None or not is_read(site.work):
        return
    runs = _readable(site.work.runs)
    yield check_starts(site.work, runs)
    for number, run in enumerate(runs):
        yield check_run_place(site, run)
        yield check_run_tool(site, run)
        yield check_run_times(site.work, run)
        yield check_run_apart(site.work, run, runs[:number])
