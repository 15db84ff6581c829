"""A wall of two rooms stands on one row of studs, from whichever face these are told."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from drafter.finding import Finding
from drafter.site import Site

SiteOf = Callable[[str], Site]
FoundIn = Callable[[str], list[Finding]]

TWO = """\
site: Two Rooms (invented)
rooms:
  front:
    size: [8 m, 5 m]
    ceiling: 3 m
    {front}
  back:
    size: [3.5 m, 3 m]
    behind: {{room: front, wall: north, from left: 2 m}}
    ceiling: 3 m
    {back}
    openings: [{{kind: door, wall: north, from left: 1 m, width: 1 m}}]
compressor:
  {{room: front, wall: south, from left: 0.5 m, power: 1.5 kW, free air: 3 l/s, cut in: 6 bar, cut out: 8 bar,
   tank: 50 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.5 m}}
outlets: [{{tag: A1, room: front, wall: east, from left: 2 m, tools: [blow gun]}}]
"""


def studs_from(site: Site, room: str, wall: str) -> list[float]:
    """Where studs stand along the front room's north wall, as told of one of its faces [m]."""
    studs = site.rooms[room].studs_of(wall)
    assert studs is not None
    face, front = site.wall(room, wall), site.wall("front", "north")
    return [front.measure(face.at(at_m))[0] for at_m in studs.places_m(face.length_m)]


@pytest.mark.parametrize(
    "front, back",
    [
        ("studs: {spacing: 600 mm, first: 580 mm}", ""),
        ("", "studs: {spacing: 600 mm, first: 130 mm}"),
        ("walls: [{wall: north, studs: {spacing: 450 mm, first: 30 mm}}]", "studs: {spacing: 600 mm, first: 580 mm}"),
        ("studs: {spacing: 400 mm, first: 380 mm}", "walls: [{wall: south, studs: {spacing: 600 mm, first: 610 mm}}]"),
    ],
)
def test_the_face_of_which_less_is_said_has_the_studs_of_the_other(
    front: str, back: str, site_of: SiteOf, found_in: FoundIn
) -> None:
    text = TWO.format(front=front, back=back)
    assert not found_in(text)
    site = site_of(text)
    ahead, behind = studs_from(site, "front", "north"), studs_from(site, "back", "south")
    within = [at_m for at_m in ahead if 2.05 < at_m < 5.45]
    assert len(within) >= 5
    assert within == pytest.approx(sorted(at_m for at_m in behind if 2.05 < at_m < 5.45))


def test_masonry_said_of_a_face_stays(site_of: SiteOf) -> None:
    text = TWO.format(front="walls: [{wall: north, built: masonry}]", back="studs: {spacing: 600 mm, first: 580 mm}")
    assert site_of(text).rooms["front"].studs_of("north") is None


def test_other_walls_of_the_room_stay_masonry(site_of: SiteOf) -> None:
    room = site_of(TWO.format(front="", back="studs: {spacing: 600 mm, first: 580 mm}")).rooms["front"]
    assert [room.studs_of(wall) is None for wall in ("north", "east", "south", "west")] == [False, True, True, True]


@pytest.mark.parametrize(
    "first, spacing, found",
    [("120 mm", "600 mm", 0), ("129 mm", "600 mm", 0), ("131 mm", "600 mm", 1), ("109 mm", "600 mm", 1),
     ("120 mm", "300 mm", 1), ("580 mm", "600 mm", 1)],
)  # fmt: skip
def test_measures_that_do_not_agree_are_told_once_with_what_to_write(
    first: str, spacing: str, found: int, found_in: FoundIn
) -> None:
    """Studs of the front at 580 + n x 600 stand at 120 + n x 600 from the back's corner, 5.5 m along."""
    back = f"studs: {{spacing: {spacing}, first: {first}}}"
    text = TWO.format(front="studs: {spacing: 600 mm, first: 580 mm}", back=back)
    told = [finding for finding in found_in(text) if finding.rule == "WALL004"]
    assert len(told) == found
    for finding in told:
        said = re.search(r"walls: \[.*\]$", finding.fix)
        assert said is not None
        assert finding.place.line == text[: text.rindex(back)].count("\n") + 1
        before, room, after = text.rpartition(back)
        assert not found_in(f"{before}{room}\n    {said[0]}{after}")
