"""The installation in space as a DXF: a centre line and a body for each pipe, blocks for what stands round it."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterable, Sequence
from typing import Any

from drafter.backends.dxf_document import APPID, RELEASE_12, Document
from drafter.backends.dxf_sheets import set_up_empty_page
from drafter.backends.dxf_strings import dxf_name, dxf_text, dxf_value, lines_of
from drafter.backends.dxf_written import fixed_metadata, written
from drafter.backends.prisms import prism_faces, round_prism
from drafter.backends.view_places import DESCENT
from drafter.drawing import PLAIN, Drawing, Scheme
from drafter.geometry import Point3
from drafter.solids import Edge, Fitting, Pipe, Solid, Volume

SIDES = 12
"""Sides of the prism that stands for a round pipe."""

RECORD_RADIUS_MM = 5.0
TEXT_HEIGHT_MM = 50.0
STAMP_HEIGHT_MM, WORDS_HEIGHT_MM = 300.0, 100.0
PIPE, VOLUME = "PIPE", "VOLUME"
MOST_SIGNS = 20
_FACE_FLAG = 128
"""Of the vertices of a mesh that stand for its faces."""


def to_space_dxf(drawing: Drawing, version: str = "R2010", scheme: Scheme = PLAIN) -> bytes:
    """Return a DXF of the drawing's solids, in the model alone; one unit is a millimetre, or an inch if imperial.

    Each pipe is a LINE with its id in the extended data, a polyface mesh of its outside diameter on a layer of bodies,
    and a block in its middle whose attributes are its data. Each volume is a block of faces that says what it is;
    fittings of one kind and size share one.

    Raises:
        ezdxf.DXFError: the version is not known.
    """
    with fixed_metadata():
        document = Document(drawing, version, 1.0, False, scheme)
        model = document.dxf.modelspace()
        for solid in drawing.solids:
            match solid:
                case Pipe():
                    _pipe(document, model, solid)
                case Edge():
                    look = {"layer": document.layer(solid.layer)}
                    model.add_line(_at(document, solid.start), _at(document, solid.end), dxfattribs=look)
                case Volume():
                    _volume(document, model, solid)
                case Fitting():
                    _fitting(document, model, solid)
        if drawing.stamp:
            mark = {"layer": document.title_layer, "height": document.length(STAMP_HEIGHT_MM)}
            model.add_text(dxf_text(drawing.stamp), dxfattribs=mark).set_placement(
                (0.0, document.length(-2.0 * STAMP_HEIGHT_MM))
            )
        spots = [spot for solid in drawing.solids for spot in _spots(solid)]
        if spots:
            lows, highs = (tuple(f(axis) for axis in zip(*spots, strict=True)) for f in (min, max))
            low, high = _at(document, Point3(*lows)), _at(document, Point3(*highs))
            low = low[0], _words(document, model, low), min(low[2], 0.0)
            model.reset_extents(low, high)
            document.dxf.header["$EXTMIN"], document.dxf.header["$EXTMAX"] = low, high
            model.reset_limits(low[:2], high[:2])
        if document.dxf.dxfversion > RELEASE_12:
            set_up_empty_page(document)
        return written(document)


def _words(document: Document, model: Any, low: tuple[float, float, float]) -> float:
    """Write what the file is of, and its unit, before the installation; return how far down that reaches."""
    unit = "inch" if document.drawing.imperial else "millimetre"
    look = {"layer": document.title_layer, "height": document.length(WORDS_HEIGHT_MM)}
    words = (*document.drawing.below, f"One unit of this file is one {unit}.")
    for number, line in enumerate((line for each in words for line in lines_of(each)), 4):
        y = low[1] - document.length(2.0 * number * WORDS_HEIGHT_MM)
        model.add_text(dxf_text(line), dxfattribs=look).set_placement((low[0], y, 0.0))
    return y - document.length(DESCENT * WORDS_HEIGHT_MM)


def _at(document: Document, at: Point3) -> tuple[float, float, float]:
    return document.length(at.x), document.length(at.y), document.length(at.z)


def _spots(solid: Solid) -> list[Point3]:
    if isinstance(solid, Volume):
        return [Point3(*corner, z) for corner in solid.outline for z in (solid.bottom_mm, solid.top_mm)]
    if isinstance(solid, Pipe):
        return [spot for end in (solid.start, solid.end) for spot in _round(end, solid.outside_mm / 2)]
    if isinstance(solid, Fitting):
        return [*_round(solid.at, solid.across_mm / 2)]
    return [solid.start, solid.end]


def _round(at: Point3, radius_mm: float) -> tuple[Point3, Point3]:
    return Point3(*(axis - radius_mm for axis in at)), Point3(*(axis + radius_mm for axis in at))


def _pipe(document: Document, model: Any, pipe: Pipe) -> None:
    start, end = _at(document, pipe.start), _at(document, pipe.end)
    line = model.add_line(start, end, dxfattribs={"layer": document.layer(pipe.layer)})
    line.set_xdata(APPID, [(1000, dxf_value(pipe.id).encode("ascii", "replace").decode())])
    _mesh(document, model, document.layer(pipe.body_layer), round_prism(pipe, SIDES))
    if PIPE not in document.dxf.blocks:
        block = document.dxf.blocks.new(PIPE)
        block.add_circle((0, 0), document.length(RECORD_RADIUS_MM), dxfattribs={"layer": "0"})
        _define(document, block, pipe.attributes)
    middle = pipe.start.towards(pipe.end, pipe.end.minus(pipe.start).length / 2)
    _insert(document, model, PIPE, pipe.layer, middle, pipe.attributes)


def _mesh(document: Document, model: Any, layer: str, corners: Sequence[Point3]) -> None:
    """Write a prism as one polyface mesh."""
    faces = prism_faces(len(corners) // 2)
    mesh = model.add_polyface({"layer": layer})
    mesh.append_vertices([_at(document, corner) for corner in corners])
    mesh.append_vertices([(0.0, 0.0, 0.0)] * len(faces))
    for vertex, face in zip(mesh.vertices[len(corners) :], faces, strict=True):
        vertex.dxf.flags = _FACE_FLAG
        for place, corner in enumerate(dict.fromkeys(face)):
            vertex.dxf.set(f"vtx{place}", corner + 1)
    mesh.update_count(len(corners), len(faces))


def _volume(document: Document, model: Any, volume: Volume) -> None:
    """Write a thing as a block of its own, made of faces about its first corner."""
    first = Point3(*volume.outline[0], volume.bottom_mm)
    corners = [Point3(*corner, z).minus(first) for z in (volume.bottom_mm, volume.top_mm) for corner in volume.outline]
    data = volume.attributes or (("TAG", volume.tag), ("TYPE", volume.words))
    name = _block_name(document, volume)
    block = document.dxf.blocks.new(name)
    for face in prism_faces(len(volume.outline)):
        block.add_3dface([_at(document, corners[n]) for n in face], dxfattribs={"layer": "0"})
    _define(document, block, data)
    _insert(document, model, name, volume.layer, first, data)


def _fitting(document: Document, model: Any, fitting: Fitting) -> None:
    """Insert a cube about the middle of a fitting."""
    half = fitting.across_mm / 2
    name = f"{_kind(fitting.kind)}-{round(10.0 * fitting.across_mm)}"
    if name not in document.dxf.blocks:
        outline = ((-half, -half), (half, -half), (half, half), (-half, half))
        corners = [Point3(*corner, z) for z in (-half, half) for corner in outline]
        block = document.dxf.blocks.new(name)
        for face in prism_faces(len(outline)):
            block.add_3dface([_at(document, corners[n]) for n in face], dxfattribs={"layer": "0"})
        _define(document, block, fitting.attributes)
    _insert(document, model, name, fitting.layer, fitting.at, fitting.attributes)


def _kind(words: str) -> str:
    return re.sub(r"[^A-Z0-9]+", "-", dxf_name(words).upper()).strip("-")[:MOST_SIGNS] or VOLUME


def _block_name(document: Document, volume: Volume) -> str:
    """A name that says what a block is, with a number after its shape and place, which is no other thing's."""
    spot = f"{volume.outline} {volume.bottom_mm} {volume.top_mm}"
    name = f"{_kind(volume.words)}-{zlib.crc32(spot.encode()):08X}"
    same = sum(block.name.startswith(name) for block in document.dxf.blocks)
    return f"{name}-{same + 1}" if same else name


def _define(document: Document, block: Any, data: Iterable[tuple[str, str]]) -> None:
    for number, (tag, _) in enumerate(data):
        look = {"layer": "0", "height": document.length(TEXT_HEIGHT_MM), "prompt": dxf_name(tag)}
        below = (0.0, document.length(-1.6 * number * TEXT_HEIGHT_MM))
        block.add_attdef(dxf_name(tag), below, dxfattribs=look).is_invisible = True


def _insert(document: Document, model: Any, name: str, layer: str, at: Point3, data: Iterable[tuple[str, str]]) -> None:
    look = {"layer": document.layer(layer), "height": document.length(TEXT_HEIGHT_MM)}
    reference = model.add_blockref(name, _at(document, at), dxfattribs={"layer": look["layer"]})
    for number, (tag, value) in enumerate(data):
        below = Point3(at.x, at.y - 1.6 * number * TEXT_HEIGHT_MM, at.z)
        reference.add_attrib(dxf_name(tag), dxf_value(value), _at(document, below), dxfattribs=look).is_invisible = True
