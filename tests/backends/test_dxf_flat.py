"""Flat DXF files of release 12: plain strokes and texts, the same picture as the others."""

from __future__ import annotations

import math
from collections import Counter
from io import StringIO
from pathlib import Path
from typing import Any

import ezdxf
import pyogrio
import pytest
import shapely

from drafter.backends.dxf_flat import to_flat_dxf
from drafter.backends.fills import pieces_of
from drafter.backends.strokes import shapes_of
from drafter.drawing import Area, Circle, Drawing, Layer, Line, Scheme, Text
from drafter.geometry import Point
from drafter.sheets.layers import Layers

PLAIN_TYPES = {"SOLID", "LINE", "POLYLINE", "CIRCLE", "ARC", "TEXT"}


@pytest.fixture(scope="module")
def flat(drawing: Drawing) -> Any:
    return ezdxf.read(StringIO(to_flat_dxf(drawing, ["plan", "elevation-north"]).decode("cp1252")))


def test_it_is_release_12_and_sound(flat: Any) -> None:
    assert flat.dxfversion == "AC1009"
    auditor = flat.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert {entity.dxftype() for entity in flat.modelspace()} <= PLAIN_TYPES


def test_every_stroke_and_text_of_the_views_is_there(flat: Any, drawing: Drawing) -> None:
    """Lines by their lengths, texts by their words, hatches as lines."""
    unit = 25.4 if drawing.imperial else 1.0
    views = [drawing.view(name) for name in ("plan", "elevation-north")]
    shapes = [shape for view in views for shape in shapes_of(view.items, drawing.symbols, view.scale)]
    assert not [shape for shape in shapes if isinstance(shape, Area) and shape.fill == "hatch"]
    wanted = sorted(
        shape.end.minus(shape.start).length for shape in shapes if isinstance(shape, Line)
    )  # fmt: skip
    found = sorted(math.dist(line.dxf.start, line.dxf.end) * unit for line in flat.modelspace().query("LINE"))
    wanted = [length for length in wanted if length > 1e-4]
    assert found == pytest.approx(wanted, abs=0.01)
    texts = Counter(shape.text for shape in shapes if isinstance(shape, Text) and shape.text.isascii())
    shown = Counter(text.dxf.text for text in flat.modelspace().query("TEXT"))
    assert texts <= shown


def test_a_scheme_names_the_layers(drawing: Drawing) -> None:
    name = drawing.layers[0].name
    scheme = Scheme({name: Layer("OFFICE-1", "", 0.5, colour=30)})
    document = ezdxf.read(StringIO(to_flat_dxf(drawing, ["plan"], scheme).decode("cp1252")))
    assert document.layers.get("OFFICE-1").dxf.color == 30
    assert name not in document.layers


def test_fills_are_filled_for_another_reader(drawing: Drawing, tmp_path: Path) -> None:
    """The filled areas of each layer, read as polygons, are as large as those of the drawing."""
    unit = 25.4 if drawing.imperial else 1.0
    plan, filled = drawing.view("plan"), Counter[str]()
    for shape in shapes_of(plan.items, drawing.symbols, plan.scale):
        if isinstance(shape, Area):
            filled[shape.layer] += shapely.Polygon([(p.x, p.y) for p in shape.boundary]).area
        elif isinstance(shape, Circle) and shape.filled:
            filled[shape.layer] += 8.0 * shape.radius**2 * math.sin(math.pi / 8.0)
    file = tmp_path / "plan.dxf"
    file.write_bytes(to_flat_dxf(drawing, ["plan"]))
    meta, _, shapes, columns = pyogrio.raw.read(file, layer="entities")
    rows = [dict(zip(meta["fields"], row, strict=True)) for row in zip(*columns, strict=True)]
    found = Counter[str]()
    for row, shape in zip(rows, shapely.from_wkb(shapes), strict=True):
        if shape.geom_type == "Polygon":
            assert shape.is_valid
            found[row["Layer"]] += shape.area * unit**2
    assert filled
    assert dict(found) == pytest.approx(dict(filled), rel=1e-3)


CROSS = [(1, 0), (2, 0), (2, 1), (3, 1), (3, 2), (2, 2), (2, 3), (1, 3), (1, 2), (0, 2), (0, 1), (1, 1)]
STAR = [(0, 3), (1.8, -2.4), (-2.9, 0.9), (2.9, 0.9), (-1.8, -2.4)]
HOLE = [(1.2, 1.2), (1.8, 1.2), (1.8, 1.8), (1.2, 1.8)]


@pytest.mark.parametrize("turn", [1, -1], ids=["left about", "right about"])
def test_pieces_cover_an_area_and_nothing_else(turn: int) -> None:
    ring, hole = ([Point(*corner) for corner in corners][::turn] for corners in (CROSS, HOLE))
    pieces = [shapely.Polygon([(p.x, p.y) for p in piece]) for piece in pieces_of(ring, [hole])]
    whole = shapely.Polygon(CROSS, [HOLE])
    assert sum(piece.area for piece in pieces) == pytest.approx(whole.area)
    assert shapely.union_all(pieces).symmetric_difference(whole).area == pytest.approx(0.0, abs=1e-9)
    assert [len(piece) for piece in pieces_of([*ring[:2], Point(1, -5)])] == [3]


def test_a_ring_that_crosses_itself_is_cut_into_triangles() -> None:
    assert {len(piece) for piece in pieces_of([Point(*corner) for corner in STAR])} <= {3}


def test_colours_tell_all_layers_apart() -> None:
    """Such a file knows no widths: a colour is a pen."""
    colours = Counter(layer.flat_colour or layer.colour for layer in Layers("M").definitions())
    assert set(colours.values()) == {1}
    assert all(0 < colour < 250 or colour in (252, 253, 254) for colour in colours), "seen on white and on black"


def test_limits_are_in_the_unit_of_the_drawing(flat: Any, drawing: Drawing) -> None:
    unit, sheet = (25.4 if drawing.imperial else 1.0), drawing.sheets[0]
    assert flat.header["$PLIMMAX"] == pytest.approx((sheet.width_mm / unit, sheet.height_mm / unit))
    assert flat.header["$LIMMAX"] == pytest.approx(flat.header["$EXTMAX"][:2])
    assert flat.header["$LIMMIN"] == pytest.approx(flat.header["$EXTMIN"][:2])
    assert flat.header["$LIMMAX"][0] * unit >= drawing.view("plan").box.right
