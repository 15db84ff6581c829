"""The DXF files of every example, at three releases: read back, and held against the design and its lists."""

from __future__ import annotations

import csv
import json
import math
from collections import Counter, defaultdict
from io import StringIO
from typing import Any

import pytest
from dxf_read import pipe_lines
from ezdxf import bbox

from drafter.backends.dxf_strings import dxf_value
from drafter.backends.view_places import offsets_of, room_of
from drafter.drawing import Drawing, Insert, Text
from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import Designed
from drafter.report import to_json
from drafter.takeoff.csv_text import parts_csv

VERSIONS = ("R2000", "R2010", "R2018")
FLAT_TYPES = {"LINE", "LWPOLYLINE", "CIRCLE", "ARC", "TEXT", "MTEXT", "INSERT", "DIMENSION", "HATCH", "VIEWPORT"}
SPACE_TYPES = {"LINE", "POLYLINE", "INSERT", "TEXT"}
NEAR_MM = 0.02


def unit_mm(document: Any) -> float:
    return 25.4 if document.header["$INSUNITS"] == 1 else 1.0


def data_of(insert: Any) -> dict[str, str]:
    return {attribute.dxf.tag: attribute.dxf.text for attribute in insert.attribs}


@pytest.mark.parametrize("version", VERSIONS)
def test_every_release_says_the_same(version: str, example: Any, files: dict[str, Any]) -> None:
    """The same entities with the same words and data, whatever the release."""
    for name, document in example.documents(version).items():
        auditor = document.audit()
        assert (auditor.errors, auditor.fixes) == ([], []), name
        assert said_in(document) == said_in(files[name])


def said_in(document: Any) -> Counter[tuple[str, ...]]:
    found = Counter[tuple[str, ...]]()
    for entity in document.modelspace():
        words = entity.dxf.text if entity.dxftype() == "TEXT" else ""
        data = (
            "|".join(f"{tag} {value}" for tag, value in data_of(entity).items()) if entity.dxftype() == "INSERT" else ""
        )
        found[entity.dxftype(), entity.dxf.layer, words, data] += 1
    return found


def test_every_file_is_sound(files: dict[str, Any]) -> None:
    assert set(files) == {"plan.dxf", "elevations.dxf", "model.dxf", "space.dxf"}
    for name, document in files.items():
        kinds = {entity.dxftype() for entity in document.modelspace()}
        assert kinds <= (SPACE_TYPES if name == "space.dxf" else FLAT_TYPES)
        layers = {layer.dxf.name for layer in document.layers}
        assert {entity.dxf.layer for entity in document.modelspace()} <= layers - {"0", "Defpoints"}
        low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
        assert all(math.isfinite(value) and abs(value) < 1e6 for value in (*low, *high))


def test_the_records_add_up_to_the_parts_schedule(designed: Designed, files: dict[str, Any]) -> None:
    """Line by line of the schedule's own file: what is counted from blocks of the plan, and from nothing else.

    The file has one decimal, each of up to a hundred blocks of a line three.
    """
    assert designed.takeoff is not None
    assert designed.site is not None
    counted: dict[tuple[str, ...], float] = defaultdict(float)
    tags: dict[tuple[str, ...], set[str]] = defaultdict(set)
    for insert in files["plan.dxf"].modelspace().query('INSERT[name=="PART"]'):
        data = data_of(insert)
        key = tuple(data[name] for name in ("NUMBER", "GROUP", "ITEM", "SIZE", "UNIT"))
        counted[key] += float(data["QTY"])
        tags[key] |= set(data["TAG"].split())
    lines = csv.DictReader(StringIO(parts_csv(designed.takeoff, designed.site.units)))
    columns = ("group", "item", "size", "unit")
    rows = {(f"{n}", *(dxf_value(line[c]) for c in columns)): line for n, line in enumerate(lines, 1)}
    assert set(counted) == set(rows)
    for key, line in rows.items():
        assert counted[key] == pytest.approx(float(line["quantity"]), abs=0.1)
        assert not line["tags"] or tags[key] == set(line["tags"].split())


