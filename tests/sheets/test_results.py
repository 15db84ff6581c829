"""The sheet of the tank: on every paper, in every file, saying what was computed."""

from __future__ import annotations

import io
from itertools import pairwise
from pathlib import Path

import ezdxf
import pypdfium2
import pytest

from drafter.backends.dxf import to_dxf
from drafter.backends.pdf import to_pdf
from drafter.backends.svg import sheet_to_svg
from drafter.drawing import Drawing, Polyline, Sheet, Text
from drafter.pipeline import Designed, compose_drawing, design
from drafter.quantity import Units
from drafter.sheets.results import MOST_CYCLES, RESULTS_TITLE, tank_chart
from drafter.sizing.tank_over_time import TankOverTime

SITE = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
WORK = """
work:
  length: 40 min
  runs:
    - {outlet: A1, for: 12 min}
    - {outlet: A2, from: 2 min, for: 4 min, every: 8 min}
"""
PAPERS = ("A4", "A3", "A2", "A1", "Letter", "11x17", "ARCH C", "ARCH D")


def designed(text: str = SITE + WORK, paper: str = "A3") -> Designed:
    return design(text + f"drawing: {{paper: {paper}}}\n", "yard.yaml")


def tank_of(done: Designed) -> TankOverTime:
    assert done.network is not None
    return done.network.tank


def results_sheet(drawing: Drawing) -> Sheet:
    return next(sheet for sheet in drawing.sheets if is_of_results(sheet))


def is_of_results(sheet: Sheet) -> bool:
    """Whether a sheet begins with the results; schedules may follow in its free room."""
    return sheet.title.startswith(RESULTS_TITLE.partition(" ")[0])


def texts(sheet: Sheet) -> str:
    return " ".join(item.text for item in sheet.items if isinstance(item, Text))


@pytest.mark.parametrize("paper", PAPERS)
def test_every_paper_holds_chart_and_words(paper: str) -> None:
    drawing = compose_drawing(designed(paper=paper))
    sheets = [sheet for sheet in drawing.sheets if is_of_results(sheet)]
    sheet = next(sheet for sheet in sheets if "TANK OVER TIME" in texts(sheet))
    told = " ".join(texts(each) for each in sheets)
    assert "PRESSURE LADDER OF A" in told
    for words in ("TANK OVER TIME: WORK PATTERN", "cut-in 7.50 bar", "cut-out 8.50 bar", "motor runs", "bench rig A1"):
        assert words in told
    assert "More in the report." not in told
    (curve,) = (i for i in sheet.items if isinstance(i, Polyline) and i.layer == "M-ANNO-CHRT-CURV")
    assert all(20.0 < p.x < sheet.width_mm - 10.0 and 50.0 < p.y < sheet.height_mm - 10.0 for p in curve.points)


@pytest.mark.parametrize("text", [SITE, SITE + WORK], ids=["hungriest set", "work pattern"])
def test_the_curve_drawn_is_the_curve_computed(text: str) -> None:
    tank = tank_of(designed(text))
    chart = tank_chart(tank, Units())
    (line,) = chart.series[0].lines
    second = line[-1].x / tank.shown.length_s
    assert [(p.x / second, p.y * 1e5) for p in line[1:]] == [
        pytest.approx((stretch.end_s, stretch.end_pa)) for stretch in tank.shown.stretches
    ]
    assert chart.up.low <= min(p.y for p in line) <= max(p.y for p in line) <= chart.up.high
    motor = sum(end - start for start, end in chart.rows[0].filled) / second
    assert motor == pytest.approx(sum(s.length_s for s in tank.shown.stretches if s.motor_runs))


def test_bars_are_the_runs_and_the_shortages() -> None:
    tank = tank_of(designed())
    chart = tank_chart(tank, Units())
    row = next(row for row in chart.rows if row.name == "bench rig A2")
    assert row.open == tuple((pytest.approx(2 + 8 * n), pytest.approx(6 + 8 * n)) for n in range(5))
    assert tank.work is not None
    short = {shortage.run.tool.outlet: shortage.short_s for shortage in tank.work.shortages}
    assert sum(end - start for start, end in row.filled) * 60 == pytest.approx(short.get("A2", 0.0))
    assert short


def test_of_very_many_cycles_the_beginning_is_drawn() -> None:
    long = SITE + "work: {length: 12 h, runs: [{outlet: A1, for: 12 h}]}\n"
    tank = tank_of(designed(long))
    chart = tank_chart(tank, Units())
    assert ", FIRST " in chart.title
    assert len(chart.rows[0].filled) <= MOST_CYCLES
    assert all(a[1] <= b[0] for a, b in pairwise(chart.rows[0].filled))


def test_pdf_svg_and_dxf_show_it() -> None:
    drawing = compose_drawing(designed())
    sheet = results_sheet(drawing)
    page = pypdfium2.PdfDocument(to_pdf(drawing))[drawing.sheets.index(sheet)]
    assert "cut-out 8.50 bar" in page.get_textpage().get_text_bounded()
    svg = sheet_to_svg(drawing, sheet.number).decode()
    assert "cut-out 8.50 bar" in svg
    document = ezdxf.read(io.StringIO(to_dxf(drawing, ["plan"], [sheet.number]).decode()))
    layout = document.layouts.get(sheet.number)
    curves = [entity for entity in layout if entity.dxf.layer == "M-ANNO-CHRT-CURV"]
    assert any(entity.dxftype() == "LWPOLYLINE" for entity in curves)
    assert any(
        e.dxftype() in ("TEXT", "MTEXT") and "cut-in 7.50 bar" in (e.text if e.dxftype() == "MTEXT" else e.dxf.text)
        for e in layout
    )


def test_an_imperial_site_has_an_axis_in_psi() -> None:
    tank = tank_of(designed(SITE))
    chart = tank_chart(tank, Units(True))
    assert chart.up.label == "pressure in the tank, psi gauge"
    assert [limit.name for limit in chart.limits] == ["cut-in 109 psi", "cut-out 123 psi"]
