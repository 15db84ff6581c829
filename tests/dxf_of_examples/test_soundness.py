"""What a CAD department may take for granted of a file: tables, units, layers, entities, dimensions, layouts."""

from __future__ import annotations

import math
import re
from collections import Counter
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from dxf_read import entities, numbers
from ezdxf import bbox

from drafter.backends.dxf_dimensions import reads_as_measured
from drafter.backends.dxf_document import OWN_LAYERS
from drafter.drawing import Dimension, LineKind
from drafter.sheets.layers import Layers

VERSIONS = {"R12": "AC1009", "R2000": "AC1015", "R2010": "AC1024", "R2018": "AC1032"}
ENTITIES = {
    "LINE", "LWPOLYLINE", "CIRCLE", "ARC", "TEXT", "MTEXT", "INSERT", "DIMENSION", "HATCH", "VIEWPORT", "ATTDEF",
}  # fmt: skip
IN_SPACE = {"LINE", "POLYLINE", "INSERT", "CIRCLE", "ATTDEF", "3DFACE", "TEXT"}
LINEWEIGHTS = {
    0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211
}  # fmt: skip
LEAST_TEXT_MM = 1.8
"""The least height of lettering after ISO 3098 (value from memory)."""
WITH_VIEWS = ("plan.dxf", "elevations.dxf", "model.dxf")


@pytest.mark.parametrize("version", VERSIONS)
def test_every_release_is_whole(version: str, example: Any) -> None:
    for name, data in example.contents(version).items():
        assert data.startswith(b"  0\nSECTION\n  2\nHEADER\n")
        assert data.endswith(b"  0\nEOF\n")
        assert b"\r" not in data
        assert not re.search(rb"[\x00-\x09\x0b-\x1f]", data)
        document = example.documents(version)[name]
        assert document.dxfversion == VERSIONS[version]
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], [])


def test_units_agree_everywhere(example: Any, files: dict[str, Any]) -> None:
    inches = example.drawing.imperial
    for document in files.values():
        header = document.header
        assert header["$INSUNITS"] == (1 if inches else 4)
        assert header["$MEASUREMENT"] == (0 if inches else 1)
        assert (header["$LUNITS"], header["$LUPREC"]) == ((4, 4) if inches else (2, 0))
        assert {block.units for block in document.blocks} == {header["$INSUNITS"]}


FACE_MM, TITLE_MM = 1.5, 12.0
"""How far on paper the end of a short text, and of a title, may be from where it is in another face."""


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_the_model_lies_where_the_header_says(version: str, example: Any) -> None:
    """What is drawn fills what the header names, but for words that another face makes narrower."""
    for name, document in example.documents(version).items():
        low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
        drawn = [entity for entity in document.modelspace() if entity.dxftype() != "INSERT"]
        found = bbox.extents(drawn, fast=True)
        paper = max(view.scale for view in example.drawing.views) / example.unit_mm
        for axis in (0, 1, 2) if name == "space.dxf" else (0, 1):
            assert low[axis] - FACE_MM * paper <= found.extmin[axis] <= low[axis] + FACE_MM * paper
            assert high[axis] - TITLE_MM * paper <= found.extmax[axis] <= high[axis] + FACE_MM * paper
        assert all(
            math.isfinite(value) and abs(value) < 1e6 for entity in entities(document) for value in numbers(entity)
        )


def test_layers_are_those_of_the_list(files: dict[str, Any]) -> None:
    """Each with its colour, line width, line type and whether it is printed; everything drawn has the looks of one."""
    wanted = {layer.name: layer for layer in (*OWN_LAYERS, *Layers("M").definitions())}
    for document in files.values():
        names = {layer.dxf.name for layer in document.layers}
        assert names == {*wanted, "0", "Defpoints"}
        for name, layer in wanted.items():
            entry = document.layers.get(name)
            assert re.fullmatch(r"[A-Z0-9][A-Z0-9_$-]{0,63}", name)
            assert entry.dxf.lineweight in LINEWEIGHTS
            assert (entry.color, entry.dxf.lineweight, entry.dxf.linetype, bool(entry.dxf.plot)) == (
                layer.colour, round(layer.width_mm * 100), layer.line_kind.name, layer.plots
            )  # fmt: skip
        for layout in document.layouts:
            assert not {entity.dxf.layer for entity in layout} & {"0", "Defpoints"}
        for entity in entities(document):
            assert entity.dxf.layer in names
            assert entity.dxf.color == 256
            assert entity.dxf.linetype.upper() == "BYLAYER"
            assert entity.dxf.lineweight == -1