def test_the_compressor_has_its_data(designed: Designed, files: dict[str, Any]) -> None:
    assert designed.site is not None
    (insert,) = files["plan.dxf"].modelspace().query('INSERT[name=="EQUIPMENT"]')
    data, units = data_of(insert), designed.site.units
    assert (data["TAG"], data["SIZE"]) == ("C-01", units.volume(designed.site.compressor.tank_m3))
    assert data["RELIEF"] == units.pressure(designed.site.compressor.relief_pa)
    (volume,) = [
        insert for insert in files["space.dxf"].modelspace().query("INSERT") if data_of(insert).get("TAG") == "C-01"
    ]
    assert volume.dxf.name.startswith("COMPRESSOR-")


def test_outlets_say_the_air_they_give(designed: Designed, files: dict[str, Any]) -> None:
    assert designed.network is not None
    said = {
        data["TAG"]: data["FLOW"]
        for data in map(data_of, files["plan.dxf"].modelspace().query("INSERT"))
        if data.get("TYPE", "").startswith("quick coupling")
    }
    units = designed.network.layout.site.units
    assert said == {flow.tag: units.free_air(flow.free_air_m3_s) for flow in designed.network.outlets}


def test_records_are_neither_shown_nor_printed(files: dict[str, Any]) -> None:
    document = files["plan.dxf"]
    (name,) = {insert.dxf.layer for insert in document.modelspace().query('INSERT[name=="PART"]')}
    layer = document.layers.get(name)
    assert layer.is_off()
    assert layer.dxf.plot == 0
    assert not [entity for entity in document.modelspace() if entity.dxf.layer == name and entity.dxftype() != "INSERT"]


def test_the_pipes_in_space_are_those_of_the_design(designed: Designed, files: dict[str, Any]) -> None:
    """The graph read back from lines by where they meet is that of the layout, with every fall and every length."""
    layout, network = designed.layout, designed.network
    assert layout is not None
    assert network is not None
    document = files["space.dxf"]
    unit = unit_mm(document)
    lines = dict(pipe_lines(document))
    runs = {run.id: run for run in layout.runs if layout.length_m(run) > 1e-3}
    assert set(lines) == set(runs)
    spots: dict[str, set[tuple[int, ...]]] = defaultdict(set)
    for id, run in runs.items():
        for node, at in ((run.start, lines[id].dxf.start), (run.end, lines[id].dxf.end)):
            spots[node].add(tuple(round(value * unit / NEAR_MM) for value in at))
            wanted = layout.nodes[node].at
            assert [value * unit for value in at] == pytest.approx([axis * 1000.0 for axis in wanted], abs=NEAR_MM)
    for places in spots.values():
        low, high = (tuple(f(axis) for axis in zip(*places, strict=True)) for f in (min, max))
        assert all(b - a <= 1 for a, b in zip(low, high, strict=True))
    said = {data["PIPE"]: data for data in map(data_of, document.modelspace().query('INSERT[name=="PIPE"]'))}
    assert {id: said[f"RUN-{id[1:]}"]["LENGTH"] for id in runs} == {
        id: layout.site.units.length_with_unit(layout.length_m(run)) for id, run in runs.items()
    }


def test_bodies_are_as_thick_as_their_pipes(designed: Designed, files: dict[str, Any]) -> None:
    assert designed.layout is not None
    document = files["space.dxf"]
    bodies = [body for body in document.modelspace().query("POLYLINE") if body.dxf.layer.endswith("BODY-3DIM")]
    assert len(bodies) == len([run for run in designed.layout.runs if designed.layout.length_m(run) > 1e-3])


