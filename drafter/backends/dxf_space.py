"""The installation in space as a DXF: a centre line and a body for each pipe, blocks for what stands round it."""

from __future__ import annotations

from typing import Any

from drafter.backends.dxf_document import APPID, Document
from drafter.backends.dxf_strings import dxf_name, dxf_text
from drafter.backends.dxf_written import fixed_metadata, written
from drafter.drawing import PLAIN, Drawing, Scheme
from drafter.geometry import Point3
from drafter.solids import Edge, Pipe, Volume

SIDES = 12
"""Sides of the prism that stands for a round pipe."""

RECORD_RADIUS_MM = 5.0
TEXT_HEIGHT_MM = 50.0
STAMP_HEIGHT_MM = 300.0
PIPE = "PIPE"


def to_space_dxf(drawing: Drawing, version: str = "R2010", scheme: Scheme = PLAIN) -> bytes:
    """Return a DXF of the drawing's solids, in the model alone; one unit is a millimetre, or an inch if imperial.

    Each pipe is a LINE with its id in the extended data, a polyface mesh of its outside diameter on a layer of bodies,
    and a block in its middle whose attributes are its data.

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
        if drawing.stamp:
            mark = {"layer": document.title_layer, "height": document.length(STAMP_HEIGHT_MM)}
            model.add_text(dxf_text(drawing.stamp), dxfattribs=mark).set_placement(
                (0.0, document.length(-2.0 * STAMP_HEIGHT_MM))
            )
        spots = [spot for solid in drawing.solids for spot in _spots(solid)]
        if spots:
            lows, highs = (tuple(f(axis) for axis in zip(*spots, strict=True)) for f in (min, max))
            low, high = _at(document, Point3(*lows)), _at(document, Point3(*highs))
            model.reset_extents(low, high)
            document.dxf.header["$EXTMIN"], document.dxf.header["$EXTMAX"] = low, high
            model.reset_limits(low[:2], high[:2])
        return written(document)


def _at(document: Document, at: Point3) -> tuple[float, float, float]:
    return document.length(at.x), document.length(at.y), document.length(at.z)


def _spots(solid: Pipe | Edge | Volume) -> list[Point3]:
    if isinstance(solid, Volume):
        return [Point3(*corner, z) for corner in solid.outline for z in (solid.bottom_mm, solid.top_mm)]
    return [solid.start, solid.end]


def _pipe(document: Document, model: Any, pipe: Pipe) -> None:
    from ezdxf.render.forms import cylinder_2p

    start, end = _at(document, pipe.start), _at(document, pipe.end)
    line = model.add_line(start, end, dxfattribs={"layer": document.layer(pipe.layer)})
    line.set_xdata(APPID, [(1000, dxf_text(pipe.id).encode("ascii", "replace").decode())])
    radius = document.length(pipe.outside_mm / 2)
    body = cylinder_2p(SIDES, radius, start, end)
    body.render_polyface(model, dxfattribs={"layer": document.layer(pipe.body_layer)})
    if PIPE not in document.dxf.blocks:
        block = document.dxf.blocks.new(PIPE)
        block.add_circle((0, 0), document.length(RECORD_RADIUS_MM), dxfattribs={"layer": "0"})
        for number, (tag, _) in enumerate(pipe.attributes):
            look = {"layer": "0", "height": document.length(TEXT_HEIGHT_MM), "prompt": dxf_name(tag)}
            below = (0.0, document.length(-1.6 * number * TEXT_HEIGHT_MM))
            block.add_attdef(dxf_name(tag), below, dxfattribs=look).is_invisible = True
    middle = tuple(round((a + b) / 2, 6) for a, b in zip(start, end, strict=True))
    reference = model.add_blockref(PIPE, middle, dxfattribs={"layer": document.layer(pipe.layer)})
    for number, (tag, value) in enumerate(pipe.attributes):
        x, y, z = middle
        at = (x, round(y - document.length(1.6 * number * TEXT_HEIGHT_MM), 6), z)
        look = {"layer": reference.dxf.layer, "height": document.length(TEXT_HEIGHT_MM)}
        reference.add_attrib(dxf_name(tag), dxf_text(value), at, dxfattribs=look).is_invisible = True


def _volume(document: Document, model: Any, volume: Volume) -> None:
    from ezdxf.render import MeshBuilder

    corners, count = list(volume.outline), len(volume.outline)
    mesh = MeshBuilder()
    mesh.vertices = [
        _at(document, Point3(*corner, z)) for z in (volume.bottom_mm, volume.top_mm) for corner in corners
    ]  # fmt: skip
    sides = [(n, (n + 1) % count, count + (n + 1) % count, count + n) for n in range(count)]
    mesh.faces = [tuple(reversed(range(count))), tuple(range(count, 2 * count)), *sides]
    mesh.render_polyface(model, dxfattribs={"layer": document.layer(volume.layer)})
