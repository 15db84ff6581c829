"""Flat DXF files of release 12: plain strokes and texts, the same picture as the others."""

from __future__ import annotations

import math
from collections import Counter
from io import StringIO
from typing import Any

import ezdxf
import pytest

from drafter.backends.dxf_flat import to_flat_dxf
from drafter.backends.strokes import shapes_of
from drafter.drawing import Area, Drawing, Layer, Line, Scheme, Text

PLAIN_TYPES = {"LINE", "POLYLINE", "CIRCLE", "ARC", "TEXT"}


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