def test_valves_drains_and_outlets_in_space_are_those_of_the_design(designed: Designed, files: dict[str, Any]) -> None:
    """At their places, each on its layer with its tag, level and size, as a body about its middle."""
    assert designed.layout is not None
    document, units = files["space.dxf"], designed.layout.site.units
    unit = unit_mm(document)
    layers = {NodeKind.VALVE: "VALV", NodeKind.DRAIN: "DRAN", NodeKind.COUPLING: "OUTL", NodeKind.SERVICE: "OUTL"}
    inserts = [insert for insert in document.modelspace().query("INSERT") if insert.dxf.layer[-4:] in layers.values()]
    wanted = [node for node in designed.layout.nodes.values() if node.kind in layers]
    assert len(inserts) == len(wanted)
    for node in wanted:
        here = [
            each
            for each in inserts
            if (each.dxf.insert * unit).isclose([1000.0 * axis for axis in node.at], abs_tol=0.1)
        ]
        (insert,) = [each for each in here if data_of(each)["TAG"] == node.tag]
        data = data_of(insert)
        assert data["LEVEL"] == units.level(node.at.z)
        assert (data["ROOM"], data["WALL"]) == (node.room, node.wall)
        assert insert.dxf.layer == f"M-CMPA-{layers[node.kind]}"
        body = bbox.extents(document.blocks.get(insert.dxf.name).query("3DFACE"), fast=True)
        assert body.center.isclose((0, 0, 0), abs_tol=1e-6)
        assert min(body.size) > 0
    assert all(data_of(insert)["SIZE"] for insert in inserts if data_of(insert)["TAG"])


def test_pipes_of_the_plan_have_their_ids_and_lengths(designed: Designed, files: dict[str, Any]) -> None:
    layout, network = designed.layout, designed.network
    assert layout is not None
    assert network is not None
    document = files["plan.dxf"]
    unit = unit_mm(document)
    found = {}
    for id, line in pipe_lines(document):
        found[id] = math.dist(line.dxf.start, line.dxf.end) * unit
    for run in layout.runs:
        ends = [layout.nodes[id].at.plan for id in (run.start, run.end)]
        length_mm = ends[1].minus(ends[0]).length * 1000.0
        shown = run.kind not in (RunKind.FLEXIBLE, RunKind.BRANCH) and length_mm >= 1.0
        assert (run.id in found) == shown
        if shown and not {run.start, run.end} & set(network.bends):
            assert found[run.id] == pytest.approx(length_mm, abs=NEAR_MM)


def test_every_tag_is_shown_once_and_in_one_block(drawing: Drawing, files: dict[str, Any]) -> None:
    """Of the devices that the plan shows: the outlets, valves of the line, units and drains of the main."""
    wanted = Counter(
        dict(item.attributes)["TAG"]
        for item in drawing.view("plan").items
        if isinstance(item, Insert) and item.attributes
    )
    model = files["plan.dxf"].modelspace()
    inserted = Counter(
        data["TAG"]
        for insert in model.query("INSERT")
        if insert.dxf.name not in ("PART", "EQUIPMENT") and "TAG" in (data := data_of(insert))
    )
    assert inserted == wanted
    texts = Counter(text.dxf.text for text in model.query("TEXT"))
    plan = Counter(item.text for item in drawing.view("plan").items if isinstance(item, Text))
    assert all(plan[tag] <= texts[tag] for tag in wanted)


def test_dimensions_measure_what_they_say(files: dict[str, Any]) -> None:
    for name in ("plan.dxf", "elevations.dxf"):
        document = files[name]
        for dimension in document.modelspace().query("DIMENSION"):
            block = document.blocks.get(dimension.dxf.geometry)
            assert block is not None
            assert {"LINE"} <= {entity.dxftype() for entity in block}
            assert document.dimstyles.get(dimension.dxf.dimstyle).dxf.dimlfac == 1.0
            assert math.isfinite(dimension.dxf.actual_measurement)


