"""A leak test as it was read and what it says: rows of words, and a sheet for the folder."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafter.drawing import Drawing, Sheet, Text
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.quantity import Units, duration
from drafter.sheets.layers import Layers, before_number
from drafter.sheets.leak_test import cautions_at_test
from drafter.sheets.leak_verdict import verdict_words
from drafter.sheets.paper import paper
from drafter.sheets.stamp import stamp_of
from drafter.sheets.tables import PITCH_MM, TEXT_MM, Column, Table, flow
from drafter.sheets.title_block import SheetHead, sheet_fields
from drafter.sheets.title_strip import drawing_area, frame_and_title
from drafter.site.model import Site
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S
from drafter.sizing.leak_pressure import under_test
from drafter.sizing.leak_result import WORKING_DAYS, LeakResult, Verdict
from drafter.sizing.network import Network

TITLE = "Leak test"
MARGIN_MM, HEAD_MM, HEAD_PITCH_MM = 3.0, 3.5, 5.5
WIDEST_MM = 130.0

DEFER = (
    "The local code, the inspector and the tank's data plate decide what passes. Free air counts at 20 °C, 1 bar "
    "absolute, dry; pressures are gauge. The motor's own loss and idling are not in the energy.",
)


def title_of(result: LeakResult) -> str:
    """Return what a reading is called: what was under test, and when."""
    what = "compressor's times" if not result.volume_m3 else _part(result)
    return f"LEAK TEST, {what}{', ' + result.reading.date if result.reading.date else ''}"


def _part(result: LeakResult) -> str:
    reading = result.reading
    return f"V-01 to {reading.before}" if reading.before else reading.under_test


def result_rows(network: Network, result: LeakResult) -> list[tuple[str, str]]:
    """Return what was read, what follows from it, and the verdict, as rows of what and value.

    The verdict is last, but first where the pressure was above what it may be.
    """
    units, reading = network.layout.site.units, result.reading
    rows = list(_read(network, result))
    if result.verdict is not Verdict.NOTHING:
        rows += [("it leaks", _leak_words(result, units)), ("of what is delivered", units.share(result.share))]
    rows.append((_accepted_words(result, units), units.leak(result.accepted_m3_s)))
    if result.allowed_m3_s:
        rows.append(("leakage the site file allows for", units.leak(result.allowed_m3_s)))
    if result.verdict is not Verdict.NOTHING:
        if result.hole_m:
            rows.append(("as one hole at the cut-out", _hole(result.hole_m, units)))
        rows += _cost(network.layout.site, result)
    if reading.by:
        rows.append(("tested by", reading.by))
    verdict = ("verdict", verdict_words(result, units))
    return [verdict, *rows] if result.verdict is Verdict.OVER else [*rows, verdict]


def in_order(results: Sequence[LeakResult]) -> list[LeakResult]:
    """Return results as they are told: first those above what the pressure may be."""
    return sorted(results, key=lambda result: result.verdict is not Verdict.OVER)


def _hole(diameter_m: float, units: Units) -> str:
    size, step, digits, unit = (
        (diameter_m / 0.0254, 0.001, 3, "in") if units.imperial else (diameter_m * 1000.0, 0.01, 2, "mm")
    )
    return f"{size:.{digits}f} {unit}" if size >= step else f"less than {step} {unit}"


def _read(network: Network, result: LeakResult) -> Iterator[tuple[str, str]]:
    units, reading = network.layout.site.units, result.reading
    if reading.start_pa is None or reading.end_pa is None or reading.time_s is None:
        assert reading.loaded_s is not None
        assert reading.unloaded_s is not None
        times = f"delivers {duration(reading.loaded_s)}, then rests {duration(reading.unloaded_s)}"
        yield "read with nothing in use", times
        return
    holds = units.line_volume(result.volume_m3)
    yield "under test", f"{under_test(network, reading).what}, {holds}"
    start, end = units.pressures_apart(*sorted((reading.start_pa, reading.end_pa)))
    start, end = (end, start) if reading.start_pa >= reading.end_pa else (start, end)
    yield "read", f"{start}, after {duration(reading.time_s)} {end}"
    if reading.start_k is None or reading.end_k is None:
        step, swing_pa = ("1 °F", result.swing_pa_per_k / 1.8) if units.imperial else ("1 K", result.swing_pa_per_k)
        yield "air", f"its temperature was not read; {step} changes the pressure by {units.pressure_drop(swing_pa)}"
    else:
        yield "air", f"{units.temperature(reading.start_k)}, then {units.temperature(reading.end_k)}"
    change_pa = result.corrected_fall_pa
    yield (
        f"{'rise' if result.verdict is Verdict.NOTHING else 'fall'} at one temperature",
        units.pressure_drop(abs(change_pa)),
    )


def _leak_words(result: LeakResult, units: Units) -> str:
    at_cut_out = f", at the cut-out {units.leak(result.at_cut_out_m3_s)}" if result.volume_m3 else ""
    least = "at least " if result.verdict is Verdict.EMPTY else ""
    return f"{least}{units.leak(result.leak_m3_s)}{at_cut_out}"


def _accepted_words(result: LeakResult, units: Units) -> str:
    if not result.volume_m3:
        return "well kept, US DOE: under 10 %"
    lost, test = units.pressure_drop(ACCEPTED_FALL_PA), units.pressure(result.test_gauge_pa)
    return f"new work may lose {lost} in {duration(TEST_TIME_S)} from {test}"


def _cost(site: Site, result: LeakResult) -> Iterator[tuple[str, str]]:
    """What it costs to keep up with the leak, in energy and in the site's currency."""
    for when, energy_j in (
        ("left on all year it takes", result.energy_j_year),
        (f"in {WORKING_DAYS} working days of {duration(site.demand.working_day_s)}", result.energy_j_working),
    ):
        kwh = energy_j / 3.6e6
        money = "" if site.energy_price is None else f", which costs {kwh * site.energy_price:.2f}"
        yield when, f"{kwh:.0f} kWh{money}"
    if site.energy_price is None:
        yield "its cost", "write the price of a kilowatt-hour into the site file: energy price: 0.30"


