"""The DXF of the sample drawing, read back strictly and checked property by property."""

from __future__ import annotations

import re
from dataclasses import replace
from io import StringIO
from math import dist, hypot, isfinite
from typing import Any

import ezdxf
import pytest
from dxf_read import entities, numbers
from ezdxf import bbox

from drafter.backends.dxf import to_dxf
from drafter.backends.dxf_dimensions import reads_as_measured
from drafter.backends.poses import shape_box
from drafter.backends.strokes import shapes_of
from drafter.backends.view_places import GAP_MM
from drafter.drawing import Area, Dimension, Drawing, Insert, Line, LineKind, Ordinate, Text
from drafter.geometry import Box, Point

VIEWS = ("plan", "elevation-north")
SHEETS = ("M-101", "M-201")
ALLOWED = {"LINE", "LWPOLYLINE", "CIRCLE", "ARC", "TEXT", "MTEXT", "INSERT", "DIMENSION", "HATCH", "VIEWPORT"}
LINEWEIGHTS = {13, 18, 25, 35, 70}
FACE_MM, TITLE_MM = 50.0, 400.0
"""How far in the model the end of a short text, and of a title, may be from where it is in another face."""

VERSIONS = {"R2000": "AC1015", "R2007": "AC1021", "R2010": "AC1024", "R2013": "AC1027", "R2018": "AC1032"}


def read(data: bytes) -> Any:
    return ezdxf.read(StringIO(data.decode()))


@pytest.fixture(scope="module")
def document(drawing: Drawing) -> Any:
    return read(to_dxf(drawing, VIEWS, SHEETS))


@pytest.fixture(scope="module")
def unit_mm(drawing: Drawing) -> float:
    return 25.4 if drawing.imperial else 1.0


def test_strict_reading_finds_nothing_to_mend(document: Any) -> None:
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])


@pytest.mark.parametrize("version", VERSIONS)
def test_every_version_is_sound(metric: Drawing, version: str) -> None:
    data = to_dxf(metric, VIEWS, SHEETS, version)
    encoding = "cp1252" if version == "R2000" else "utf-8"
    text = data.decode(encoding)
    found = ezdxf.read(StringIO(text))
    assert found.dxfversion == VERSIONS[version]
    audit = found.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert text.startswith("  0\nSECTION\n  2\nHEADER\n")
    assert text.endswith("  0\nEOF\n")
    assert "\r" not in text


def test_units_agree_everywhere(document: Any, drawing: Drawing) -> None:
    header = document.header
    inches = drawing.imperial
    assert header["$INSUNITS"] == (1 if inches else 4)
    assert header["$MEASUREMENT"] == (0 if inches else 1)
    assert (header["$LUNITS"], header["$LUPREC"]) == ((4, 4) if inches else (2, 0))
    assert {block.units for block in document.blocks} == {header["$INSUNITS"]}


def test_model_lies_where_the_header_says(document: Any, unit_mm: float) -> None:
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    found = bbox.extents(document.modelspace(), fast=True)
    face, title = FACE_MM / unit_mm, TITLE_MM / unit_mm
    for axis in (0, 1):
        assert low[axis] - face <= found.extmin[axis] <= low[axis] + face
        assert high[axis] - title <= found.extmax[axis] <= high[axis] + title
    assert max(map(abs, (*low, *high))) * unit_mm < 1e6
    view = document.viewports.get_config("*Active")[0]
    assert dist(view.dxf.center.xyz[:2], ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)) < 1e-3
    assert view.dxf.height >= high[1] - low[1]


def test_the_header_says_no_more_than_is_drawn(drawing: Drawing, unit_mm: float) -> None:
    """Nor what room a view keeps for what it does not have: words of its title reach up to the foot of the view."""
    plan = drawing.view("plan")
    lines = tuple(item for item in plan.items if isinstance(item, Line))
    bare = replace(drawing, views=(replace(plan, items=lines, title="P", scale_text="", to_scale=False),))
    document = read(to_dxf(bare, ["plan"]))
    ends = [end for line in lines for end in (line.start, line.end)]
    high = document.header["$EXTMAX"]
    assert high[0] * unit_mm == pytest.approx(max(end.x for end in ends), abs=0.01)
    assert high[1] * unit_mm == pytest.approx(max(end.y for end in ends), abs=0.01)


def test_all_numbers_are_finite(document: Any) -> None:
    assert all(isfinite(value) for entity in entities(document) for value in numbers(entity))