def test_sheets_of_both_files_are_the_set(drawing: Drawing, files: dict[str, Any]) -> None:
    """Each once, with viewports at the exact scale of its views, locked, on a layer that is not printed."""
    names = [
        layout.name
        for name in ("plan.dxf", "elevations.dxf")
        for layout in files[name].layouts
        if layout.name != "Model"
    ]
    assert sorted(names) == sorted(sheet.number for sheet in drawing.sheets)
    for name in ("plan.dxf", "elevations.dxf"):
        document = files[name]
        for layout in document.layouts:
            if layout.name == "Model":
                continue
            sheet = next(sheet for sheet in drawing.sheets if sheet.number == layout.name)
            windows = [v for v in layout.viewports() if v.dxf.id > 1]
            scales = sorted(drawing.view(placement.view).scale for placement in sheet.placements)
            assert sorted(round(1 / v.get_scale(), 6) for v in windows) == scales
            assert all(v.dxf.status > 0 and v.dxf.flags & 16384 for v in windows)
            assert all(document.layers.get(v.dxf.layer).dxf.plot == 0 for v in windows)
    assert [layout.name for layout in files["model.dxf"].layouts if len(layout) and layout.name != "Model"] == []


def test_the_facts_for_programs_agree_with_the_drawing(designed: Designed, files: dict[str, Any]) -> None:
    facts = to_json(designed.findings, designed.design, designed.takeoff)
    levels = {
        data["TAG"]: data["LEVEL"]
        for data in map(data_of, files["plan.dxf"].modelspace().query("INSERT"))
        if data.get("TAG") and "TYPE" in data
    }
    assert designed.layout is not None
    assert json.dumps(facts)
    nodes = {node.tag: node for node in designed.layout.nodes.values() if node.tag}
    units = designed.layout.site.units
    assert all(level == units.level(nodes[tag].at.z) for tag, level in levels.items())


def test_what_says_its_level_stands_there_in_an_elevation(example: Any, files: dict[str, Any]) -> None:
    """Every block of an elevation at its level; heights run from the floor of its view."""
    units, unit = example.designed.site.units, unit_mm(files["elevations.dxf"])
    views = [view for view in example.drawing.views if view.name.startswith("elevation")]
    offsets = offsets_of({view.name: room_of(view, example.drawing.sheets) for view in views}, unit)
    seen = 0
    for insert in files["elevations.dxf"].modelspace().query("INSERT"):
        data = data_of(insert)
        if "LEVEL" in data:
            heights_m = [(insert.dxf.insert.y * unit - offset.y) / 1000.0 for offset in offsets.values()]
            assert data["LEVEL"] in {dxf_value(units.level(height_m)) for height_m in heights_m}, insert.dxf.name
            seen += 1
    drawn = [item for view in views for item in view.items if isinstance(item, Insert) and item.attributes]
    assert seen == len(drawn) > 5
    levels_mm = {node.tag: node.at.z * 1000.0 for node in example.designed.layout.nodes.values() if node.tag}
    for data, item in [(dict(item.attributes), item) for item in drawn]:
        assert units.level(item.at.y / 1000.0) == data["LEVEL"]
        assert not data["TAG"] or item.at.y == pytest.approx(levels_mm[data["TAG"]], abs=1.0)


def test_pipes_of_the_plan_lie_where_they_are_from_the_datum(designed: Designed, files: dict[str, Any]) -> None:
    layout, network = designed.layout, designed.network
    assert layout is not None
    assert network is not None
    document = files["plan.dxf"]
    unit = unit_mm(document)
    lines = dict(pipe_lines(document))
    held = [run for run in layout.runs if run.id in lines and not {run.start, run.end} & set(network.bends)]
    assert held or network.bends
    for run in held:
        line = lines[run.id]
        ends = [[value * unit for value in end.xyz] for end in (line.dxf.start, line.dxf.end)]
        wanted = [[*(axis * 1000.0 for axis in layout.nodes[id].at.plan), 0.0] for id in (run.start, run.end)]
        assert ends == [pytest.approx(end, abs=NEAR_MM) for end in wanted]


def test_pieces_of_the_cutting_list_are_as_long_as_the_lines_in_space(
    designed: Designed, files: dict[str, Any]
) -> None:
    """Centre to centre, each piece on its share of the lines, within a millimetre."""
    assert designed.takeoff is not None
    document = files["space.dxf"]
    lengths_m = {
        id: math.dist(line.dxf.start, line.dxf.end) * unit_mm(document) / 1000.0 for id, line in pipe_lines(document)
    }
    for piece in designed.takeoff.pieces:
        on_lines_m = sum((span.end - span.start) * lengths_m[span.run] for span in piece.spans)
        assert on_lines_m == pytest.approx(piece.centre_to_centre_m, abs=0.001), piece.number


