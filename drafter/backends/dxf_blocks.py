"""Blocks of a DXF: one for each symbol, the tips of leaders, and the title block's data."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from drafter.backends.dimension_lines import DOT_RADIUS_MM, TEXT_HEIGHT_MM, arrow
from drafter.backends.dxf_document import TEXT_STYLES, Document
from drafter.backends.dxf_shapes import Pen
from drafter.backends.dxf_strings import LONGEST, dxf_name, dxf_value, shown_text
from drafter.backends.poses import Pose, Shape
from drafter.drawing import Circle, Insert, Item, Record, Sheet, Symbol, Text
from drafter.geometry import Box, Point

TITLE_BLOCK = "TITLE_BLOCK"
RECORD_RADIUS_MM = 0.3
_OWN_LAYER = "0"
_ORIGIN = Point(0.0, 0.0)
_LINE_PITCH = 1.6


class Blocks:
    """Defines blocks when they are first used, and inserts them.

    A symbol with texts has one block for each way it is turned, because its texts stay upright.
    """

    def __init__(self, document: Document, items: Iterable[Item]) -> None:
        self._document = document
        self._tags: dict[str, list[str]] = {}
        self._title_blocks: dict[Any, str] = {}
        for item in items:
            if isinstance(item, Insert):
                tags = self._tags.setdefault(self._symbol_name(item), [])
                tags += [tag for tag in _data(item.attributes) if tag not in tags]

    def insert_symbol(self, pen: Pen, insert: Insert) -> None:
        """Insert a symbol with its attributes; one without any is a mere picture, as in a legend."""
        name, symbol = self._symbol_name(insert), self._document.drawing.symbols[insert.symbol]
        if name not in self._document.dxf.blocks:
            self._define_symbol(name, symbol, insert)
        size = insert.scale * pen.scale
        mirror = -1.0 if insert.mirrored and not _has_text(symbol) else 1.0
        reference = self._insert(pen, name, insert.layer, insert.at, size, insert.angle_deg, mirror)
        if insert.attributes:
            values = _data(insert.attributes)
            self._attach(pen, reference, {tag: values.get(tag, "") for tag in self._tags[name]})

    def insert_tip(self, pen: Pen, kind: str, layer: str, at: Point, angle_deg: float) -> None:
        """Insert the tip of a leader: an ``arrow`` or a ``dot``."""
        name = f"TIP_{kind.upper()}"
        if name not in self._document.dxf.blocks:
            dot = Circle(_OWN_LAYER, _ORIGIN, DOT_RADIUS_MM, filled=True)
            self._new_block(name, [dot if kind == "dot" else arrow(_OWN_LAYER, 1.0)])
        self._insert(pen, name, layer, at, pen.scale, angle_deg)

    def insert_record(self, pen: Pen, record: Record) -> None:
        """Insert the data of a thing as invisible attributes of a block that is a dot."""
        name, values = dxf_name(record.kind), _data(record.attributes)
        if name not in self._document.dxf.blocks:
            block = self._new_block(name, [Circle(_OWN_LAYER, _ORIGIN, RECORD_RADIUS_MM)])
            self._define_attributes(block, list(values))
        self._attach(pen, self._insert(pen, name, record.layer, record.at, pen.scale, 0.0), values)

    def insert_title_block(self, pen: Pen, sheet: Sheet) -> None:
        """Insert the edge of the paper with the title block's entries, each seen where it is printed.

        Entries that are not printed are invisible.
        """
        values, printed = _data(sheet.fields), _printed(sheet)
        if not values and not printed:
            return
        name = self._title_block(pen, sheet, printed)
        reference = pen.space.add_blockref(name, (0, 0), dxfattribs={"layer": self._document.viewport_layer})
        unseen = {tag: values.get(tag, "") for tag in self._title_tags() if tag not in printed}
        for tag, text in printed.items():
            look = pen.lettering(text)
            reference.add_attrib(tag, shown_text(text.text[:LONGEST]), look["insert"], dxfattribs=look)
        self._attach(pen, reference, unseen)

    def _title_block(self, pen: Pen, sheet: Sheet, printed: dict[str, Text]) -> str:
        """Return the block for sheets of this size whose entries stand at these places; made when first asked for."""
        places = tuple((tag, text.at) for tag, text in printed.items())
        key = sheet.width_mm, sheet.height_mm, places
        if key not in self._title_blocks:
            name = f"{TITLE_BLOCK}-{len(self._title_blocks) + 1}" if self._title_blocks else TITLE_BLOCK
            self._title_blocks[key] = name
            block = self._document.dxf.blocks.new(name)
            edge = Box(0.0, 0.0, sheet.width_mm, sheet.height_mm)
            block.add_lwpolyline(pen.points(edge.corners), close=True, dxfattribs={"layer": _OWN_LAYER})
            for tag, text in printed.items():
                look = pen.lettering(text) | {"prompt": tag}
                block.add_attdef(tag, look["insert"], dxfattribs=look)
            self._define_attributes(block, [tag for tag in self._title_tags() if tag not in printed])
        return self._title_blocks[key]

    def _title_tags(self) -> Iterable[str]:
        sheets = self._document.drawing.sheets
        return dict.fromkeys(tag for sheet in sheets for tag in (*_data(sheet.fields), *_printed(sheet)))

    def _symbol_name(self, insert: Insert) -> str:
        name = f"SYM_{insert.symbol}"
        if insert.shift != _ORIGIN:
            name += "_OFF_" + "_".join(f"{round(10.0 * axis)}" for axis in insert.shift)
        name = dxf_name(name)
        if not _has_text(self._document.drawing.symbols[insert.symbol]):
            return name
        turned = f"_{insert.angle_deg % 360.0:g}" if insert.angle_deg % 360.0 else ""
        return dxf_name(f"{name}{turned}{'_MIRRORED' if insert.mirrored else ''}")

    def _define_symbol(self, name: str, symbol: Symbol, insert: Insert) -> None:
        mirrored = insert.mirrored and _has_text(symbol)
        upright = Pose(_ORIGIN, 1.0, 0.0, mirrored).moved(insert.shift)
        turned = Pose(_ORIGIN, 1.0, insert.angle_deg, mirrored).moved(insert.shift)
        block = self._new_block(name, [_in_block(shape, upright, turned) for shape in symbol.shapes])
        self._define_attributes(block, self._tags[name])

    def _new_block(self, name: str, shapes: Sequence[Shape]) -> Any:
        block = self._document.dxf.blocks.new(name)
        pen = Pen(self._document, block)
        for shape in shapes:
            pen.draw(shape)
        return block

    def _define_attributes(self, block: Any, tags: Sequence[str]) -> None:
        for place, tag in enumerate(tags):
            at = (0.0, self._document.length(-place * _LINE_PITCH * TEXT_HEIGHT_MM))
            look = {
                "layer": _OWN_LAYER,
                "height": self._document.length(TEXT_HEIGHT_MM),
                "style": TEXT_STYLES["regular"],
                "prompt": tag,
            }
            block.add_attdef(tag, at, dxfattribs=look).is_invisible = True

    def _insert(
        self, pen: Pen, name: str, layer: str, at: Point, size: float, angle_deg: float, mirror: float = 1.0
    ) -> Any:
        size = round(size, 9)
        attributes = pen.attributes(layer) | {
            "xscale": size * mirror,
            "yscale": size,
            "zscale": size,
            "rotation": round(angle_deg % 360.0, 9),
        }
        return pen.space.add_blockref(name, pen.point(at), dxfattribs=attributes)

    def _attach(self, pen: Pen, reference: Any, values: dict[str, str]) -> None:
        x, y, _ = reference.dxf.insert
        height = pen.size(TEXT_HEIGHT_MM)
        for place, (tag, value) in enumerate(values.items()):
            look = {"layer": reference.dxf.layer, "height": height, "style": TEXT_STYLES["regular"]}
            at = (x, round(y - place * _LINE_PITCH * height, 6))
            reference.add_attrib(tag, value, at, dxfattribs=look).is_invisible = True


def _has_text(symbol: Symbol) -> bool:
    return any(isinstance(shape, Text) for shape in symbol.shapes)


def _data(entries: Iterable[tuple[str, str]]) -> dict[str, str]:
    return {dxf_name(tag): dxf_value(value) for tag, value in entries}


def _printed(sheet: Sheet) -> dict[str, Text]:
    """Return the texts of a sheet that print an entry of its title block."""
    return {dxf_name(item.field): item for item in sheet.items if isinstance(item, Text) and item.field}


def _in_block(shape: Shape, upright: Pose, turned: Pose) -> Shape:
    """Return a shape as the block holds it; a text is turned back, so that the insert sets it upright."""
    if not isinstance(shape, Text):
        return upright.shape(shape, _OWN_LAYER, 1.0)
    text = turned.text(shape, _OWN_LAYER, 1.0)
    at, turn = text.at.turned(-turned.angle_deg), text.angle_deg - turned.angle_deg
    return Text(_OWN_LAYER, at, text.text, text.height_mm, text.anchor, turn, text.weight)