def leak_drawing(network: Network, results: Sequence[LeakResult], errors: int = 0) -> Drawing:
    """Compose the sheets of some readings, in their order, with lines to sign.

    Args:
        errors: how many the design has; where there are any, every sheet is stamped.
    """
    stamp = stamp_of(errors)
    results, site = in_order(results), _dated(network.layout.site, results)
    layers, page = Layers(site.drawing.discipline), paper(site.drawing.paper)
    area = drawing_area(page, of_tables=True).grown(-MARGIN_MM)
    words = _head(results, site, area, layers)
    room = Box(area.left, area.bottom, area.right, words[-1].at.y - 2 * PITCH_MM)
    columns = (Column("what"), Column("value", widest_mm=WIDEST_MM))
    tables = [Table(title_of(result), columns, tuple(result_rows(network, result))) for result in results]
    tables.append(Table("RECORD", columns, _record()))
    placed = flow(tables, room, layers)
    sheets = []
    for index, each in enumerate(placed, 1):
        number = f"{before_number(site.drawing.discipline)}8{index:02d}"
        head = SheetHead(number, TITLE, "not to scale", 1.0, index, len(placed))
        items = (
            *frame_and_title(site, page, head, layers, stamp, of_tables=True),
            *(words if index == 1 else ()),
            *each.items,
        )
        fields = sheet_fields(site, page, head)
        sheets.append(Sheet(head.number, TITLE, page.width_mm, page.height_mm, items, (), fields))
    data = site.drawing
    return Drawing(
        site.name, "Leak test of a compressed-air piping installation", data.drawn_by or data.installer, data.date,
        site.imperial, layers.definitions(), {}, (), tuple(sheets), stamp=stamp,
    )  # fmt: skip


def _dated(site: Site, results: Sequence[LeakResult]) -> Site:
    """The site with the tests' date in its title blocks; without one where they have none, or more than one."""
    dates = {result.reading.date for result in results}
    return replace(site, drawing=replace(site.drawing, date=dates.pop() if len(dates) == 1 else ""))


def _head(results: Sequence[LeakResult], site: Site, area: Box, layers: Layers) -> list[Text]:
    """The verdicts, from the top of an area, and below them what they defer to."""
    y, found = area.top, []
    for result in results:
        for line in wrapped(f"{title_of(result)}: {verdict_words(result, site.units)}", area.width, HEAD_MM, "bold"):
            y -= HEAD_PITCH_MM
            found.append(Text(layers.note, Point(area.left, y), line, HEAD_MM, weight="bold"))
    y -= 1.0
    for remark in (*DEFER, *cautions_at_test(site.units)):
        for line in wrapped(remark, area.width, TEXT_MM):
            y -= PITCH_MM
            found.append(Text(layers.note, Point(area.left, y), line, TEXT_MM))
    return found


def _record() -> tuple[tuple[str, str], ...]:
    names = ("gauge, its number and date of check", "thermometer", "tested by, date", "witness, date")
    return tuple((name, "." * 60) for name in names)
