"""Fifty sites made by chance: on each sheet all texts can be read, and no label is lost without a word."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from math import cos, radians, sin

import pytest
from made_by_chance import site_text
from shapely import STRtree
from shapely.geometry import LineString, Polygon, box

from drafter.backends.strokes import Frame, on_paper
from drafter.drawing import Arc, Circle, Drawing, Line, Polyline, Sheet, Text
from drafter.lettering import text_width_mm
from drafter.pipeline import Designed, compose_drawing, design

LARGE = {14: 60, 35: 36}
"""Sites with so many outlets."""

LEAST_MM = 1.8
CORE = 0.22
"""Share of its height that a text is made smaller by on all sides before lines through it are looked for."""

STRUCK = 0.35
"""Share of its height that a line must run through what is left."""

SEEDS = range(1, 51)
ACROSS = {"left": 0.0, "right": 1.0}
UP = {"bottom": 0.0, "top": 1.0}


@cache
def made(seed: int) -> tuple[Designed, Drawing]:
    designed = design(site_text(seed, LARGE.get(seed, 0)), f"{seed}.yaml")
    assert designed.takeoff is not None, [finding.message for finding in designed.findings]
    return designed, compose_drawing(designed)


def outline(text: Text) -> Polygon:
    """The box of a text's capitals on paper, turned as the text is."""
    words = text.anchor.split()
    across = next((ACROSS[word] for word in words if word in ACROSS), 0.5)
    up = next((UP[word] for word in words if word in UP), 0.5)
    width, height = text_width_mm(text.text, text.height_mm, text.weight), text.height_mm
    c, s = cos(radians(text.angle_deg)), sin(radians(text.angle_deg))
    x0, y0 = -across * width, -up * height
    corners = [(x0, y0), (x0 + width, y0), (x0 + width, y0 + height), (x0, y0 + height)]
    return Polygon([(text.at.x + x * c - y * s, text.at.y + x * s + y * c) for x, y in corners])


def strokes(shape: object) -> list[LineString]:
    match shape:
        case Line(_, start, end):
            ends = [(start.x, start.y), (end.x, end.y)]
            return [LineString(ends)] if ends[0] != ends[1] else []
        case Polyline(_, points, closed):
            ring = [*points, *(points[:1] if closed else ())]
            return [LineString([(a.x, a.y), (b.x, b.y)]) for a, b in pairwise(ring) if a != b]
        case Circle(_, centre, radius, False):
            return [round_line(centre.x, centre.y, radius, 0.0, 360.0)]
        case Arc(_, centre, radius, start_deg, end_deg):
            return [round_line(centre.x, centre.y, radius, start_deg, (end_deg - start_deg) % 360.0 or 360.0)]
        case _:
            return []


def round_line(x: float, y: float, radius: float, first_deg: float, sweep_deg: float) -> LineString:
    angles = [radians(first_deg + sweep_deg * i / 24) for i in range(25)]
    return LineString([(x + radius * cos(a), y + radius * sin(a)) for a in angles])


def drawn(drawing: Drawing, sheet: Sheet) -> tuple[list[Text], list[LineString]]:
    """All texts and lines that are seen on a sheet; those of a view end at the edge of its window."""
    texts, lines = list[Text](), list[LineString]()
    for placement in sheet.placements:
        view = drawing.view(placement.view)
        window = box(placement.window.left, placement.window.bottom, placement.window.right, placement.window.top)
        for shape in on_paper(view.items, drawing.symbols, Frame.of(placement, view)):
            if not drawing.layer(shape.layer).plots:
                continue
            if isinstance(shape, Text):
                texts += [shape] if window.intersects(outline(shape)) else []
            else:
                lines += [line.intersection(window) for line in strokes(shape) if line.intersects(window)]
    for shape in on_paper(sheet.items, drawing.symbols, Frame()):
        if isinstance(shape, Text):
            texts.append(shape)
        else:
            lines += strokes(shape)
    return texts, lines


def unreadable(drawing: Drawing, sheet: Sheet) -> list[str]:
    texts, lines = drawn(drawing, sheet)
    outlines = [outline(text) for text in texts]
    tree, found = STRtree(outlines), list[str]()
    paper = box(4.0, 4.0, sheet.width_mm - 4.0, sheet.height_mm - 4.0)
    for text, shape in zip(texts, outlines, strict=True):
        if text.height_mm < LEAST_MM:
            found.append(f"{sheet.number}: {text.text!r} is {text.height_mm} mm high")
        if not paper.contains(shape):
            found.append(f"{sheet.number}: {text.text!r} leaves the sheet")
    for a, b in zip(*tree.query(outlines, predicate="intersects"), strict=True):
        if a < b and outlines[a].intersection(outlines[b]).area > 0.1 * min(outlines[a].area, outlines[b].area):
            found.append(f"{sheet.number}: {texts[a].text!r} over {texts[b].text!r}")
    cores = [shape.buffer(-CORE * text.height_mm) for text, shape in zip(texts, outlines, strict=True)]
    for a, b in zip(*STRtree(lines).query(cores, predicate="intersects"), strict=True):
        if lines[b].intersection(cores[a]).length > STRUCK * texts[a].height_mm:
            found.append(f"{sheet.number}: {texts[a].text!r} is struck by {lines[b].wkt}")
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_every_text_can_be_read(seed: int) -> None:
    _, drawing = made(seed)
    assert [said for sheet in drawing.sheets for said in unreadable(drawing, sheet)] == []


@pytest.mark.parametrize("seed", SEEDS)
def test_no_label_is_lost_or_cut(seed: int) -> None:
    """Each outlet is named in the plan, or in the note on what found no room; no text is cut by a window's edge."""
    designed, drawing = made(seed)
    assert designed.site is not None
    views: dict[str, list[Text]] = {}
    seen: dict[str, set[int]] = {}
    notes: list[str] = []
    for sheet in drawing.sheets:
        of_sheet = [item.text for item in sheet.items if isinstance(item, Text)]
        notes.append(" ".join(of_sheet))
        for placement in sheet.placements:
            view, frame = drawing.view(placement.view), placement.window
            window = box(frame.left, frame.bottom, frame.right, frame.top).buffer(0.1)
            shapes = on_paper(view.items, drawing.symbols, Frame.of(placement, view))
            texts = [s for s in shapes if isinstance(s, Text) and drawing.layer(s.layer).plots]
            views[view.name] = texts
            seen.setdefault(view.name, set()).update(n for n, t in enumerate(texts) if window.contains(outline(t)))
    cut = [(name, texts[n].text) for name, texts in views.items() for n in range(len(texts)) if n not in seen[name]]
    assert cut == []
    in_plan = {text.text for text in views["plan"]}
    noted = " ".join(note.split("No room here", 1)[1] for note in notes if "No room here" in note)
    said = re.findall(r"[\w-]+", noted)
    assert [o.tag for o in designed.site.outlets if o.tag not in in_plan and o.tag not in said] == []
