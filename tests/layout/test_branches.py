"""The branch of an outlet: along the wall where its units have room, else into the room."""

from __future__ import annotations

import pytest

from drafter.layout.graph import Layout
from drafter.pipeline import Designed, design

SITE = """
site: Branch Yard (invented)
rooms:
  shop:
    size: [9 m, 6 m]
    ceiling: 3 m
    openings: [{{kind: window, wall: east, from left: 1.9 m, width: 1.2 m, height: 2.0 m, sill: 0.9 m}}]
compressor:
  {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar, tank: 100 l,
   rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube, height: 2.6 m, fall: 1 %}}
outlets:
  - {{tag: S1, wall: south, from left: 4 m, tools: [blow gun]}}
  - {{tag: A1, wall: east, from left: {place}, height: 1.2 m, tools: [blow gun], service: {service}}}
{more}"""
BESIDE = "  - {{tag: {tag}, wall: east, from left: {place}, tools: [blow gun]}}\n"


def made(place: str, service: str = "[filter, regulator]", beside: tuple[str, ...] = ()) -> Designed:
    more = "".join(BESIDE.format(tag=f"B{number}", place=each) for number, each in enumerate(beside))
    done = design(SITE.format(place=place, service=service, more=more), "yard.yaml")
    assert done.layout is not None, done.findings
    return done


def out_m(layout: Layout) -> tuple[float, float]:
    """How far the coupling of A1 is from its drop: to the right along the wall, and off it."""
    coupling = next(node for node in layout.couplings if node.tag == "A1")
    wall, foot = layout.site.wall("shop", "east"), layout.outlet_foot(coupling)
    (s, off), (foot_s, foot_off) = wall.measure(coupling.at.plan), wall.measure(foot.at.plan)
    return s - foot_s, off - foot_off


@pytest.mark.parametrize(
    "place, beside, side",
    [
        ("4.5 m", (), 1),
        ("5.6 m", (), -1),
        ("4.5 m", ("4.9 m",), -1),
        ("3.6 m", ("3.9 m",), 0),
        ("3.6 m", (), 1),
        ("1.4 m", (), -1),
    ],
    ids=["free", "corner", "other drop", "window and drop", "window on the left", "window on the right"],
)
def test_units_stand_where_the_wall_is_free(place: str, beside: tuple[str, ...], side: int) -> None:
    layout = made(place, beside=beside).layout
    assert layout is not None
    along, off = out_m(layout)
    assert along == pytest.approx(side * 0.54, abs=1e-9)
    assert off == pytest.approx(0.0 if side else 0.54, abs=1e-9)


def test_an_outlet_without_units_points_into_the_room() -> None:
    layout = made("4.5 m", "[]").layout
    assert layout is not None
    assert out_m(layout) == (pytest.approx(0.0, abs=1e-9), pytest.approx(0.14))


def test_two_outlets_with_units_do_not_share_a_stretch_of_wall() -> None:
    text = SITE.format(
        place="3.9 m",
        service="[filter, regulator]",
        more="  - {tag: B1, wall: east, from left: 5.1 m, tools: [blow gun], service: [filter, regulator]}\n",
    )
    layout = design(text, "yard.yaml").layout
    assert layout is not None
    spans = []
    for node in (node for node in layout.couplings if node.wall == "east"):
        ends = sorted(layout.from_left_m(each) for each in (node, layout.outlet_foot(node)))
        spans.append(ends)
    (_, first_right), (second_left, _) = sorted(spans)
    assert second_left > first_right


def test_the_mark_of_the_outlet_is_where_its_coupling_is() -> None:
    done = made("4.5 m")
    assert done.takeoff is not None
    (mark,) = [mark for mark in done.takeoff.marks if mark.tag == "A1" and mark.what.startswith("outlet")]
    assert mark.from_left_m == pytest.approx(5.04)
    console = next(row for row in done.takeoff.parts if row.item == "console for an outlet, 60 mm off the wall")
    assert console.tags == ("A1",)
