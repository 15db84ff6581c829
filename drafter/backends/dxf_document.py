"""A new DXF document with everything that entities refer to: units, layers, line types and styles."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import ezdxf

from drafter.backends.dimension_lines import (
    EXTENSION_GAP_MM,
    OVERSHOOT_MM,
    TEXT_GAP_MM,
    TEXT_HEIGHT_MM,
    TICK_LENGTH_MM,
)
from drafter.backends.dxf_strings import dxf_name, dxf_value
from drafter.backends.view_places import TITLE_LAYER
from drafter.drawing import PLAIN, Drawing, Layer, LineKind, Scheme
from drafter.geometry import Point
from drafter.lettering import Weight
from drafter.line_widths import WIDTHS_MM

APPID = "DRAFTER"
RELEASE_12 = "AC1009"
"""Which knows no units."""

TEXT_STYLES: dict[Weight, str] = {"regular": "LETTERING", "bold": "LETTERING-BOLD"}
FONT_FILES: dict[Weight, str] = {"regular": "arial.ttf", "bold": "arialbd.ttf"}
OWN_LAYERS = (
    Layer(TITLE_LAYER, "titles of views, in the model only", 0.25, flat_colour=184),
    Layer("G-ANNO-VPRT", "frames of viewports", 0.13, colour=9, plots=False, flat_colour=195),
)
"""Layers that every file has, even where the drawing itself does not name them."""

_OF_RUNNING: dict[str, float | int | str] = {
    "dimtad": 0,
    "dimtih": 1,
    "dimtoh": 1,
    "dimtofl": 0,
    "dimsd1": 1,
    "dimsd2": 1,
    "dimse1": 1,
    "dimexe": 0.0,
}
"""What running dimensions have otherwise: only the line at the far end, and the number where it is put, level or turned
as it says itself."""

TEXT_WIDTH = 0.85
"""Width factor that sets the common face about as narrow as the one that texts were measured in."""


class Document:
    """The DXF document, its unit and the names under which the drawing's parts are found in it.

    Attributes:
        dxf: the document of the library.
        unit_mm: millimetres in one drawing unit.
        scale: N of the scale that line types and the header's dimension variables are set for.
        plain_ordinates: running dimensions are to be written as lines and texts.
    """

    def __init__(
        self, drawing: Drawing, version: str, scale: float, plain_ordinates: bool, scheme: Scheme = PLAIN
    ) -> None:
        self.drawing = drawing
        self.dxf: Any = ezdxf.new(version, setup=False)
        self.unit_mm = 25.4 if drawing.imperial else 1.0
        self.scale = scale
        self.plain_ordinates = plain_ordinates
        self._layers = {layer.name: scheme.of(layer) for layer in (*OWN_LAYERS, *drawing.layers)}
        self._write_header()
        self._add_line_types()
        self._add_text_styles()
        for layer in self._layers.values():
            if dxf_name(layer.name) not in self.dxf.layers:
                self._add_layer(layer)
        self.title_layer, self.viewport_layer = (self.layer(layer.name) for layer in OWN_LAYERS)
        self.dxf.appids.add(APPID)
        self.dxf.dimstyles.get(self.dimension_style(scale)).copy_to_header(self.dxf)

    def length(self, mm: float) -> float:
        """Return a length in drawing units, rounded to what matters."""
        return round(mm / self.unit_mm, 6) + 0.0

    def point(self, point: Point) -> tuple[float, float]:
        return self.length(point.x), self.length(point.y)

    def points(self, points: Iterable[Point]) -> list[tuple[float, float]]:
        return [self.point(point) for point in points]

    def layer(self, name: str) -> str:
        """Return the name under which a layer of the drawing stands in the file."""
        return dxf_name(self._layers[name].name if name in self._layers else name)

    def is_dashed(self, layer: str) -> bool:
        return layer in self._layers and self._layers[layer].line_kind is not LineKind.CONTINUOUS

    def _write_header(self) -> None:
        imperial = self.drawing.imperial
        if self.dxf.dxfversion > RELEASE_12:
            self.dxf.units = 1 if imperial else 4
        header = self.dxf.header
        header["$MEASUREMENT"] = 0 if imperial else 1
        header["$LUNITS"], header["$LUPREC"] = (4, 4) if imperial else (2, 0)
        header["$LTSCALE"] = self.scale
        header["$PSLTSCALE"] = 0
        header["$LWDISPLAY"] = 1
        header["$TEXTSIZE"] = self.length(TEXT_HEIGHT_MM * self.scale)
        for name in ("title", "subject", "author"):
            header.custom_vars.append(name.upper(), dxf_value(getattr(self.drawing, name)))

    def _add_line_types(self) -> None:
        for kind in LineKind:
            if kind is LineKind.CONTINUOUS:
                continue
            signed = [part if index % 2 == 0 else -part for index, part in enumerate(kind.value)]
            pattern = [round(part / self.unit_mm, 6) for part in (sum(kind.value), *signed)]
            self.dxf.linetypes.add(kind.name, pattern, description=kind.name.capitalize())

    def _add_text_styles(self) -> None:
        for weight, name in TEXT_STYLES.items():
            self.dxf.styles.add(name, font=FONT_FILES[weight]).dxf.width = TEXT_WIDTH
        self.dxf.header["$TEXTSTYLE"] = TEXT_STYLES["regular"]

    def _add_layer(self, layer: Layer) -> None:
        entry = self.dxf.layers.add(
            dxf_name(layer.name),
            color=layer.colour,
            lineweight=round(100 * min(WIDTHS_MM, key=lambda width: abs(width - layer.width_mm))),
            linetype=layer.line_kind.name,
            plot=layer.plots,
        )
        entry.description = dxf_value(layer.meaning)
        if not layer.shown:
            entry.off()

    def dimension_style(self, scale: float, running: bool = False) -> str:
        """Return the name of the dimension style for a scale; made when first asked for."""
        name = dxf_name(f"{'RUNNING' if running else 'LENGTH'}-{scale:g}")
        if name not in self.dxf.dimstyles:
            style = self.dxf.dimstyles.add(name)
            attributes = self._dimension_attributes(scale) | (_OF_RUNNING if running else {})
            for attribute, value in attributes.items():
                style.set_dxf_attrib(attribute, value)
            style.set_arrows(blk="NONE" if running else "ARCHTICK")
        return name

    def _dimension_attributes(self, scale: float) -> dict[str, float | int | str]:
        units: dict[str, float | int | str] = (
            {"dimlunit": 4, "dimdec": 4, "dimfrac": 2, "dimzin": 1, "dimrnd": 0}
            if self.drawing.imperial
            else {"dimlunit": 2, "dimdec": 0, "dimzin": 8, "dimrnd": 0}
        )
        paper = {
            "dimtxt": TEXT_HEIGHT_MM,
            "dimasz": TICK_LENGTH_MM / 2**0.5,
            "dimexo": EXTENSION_GAP_MM,
            "dimexe": OVERSHOOT_MM,
            "dimgap": TEXT_GAP_MM,
            "dimdli": 8.0,
        }
        return (
            units
            | {name: self.length(size) for name, size in paper.items()}
            | {
                "dimscale": scale,
                "dimlfac": 1.0,
                "dimdsep": ord("."),
                "dimtad": 1,
                "dimtih": 0,
                "dimtoh": 0,
                "dimtix": 1,
                "dimtofl": 1,
                "dimtmove": 2,
                "dimtxsty": TEXT_STYLES["regular"],
            }
        )
