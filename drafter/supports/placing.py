"""Places brackets on every straight line of pipe that is fixed to a wall: on studs where there are any."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise

from drafter.finding import Finding, Severity
from drafter.site.wall import with_article
from drafter.sizing.network import Network
from drafter.supports.boards import BOARD_THICK_M, with_boards
from drafter.supports.consoles import consoles_of
from drafter.supports.design import Bracket, Design
from drafter.supports.framing import STUD_WIDTH_M, posts_at, stud_at, studs_on
from drafter.supports.free_legs import with_free_legs
from drafter.supports.free_pipe import Holds
from drafter.supports.hose_end import with_fixed_hose_end
from drafter.supports.lines import BEYOND_M, NEAR_FITTING_M, PipeLine, pipe_lines
from drafter.supports.round_corners import RoundCorners
from drafter.supports.spacing import ON_BOARD, ON_STUD, Spot, Window, spaced, span_between
from drafter.supports.straights import fixed_points
from drafter.supports.studs_beside import studs_beside


def place_supports(network: Network) -> Design:
    """Place brackets within the material's spans and near every fitting; number them wall by wall."""
    found: list[Bracket] = []
    findings: list[Finding] = []
    lines, consoles = pipe_lines(network), tuple(consoles_of(network.layout))
    places = [(line, [spot for spot in _spots(network, line) if line.is_free(spot.at_m)]) for line in lines]
    for bare, spots in places:
        line = replace(bare, windows=tuple(_to_stud(window, spots) for window in bare.windows))
        stations = [spot.at_m for spot in spaced(spots, line.stretches, line.windows)] if line.windows else []
        found += [_bracket(network, line, station) for station in stations]
        findings += [*_too_far_apart(network, line, stations), *_not_held(network, line, stations)]
    roomy = {line.runs[line.part_at(spot.at_m)].id for line, spots in places for spot in spots}
    roomless = [run.id for run in network.layout.runs if run.id not in roomy]
    holds = Holds(network, found, [console.node for console in consoles], roomless)
    corners = RoundCorners(network, places, holds, partial(_bracket, network))
    corners.hold()
    found += corners.added
    findings += corners.findings(frozenset(finding.subject for finding in findings))
    found = with_fixed_hose_end(network.layout, fixed_points(network, lines, found))
    order = {(face.room, face.name): i for i, face in enumerate(network.layout.site.faces)}
    found.sort(key=lambda b: (order[b.room, b.wall], round(b.from_left_m, 4), -b.at.z))
    numbered = [replace(bracket, tag=f"B-{n:02d}") for n, bracket in enumerate(found, 1)]
    brackets, consoles, boards = with_boards(network.layout.site, numbered, consoles)
    findings += studs_beside(network, brackets, consoles)
    return with_free_legs(Design(network, brackets, tuple(findings), boards, consoles), lines)


def _to_stud(window: Window, spots: list[Spot]) -> Window:
    """A window widened to a stud just beyond it, where no stud is in it: better than a board."""
    studs = [spot.at_m for spot in spots if spot.price == ON_STUD]
    boards = len(studs) < len(spots)
    if not boards or any(map(window.holds, studs)):
        return window
    near = [m for m in studs if window.low_m - BEYOND_M <= m <= window.high_m + BEYOND_M]
    return Window(min([window.low_m, *near]), max([window.high_m, *near]))


def _spots(network: Network, line: PipeLine) -> list[Spot]:
    """The stations where brackets could stand: stud centres, and elsewhere the grid that a fitter marks out on."""
    site = network.layout.site
    step = site.units.set_out_step_m
    grid = [n * step for n in range(math.ceil(line.low_m / step), math.floor(line.high_m / step) + 1)]
    studs = [stud.at_m for stud in studs_on(site, line.wall) if line.low_m <= stud.at_m <= line.high_m]
    anywhere = line.hangs and not line.wall.is_crossing
    if line.upright or line.face_m or anywhere or site.rooms[line.wall.room].studs_of(line.wall.name) is None:
        return [Spot(at_m) for at_m in grid]
    real = [at_m for at_m in studs if any(post.at_m == at_m for post in posts_at(site, line.wall, line.at(at_m).z))]
    beside = [at_m for at_m in grid if all(abs(at_m - stud) > STUD_WIDTH_M for stud in real)]
    spots = [Spot(at_m, ON_STUD) for at_m in real] + [Spot(at_m, ON_BOARD) for at_m in beside]
    return sorted(spots, key=lambda spot: spot.at_m)


def _bracket(network: Network, line: PipeLine, station: float) -> Bracket:
    site, at = network.layout.site, line.at(station)
    run = line.runs[line.part_at(station)]
    from_left, off_wall = line.wall.measure(at.plan)
    stand_off = line.wall.ceiling_m - at.z if line.hangs else off_wall - line.face_m
    on_wall = not line.face_m and (not line.hangs or line.wall.is_crossing)
    framed = on_wall and site.rooms[line.wall.room].studs_of(line.wall.name) is not None
    stud = stud_at(posts_at(site, line.wall, at.z), from_left) if framed else 0
    if framed and not stud:
        stand_off -= BOARD_THICK_M
    size = network.sizes[run.id]
    return Bracket(
        "", run.id, at, line.wall.room, line.wall.name, from_left, stand_off, size, False, stud,
        on_column=line.face_m > 0.0, hangs=line.hangs,
    )  # fmt: skip


def _too_far_apart(network: Network, line: PipeLine, stations: list[float]) -> Iterator[Finding]:
    """Yield CLIP001 for the widest span of a line that is wider than its pipe allows."""
    wide = [
        (high - low, span)
        for low, high in pairwise(stations)
        if high - low > (span := span_between(line.stretches, low, high)) + 1e-6
    ]
    if not wide:
        return
    units = network.layout.site.units
    gap, span = max(wide)
    yield Finding(
        "CLIP001",
        Severity.WARNING,
        network.layout.site.main.where("height_m"),
        f"brackets on {with_article(line.wall.name)} stand {units.length_with_unit(gap)} apart over an opening",
        line.runs[0].id,
        measured=units.length_with_unit(gap),
        limit=units.length_with_unit(span),
        fix="carry the pipe on a rail or board across the opening",
        source="bracket span of " + network.material.name,
    )


def _not_held(network: Network, line: PipeLine, stations: list[float]) -> Iterator[Finding]:
    """Yield CLIP002 for each side of a fitting where no bracket finds room near it."""
    units = network.layout.site.units
    for window in line.windows:
        if any(window.holds(station) for station in stations):
            continue
        middle = (window.low_m + window.high_m) / 2
        at = units.length_with_unit(middle)
        where = f"{at} above the floor" if line.upright else f"{at} from the left"
        near = units.length_with_unit(NEAR_FITTING_M)
        yield Finding(
            "CLIP002",
            Severity.WARNING,
            network.layout.site.main.where("height_m"),
            f"no bracket finds room near the fitting {where} on {with_article(line.wall.name)}",
            line.runs[line.part_at(middle)].id,
            measured="none",
            limit=f"one within {near} of the fitting",
            fix="carry the pipe on a rail or board there, or move the outlet or the opening",
            source="UFGS 15561A",
        )