def test_entities_look_as_their_layer_says(document: Any) -> None:
    known = {layer.dxf.name for layer in document.layers}
    assert len(known) < 100
    for layer in known - {"0", "Defpoints"}:
        assert re.fullmatch(r"[A-Z0-9][A-Z0-9_$-]{0,63}", layer)
    for layout in document.layouts:
        assert not {entity.dxf.layer for entity in layout} & {"0", "Defpoints"}
    for entity in entities(document):
        assert entity.dxf.layer in known
        assert entity.dxf.color == 256
        assert entity.dxf.linetype.upper() == "BYLAYER"
        assert not entity.dxf.hasattr("true_color")


def test_layers_are_those_of_the_drawing(document: Any, drawing: Drawing) -> None:
    for layer in drawing.layers:
        entry = document.layers.get(layer.name)
        assert entry.dxf.color == layer.colour
        assert entry.dxf.lineweight in LINEWEIGHTS
        assert entry.dxf.lineweight == round(layer.width_mm * 100)
        assert entry.dxf.linetype == layer.line_kind.name
        assert bool(entry.dxf.plot) == layer.plots
        assert entry.description == layer.meaning
    assert not document.layers.get("G-ANNO-VPRT").dxf.plot


def test_nothing_is_referred_to_that_is_not_there(document: Any) -> None:
    line_types = {entry.dxf.name.upper() for entry in document.linetypes}
    assert line_types - {"BYLAYER", "BYBLOCK"} == {kind.name for kind in LineKind}
    for entity in entities(document):
        if entity.dxf.hasattr("style"):
            assert entity.dxf.style in document.styles
        if entity.dxftype() == "INSERT":
            assert entity.dxf.name in document.blocks


def test_only_plain_entities_are_used(document: Any) -> None:
    used = {entity.dxftype() for entity in entities(document)}
    assert used <= ALLOWED | {"ATTDEF", "ATTRIB"}


def test_no_entity_is_without_size(document: Any, unit_mm: float) -> None:
    for entity in entities(document):
        match entity.dxftype():
            case "LINE":
                assert entity.dxf.start.distance(entity.dxf.end) > 0
            case "CIRCLE" | "ARC":
                assert entity.dxf.radius > 0
            case "TEXT" | "MTEXT":
                assert entity.plain_text().strip()
    heights = [text.dxf.height * unit_mm for layout in document.layouts for text in layout.query("TEXT")]
    assert min(heights) >= 2.4


def test_dash_lengths_are_those_on_paper(document: Any, unit_mm: float) -> None:
    for kind in LineKind:
        pattern = document.linetypes.get(kind.name).pattern_tags.tags
        lengths = [abs(tag.value) * unit_mm for tag in pattern if tag.code == 49]
        assert lengths == pytest.approx(list(kind.value), abs=1e-4)


def test_line_types_grow_with_the_scale_of_their_view(document: Any, drawing: Drawing) -> None:
    main = drawing.view("plan").scale
    assert document.header["$LTSCALE"] == main
    assert document.header["$PSLTSCALE"] == 0
    lines = [line for layout in document.layouts for line in layout.query("LINE[layer=='M-CMPA-PIPE-HIDD']")]
    factors = sorted({round(line.dxf.ltscale * main, 6) for line in lines})
    assert factors == [1.0, main]  # sheets and the diagram at 1:1, the plan at its scale


def test_datum_is_the_origin_and_lengths_are_true(document: Any, drawing: Drawing, unit_mm: float) -> None:
    runs = {}
    for line in document.modelspace().query("LINE"):
        if line.has_xdata("DRAFTER"):
            ((_, name),) = line.get_xdata("DRAFTER")
            runs.setdefault(name, line)
    for item in drawing.view("plan").items:
        if isinstance(item, Line) and item.id:
            line = runs[item.id]
            assert dist(line.dxf.start.xyz[:2], (item.start.x / unit_mm, item.start.y / unit_mm)) < 1e-5
            assert dist(line.dxf.end.xyz[:2], (item.end.x / unit_mm, item.end.y / unit_mm)) < 1e-5


