"""The DXF seen by another reader: what it finds in the model must be what was drawn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import ezdxf
import pyogrio
import pytest

from drafter.backends.dxf import to_dxf
from drafter.drawing import Dimension, Drawing, Insert, Ordinate, Text
from drafter.geometry import Point


@pytest.fixture
def utf8() -> Iterator[None]:
    pyogrio.set_gdal_config_options({"DXF_ENCODING": "UTF-8", "DXF_INLINE_BLOCKS": "FALSE"})
    yield
    pyogrio.set_gdal_config_options({"DXF_ENCODING": None, "DXF_INLINE_BLOCKS": None})


def table(file: Path, layer: str = "entities") -> list[dict[str, Any]]:
    meta, _, _, columns = pyogrio.raw.read(file, layer=layer)
    rows = zip(*columns, strict=True)
    return [dict(zip(meta["fields"], row, strict=True)) for row in rows]


@pytest.mark.usefixtures("utf8")
def test_texts_and_symbols_are_read(drawing: Drawing, tmp_path: Path) -> None:
    file = tmp_path / "plan.dxf"
    file.write_bytes(to_dxf(drawing, ["plan"]))
    rows = [row for row in table(file) if row["PaperSpace"] != 1]
    texts = Counter(str(row["Text"]) for row in rows if row["Text"] and "Hatch" not in str(row["SubClasses"]))
    plan = drawing.view("plan")
    wanted = Counter(
        item.text.replace("Ø", "⌀") for item in plan.items if isinstance(item, Text | Dimension | Ordinate)
    )
    wanted.update([plan.title, f"{plan.scale_text}   1 unit = 1 {'inch' if drawing.imperial else 'mm'}"])
    assert texts == wanted
    inserts = [item for item in plan.items if isinstance(item, Insert)]
    symbols = [str(row["BlockName"]) for row in rows if str(row["BlockName"]).startswith("SYM_")]
    assert len(symbols) == len(inserts)


@pytest.mark.usefixtures("utf8")
def test_attributes_are_read(metric: Drawing, tmp_path: Path) -> None:
    file = tmp_path / "plan.dxf"
    file.write_bytes(to_dxf(metric, ["plan"]))
    data = [" ".join(row["BlockAttributes"]) for row in table(file) if row["BlockAttributes"] is not None]
    assert data == ["TAG V-01 SIZE DN 25", "TAG V-02 SIZE "]


@pytest.mark.usefixtures("utf8")
@pytest.mark.parametrize("version", ["R2000", "R2007", "R2010", "R2018"])
def test_data_is_read_right_without_being_told_of_signs(version: str, metric: Drawing, tmp_path: Path) -> None:
    """By this reader as by the library."""
    pyogrio.set_gdal_config_options({"DXF_ENCODING": None})
    plan = metric.view("plan")
    elbow = Insert("M-CMPA-VALV", "BALL_VALVE", Point(0, 0), attributes=(("ITEM", "elbow 90° ± 1°"),))
    drawing = replace(metric, views=(replace(plan, items=(*plan.items, elbow)),))
    file = tmp_path / "plan.dxf"
    file.write_bytes(to_dxf(drawing, ["plan"], version=version))
    data = {entry for row in table(file) if row["BlockAttributes"] is not None for entry in row["BlockAttributes"]}
    assert "ITEM elbow 90deg +/- 1deg" in data
    document: Any = ezdxf.readfile(file)
    values = [each.dxf.text for insert in document.modelspace().query("INSERT") for each in insert.attribs]
    assert "elbow 90deg +/- 1deg" in values
