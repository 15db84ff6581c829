"""The DXF files of every example opened by two other programs: LibreCAD, which prints them, and a parser of npm.

Both have to be there: LibreCAD by `apt-get install librecad`, and npm, which fetches the parser into a temporary
folder.
"""

from __future__ import annotations

import json
import math
import os
import shutil
import subprocess
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
from ezdxf import bbox

from drafter.backends.dxf_document import APPID

pytestmark = pytest.mark.readers

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
VERSIONS = ("R12", "R2000", "R2010", "R2018")
PARSER = "dxf-parser@1.1.2"
PRINTED = [
    *((path, "R2010") for path in EXAMPLES),
    *((path, version) for path in EXAMPLES if path.stem == "cabinet_shop" for version in ("R12", "R2000", "R2018")),
]
"""Every example at the usual release, one at all of them; the drawing program takes its time."""

SCALE = 0.0025
"""At which the longest model fits on an A3 sheet, the paper that most of the files name."""

NEAR_MM = 4.0
"""By how much what is printed may be wider than the header says: the program's own face is a wide one."""

LARGE_PX = 3000
PASSED_OVER = {"HATCH", "VIEWPORT"}
"""Entities that the parser does not know."""

READ = """
const Parser = require("dxf-parser"), fs = require("fs");
const [encoding, ...files] = process.argv.slice(2);
const read = file => new Parser().parseSync(fs.readFileSync(file, encoding));
console.log(JSON.stringify(files.map(read)));
"""


