"""What the parts schedule says beside an item: thread forms, what units must do, short pieces, no length to spare."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from drafter.layout.graph import RunKind
from drafter.pipeline import Designed, design
from drafter.quantity import Units
from drafter.report.cutting import cutting_text
from drafter.report.results import results_text
from drafter.supports import Design
from drafter.takeoff import Takeoff
from drafter.takeoff.cutting import Bar, SizeCutting
from drafter.takeoff.cutting_words import kept_words, without_spare
from drafter.takeoff.job_tools import TOOL, job_tools
from drafter.takeoff.order_of_work import order_of_work
from drafter.takeoff.part import FITTINGS, OUTLETS, TREATMENT, TUBE
from drafter.takeoff.pipe_threads import short_pieces

SITES = Path(__file__).parents[2] / "example_sites"


@cache
def made(name: str, old: str = "", new: str = "") -> Designed:
    text = (SITES / f"{name}.yaml").read_text(encoding="utf-8")
    assert old in text
    return design(text.replace(old, new, 1), name)


def stages(designed: Designed) -> tuple[Design, Takeoff]:
    assert designed.design is not None, [finding.message for finding in designed.findings]
    assert designed.takeoff is not None
    return designed.design, designed.takeoff


@pytest.mark.parametrize("threads, outside, inside", [("G", "R", "Rp"), ("NPT", "NPT", "NPT")])
def test_threaded_pipe_names_the_form_of_its_threads(threads: str, outside: str, inside: str) -> None:
    """ISO 7-1: taper outside R, parallel inside Rp; NPT is taper on both."""
    design_, takeoff = stages(made("machinery_shed", "rooms:", f"threads: {threads}\nrooms:"))
    items = {row.item for row in takeoff.parts if row.group in (TUBE, FITTINGS)}
    assert f"elbow 90°, pipe thread {inside}" in items
    assert f"reducing tee, pipe thread {inside}" in items
    both = outside if outside == inside else f"{outside} / {inside}"
    assert f"union, male to female, pipe thread {both}" in items
    assert all(f"pipe thread {outside}" in row.item for row in takeoff.parts if row.group == TUBE)
    (die,) = [row.use for row in job_tools(design_, takeoff) if "die head" in row.item]
    assert die == f"both ends of each piece: 1/2 in, 3/4 in, thread {outside}"


def test_tube_that_is_not_threaded_names_none() -> None:
    _, takeoff = stages(made("bus_depot"))
    assert not any("pipe thread" in row.item for row in takeoff.parts)


def test_units_of_the_train_say_what_they_must_do() -> None:
    """The peak of the shop; cut-out 135 psi before and at the regulator of 105 psi."""
    design_, takeoff = stages(made("cabinet_shop"))
    units, supply = design_.network.layout.site.units, design_.network.supply
    flow = f"for {units.free_air(supply.peak_m3_s)} free air ({units.free_air_state}), rated 150 psi or more"
    items = {re.sub(r" at \d+ °F", "", row.item, count=1) for row in takeoff.parts if row.group == TREATMENT}
    assert items == {
        f"filter, both ends female, {flow}, particles class 6 of ISO 8573-1",
        f"refrigeration dryer, both ends female, {flow}, pressure dew point 37 °F",
        f"coalescing filter, both ends female, {flow}, particles class 1 and oil class 2 of ISO 8573-1",
        f"regulator, both ends female, {flow}, with a gauge, set to 105 psi",
    }


def test_units_are_rated_for_the_relief_setting_behind_a_regulator_too() -> None:
    old = "coalescing filter, {kind: regulator, set: 105 psi}"
    for train in (old, "{kind: regulator, set: 105 psi}, coalescing filter"):
        design_, takeoff = stages(made("cabinet_shop", old, train))
        units = [row for row in takeoff.parts if "for consoles" not in row.item and " free air (" in row.item]
        assert units
        relief = design_.network.layout.site.units.pressure(design_.network.layout.site.compressor.relief_pa)
        assert all(f"rated {relief} or more at " in row.item for row in units)


def test_the_first_unit_stands_the_air_of_the_warmest_day() -> None:
    design_, takeoff = stages(made("bus_depot"))
    first = next(node for node in design_.network.layout.nodes.values() if node.tag == "T-01")
    air_k = design_.network.water.warm.before[first.id].temperature_k
    (row,) = [row for row in takeoff.parts if "T-01" in row.tags and " free air (" in row.item]
    assert f" or more at {design_.network.layout.site.units.temperature(air_k)}" in row.item


def test_units_at_outlets_have_the_flow_of_their_outlet() -> None:
    design_, takeoff = stages(made("machinery_shed"))
    flows = {flow.tag: flow for flow in design_.network.outlets}
    units, relief_pa = design_.network.layout.site.units, design_.network.layout.site.compressor.relief_pa
    rows = [row.item for row in takeoff.parts if row.group == OUTLETS and "coupling" not in row.item]
    assert len(rows) == 2
    for tag in ("N1", "E1"):
        flow, needed = units.free_air(flows[tag].free_air_m3_s), units.pressure(flows[tag].needed_pa)
        begins = (
            f"regulator, both ends female, for {flow} free air ({units.free_air_state}), rated "
            f"{units.pressure(relief_pa)} or"
        )
        assert any(item.startswith(begins) and item.endswith(f"to leave {needed} at the tool") for item in rows)


def test_pieces_too_short_for_the_vice_ask_for_a_nipple_chuck() -> None:
    design_, takeoff = stages(made("machinery_shed"))
    short = short_pieces(design_.network, takeoff.pieces)
    assert {piece.number for piece in short} == {p.number for p in takeoff.pieces if p.cut_m < 0.11}
    assert 0 < len(short) < len(takeoff.pieces)
    (chuck,) = [row for row in job_tools(design_, takeoff) if row.item.startswith("nipple chuck")]
    assert str(short[0].number) in chuck.use
    assert "Under 110 mm, too short for vice and threader: piece " in cutting_text(takeoff, design_.network)
    press, pressed = stages(made("bus_depot"))
    assert short_pieces(press.network, pressed.pieces) == ()
    assert not any(row.item.startswith("nipple chuck") for row in job_tools(press, pressed))


def cut(offcut_m: float, count: int) -> SizeCutting:
    bar = Bar(1, "22", 6.0, tuple(range(count)), tuple(map(float, range(count))), offcut_m)
    return SizeCutting("22", (bar,), 6.0 - offcut_m, 6.0, 1)


def test_no_length_for_a_bad_cut_is_said() -> None:
    """Offcuts of 300 mm and more count; six pieces of a size are many, five are not."""
    metric = Units(False)
    assert kept_words(cut(0.29, 6), metric) == "0.00 m: none for a bad cut, one more is in the parts"
    assert kept_words(cut(0.30, 6), metric) == "0.30 m"
    assert kept_words(cut(0.0, 5), metric) == "0.00 m"
    assert (
        without_spare([cut(0.1, 9), cut(0.5, 9)]) == "Of 22 no length is left for a bad cut: one more is in the parts."
    )
    assert without_spare([cut(0.5, 9)]) == ""
    design_, takeoff = stages(made("machinery_shed"))
    assert "Of 3/4 no length is left for a bad cut: one more is in the parts." in cutting_text(takeoff, design_.network)
    (row,) = (row for row in takeoff.parts if row.item.endswith("one more for a bad cut"))
    assert (row.size, row.quantity, row.order) == ("3/4", 0.0, pytest.approx(21 * 0.3048))


@pytest.mark.parametrize(
    "name, said",
    [
        ("cabinet_shop", "26 on studs, 30 on backing boards\n  38 backing boards carry them, 9 of the consoles too"),
        ("machinery_shed", "6 on joists, 2 on columns, 61 on bare wall"),
        ("bus_depot", None),
    ],
)
def test_brackets_are_counted_by_what_holds_them(name: str, said: str | None) -> None:
    design_, _ = stages(made(name))
    text = results_text(design_)
    lines = text[text.index("BRACKETS") :].split("\n\n")[0].splitlines()
    assert lines[2:-2] == (f"  {said}".splitlines() if said else [])
    near = "12 in" if design_.network.layout.site.imperial else "300 mm"
    assert lines[-2].startswith(
        f"  one within {near} of the face of each bend, tee and valve, on either side (UFGS 15561A)"
    )


@pytest.mark.parametrize(
    "name, there, not_there",
    [
        (
            "cabinet_shop",
            ["saw for boards", "bits for wood", "hole saw", "platform"],
            ["hammer drill", "core drill", "rods"],
        ),
        (
            "machinery_shed",
            ["hammer drill", "rods", "platform", "what column", "what the deck"],
            ["saw for boards", "core drill with stand"],
        ),
        ("bicycle_coop", [], ["core drill", "platform", "saw for boards", "rods", "nipple chuck"]),
    ],
)
def test_tools_are_those_the_job_asks_for(name: str, there: list[str], not_there: list[str]) -> None:
    tools = " ".join(row.item for row in job_tools(*stages(made(name))) if row.kind == TOOL)
    assert [words for words in there if words not in tools] == []
    assert [words for words in not_there if words in tools] == []


def test_valves_outlets_and_hoses_say_which_ends_they_must_have() -> None:
    for name in ("bus_depot", "machinery_shed"):
        items = {row.item for row in stages(made(name))[1].parts}
        sealed = "R, or G with a sealing washer"
        hose = f"flexible connection with a swivel end, rated for the discharge, both ends male, {sealed}"
        drain = f"drain valve, end male, {sealed}"
        assert {"ball valve, lockable, threaded, both ends female", hose, drain} <= {
            item.partition(", pipe thread")[0] for item in items
        }


def test_threaded_pipe_takes_devices_by_couplings() -> None:
    items = {row.item for row in stages(made("machinery_shed"))[1].parts}
    assert not any(item.startswith(("adapter, female thread", "outlet adapter")) for item in items)
    assert any(item.startswith("coupling") for item in items)


def test_the_slip_coupling_that_closes_a_ring_is_told_where_it_is_used() -> None:
    design_, takeoff = stages(made("boat_shed"))
    told = [step for step in order_of_work(design_, takeoff) if "slip coupling" in step.care]
    (slipping,) = [piece for piece in takeoff.pieces if piece.slips]
    assert len(told) == 1
    assert f"onto piece {slipping.number}," in told[0].care
    assert told[0].what.startswith("Build the main")


def test_sleeves_are_as_long_as_the_wall_between_the_rooms_is_thick() -> None:
    _, takeoff = stages(made("bus_depot"))
    sleeves = [row for row in takeoff.parts if row.item.startswith("wall sleeve")]
    assert [(row.item, row.quantity) for row in sleeves] == [("wall sleeve with seal, 200 mm thick", 2)]


def test_consoles_and_unit_brackets_have_screws_of_their_own() -> None:
    design_, takeoff = stages(made("bus_depot"))
    (row,) = [row for row in takeoff.parts if "for consoles and unit brackets" in row.item]
    assert row.quantity == 4 * sum(not console.on_floor for console in design_.consoles) == 4 * 16


def test_the_core_drill_has_its_diameters() -> None:
    (core,) = [row for row in job_tools(*stages(made("bus_depot"))) if row.item.startswith("core drill")]
    assert core.use == "sleeves: 65 mm"


@pytest.mark.parametrize("name", sorted(path.stem for path in SITES.glob("*.yaml")))
def test_the_flexible_connection_runs_straight_between_two_elbows(name: str) -> None:
    """An S between two ends that point the same way would be bent tighter than such hose may be."""
    design_, takeoff = stages(made(name))
    layout = design_.network.layout
    (elbows,) = [row for row in takeoff.parts if row.item.startswith("street elbow 90")]
    assert elbows.quantity == 2
    (hose,) = [part for part in takeoff.instances if part.item.startswith("flexible connection")]
    ends = [joint for joint in takeoff.joints if hose.id in (joint.first[0], joint.second[0])]
    items = {part.id: part.item for part in takeoff.instances}
    assert all("street elbow" in items[joint.first[0]] + items[joint.second[0]] for joint in ends)
    (run,) = [run for run in layout.runs if run.kind is RunKind.FLEXIBLE]
    bridged_m, step = layout.length_m(run), 0.1
    written = hose.size.rpartition(", ")[2]
    assert any(
        written == layout.site.units.length_with_unit(max(0.3, count * step))
        for count in range(1, 20)
        if bridged_m - 1e-6 <= count * step < bridged_m + step
    )


@pytest.mark.parametrize("name, at", [("boat_shed", [3.015, 7.975]), ("bus_depot", [14.673]), ("bicycle_coop", [])])
def test_couplings_of_stock_lengths_are_marked_off_brackets(name: str, at: list[float]) -> None:
    """By hand from the pieces' lengths, full ones a centimetre short of the stock; no bracket within a hand of one."""
    design_, takeoff = stages(made(name))
    marks = [mark for mark in takeoff.marks if "coupling of pieces" in mark.what]
    assert sorted(mark.from_left_m for mark in marks) == pytest.approx(at, abs=1e-3)
    for mark in marks:
        near = [b for b in design_.brackets if (b.room, b.wall) == (mark.room, mark.wall)]
        level = [b for b in near if abs(b.at.z - mark.height_m) < 0.1]
        assert all(abs(b.from_left_m - mark.from_left_m) > 0.05 for b in level)


def test_a_regulator_for_blow_guns_alone_is_set_for_cleaning() -> None:
    old = "tools: [blow gun]"
    _, takeoff = stages(made("bicycle_coop", old, "tools: [blow gun], service: [regulator]"))
    (row,) = [row for row in takeoff.parts if row.item.startswith("regulator")]
    assert row.item.endswith("set below 30 psi (2.07 bar), for cleaning")