def test_views_stand_apart_with_their_titles(document: Any, drawing: Drawing, unit_mm: float) -> None:
    titles = {text.dxf.text: text for text in document.modelspace().query("TEXT[layer=='G-ANNO-MODL']")}
    for view in drawing.views:
        shown = view.title.replace("–", "-")
        assert titles[shown].dxf.height * unit_mm == pytest.approx(5.0 * view.scale, rel=1e-4)
    plan = drawing.view("plan").box
    floor = max(document.modelspace().query("LINE[layer=='A-WALL']"), key=lambda line: line.dxf.start.x)
    assert floor.dxf.start.x * unit_mm >= plan.right + GAP_MM
    step = 304.8 if drawing.imperial else 1000.0
    assert floor.dxf.start.x * unit_mm / step == pytest.approx(round(floor.dxf.start.x * unit_mm / step))


def dimension_items(drawing: Drawing) -> list[tuple[float, Dimension | Ordinate]]:
    views = [drawing.view(name) for name in (*VIEWS, "diagram")]
    return [(v.scale, item) for v in views for item in v.items if isinstance(item, Dimension | Ordinate)]


def test_dimensions_are_real_and_read_as_drawn(document: Any, drawing: Drawing, unit_mm: float) -> None:
    written = list(document.modelspace().query("DIMENSION"))
    wanted = dimension_items(drawing)
    assert len(written) == len(wanted)
    for entity, (scale, item) in zip(written, wanted, strict=True):
        block = document.blocks.get(entity.dxf.geometry)
        assert entity.dxf.geometry.startswith("*D")
        assert len(block.query("LINE")) >= 1
        (number,) = block.query("MTEXT")
        assert number.text == item.text
        assert number.dxf.char_height * unit_mm == pytest.approx(2.5 * scale, rel=1e-4)
        assert {part.dxf.layer for part in block} == {item.layer}
        assert entity.dxf.text == "<>"
        measured = entity.dxf.actual_measurement * unit_mm
        assert measured == pytest.approx(entity.get_measurement() * unit_mm, abs=1e-3)
        assert reads_as_measured(item.text, measured, drawing.imperial)
        assert dist(number.dxf.insert.xyz, entity.dxf.text_midpoint.xyz) == 0


def test_running_dimensions_measure_true_whichever_way_they_run(drawing: Drawing, unit_mm: float) -> None:
    """Numbers against the axes too are left to the program, and stand along their lines."""
    plan, step = drawing.view("plan"), 304.8 if drawing.imperial else 100.0
    words = "3'-0\"" if drawing.imperial else "300"
    ways = [Point(3, 0), Point(-3, 0), Point(0, 3), Point(0, -3)]
    items = tuple(
        Ordinate("M-ANNO-DIMS", Point(0, 0), way.plus(way, step - 1), way.plus(way, step - 1).plus(out, 500.0),
                 "x" if way.x else "y", words)
        for way in ways for out in ((Point(0, 1), Point(0, -1)) if way.x else (Point(1, 0), Point(-1, 0)))
    )  # fmt: skip
    found = read(to_dxf(replace(drawing, views=(replace(plan, items=items),)), ["plan"]))
    written = found.modelspace().query("DIMENSION")
    assert len(written) == 8
    for entity, item in zip(written, items, strict=True):
        assert entity.dxf.text == "<>"
        assert entity.get_measurement() * unit_mm == pytest.approx(3 * step, abs=1e-3)
        assert entity.dxf.actual_measurement * unit_mm == pytest.approx(3 * step, abs=1e-3)
        (number,) = found.blocks.get(entity.dxf.geometry).query("MTEXT")
        assert number.text == words
        assert number.dxf.rotation == entity.dxf.get("text_rotation", 0.0) == (90.0 if item.axis == "x" else 0.0)
        style = found.dimstyles.get(entity.dxf.dimstyle).dxf
        assert (style.dimsd1, style.dimsd2, style.dimse1, style.dimse2) == (1, 1, 1, 0)


@pytest.mark.parametrize("symbol", ["BALL_VALVE", "MOTOR"])
@pytest.mark.parametrize(("angle", "mirrored"), [(0.0, False), (90.0, False), (0.0, True), (270.0, True)])
def test_a_symbol_aside_of_its_point_is_drawn_as_in_other_files(
    symbol: str, angle: float, mirrored: bool, metric: Drawing
) -> None:
    plan = metric.view("plan")
    aside = Insert("M-CMPA-VALV", symbol, Point(700, 300), angle, mirrored, 0.5, (("TAG", "D-01"),), Point(3.0, -7.5))
    found = read(to_dxf(replace(metric, views=(replace(plan, items=(aside,)),)), ["plan"]))
    (insert,) = [each for each in found.modelspace().query("INSERT") if each.dxf.name.startswith("SYM_")]
    assert insert.dxf.insert.isclose((700, 300))
    box = bbox.extents([each for each in insert.virtual_entities() if each.dxftype() not in ("TEXT", "HATCH")])
    shapes = [s for s in shapes_of([aside], metric.symbols, plan.scale) if not isinstance(s, Text | Area)]
    wanted = Box.around([corner for shape in shapes for corner in shape_box(shape).corners])
    assert (*box.extmin.vec2, *box.extmax.vec2) == pytest.approx(
        (wanted.left, wanted.bottom, wanted.right, wanted.top), abs=0.01
    )


