"""The DXF files of every example seen by GDAL: what it finds must be what was drawn, at every release."""

from __future__ import annotations

import csv
import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from io import StringIO
from pathlib import Path
from typing import Any

import pyogrio
import pytest
import shapely

from drafter.backends.dxf_strings import shown_text
from drafter.drawing import Dimension, Line, Ordinate, Text
from drafter.takeoff.csv_text import parts_csv

VERSIONS = {"R12": "CP1252", "R2000": "CP1252", "R2010": "UTF-8", "R2018": "UTF-8"}
WITH_LAYOUTS = ("plan.dxf", "elevations.dxf")
pytestmark = pytest.mark.filterwarnings("ignore:Non closed ring:RuntimeWarning")
"""The reader does not close faces of bodies, and complains of that itself."""

SIGNS = {"%%c": "⌀", "%%d": "°", "%%p": "±"}

Row = dict[str, Any]


@pytest.fixture(params=VERSIONS)
def version(request: pytest.FixtureRequest) -> Iterator[str]:
    pyogrio.set_gdal_config_options({"DXF_ENCODING": VERSIONS[request.param], "DXF_INLINE_BLOCKS": "FALSE"})
    yield request.param
    pyogrio.set_gdal_config_options({"DXF_ENCODING": None, "DXF_INLINE_BLOCKS": None})


def rows_of(file: Path) -> list[Row]:
    meta, _, shapes, columns = pyogrio.raw.read(file, layer="entities")
    geometry = shapely.from_wkb(shapes, on_invalid="ignore")  # which knows no bodies: they come back as None
    return [
        dict(zip(meta["fields"], row, strict=True)) | {"geometry": shape}
        for shape, *row in zip(geometry, *columns, strict=True)
    ]


def of_model(rows: list[Row]) -> list[Row]:
    return [row for row in rows if row["PaperSpace"] != 1]


def as_shown(text: str) -> str:
    for code, sign in SIGNS.items():
        text = text.replace(code, sign)
    return text


@pytest.fixture
def seen(example: Any, version: str, tmp_path: Path) -> dict[str, list[Row]]:
    """What is read of each file."""
    return {name: rows_of(file) for name, file in example.write(tmp_path, version).items()}


@pytest.fixture
def untold(example: Any, version: str, seen: dict[str, list[Row]], tmp_path: Path) -> dict[str, list[Row]]:
    """The same read by somebody who does not say which signs the files are written in."""
    assert seen
    pyogrio.set_gdal_config_options({"DXF_ENCODING": None})
    return {name: rows_of(file) for name, file in example.write(tmp_path, version).items()}


def test_every_file_shows_what_was_drawn(
    example: Any, version: str, seen: dict[str, list[Row]], untold: dict[str, list[Row]]
) -> None:
    """Texts word by word, pipes by their lengths, parts by their data, layers by what stands on them."""
    check_texts(example, version, seen)
    check_pipe_lengths(example, version, seen)
    check_layers(example, version, seen)
    if version != "R12":
        check_parts(example, untold)


def check_texts(example: Any, version: str, seen: dict[str, list[Row]]) -> None:
    for name in ("plan.dxf", "elevations.dxf", "model.dxf"):
        found = Counter(
            str(row["Text"])
            for row in of_model(seen[name])
            if row["Text"] and "Hatch" not in str(row["SubClasses"]) and not str(row["BlockName"] or "")
        )
        views = [view for view in example.drawing.views if belongs(view.name, name)]
        wanted = Counter(
            as_shown(shown_text(item.text)).strip()
            for view in views
            for item in view.items
            if isinstance(item, Text | Dimension | Ordinate) and item.text.strip()
        )
        missing = wanted - Counter({text.strip(): count for text, count in found.items()})
        assert not missing, (name, version)


def belongs(view: str, file: str) -> bool:
    of_plan = not view.startswith("elevation")
    return file == "model.dxf" or of_plan == (file == "plan.dxf")