@pytest.fixture(scope="module")
def parser(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the parser installed."""
    assert shutil.which("npm"), "npm is missing, which fetches the DXF parser"
    folder = tmp_path_factory.mktemp("parser")
    (folder / "read.js").write_text(READ)
    command = ["npm", "install", "--silent", "--no-audit", "--no-fund", "--prefix", str(folder), PARSER]
    subprocess.run(command, check=True, timeout=300)
    return folder


@pytest.mark.parametrize(
    ("example", "version"), PRINTED, ids=lambda value: getattr(value, "stem", value), indirect=["example"]
)
def test_a_drawing_program_prints_every_file_in_its_size(version: str, example: Any, tmp_path: Path) -> None:
    assert shutil.which("librecad"), "LibreCAD is missing: apt-get install librecad"
    files = example.write(tmp_path, version)
    command = ["librecad", "dxf2pdf", "-c", "-s", str(SCALE), "-p", "420x297", "-t", str(tmp_path)]
    quiet = os.environ | {"QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path), "XDG_RUNTIME_DIR": str(tmp_path)}
    done = subprocess.run([*command, *map(str, files.values())], env=quiet, capture_output=True, timeout=300)
    assert done.returncode == 0, done.stderr
    unit_mm = example.unit_mm if version != "R12" else 1.0  # that release says no unit
    for name, file in files.items():
        document = example.documents(version)[name]
        strokes = [entity for entity in document.modelspace() if entity.dxftype() in ("LINE", "LWPOLYLINE", "POLYLINE")]
        drawn = bbox.extents([e for e in strokes if "BODY" not in e.dxf.layer], fast=True).size * unit_mm * SCALE
        low, high = (np.array(document.header[key]) * unit_mm * SCALE for key in ("$EXTMIN", "$EXTMAX"))
        *printed, pixel_mm = printed_size(file.with_suffix(".pdf"))
        for axis in (0, 1):
            assert drawn[axis] - 1.0 - pixel_mm <= printed[axis], (name, "all lines are there")
            assert printed[axis] <= high[axis] - low[axis] + NEAR_MM + 2 * pixel_mm, (name, "and nothing far off")


def printed_size(pdf: Path) -> tuple[float, float, float]:
    """Return width and height of the ink on the only page, and how exact that is [mm]."""
    (page,) = pypdfium2.PdfDocument(pdf)
    wide, high = page.get_size()
    coarse = LARGE_PX / max(wide, high)
    left, right, top, bottom = ink_of(page, coarse, (0.0, 0.0, 0.0, 0.0))
    margins = (left - 2, high * coarse - bottom - 2, wide * coarse - right - 2, top - 2)
    cut = tuple(max(0.0, margin) / coarse for margin in margins)
    fine = LARGE_PX / max(wide - cut[0] - cut[2], high - cut[1] - cut[3])
    left, right, top, bottom = ink_of(page, fine, cut)
    pixel_mm = 25.4 / 72 / fine
    return (right - left + 1) * pixel_mm, (bottom - top + 1) * pixel_mm, pixel_mm


def ink_of(page: Any, factor: float, cut: Any) -> tuple[int, int, int, int]:
    """The first and last columns and rows of a picture of a page that bear ink, so much cut off round it."""
    ink = page.render(scale=factor, crop=cut).to_numpy()[..., :3].min(axis=2) < 250
    assert ink.any(), "the page is blank"
    rows, columns = np.nonzero(ink)
    assert ink.sum() > columns.max() - columns.min() + rows.max() - rows.min(), "there is more than a frame"
    return int(columns.min()), int(columns.max()), int(rows.min()), int(rows.max())


@pytest.mark.parametrize("version", VERSIONS)
def test_a_parser_reads_the_same(version: str, example: Any, parser: Path, tmp_path: Path) -> None:
    """Entities by kind and layer, layers with their colours, tags of blocks, texts, and every pipe with its length."""
    files = example.write(tmp_path, version)
    encoding = "latin1" if version in ("R12", "R2000") else "utf-8"
    command = ["node", str(parser / "read.js"), encoding, *map(str, files.values())]
    done = subprocess.run(command, cwd=parser, capture_output=True, text=True, check=True, timeout=300)
    for name, found in zip(files, json.loads(done.stdout), strict=True):
        document = example.documents(version)[name]
        check_entities(found, document)
        layers = found["tables"]["layer"]["layers"]
        assert {key: layer["colorIndex"] for key, layer in layers.items()} == {
            layer.dxf.name: abs(layer.dxf.color) for layer in document.layers
        }
        if version != "R12":
            assert found["header"]["$INSUNITS"] == (1 if example.drawing.imperial else 4)
            check_tags(found, document)
            check_pipes(found, name, example)


def check_entities(found: Any, document: Any) -> None:
    """The model's; of the layouts it takes the active one, for whatever that holds."""
    drawn = [entity for entity in document.modelspace() if entity.dxftype() not in PASSED_OVER]
    read = [each for each in found["entities"] if not each.get("inPaperSpace") and each["type"] not in PASSED_OVER]
    assert Counter((each["type"], each["layer"]) for each in read) == Counter(
        (entity.dxftype(), entity.dxf.layer) for entity in drawn
    )
    texts = Counter(each["text"] for each in read if each["type"] == "TEXT")
    assert texts == Counter(text.dxf.text for text in document.modelspace().query("TEXT"))


def check_tags(found: Any, document: Any) -> None:
    """Each block asks for the data that it is drawn with."""
    for name, block in found["blocks"].items():
        tags = [entity["tag"] for entity in block.get("entities", ()) if entity["type"] == "ATTDEF"]
        assert tags == [attdef.dxf.tag for attdef in document.blocks.get(name).query("ATTDEF")]


def check_pipes(found: Any, name: str, example: Any) -> None:
    pipes = {
        entity["extendedData"]["customStrings"][0]: math.dist(*(end.values() for end in entity["vertices"]))
        for entity in found["entities"]
        if entity["type"] == "LINE" and entity.get("extendedData", {}).get("applicationName") == APPID
    }
    if name == "space.dxf":
        layout = example.designed.layout
        wanted = {run.id: layout.length_m(run) * 1000.0 for run in layout.runs if layout.length_m(run) > 1e-3}
        assert {id: length * example.unit_mm for id, length in pipes.items()} == pytest.approx(wanted, abs=0.02)
    elif name == "plan.dxf":
        drawn = [item for item in example.drawing.view("plan").items if getattr(item, "id", "")]
        assert set(pipes) >= {item.id for item in drawn if item.end.minus(item.start).length > 1e-3}