@pytest.mark.parametrize("words", ["1200", "<>", "about 3"])
def test_what_does_not_measure_what_it_says_is_lines_and_a_text(words: str, metric: Drawing) -> None:
    plan = metric.view("plan")
    level = Dimension("M-ANNO-DIMS", Point(0, 0), Point(22, 0), Point(0, 500), 0.0, words)
    running = Ordinate("M-ANNO-DIMS", Point(0, 0), Point(22, 0), Point(22, 500), "x", words)
    model = read(to_dxf(replace(metric, views=(replace(plan, items=(level, running)),)), ["plan"])).modelspace()
    assert not model.query("DIMENSION")
    assert len(model.query("LINE[layer=='M-ANNO-DIMS']")) == 3
    assert len(model.query("HATCH[layer=='M-ANNO-DIMS']")) == 2
    assert [text.dxf.text for text in model.query("TEXT[layer=='M-ANNO-DIMS']")] == [words, words]


def test_dimension_styles_measure_true(document: Any, drawing: Drawing, unit_mm: float) -> None:
    used = {dimension.dxf.dimstyle for dimension in document.modelspace().query("DIMENSION")}
    for name in used:
        style = document.dimstyles.get(name).dxf
        assert style.dimlfac == 1
        assert style.dimscale == float(name.rsplit("-", 1)[1])
        assert style.dimdsep == ord(".")
        assert style.dimtxt * unit_mm == pytest.approx(2.5, rel=1e-4)
        assert style.dimlunit == (4 if drawing.imperial else 2)
    header, main = document.header, document.dimstyles.get(document.header["$DIMSTYLE"]).dxf
    assert main.dimscale == drawing.view("plan").scale
    for name in ("dimscale", "dimtxt", "dimasz", "dimexo", "dimexe", "dimgap", "dimlfac", "dimdec", "dimtad",
                 "dimzin", "dimdsep", "dimlunit", "dimtix"):  # fmt: skip
        assert header[f"${name.upper()}"] == main.get(name), name


def test_chains_add_up_to_the_overall(document: Any) -> None:
    level = [entity for entity in document.modelspace().query("DIMENSION") if "RUNNING" not in entity.dxf.dimstyle]
    flat = [entity for entity in level if entity.dxf.angle == 0]
    *parts, overall = [entity.dxf.actual_measurement for entity in flat]
    assert len(parts) == 3
    assert sum(parts) == pytest.approx(overall, abs=1e-4)


@pytest.mark.parametrize(
    ("text", "length_mm", "imperial", "same"),
    [
        ("2400", 2400.0, False, True),
        ("2400", 2400.4, False, True),
        ("2400", 2401.0, False, False),
        ("2400.0", 2400.0, False, False),
        ("-60", -60.0, False, True),
        ("≈ 2400", 2400.0, False, False),
        ("8'-0\"", 96 * 25.4, True, True),
        ("0'-0 3/8\"", 0.375 * 25.4, True, True),
        ("-1'-2 1/16\"", -14.0625 * 25.4, True, True),
        ("7'-12\"", 96 * 25.4, True, False),
        ("8'-0 2/4\"", 96.5 * 25.4, True, False),
        ("8'-0 1/3\"", (96 + 1 / 3) * 25.4, True, False),
        ("8 ft", 96 * 25.4, True, False),
    ],
)
def test_number_is_left_to_the_program_only_where_it_writes_the_same(
    text: str, length_mm: float, imperial: bool, same: bool
) -> None:
    assert reads_as_measured(text, length_mm, imperial) == same


