"""What makes no sense in a site, at its limit and without echoes; the plain cases stand in tests/bad_sites."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drafter.finding import Finding, Severity
from drafter.site import Site

SiteOf = Callable[[str], Site]
FoundIn = Callable[[str], list[Finding]]


def changed(text: str, *pairs: str) -> str:
    for old, new in zip(pairs[::2], pairs[1::2], strict=True):
        assert old in text
        text = text.replace(old, new, 1)
    return text


def test_the_shed_is_fine(shed: str, found_in: FoundIn) -> None:
    assert found_in(shed) == []


@pytest.mark.parametrize(
    "old, new, rule",
    [
        ("from left: 2 m", "from left: 6 m", ""),
        ("from left: 2 m", "from left: 6.001 m", "PLACE001"),
        ("from left: 1 m, width: 1 m", "from left: 3 m, width: 1 m", ""),
        ("from left: 1 m, width: 1 m", "from left: 3.001 m, width: 1 m", "PLACE001"),
        ("from left: 1 m, width: 1 m", "from left: 0 m, width: 4.1 m", "PLACE001"),
        ("width: 1 m}", "width: 1 m, height: 3 m}", ""),
        ("width: 1 m}", "width: 1 m, height: 3.001 m}", "PLACE004"),
        ("{kind: door, wall: east", "{kind: window, height: 0.9 m, wall: east", "PLACE004"),
        ("{kind: door, wall: east", "{kind: window, height: 0.901 m, wall: east", ""),
        ("cut in: 6 bar", "cut in: 8 bar", "PRES001"),
        ("cut in: 6 bar", "cut in: 7.9 bar", ""),
        ("cut in: 6 bar", "cut in: 7.99 bar", "PRES004"),
        ("relief: 10 bar", "relief: 8 bar", "PRES002"),
        ("relief: 10 bar", "relief: 8.01 bar", ""),
        ("relief: 10 bar", "relief: 11 bar", ""),
        ("relief: 10 bar", "relief: 11.01 bar", "PRES003"),
        ("rated: 11 bar", "rated: 7 bar", "PRES003"),
        ("height: 2.5 m}", "height: 2.95 m}", ""),
        ("height: 2.5 m}", "height: 2.96 m}", "PLACE008"),
        ("height: 2.5 m}", "height: 2.5 m, fall: 0 %}", ""),
        ("material: copper tube type L", "material: Copper Tube Type L", ""),
        ("material: copper tube type L", "material: uPVC", "MAT001"),
        ("material: copper tube type L", "material: glass tube", "REF004"),
        ("height: 2.5 m}", "height: 2.5 m, size: 3/4}", ""),
        ("height: 2.5 m}", "height: 2.5 m, size: 22 x 2}", "REF005"),
        ("height: 2.5 m}", "height: 2.5 m, drop size: 22 x 2}", "REF005"),
        ("tools: [blow gun]", "tools: [Air Gun]", ""),
        ("tools: [blow gun]", "tools: [blow pipe]", "REF003"),
        ("tools: [blow gun]", "tools: [{tool: blow pipe, free air: 3 l/s, pressure: 4 bar}]", ""),
        ("tag: A2", "tag: a1", "TAG001"),
        ("tag: A2", "tag: V-1", "TAG002"),
        ("wall: west, from left: 1 m", "wall: south, from left: 2.04 m", "PLACE013"),
        ("wall: west, from left: 1 m", "wall: south, from left: 2.06 m", ""),
        ("outlets:", "demand: {at once: 2}\noutlets:", ""),
        ("outlets:", "demand: {at once: 3}\noutlets:", "DEM001"),
        ("ceiling: 3 m", "ceiling: 3 m\n    coldest: 20 degC\n    warmest: 20 degC", ""),
        ("ceiling: 3 m", "ceiling: 3 m\n    coldest: 21 degC\n    warmest: 20 degC", "ROOM006"),
        ("ceiling: 3 m", "ceiling: 3 m\n    warmest: 4 degC", "ROOM006"),
        ("relief: 10 bar", "relief: 10 bar, connection: {from left: 1.6 m, height: 0.7 m}", ""),
        ("relief: 10 bar", "relief: 10 bar, connection: {from left: 1.61 m, height: 0.7 m}", "PLACE009"),
        ("relief: 10 bar", "relief: 10 bar, depth: 3.7 m", ""),
        ("relief: 10 bar", "relief: 10 bar, depth: 3.71 m", "PLACE005"),
        ("relief: 10 bar", "relief: 10 bar, height: 3.1 m", "PLACE004"),
        ("wall: south, from left: 2 m", "wall: south, from left: 2 m, height: 3.5 m", "PLACE004"),
        ("main: {", "treatment: [{kind: refrigeration dryer, dew point: 2 degC}]\nmain: {", ""),
        ("main: {", "treatment: [{kind: refrigeration dryer, dew point: 1.9 degC}]\nmain: {", "DEW002"),
        ("main: {", "treatment: [{kind: desiccant dryer, dew point: -80 degC}]\nmain: {", ""),
        ("main: {", "treatment: [{kind: regulator, dew point: 3 degC}]\nmain: {", "DEW001"),
        ("tools: [blow gun]", "tools: [blow gun], class: 7:9:4", ""),
        ("tools: [blow gun]", "tools: [blow gun], class: x:X:0", ""),
        ("tools: [blow gun]", "tools: [blow gun], class: 1:4:5", "CLASS001"),
        ("relief: 10 bar", "relief: 10 bar, intake humidity: 100 %, air warmer by: 60 K, oil: oil-free", ""),
        ("relief: 10 bar", "relief: 10 bar, intake humidity: 100.1 %", "VAL001"),
        ("relief: 10 bar", "relief: 10 bar, air warmer by: 108 degF", ""),
        ("relief: 10 bar", "relief: 10 bar, air warmer by: 109 degF", "VAL001"),
        ("outlets:", "demand: {working day: 24 h}\noutlets:", ""),
        ("wall: west, from left: 1 m", "wall: east, from left: 1.5 m", "PLACE002"),
        ("wall: west, from left: 1 m", "wall: east, from left: 2 m", "PLACE002"),
        ("wall: west, from left: 1 m", "wall: east, from left: 2.01 m", ""),
        ("wall: west, from left: 1 m", "wall: east, from left: 1.5 m, height: 2.05 m", ""),
    ],
)  # fmt: skip
def test_each_check_at_its_limit(old: str, new: str, rule: str, shed: str, found_in: FoundIn) -> None:
    assert [finding.rule for finding in found_in(changed(shed, old, new))] == ([rule] if rule else [])


@pytest.mark.parametrize(
    "things, rule",
    [
        ("columns:\n      - {wall: north, from left: 1.5 m, off wall: 0.7 m, width: 0.3 m, depth: 0.3 m}", "PLACE006"),
        ("columns:\n      - {wall: north, from left: 1.6 m, off wall: 0.7 m, width: 0.3 m, depth: 0.3 m}", ""),
        ("columns:\n      - {wall: north, from left: 2 m, off wall: 3.8 m, width: 0.3 m, depth: 0.3 m}", "PLACE005"),
        ("columns:\n      - {wall: north, from left: 5.8 m, width: 0.3 m, depth: 0.3 m}", "PLACE001"),
        ("columns:\n      - {wall: south, from left: 1.9 m, width: 0.3 m, depth: 0.3 m}", "PLACE006"),
        ("equipment:\n      - {kind: machine, wall: north, from left: 1 m, width: 1 m}", "PLACE006"),
        ("equipment:\n    - {kind: shelf, wall: north, from left: 0 m, width: 1 m, above floor: 1 m, height: 2 m}", ""),
        ("equipment:\n    - {kind: shelf, wall: east, from left: 3 m, width: 1 m, above floor: 2 m}", "PLACE004"),
        ("equipment:\n      - {kind: cabinet, wall: south, from left: 1.5 m, width: 1 m, height: 2 m}", "PLACE012"),
        ("equipment:\n      - {kind: cabinet, wall: south, from left: 1.5 m, width: 1 m, height: 1.2 m}", ""),
        ("equipment:\n      - {kind: bench, wall: south, from left: 3 m, width: 1 m, height: 3.1 m}", "PLACE004"),
        ("keep clear:\n      - {kind: volume, wall: north, from left: 1 m, width: 1 m, depth: 0.3 m}", ""),
        ("keep clear:\n      - {kind: volume, wall: north, from left: 1 m, width: 1 m, depth: 0.31 m}", "PLACE007"),
        ("keep clear:\n      - {kind: volume, wall: south, from left: 1 m, width: 2 m}", "PLACE007"),
        ("keep clear:\n      - {kind: volume, wall: south, from left: 1 m, width: 2 m, above floor: 1.3 m}", ""),
        ("keep clear:\n      - {kind: volume, wall: east, from left: 3.5 m, width: 0.5 m, depth: 5 m}", "PLACE007"),
    ],
)  # fmt: skip
def test_things_in_each_others_way(things: str, rule: str, shed: str, found_in: FoundIn) -> None:
    found = found_in(changed(shed, "compressor:", f"    {things}\ncompressor:"))
    assert [finding.rule for finding in found] == ([rule] if rule else [])


@pytest.mark.parametrize(
    "door, blocked",
    [
        ("kind: door, wall: west, from left: 2.3 m, width: 1 m, swing: in, hinge: left", False),
        ("kind: door, wall: west, from left: 2.3 m, width: 1 m, swing: in, hinge: right", True),
        ("kind: door, wall: west, from left: 2.5 m, width: 1 m, swing: out", True),
        ("kind: door, wall: west, from left: 1.5 m, width: 1 m, swing: in, hinge: right", False),
        ("kind: overhead door, wall: north, from left: 1 m, width: 3 m", True),
        ("kind: overhead door, wall: north, from left: 1.6 m, width: 3 m", False),
        ("kind: window, wall: north, from left: 1 m, width: 2 m, height: 2 m", False),
    ],
)
def test_a_compressor_in_a_doorway(door: str, blocked: bool, shed: str, found_in: FoundIn) -> None:
    text = changed(shed, "kind: door, wall: east, from left: 1 m, width: 1 m", door)
    assert [finding.rule for finding in found_in(text)] == (["PLACE010"] if blocked else [])


def in_room(shed: str) -> str:
    for wall in ("north", "south", "west"):
        shed = shed.replace(f"wall: {wall}", f"room: shed, wall: {wall}")
    return shed


def test_a_room_out_of_reach(shed: str, found_in: FoundIn) -> None:
    outlet = "  - {tag: A3, room: hut, wall: north, from left: 1 m}\n"
    near = changed(
        in_room(shed), "compressor:", "  hut: {size: [3 m, 3 m], ceiling: 3 m, at: [6.15 m, 0 m]}\ncompressor:"
    )
    assert found_in(near + outlet) == []
    (finding,) = found_in(near.replace("6.15 m", "7 m") + outlet)
    assert (finding.rule, finding.subject) == ("ROOM005", "hut")
    assert found_in(near.replace("6.15 m", "7 m")) == []


def test_rooms_that_overlap(shed: str, found_in: FoundIn) -> None:
    text = changed(
        in_room(shed), "compressor:", "  hut: {size: [3 m, 3 m], ceiling: 3 m, at: [5.9 m, 0 m]}\ncompressor:"
    )
    (finding,) = found_in(text)
    assert finding.rule == "ROOM004"
    assert "0.30 m2" in finding.message


def test_a_sleeve_leads_into_another_room(shed: str, found_in: FoundIn) -> None:
    hut = "  hut: {size: [3 m, 3 m], ceiling: 3 m, at: [6.15 m, 0 m]}\ncompressor:"
    sleeve = "height: 2.5 m, through: {room: shed, wall: east, from left: 3 m}}"
    text = changed(in_room(shed), "compressor:", hut, "height: 2.5 m}", sleeve)
    assert found_in(text) == []
    assert [f.rule for f in found_in(text.replace("east, from left: 3 m}", "east, from left: 0.5 m}"))] == ["PLACE011"]
    assert [f.rule for f in found_in(text.replace("east, from left: 3 m}", "east, from left: 5 m}"))] == ["PLACE001"]


def test_the_lowest_ceiling_that_the_main_serves_counts(shed: str, found_in: FoundIn) -> None:
    hut = "  hut: {size: [3 m, 3 m], ceiling: 2.4 m, at: [6.15 m, 0 m]}\ncompressor:"
    text = changed(in_room(shed), "compressor:", hut)
    assert found_in(text) == []
    (finding,) = found_in(text + "  - {tag: A3, room: hut, wall: north, from left: 1 m}\n")
    assert (finding.rule, finding.measured, finding.limit) == ("PLACE008", "2500 mm", "2350 mm")


def test_names_of_rooms_and_walls_count_no_capitals_and_come_out_as_they_are(shed: str, site_of: SiteOf) -> None:
    text = changed(in_room(shed), "room: shed, wall: south", "room: SHED, wall: South")
    site = site_of(text)
    assert (site.outlets[0].room, site.outlets[0].wall) == ("shed", "south")


@pytest.mark.parametrize(
    "old, new, rules",
    [
        ("size: [6 m, 4 m]", "size: [6, 4 m]", ["UNIT001"]),
        ("size: [6 m, 4 m]", "size: 6 m", ["FILE005"]),
        ("ceiling: 3 m", "ceiling: 3", ["UNIT001"]),
        ("ceiling: 3 m", "", ["KEY002"]),
        ("  shed:\n", "  '#1':\n", ["TEXT003"]),
        ("rooms:", "roms:", ["KEY001"]),
        ("wall: north, ", "wall: nord, ", ["REF002"]),
        ("wall: north, ", "", ["KEY002"]),
        ("material: copper tube type L", "material: [a, b]", ["FILE005"]),
        ("main:", "mian:", ["KEY001"]),
        ("compressor:", "compresor:", ["KEY001"]),
        ("compressor:", "compressor: big\nold:", ["FILE005", "KEY001"]),
        ("tag: A1, ", "", ["KEY002"]),
        ("- {tag: A1, wall: south, from left: 2 m, tools: [blow gun]}", "- A1", ["FILE005"]),
        ("tools: [blow gun]", "tools: [[blow gun]]", ["FILE005"]),
        ("rated: 11 bar", "rated: 11", ["UNIT001"]),
    ],
)  # fmt: skip
def test_one_mistake_has_no_echo(old: str, new: str, rules: list[str], shed: str, found_in: FoundIn) -> None:
    assert [finding.rule for finding in found_in(changed(shed, old, new))] == rules


def test_what_could_not_be_read_hides_no_other_mistake(shed: str, found_in: FoundIn) -> None:
    text = changed(
        shed,
        "ceiling: 3 m", "ceiling: 3",
        "power: 1.5 kW", "power: 1.5",
        "cut in: 6 bar", "cut in: 9 bar",
        "rated: 11 bar", "rated: 11",
        "relief: 10 bar", "relief: 7 bar",
        "material: copper tube type L", "material: PVC",
        "wall: south, from left: 2 m, tools: [blow gun]", "wall: south, from left: 7 m, tools: [blow pipe]",
        "tag: A2, wall: west, from left: 1 m", "tag: A1, wall: vest, from left: 1",
    )  # fmt: skip
    assert [finding.rule for finding in found_in(text)] == [
        "UNIT001", "UNIT001", "PRES001", "UNIT001", "PRES002", "MAT001", "PLACE001", "REF003", "TAG001", "REF002",
        "UNIT001",
    ]  # fmt: skip


def test_findings_name_the_thing_and_give_its_number_and_limit(shed: str, found_in: FoundIn) -> None:
    (finding,) = found_in(changed(shed, "from left: 2 m", "from left: 20 ft"))
    assert (finding.severity, finding.subject) == (Severity.ERROR, "A1")
    assert (finding.measured, finding.limit) == ("6096 mm", "6000 mm")
    assert (finding.place.line, finding.place.column) == (13, 39)


def test_names_and_tags_may_be_numbers(shed: str, site_of: SiteOf) -> None:
    site = site_of(
        changed(in_room(shed), "  shed:\n", "  12:\n", "tag: A1", "tag: 1").replace("room: shed", "room: 12")
    )
    assert (list(site.rooms), site.outlets[0].tag, site.outlets[0].room) == (["12"], "1", "12")
