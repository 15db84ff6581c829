"""The main job on every example site: drawn, read back by other programs, and kept fresh in output/."""

from __future__ import annotations

import csv
import ctypes
import io
import json
import math
import re
from collections.abc import Iterator
from pathlib import Path

import ezdxf
import pypdf
import pypdfium2
import pytest
from ezdxf.document import Drawing as Document

from drafter.cli import main

TOP = Path(__file__).parents[1]
EXAMPLES = sorted((TOP / "example_sites").glob("*.yaml"))
FILES = {
    "plan.dxf", "elevations.dxf", "model.dxf", "space.dxf", "sheets.pdf", "labels.pdf", "parts.csv", "cutting.csv",
    "mark-out.csv", "tools.csv", "report.txt", "plan.svg", "reach.svg", "isometric.svg",
}  # fmt: skip
ENLARGED = {"bus_depot", "cabinet_shop"}
"""Those whose plan is too small for the treatment's tags."""

OF_WALLS = re.compile(r"elevation-[a-z0-9-]+\.svg")
WALLS_M = {
    "bicycle_coop": 9.4,
    "cabinet_shop": 32 * 0.3048,
    "bus_depot": 24.0,
    "boat_shed": 16.0,
    "machinery_shed": 17.2,
}
SCALES = {"bicycle_coop": 50, "cabinet_shop": 64, "bus_depot": 100, "boat_shed": 50, "machinery_shed": 50}


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def drawn(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    folder = tmp_path_factory.mktemp("drawn")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(TOP)
        site = request.param.relative_to(TOP)
        assert main(["draw", str(site), "--into", str(folder)]) == 0
    return request.param.stem, folder / request.param.stem


def test_there_are_examples_and_all_are_called_invented() -> None:
    assert len(EXAMPLES) >= 4
    assert all("(invented)" in path.read_text(encoding="utf-8") for path in EXAMPLES)


def test_all_files_are_written(drawn: tuple[str, Path]) -> None:
    names = {path.name for path in drawn[1].iterdir()}
    of_walls = {name for name in names if OF_WALLS.fullmatch(name)}
    assert names - of_walls == FILES | ({"enlarged-plan.svg"} if drawn[0] in ENLARGED else set())
    assert len(of_walls) >= 3


def test_the_design_has_no_errors(drawn: tuple[str, Path], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(TOP / "example_sites" / f"{drawn[0]}.yaml"), "--json"]) == 0
    facts = json.loads(capsys.readouterr().out)
    assert [f for f in facts["findings"] if f["severity"] == "error"] == []


@pytest.mark.parametrize("name", ["plan.dxf", "elevations.dxf"])
def test_dxf_reads_strictly_and_audits_clean(drawn: tuple[str, Path], name: str) -> None:
    document = ezdxf.readfile(drawn[1] / name)
    auditor = document.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    points = [p for e in document.modelspace() if e.dxftype() == "LINE" for p in (e.dxf.start, e.dxf.end)]
    assert points
    assert all(math.isfinite(value) and abs(value) < 1e6 for point in points for value in point)


def test_gdal_reads_the_plan(drawn: tuple[str, Path], monkeypatch: pytest.MonkeyPatch) -> None:
    import pyogrio

    monkeypatch.setenv("DXF_ENCODING", "UTF-8")
    _, _, _, fields = pyogrio.raw.read(drawn[1] / "plan.dxf", columns=["Text"])
    texts = {text for text in fields[0] if text}
    schedule = rows(drawn[1] / "mark-out.csv")
    outlets = {row["tag"] for row in schedule if row["what"].startswith("outlet")}
    assert outlets
    assert outlets <= texts


def test_every_symbol_of_the_plan_carries_its_tag(drawn: tuple[str, Path]) -> None:
    document = ezdxf.readfile(drawn[1] / "plan.dxf")
    tags = {
        attribute.dxf.text
        for insert in document.modelspace().query("INSERT")
        for attribute in insert.attribs
        if attribute.dxf.tag == "TAG"
    }
    outlets = {row["tag"] for row in rows(drawn[1] / "mark-out.csv") if row["what"].startswith("outlet")}
    assert outlets | {"V-01"} <= tags


def test_the_longest_wall_measures_true_on_the_plan(drawn: tuple[str, Path]) -> None:
    """The overall dimension line of the longest wall is among the strokes, as long as the wall over the scale."""
    name, folder = drawn
    with pypdfium2.PdfDocument(folder / "sheets.pdf") as document:
        labels = [document.get_page_label(number) for number in range(len(document))]
        lengths = sorted(strokes_mm(document[labels.index("M-101")]))
    wanted = WALLS_M[name] * 1000 / SCALES[name]
    assert min(abs(length - wanted) for length in lengths) < 0.05


def strokes_mm(page: pypdfium2.PdfPage) -> Iterator[float]:
    """Lengths of all straight strokes of a page, on paper."""
    raw = pypdfium2.raw
    x, y = ctypes.c_float(), ctypes.c_float()
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        matrix = item.get_matrix()
        before = (0.0, 0.0)
        for index in range(raw.FPDFPath_CountSegments(item)):
            segment = raw.FPDFPath_GetPathSegment(item, index)
            raw.FPDFPathSegment_GetPoint(segment, x, y)
            here = matrix.on_point(x.value, y.value)
            if raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_LINETO:
                yield math.dist(before, here) * 25.4 / 72
            before = here


def test_pages_are_exact_embedded_and_labelled(drawn: tuple[str, Path]) -> None:
    document = pypdf.PdfReader(drawn[1] / "sheets.pdf")
    for page in document.pages:
        assert page.mediabox == page.cropbox == page.trimbox
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object().get("/FontDescriptor")
            assert descriptor is not None
            assert "/FontFile2" in descriptor.get_object()
    assert len([entry for entry in document.outline if not isinstance(entry, list)]) == len(document.pages)


def test_every_tag_and_schedule_value_is_in_the_text(drawn: tuple[str, Path]) -> None:
    text = " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(drawn[1] / "sheets.pdf"))
    flat = "".join(text.split())
    for file in ("parts.csv", "mark-out.csv"):
        for row in rows(drawn[1] / file):
            for value in (row.get("tag") or "", row.get("item") or "", row.get("size") or ""):
                assert "".join(value.split()) in flat, value


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))


@pytest.mark.parametrize("kind", sorted({Path(name).suffix for name in FILES}))
def test_output_is_fresh(drawn: tuple[str, Path], kind: str) -> None:
    """What stands in output/ is what the program draws today: `python tests/renew_output.py` renews it."""
    old, new = (
        {path.name: path for path in folder.glob(f"*{kind}")} for folder in (TOP / "output" / drawn[0], drawn[1])
    )
    assert set(old) == set(new)
    for name, made in new.items():
        if kind == ".dxf":
            assert entities(ezdxf.readfile(old[name])) == entities(ezdxf.readfile(made)), name
        elif kind == ".pdf":
            assert page_texts(old[name]) == page_texts(made), name
        else:
            assert old[name].read_text(encoding="utf-8") == made.read_text(encoding="utf-8"), name


def entities(document: Document) -> list[str]:
    return [
        f"{e.dxftype()} {sorted((k, str(v)) for k, v in e.dxf.all_existing_dxf_attribs().items() if k != 'handle')}"
        for layout in document.layouts
        for e in layout
    ]


def page_texts(path: Path) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(path)]


def test_a_picture_of_the_plan_stands_in_the_gallery() -> None:
    for path in EXAMPLES:
        assert (TOP / "output" / path.stem / "plan-sheet.png").read_bytes().startswith(b"\x89PNG")