def test_symbols_carry_all_their_attributes_unseen(document: Any, drawing: Drawing) -> None:
    tags = []
    for insert in document.modelspace().query("INSERT"):
        if not insert.dxf.name.startswith("SYM_"):
            continue
        defined = [attdef.dxf.tag for attdef in document.blocks.get(insert.dxf.name).query("ATTDEF")]
        for attribute in insert.attribs:
            assert attribute.is_invisible
            assert attribute.dxf.layer == insert.dxf.layer
        if insert.attribs:
            assert [attribute.dxf.tag for attribute in insert.attribs] == defined
            tags.append(insert.get_attrib_text("TAG"))
    wanted = [dict(item.attributes)["TAG"] for view in drawing.views for item in view.items
              if isinstance(item, Insert) and item.attributes]  # fmt: skip
    assert sorted(tags) == sorted(wanted)


def test_symbols_have_their_size_on_paper(document: Any, drawing: Drawing, unit_mm: float) -> None:
    valves = [insert for insert in document.modelspace().query("INSERT") if insert.dxf.name == "SYM_BALL_VALVE"]
    big, small, single = valves
    grid = drawing.view("plan").scale
    assert (big.dxf.xscale, big.dxf.yscale) == (grid, grid)
    assert (small.dxf.xscale, small.dxf.yscale) == pytest.approx((-0.6 * grid, 0.6 * grid))
    assert single.dxf.xscale == 1.0
    outline = document.blocks.get("SYM_BALL_VALVE").query("LWPOLYLINE").first
    xs = [x for x, *_ in outline.get_points()]
    assert (max(xs) - min(xs)) * unit_mm == pytest.approx(10.0, rel=1e-4)


def test_texts_of_turned_symbols_stay_upright(document: Any) -> None:
    motors = [insert for insert in document.modelspace().query("INSERT") if insert.dxf.name.startswith("SYM_MOTOR")]
    assert len({insert.dxf.name for insert in motors}) == 2
    for insert in motors:
        assert insert.dxf.xscale > 0
        for text in document.blocks.get(insert.dxf.name).query("TEXT"):
            assert (text.dxf.rotation + insert.dxf.rotation) % 360 == pytest.approx(0)


def test_texts_are_anchored_where_the_drawing_says(document: Any, unit_mm: float) -> None:
    (tag,) = [text for text in document.modelspace().query("TEXT") if text.dxf.text == "D-01"]
    assert (tag.dxf.halign, tag.dxf.valign) == (1, 2)
    assert tag.dxf.align_point.x * unit_mm == pytest.approx(4000, abs=1e-3)
    assert tag.dxf.insert.x < tag.dxf.align_point.x
    assert document.styles.get(tag.dxf.style).dxf.font == "arialbd.ttf"


def test_areas_are_free_hatches(document: Any, drawing: Drawing, unit_mm: float) -> None:
    wall, block = document.modelspace().query("HATCH")
    grid = drawing.view("plan").scale
    assert (wall.dxf.pattern_name, wall.dxf.associative, wall.dxf.solid_fill) == ("ANSI31", 0, 0)
    (line,) = wall.pattern.lines
    assert line.angle == 45
    assert hypot(*line.offset) * unit_mm == pytest.approx(2.0 * grid, rel=1e-4)
    assert len(wall.paths) == 2
    assert block.dxf.solid_fill == 1


def test_every_sheet_is_a_layout_at_the_size_of_its_paper(document: Any, drawing: Drawing, unit_mm: float) -> None:
    assert document.layouts.names() == ["Model", *SHEETS]
    for sheet in drawing.sheets:
        layout = document.layouts.get(sheet.number)
        page = layout.dxf
        assert (page.paper_width, page.paper_height) == pytest.approx((sheet.width_mm, sheet.height_mm), abs=1e-4)
        assert page.limmin.xyz[:2] == (0, 0)
        assert page.limmax.xyz[:2] == pytest.approx((sheet.width_mm / unit_mm, sheet.height_mm / unit_mm), abs=1e-5)
        assert {page.left_margin, page.right_margin, page.top_margin, page.bottom_margin} == {0}
        assert page.plot_paper_units == (0 if drawing.imperial else 1)
        assert page.layout_flags & 1 == 0
        assert "pc3" not in page.plot_configuration_file


