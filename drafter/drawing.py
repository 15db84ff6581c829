"""The neutral drawing: what stands on the sheets, before any file format.

A text stays a text, a dimension a dimension, a symbol insert an insert, so that each back end can write its own
native thing. Coordinates are millimetres: true size in a `View`, paper in a `Sheet` and in a `Symbol`. Sizes of
texts, symbols, line widths and arrows are always millimetres on paper; inside a view they grow with its scale.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from typing import Literal

from drafter.geometry import Box, Point
from drafter.lettering import Weight
from drafter.solids import Solid

MODULE_MM = 2.5
"""The module M of graphical symbols, after ISO 1219-1 (value from memory)."""


class LineKind(Enum):
    """Kinds of lines after ISO 128-2; the values are dash and gap lengths in millimetres on paper."""

    CONTINUOUS = ()
    DASHED = (3.0, 1.5)
    HIDDEN = (2.0, 1.0)
    CENTER = (6.0, 1.0, 0.5, 1.0)
    PHANTOM = (6.0, 1.0, 0.5, 1.0, 0.5, 1.0)


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer, which alone decides how its items look.

    Attributes:
        name: ASCII capitals, digits and hyphens.
        meaning: what is drawn on it.
        width_mm: width of its lines on paper.
        line_kind: continuous, dashed and so on.
        colour, grey: its number in the DXF, 1 to 255; its shade on paper, 0 black to 1 white.
        plots, shown: False for what is never printed; for what a program opens switched off.
        flat_colour: colour number in a flat file, whose only pens are its colours; 0 for the same as elsewhere.
    """

    name: str
    meaning: str
    width_mm: float
    line_kind: LineKind = LineKind.CONTINUOUS
    colour: int = 7
    grey: float = 0.0
    plots: bool = True
    shown: bool = True
    flat_colour: int = 0


@dataclass(frozen=True, slots=True)
class Scheme:
    """Layers as another office has them: for the names of the drawing's own, those to write in their place."""

    layers: Mapping[str, Layer] = field(default_factory=dict)

    def of(self, layer: Layer) -> Layer:
        """Return a layer as it is to be written; one that is not named stays as it is."""
        given = self.layers.get(layer.name)
        return replace(given, meaning=layer.meaning, plots=layer.plots, shown=layer.shown) if given else layer


PLAIN = Scheme()
"""All layers as the drawing has them."""

# Where the given point lies on a text's box; the box is as high as its capitals, bottom is the base line.
Anchor = Literal["bottom left", "bottom", "bottom right", "left", "centre", "right", "top left", "top", "top right"]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; ``id`` names the thing it stands for, such as a pipe run."""

    layer: str
    start: Point
    end: Point
    id: str = ""


@dataclass(frozen=True, slots=True)
class Polyline:
    layer: str
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Circle:
    layer: str
    centre: Point
    radius: float
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc drawn counter-clockwise from ``start_deg`` to ``end_deg``."""

    layer: str
    centre: Point
    radius: float
    start_deg: float
    end_deg: float


@dataclass(frozen=True, slots=True)
class Area:
    """A filled area without outline: ``solid`` in its layer's shade, or thin 45 degree ``hatch`` lines.

    Holes are areas left out. ``spacing_mm`` is the distance of hatch lines on paper.
    """

    layer: str
    boundary: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()
    fill: Literal["solid", "hatch"] = "solid"
    spacing_mm: float = 2.0


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text.

    Attributes:
        at: the point that ``anchor`` names on the text's box.
        height_mm: height of the capitals on paper.
        angle_deg: direction of writing, counter-clockwise from the x axis.
        field: the entry of a title block that it prints; of an empty one only the place.
        goes_on: whether it is a further line of the paragraph of the item before it.
    """

    layer: str
    at: Point
    text: str
    height_mm: float = 2.5
    anchor: Anchor = "bottom left"
    angle_deg: float = 0.0
    weight: Weight = "regular"
    field: str = ""
    goes_on: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A linear dimension between two points.

    Attributes:
        start, end: the points measured.
        line_at: any point on the dimension line.
        angle_deg: direction of measuring: 0 along x, 90 along y.
        text: the number as it must read, already rounded and formatted; stands above the line.
        text_shift_mm: where the gap is too short, moves the text along the line (paper millimetres).
    """

    layer: str
    start: Point
    end: Point
    line_at: Point
    angle_deg: float
    text: str
    text_shift_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Ordinate:
    """One running dimension: the distance of ``feature`` from ``origin`` along one axis.

    A thin line leads from the feature to ``end``, with a jog where ``end`` does not lie straight
    before it; the text stands beyond the end, written along the line.
    """

    layer: str
    origin: Point
    feature: Point
    end: Point
    axis: Literal["x", "y"]
    text: str