def check_pipe_lengths(example: Any, version: str, seen: dict[str, list[Row]]) -> None:
    """The sum of each layer's lines with a pipe's name, in every file of views."""
    layers = {item.layer for view in example.drawing.views for item in view.items if isinstance(item, Line) and item.id}
    for name in ("plan.dxf", "elevations.dxf", "model.dxf"):
        found: dict[str, float] = defaultdict(float)
        for row in of_model(seen[name]):
            if row["Layer"] in layers and is_line(row):
                found[row["Layer"]] += row["geometry"].length * example.unit_mm
        wanted: dict[str, float] = defaultdict(float)
        for view in example.drawing.views:
            if belongs(view.name, name):
                for item in view.items:
                    if isinstance(item, Line) and item.layer in layers:
                        wanted[item.layer] += item.end.minus(item.start).length
        for layer, length_mm in wanted.items():
            assert found[layer] >= length_mm - 1.0
            if version != "R12":
                assert found[layer] == pytest.approx(length_mm, abs=1.0)
    layout = example.designed.layout
    in_space = sum(length_of(row) for row in seen["space.dxf"] if is_line(row) and "PIPE" in row["Layer"])
    true_mm = sum(layout.length_m(run) for run in layout.runs) * 1000.0
    assert in_space * example.unit_mm == pytest.approx(true_mm, abs=1.0)
    bodies = [row for row in seen["space.dxf"] if row["geometry"] is None]
    assert {row["Layer"] for row in bodies} == {"M-CMPA-BODY-3DIM"}
    assert len(bodies) == len([run for run in layout.runs if layout.length_m(run) > 1e-3])


def is_line(row: Row) -> bool:
    shape = row["geometry"]
    return shape is not None and shape.geom_type == "LineString" and len(shape.coords) == 2


def length_of(row: Row) -> float:
    ends = shapely.get_coordinates(row["geometry"], include_z=True)
    return math.dist(*([0.0 if math.isnan(axis) else axis for axis in end] for end in ends))


def check_layers(example: Any, version: str, seen: dict[str, list[Row]]) -> None:
    drawn = example.documents(version)
    for name, rows in seen.items():
        model = {entity.dxf.layer for entity in drawn[name].modelspace()}
        assert {row["Layer"] for row in of_model(rows)} <= model
        on_paper = {entity.dxf.layer for layout in drawn[name].layouts for entity in layout} - model
        found = {row["Layer"] for row in rows}
        assert found <= model | on_paper
        hidden = {layer.dxf.name for layer in drawn[name].layers if layer.is_off()}
        assert model - found <= hidden


def check_parts(example: Any, seen: dict[str, list[Row]]) -> None:
    """The file of parts line by line, counted from the data of blocks as this reader lists them, told of no signs."""
    counted: dict[tuple[str, ...], float] = defaultdict(float)
    tags = ("NUMBER", "GROUP", "ITEM", "SIZE", "QTY", "UNIT", "TAG", "LEVEL")
    for row in seen["plan.dxf"]:
        if row["BlockName"] == "PART":
            data = dict(entry.partition(" ")[::2] for entry in row["BlockAttributes"])
            assert tuple(data) == tags
            counted[tuple(data[tag] for tag in (*tags[:4], "UNIT"))] += float(data["QTY"])
    lines = csv.DictReader(StringIO(parts_csv(example.designed.takeoff, example.designed.site.units)))
    rows = {
        (str(number), *(in_plain_letters(line[name]) for name in ("group", "item", "size", "unit"))): line["quantity"]
        for number, line in enumerate(lines, 1)
    }
    assert set(counted) == set(rows)
    assert all(counted[key] == pytest.approx(float(quantity), abs=0.1) for key, quantity in rows.items())


def in_plain_letters(text: str) -> str:
    return text.replace("°", "deg").replace("±", "+/-")