def test_nothing_is_referred_to_that_is_not_there(files: dict[str, Any]) -> None:
    for name, document in files.items():
        kinds = {entry.dxf.name.upper() for entry in document.linetypes} - {"BYLAYER", "BYBLOCK"}
        assert kinds == {kind.name for kind in LineKind}
        used = entities(document)
        assert {entity.dxftype() for entity in used} <= (IN_SPACE if name == "space.dxf" else ENTITIES) | {"ATTRIB"}
        for entity in used:
            if entity.dxf.hasattr("style"):
                assert entity.dxf.style in document.styles
            if entity.dxftype() == "INSERT":
                assert entity.dxf.name in document.blocks
                defined = [each.dxf.tag for each in document.blocks.get(entity.dxf.name).query("ATTDEF")]
                assert not entity.attribs or [each.dxf.tag for each in entity.attribs] == defined
            if entity.dxftype() == "DIMENSION":
                assert entity.dxf.dimstyle in document.dimstyles
                assert entity.dxf.geometry in document.blocks


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_nothing_is_without_size_or_too_small_to_read(version: str, example: Any) -> None:
    for name, document in example.documents(version).items():
        for entity in entities(document):
            match entity.dxftype():
                case "LINE":
                    assert entity.dxf.start.distance(entity.dxf.end) > 0
                case "CIRCLE" | "ARC":
                    assert entity.dxf.radius > 0
                case "TEXT" | "MTEXT":
                    assert entity.plain_text().strip()
        if name in WITH_VIEWS:
            scale = min(view.scale for view in example.drawing.views)
            heights = [text.dxf.height * example.unit_mm for text in document.modelspace().query("TEXT")]
            assert min(heights) >= LEAST_TEXT_MM * scale
        papers = [layout for layout in document.layouts if layout.name != "Model"]
        for layout in papers:
            assert all(text.dxf.height * example.unit_mm >= LEAST_TEXT_MM for text in layout.query("TEXT"))


def test_no_line_is_drawn_twice(files: dict[str, Any]) -> None:
    for name, document in files.items():
        for layout in document.layouts:
            lines = Counter(
                (line.dxf.layer, *sorted(tuple(round(v, 4) for v in end.xyz) for end in (line.dxf.start, line.dxf.end)))
                for line in layout.query("LINE")
            )
            assert [line for line, count in lines.items() if count > 1] == [], (name, layout.name)


def test_dimensions_measure_what_they_say(example: Any, files: dict[str, Any]) -> None:
    for name in WITH_VIEWS:
        document = files[name]
        for dimension in document.modelspace().query("DIMENSION"):
            block = document.blocks.get(dimension.dxf.geometry)
            assert dimension.dxf.geometry.startswith("*D")
            assert len(block.query("LINE")) >= 1
            (number,) = block.query("MTEXT")
            measured = dimension.dxf.actual_measurement
            assert measured == pytest.approx(dimension.get_measurement(), abs=1e-4)
            assert dimension.dxf.text == "<>"
            assert reads_as_measured(number.text, measured * example.unit_mm, example.drawing.imperial)
            style = document.dimstyles.get(dimension.dxf.dimstyle).dxf
            assert (style.dimlfac, style.dimdsep) == (1.0, ord("."))
            assert style.dimscale == float(dimension.dxf.dimstyle.rsplit("-", 1)[1])
        main = document.dimstyles.get(document.header["$DIMSTYLE"]).dxf
        for variable in ("dimscale", "dimtxt", "dimasz", "dimexo", "dimexe", "dimgap", "dimlfac", "dimdec", "dimtad",
                         "dimzin", "dimdsep", "dimlunit", "dimtix"):  # fmt: skip
            assert document.header[f"${variable.upper()}"] == main.get(variable)


@pytest.mark.parametrize("version", ["R2000", "R2010"])
def test_no_dimension_anywhere_says_what_it_does_not_measure(version: str, example: Any) -> None:
    """In the model as on the sheets; details that are not to scale have lines and texts, but as many numbers."""
    for name, document in example.documents(version).items():
        for space in document.layouts:
            for dimension in space.query("DIMENSION"):
                (number,) = document.blocks.get(dimension.dxf.geometry).query("MTEXT")
                measured = as_a_program_writes(dimension.get_measurement(), example.drawing.imperial)
                assert (dimension.dxf.text, number.text) == ("<>", measured), (name, space.name)
    sheets = {sheet.number: sheet for sheet in example.drawing.sheets}
    for layout in example.documents(version)["plan.dxf"].layouts:
        if layout.name in sheets:
            wanted = Counter(item.text for item in sheets[layout.name].items if isinstance(item, Dimension))
            assert wanted <= Counter(text.dxf.text for text in layout.query("TEXT"))
            assert not layout.query("DIMENSION")