@dataclass(frozen=True, slots=True)
class Leader:
    """A thin line to a thing; ``points`` begin at the thing, where the ``tip`` is drawn."""

    layer: str
    points: tuple[Point, ...]
    tip: Literal["arrow", "dot", "none"] = "arrow"


@dataclass(frozen=True, slots=True)
class Insert:
    """A symbol set at a point, turned and mirrored (about its own y axis, before turning).

    ``attributes`` are data of the thing (TAG, TYPE, SIZE, ...), not shown by themselves. They stand at ``at``, the
    symbol's middle off it by ``shift``, in the symbol's own millimetres.
    """

    layer: str
    symbol: str
    at: Point
    angle_deg: float = 0.0
    mirrored: bool = False
    scale: float = 1.0
    attributes: tuple[tuple[str, str], ...] = ()
    shift: Point = Point(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Record:
    """Data of a thing at its place, for programs that count things from a drawing; nothing of it is shown.

    ``kind`` names what it is a record of; ``attributes`` are its data (ITEM, SIZE, QTY, ...).
    """

    layer: str
    kind: str
    at: Point
    attributes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Link:
    """A place that leads to the sheet of that number, or the first that shows the view named; nothing is drawn."""

    layer: str
    box: Box
    to: str


Item = Line | Polyline | Circle | Arc | Area | Text | Dimension | Ordinate | Leader | Insert | Record | Link


@dataclass(frozen=True, slots=True)
class Port:
    """Where a pipe joins a symbol [mm on paper from the insertion point], and the way out of it."""

    name: str
    at: Point
    toward: Literal["north", "east", "south", "west"]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A graphical symbol in paper millimetres about its insertion point.

    Its shapes carry an empty layer name and take the layer of the insert; texts stay upright when it is turned.
    """

    name: str
    title: str
    meaning: str
    standard: str
    size: tuple[float, float]
    ports: tuple[Port, ...]
    shapes: tuple[Line | Polyline | Circle | Arc | Area | Text, ...]

    @property
    def box(self) -> Box:
        """The room the symbol takes, centred on its insertion point [mm on paper]."""
        half_width, half_height = self.size[0] / 2, self.size[1] / 2
        return Box(-half_width, -half_height, half_width, half_height)


@dataclass(frozen=True, slots=True)
class View:
    """One view of the installation at true size.

    Attributes:
        name: short ASCII name, such as ``plan`` or ``elevation-north``.
        title: as written under the view.
        scale: N of the scale 1:N, which sizes texts and symbols; of a view not to scale how much larger than on
            paper it stands in a model.
        scale_text: the scale as written, such as ``1:50`` or ``1/4" = 1'-0"``.
        box: what the view takes up with all its texts and dimensions, in its own millimetres.
        to_scale: whether lengths may be measured in it.
    """

    name: str
    title: str
    scale: float
    scale_text: str
    items: tuple[Item, ...]
    box: Box
    to_scale: bool = True


@dataclass(frozen=True, slots=True)
class Placement:
    """A view shown on a sheet: the view's point ``origin`` falls on the sheet's point ``at``.

    ``window`` is the part of the sheet [mm on paper] that shows the view.
    """

    view: str
    origin: Point
    at: Point
    window: Box


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of paper: its items in paper millimetres from the lower left corner, views, and the title block's
    entries for programs, such as DRAWING, REVISION, SCALE.
    """

    number: str
    title: str
    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    placements: tuple[Placement, ...] = ()
    fields: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole set: views at true size and the sheets that show them.

    Attributes:
        title, subject, author: for the files' own metadata.
        date: ISO 8601, or empty.
        imperial: feet and inches are written, and a DXF counts in inches.
        solids: the installation in space.
        stamp, below: marks a design that must not be built, empty for others; lines under the first view of a model.
    """

    title: str
    subject: str
    author: str
    date: str
    imperial: bool
    layers: tuple[Layer, ...]
    symbols: Mapping[str, Symbol]
    views: tuple[View, ...]
    sheets: tuple[Sheet, ...] = ()
    solids: tuple[Solid, ...] = ()
    stamp: str = ""
    below: tuple[str, ...] = ()

    def view(self, name: str) -> View:
        return next(view for view in self.views if view.name == name)

    def layer(self, name: str) -> Layer:
        return next(layer for layer in self.layers if layer.name == name)