def test_viewports_show_their_views_at_exact_scale(document: Any, drawing: Drawing, unit_mm: float) -> None:
    for sheet in drawing.sheets:
        main, *viewports = document.layouts.get(sheet.number).viewports()
        assert (main.dxf.id, main.dxf.status) == (1, 1)
        assert len(viewports) == len(sheet.placements)
        assert [viewport.dxf.id for viewport in viewports] == list(range(2, 2 + len(viewports)))
        assert [viewport.dxf.status for viewport in viewports] == list(range(2, 2 + len(viewports)))
        for viewport, placement in zip(viewports, sheet.placements, strict=True):
            view, window = drawing.view(placement.view), placement.window
            assert viewport.get_scale() == pytest.approx(1 / view.scale, abs=1e-9)
            assert viewport.dxf.width * unit_mm == pytest.approx(window.width)
            assert viewport.dxf.layer == "G-ANNO-VPRT"
            assert viewport.dxf.flags & 16384
            assert viewport.frozen_layers == ["G-ANNO-MODL"]
            assert tuple(viewport.dxf.view_target_point) == (0, 0, 0)


def test_viewport_puts_the_origin_of_the_plan_at_its_place(document: Any, drawing: Drawing, unit_mm: float) -> None:
    placement = drawing.sheets[0].placements[0]
    viewport = document.layouts.get("M-101").viewports()[1].dxf
    scale = drawing.view("plan").scale
    x = (viewport.center.x - viewport.view_center_point.x / scale) * unit_mm
    y = (viewport.center.y - viewport.view_center_point.y / scale) * unit_mm
    assert (x, y) == pytest.approx(tuple(placement.at), abs=1e-4)


def test_no_viewport_shows_a_part_of_another_view(drawing: Drawing, unit_mm: float) -> None:
    """Windows far wider than their views, as on a sheet of a small plan."""
    sheets = [
        replace(sheet, placements=tuple(replace(each, window=each.window.grown(300.0)) for each in sheet.placements))
        for sheet in drawing.sheets
    ]
    wide = replace(drawing, sheets=tuple(sheets))
    document = read(to_dxf(wide, VIEWS, SHEETS))
    titles = {text.dxf.text: text for text in document.modelspace().query("TEXT[layer=='G-ANNO-MODL']")}
    for sheet in wide.sheets:
        for viewport, placement in zip(
            document.layouts.get(sheet.number).viewports()[1:], sheet.placements, strict=True
        ):
            shown, scale = viewport.dxf.view_center_point, wide.view(placement.view).scale
            half_x, half_y = (side * scale / 2 for side in (viewport.dxf.width, viewport.dxf.height))
            seen = Box(shown.x - half_x, shown.y - half_y, shown.x + half_x, shown.y + half_y)
            for view in wide.views:
                at = titles[view.title.replace("–", "-")].dxf.insert
                other = Box(at.x, at.y, at.x + view.box.width / unit_mm, at.y + view.box.height / unit_mm)
                assert seen.overlaps(other) == (view.name == placement.view)


def test_title_block_tells_programs_its_entries(document: Any, drawing: Drawing) -> None:
    for sheet in drawing.sheets:
        (block,) = document.layouts.get(sheet.number).query("INSERT[name=='TITLE_BLOCK']")
        assert {a.dxf.tag: a.dxf.text for a in block.attribs} == dict(sheet.fields)
        assert all(attribute.is_invisible for attribute in block.attribs)


def test_model_alone_keeps_the_one_layout_that_a_file_must_have(metric: Drawing) -> None:
    found = read(to_dxf(metric, ["plan"]))
    assert len(found.layouts.names()) == 2
    assert not list(found.paperspace())
    names = {text.dxf.text for text in found.modelspace().query("TEXT[layer=='G-ANNO-MODL']")}
    assert names == {"PLAN", "1:50   1 unit = 1 mm"}


def test_running_dimensions_can_be_plain(metric: Drawing) -> None:
    native = read(to_dxf(metric, ["plan"])).modelspace()
    plain = read(to_dxf(metric, ["plan"], plain_ordinates=True)).modelspace()
    assert len(native.query("DIMENSION")) - len(plain.query("DIMENSION")) == 3
    texts = {text.dxf.text for text in plain.query("TEXT[layer=='M-ANNO-DIMS']")}
    assert texts == {"1000", "2000", "3000"}
    assert len(plain.query("LWPOLYLINE[layer=='M-ANNO-DIMS']")) == 3


def test_unknown_view_or_sheet_is_refused(metric: Drawing) -> None:
    with pytest.raises(StopIteration):
        to_dxf(metric, ["attic"])
    with pytest.raises(StopIteration):
        to_dxf(metric, ["plan"], ["M-999"])