def test_tags_stand_beside_their_devices_once(drawing: Drawing, files: dict[str, Any]) -> None:
    """A text on the layer of tags for each device of the plan, since many readers do not show data of blocks.

    What is drawn enlarged has its tag there.
    """
    tags = Counter(
        dict(item.attributes)["TAG"]
        for item in drawing.view("plan").items
        if isinstance(item, Insert) and item.attributes
    )
    model = files["plan.dxf"].modelspace()
    high = drawing.view("plan").box.right
    unit = unit_mm(files["plan.dxf"])
    shown = Counter(
        text.dxf.text
        for text in model.query("TEXT")
        if text.dxf.layer.endswith("-IDEN") and text.dxf.insert.x * unit <= high
    )
    enlarged = {
        item.text
        for view in drawing.views
        for item in view.items
        if view.name == "enlarged-plan" and isinstance(item, Text)
    }
    assert {tag: shown[tag] for tag in tags if tag not in enlarged} == dict.fromkeys(set(tags) - enlarged, 1)
    everywhere = {text.dxf.text for text in model.query("TEXT") if text.dxf.layer.endswith("-IDEN")}
    assert everywhere >= set(tags)


def test_a_model_says_what_it_is_of_and_what_is_dangerous(designed: Designed, files: dict[str, Any]) -> None:
    """For readers that show nothing else; files with sheets say too where to look when a reader shows them badly."""
    assert designed.site is not None
    for name in ("plan.dxf", "elevations.dxf", "model.dxf"):
        said = " ".join(text.dxf.text for text in files[name].modelspace().query("TEXT"))
        assert f"drawing {designed.site.drawing.number}, revision {designed.site.drawing.revision}" in said
        assert "Compressed air stores energy" in said
        assert "Never tighten a joint under pressure" in said
        assert ("Open model.dxf instead" in said) == (name != "model.dxf")


def test_a_symbol_has_the_size_of_a_part_with_its_tag(files: dict[str, Any]) -> None:
    inserts = [data_of(insert) for insert in files["plan.dxf"].modelspace().query("INSERT")]
    sizes: dict[str, set[str]] = defaultdict(set)
    for data in inserts:
        if "NUMBER" in data:
            sizes[data["TAG"]].add(data["SIZE"])
    signs = [data for data in inserts if data.get("TAG") and "LINE" in data]
    assert signs
    assert [data["TAG"] for data in signs if data["SIZE"] not in sizes[data["TAG"]]] == []


def test_no_two_records_look_like_doubles(files: dict[str, Any]) -> None:
    """A program that deletes what stands twice leaves every record."""
    seen = Counter(
        (*(round(axis, 3) for axis in insert.dxf.insert), *sorted(data_of(insert).items()))
        for insert in files["plan.dxf"].modelspace().query('INSERT[name=="PART"]')
    )
    assert seen
    assert max(seen.values()) == 1


def test_the_file_in_space_says_what_it_is_and_its_unit(files: dict[str, Any]) -> None:
    document = files["space.dxf"]
    words = " ".join(text.dxf.text for text in document.modelspace().query("TEXT"))
    assert f"One unit of this file is one {'inch' if unit_mm(document) > 1.0 else 'millimetre'}." in words
    assert "CAUTION" in words


def test_paper_is_measured_in_the_files_own_unit(example: Any, files: dict[str, Any]) -> None:
    sheet = example.drawing.sheets[0]
    for name in ("model.dxf", "space.dxf"):
        high = files[name].header["$PLIMMAX"]
        wide, tall = (side / unit_mm(files[name]) for side in (sheet.width_mm, sheet.height_mm))
        assert high[:2] == pytest.approx((wide, tall), abs=1e-4)