def as_a_program_writes(length: float, inches: bool) -> str:
    """The length in whole millimetres, or in feet, inches and sixteenths, as the dimension styles ask."""
    if not inches:
        return str(math.floor(length + 0.5 + 1e-6))
    whole, sixteenths = divmod(math.floor(length * 16 + 0.5 + 1e-6), 16)
    part = f" {Fraction(sixteenths, 16)}" if sixteenths else ""
    return f"{whole // 12}'-{whole % 12}{part}\""


def test_chains_add_up(files: dict[str, Any]) -> None:
    """Numbers along one line, one beginning where the other ends, add up to the length over all of them."""
    for name in WITH_VIEWS:
        chains: dict[tuple[float, float, str], list[Any]] = {}
        for dimension in files[name].modelspace().query("DIMENSION"):
            if not dimension.dxf.dimstyle.startswith("RUNNING"):
                along = 0 if dimension.dxf.angle == 0 else 1
                level = round(dimension.dxf.defpoint[1 - along], 3)
                ends = sorted((dimension.dxf.defpoint2[along], dimension.dxf.defpoint3[along]))
                chains.setdefault((along, level, name), []).append((*ends, dimension.dxf.actual_measurement))
        for chain in chains.values():
            chain.sort()
            whole = sum(length for _, _, length in chain)
            gaps = sum(max(0.0, after[0] - before[1]) for before, after in pairwise(chain))
            assert whole + gaps == pytest.approx(chain[-1][1] - chain[0][0], abs=1e-3)


def test_layouts_are_the_sheets(example: Any, files: dict[str, Any]) -> None:
    """Each with the size of its paper, its windows inside it at exact scale, and its title block filled in."""
    sheets = {sheet.number: sheet for sheet in example.drawing.sheets}
    for name in ("plan.dxf", "elevations.dxf"):
        document = files[name]
        for layout in [layout for layout in document.layouts if layout.name != "Model"]:
            sheet = sheets.pop(layout.name)
            page = layout.dxf
            assert (page.paper_width, page.paper_height) == pytest.approx((sheet.width_mm, sheet.height_mm), abs=1e-3)
            limits = sheet.width_mm / example.unit_mm, sheet.height_mm / example.unit_mm
            assert page.limmax.xyz[:2] == pytest.approx(limits, abs=1e-4)
            assert {page.left_margin, page.right_margin, page.top_margin, page.bottom_margin} == {0}
            check_windows(document, layout, sheet, example)
            (block,) = layout.query("INSERT[name=='TITLE_BLOCK']")
            fields = {attribute.dxf.tag: attribute.dxf.text for attribute in block.attribs}
            assert all(fields[tag] for tag in ("OWNER", "DRAWING", "REVISION", "SHEET", "SHEETS", "TITLE", "SCALE"))
            assert re.fullmatch(r"(\d{4}-\d\d-\d\d)?", fields["DATE"])
            assert fields["SHEET"] == layout.name
    assert not sheets


def check_windows(document: Any, layout: Any, sheet: Any, example: Any) -> None:
    main, *windows = layout.viewports()
    assert (main.dxf.id, main.dxf.status) == (1, 1)
    assert len(windows) == len(sheet.placements)
    assert len({window.dxf.id for window in windows} | {1}) == len(windows) + 1
    (block,) = layout.query("INSERT[name=='TITLE_BLOCK']")
    for window, placement in zip(windows, sheet.placements, strict=True):
        view = example.drawing.view(placement.view)
        assert window.dxf.status > 1
        assert window.dxf.flags & 16384
        assert not document.layers.get(window.dxf.layer).dxf.plot
        assert window.get_scale() == pytest.approx(1 / view.scale, abs=1e-9)
        assert block.get_attrib_text("SCALE") in (view.scale_text, "as shown")
        half = window.dxf.width / 2, window.dxf.height / 2
        for at, side, whole in zip(window.dxf.center.xyz[:2], half, (sheet.width_mm, sheet.height_mm), strict=True):
            assert side <= at <= whole / example.unit_mm - side
        seen = [(at, side * view.scale) for at, side in zip(window.dxf.view_center_point.xyz[:2], half, strict=True)]
        inside = [
            entity
            for entity in document.modelspace().query("TEXT")
            if all(abs(value - at) <= side for value, (at, side) in zip(entity.dxf.insert.xyz[:2], seen, strict=True))
        ]
        assert len(inside) > 3, "there is something in the window"
