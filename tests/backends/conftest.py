"""A small made-up drawing that uses every kind of item, in metric and in imperial units."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from drafter.drawing import (
    Arc,
    Area,
    Circle,
    Dimension,
    Drawing,
    Insert,
    Item,
    Layer,
    Leader,
    Line,
    LineKind,
    Ordinate,
    Placement,
    Polyline,
    Port,
    Sheet,
    Symbol,
    Text,
    View,
)
from drafter.geometry import Box, Point

WALL, HATCH, PIPE, HIDDEN = "A-WALL", "A-WALL-PATT", "M-CMPA-PIPE-MAIN", "M-CMPA-PIPE-HIDD"
VALVE, KEEP, DIMS, TEXT = "M-CMPA-VALV", "M-CMPA-KEEP", "M-ANNO-DIMS", "M-ANNO-TEXT"
VALVE_DATA = (("TAG", "V-01"), ("SIZE", "DN 25"))
TAGS, FRAME, HELP = "M-ANNO-IDEN", "M-ANNO-TTLB", "M-ANNO-NPLT"

LAYERS = (
    Layer(WALL, "walls", 0.35, colour=8, grey=0.35),
    Layer(HATCH, "wall hatch", 0.13, colour=9, grey=0.6),
    Layer(PIPE, "main line", 0.7, colour=5),
    Layer(HIDDEN, "pipe above the ceiling", 0.35, LineKind.HIDDEN, colour=5),
    Layer(VALVE, "valves", 0.25, colour=5),
    Layer(KEEP, "space kept clear", 0.18, LineKind.PHANTOM, colour=1),
    Layer(DIMS, "dimensions", 0.18, colour=1),
    Layer(TEXT, "texts", 0.25),
    Layer(TAGS, "tags and leaders", 0.25),
    Layer(FRAME, "border and title block", 0.7),
    Layer(HELP, "construction lines", 0.18, LineKind.CENTER, colour=9, plots=False),
)

BALL_VALVE = Symbol(
    "BALL_VALVE",
    "Ball valve",
    "shuts a line off",
    "made up for the tests",
    (10.0, 5.0),
    (Port("in", Point(-5.0, 0.0), "west"), Port("out", Point(5.0, 0.0), "east")),
    (
        Polyline("", (Point(-5, 2.5), Point(-5, -2.5), Point(5, 2.5), Point(5, -2.5)), closed=True),
        Circle("", Point(0, 0), 1.2, filled=True),
        Line("", Point(0, 0), Point(0, 4)),
    ),
)
MOTOR = Symbol(
    "MOTOR",
    "Electric motor",
    "drives the compressor",
    "made up for the tests",
    (15.0, 15.0),
    (),
    (
        Circle("", Point(0, 0), 7.5),
        Arc("", Point(0, 0), 5.0, 20.0, 100.0),
        Area("", (Point(4, -1), Point(7, -1), Point(7, 1), Point(4, 1))),
        Area("", (Point(-7, -1), Point(-4, -1), Point(-4, 1), Point(-7, 1)), fill="hatch", spacing_mm=0.7),
        Text("", Point(0, 0), "M", 5.0, "centre"),
        Text("", Point(8.5, 0), "3~", 2.5, "left"),
    ),
)


def ring(*corners: tuple[float, float]) -> tuple[Point, ...]:
    return tuple(Point(x, y) for x, y in corners)


def _chain(stations: list[float], y: float, texts: list[str], shifts: dict[int, float]) -> list[Item]:
    return [
        Dimension(DIMS, Point(a, 0), Point(b, 0), Point(0, y), 0.0, text, shifts.get(index, 0.0))
        for index, (a, b, text) in enumerate(zip(stations, stations[1:], texts, strict=False))
    ]


def _plan(imperial: bool, tag: str) -> View:
    if imperial:
        unit, length, depth, grid = 304.8, 24 * 304.8, 16 * 304.8, 48.0
        stations, texts = [0.0, 8.0, 8 + 1 / 32, 24.0], ["8'-0\"", "0'-0 3/8\"", "15'-11 5/8\""]
        overall, side, runs = "24'-0\"", "16'-0\"", ["3'-0\"", "6'-0\"", "9'-0\""]
    else:
        unit, length, depth, grid = 1000.0, 7320.0, 4880.0, 50.0
        stations, texts = [0.0, 2.4, 2.55, 7.32], ["2400", "150", "4770"]
        overall, side, runs = "7320", "4880", ["1000", "2000", "3000"]
    stations = [station * unit for station in stations]
    step = unit * (3 if imperial else 1)
    wall = 150.0
    outer = ring((-wall, -wall), (length + wall, -wall), (length + wall, depth + wall), (-wall, depth + wall))
    inner = ring((0, 0), (0, depth), (length, depth), (length, 0))
    items: list[Item] = [
        Area(HATCH, outer, (inner,), "hatch", 2.0),
        Polyline(WALL, outer, closed=True),
        Polyline(WALL, inner, closed=True),
        Area(WALL, ring((1000, 1000), (1600, 1000), (1600, 1600), (1000, 1600))),
        Polyline(KEEP, ring((700, 700), (1900, 700), (1900, 1900), (700, 1900)), closed=True),
        Line(PIPE, Point(300, depth - 300), Point(length - 300, depth - 300), "run-1"),
        Line(PIPE, Point(length - 300, depth - 300), Point(length - 300, 600), "run-2"),
        Line(HIDDEN, Point(length - 300, 600), Point(2500, 600), "run-3"),
        Line(HELP, Point(-400, -400), Point(length + 400, depth + 400)),
        Arc(WALL, Point(0, 2000), 900.0, 0.0, 90.0),
        Circle(TAGS, Point(4000, 1500), 5 * grid),
        Text(TAGS, Point(4000, 1500), tag, 3.5, "centre", weight="bold"),
        Text(TEXT, Point(3000, depth - 250), "DN 25 (Ø 33.7 × 3.2)", 2.5, "bottom"),
        Text(TEXT, Point(length - 350, 2500), "DN 25", 2.5, "bottom", 90.0),
        Text(TEXT, Point(5200, 2500), "Store", 3.5, "top right"),
        Insert(VALVE, "BALL_VALVE", Point(2000, depth - 300), attributes=VALVE_DATA),
        Insert(VALVE, "BALL_VALVE", Point(length - 300, 1500), 90.0, True, 0.6, (("TAG", "V-02"),)),
        Insert(VALVE, "MOTOR", Point(5600, 3600)),
        Insert(VALVE, "MOTOR", Point(5600, 1700), 90.0, True),
        Leader(TAGS, ring((2000, depth - 300), (2300, depth - 1000), (2600, depth - 1000))),
        Text(TAGS, Point(2650, depth - 1000), "V-01", 2.5, "left"),
        Leader(TAGS, ring((1300, 1300), (2200, 2300), (2500, 2300)), "dot"),
        Leader(TAGS, ring((3500, depth), (3800, depth - 900)), "none"),
        *_chain(stations, -10 * grid, texts, {1: 6.0}),
        Dimension(DIMS, Point(0, 0), Point(length, 0), Point(0, -18 * grid), 0.0, overall),
        Dimension(DIMS, Point(0, depth), Point(0, 0), Point(-12 * grid, 0), 90.0, side),
        Circle(DIMS, Point(0, depth + 6 * grid), 0.8 * grid),
    ]
    for count, run in enumerate(runs, start=1):
        x = count * step
        jog = 2 * grid if count == 2 else 0.0
        end = Point(x + jog, depth + 14 * grid)
        items.append(Ordinate(DIMS, Point(0, depth), Point(x, depth), end, "x", run))
    box = Box(-20 * grid, -24 * grid, length + 8 * grid, depth + 28 * grid)
    scale_text = '1/4" = 1\'-0"' if imperial else "1:50"
    return View("plan", "PLAN", grid, scale_text, tuple(items), box)


def _elevation(imperial: bool) -> View:
    height, level = (8 * 304.8, "8'-0\"") if imperial else (2440.0, "2440")
    items: tuple[Item, ...] = (
        Line(WALL, Point(0, 0), Point(4000, 0)),
        Line(PIPE, Point(200, height), Point(3800, height - 36), "run-1"),
        Ordinate(DIMS, Point(0, 0), Point(4000, height), Point(4300, height), "y", level),
        Text(TEXT, Point(2000, height + 50), "fall 1 %", 2.5, "bottom"),
    )
    title = "ELEVATION A – NORTH WALL"
    scale = 24.0 if imperial else 20.0
    return View("elevation-north", title, scale, "as shown", items, Box(-200, -200, 5200, height + 300))


def _diagram() -> View:
    items: tuple[Item, ...] = (
        Insert(VALVE, "MOTOR", Point(20, 20)),
        Insert(VALVE, "BALL_VALVE", Point(50, 20), attributes=(("TAG", "V-03"),)),
        Line(HIDDEN, Point(27.5, 20), Point(45, 20)),
    )
    return View("diagram", "FLOW DIAGRAM", 1.0, "not to scale", items, Box(0, 0, 80, 40))


def _frame(width: float, height: float, title: str, imperial: bool) -> tuple[Item, ...]:
    bar, length = (101.6, "4 in") if imperial else (100.0, "100 mm")
    right, top = width - 10, height - 10
    return (
        Polyline(FRAME, ring((20, 10), (right, 10), (right, top), (20, top)), closed=True),
        Text(TEXT, Point(width - 14, 14), title, 5.0, "bottom right", weight="bold"),
        Line(TEXT, Point(30, 20), Point(30 + bar, 20), "check-bar"),
        Text(TEXT, Point(30, 22), f"Print at 100 %; this bar measures {length}"),
        Line(HIDDEN, Point(150, 20), Point(200, 20)),
        Insert(VALVE, "BALL_VALVE", Point(220, 20)),
    )


def sample(imperial: bool = False, tag: str = "D-01", title: str = "Made-up workshop") -> Drawing:
    width, height = (431.8, 279.4) if imperial else (420.0, 297.0)
    plan, elevation, diagram = _plan(imperial, tag), _elevation(imperial), _diagram()
    fields = (("DRAWING", "MW-01"), ("REVISION", "A"), ("SCALE", plan.scale_text), ("OWNER", title))
    window = Box(30, 40, 260, 240)
    sheets = (
        Sheet(
            "M-101",
            "Plan",
            width,
            height,
            _frame(width, height, title, imperial),
            (
                Placement("plan", Point(0, 0), Point(70, 90), window),
                Placement("diagram", Point(0, 0), Point(280, 180), Box(280, 180, 360, 220)),
            ),
            fields,
        ),
        Sheet(
            "M-201",
            "Elevations",
            width,
            height,
            _frame(width, height, title, imperial),
            (Placement("elevation-north", Point(0, 0), Point(60, 80), Box(30, 40, 330, 240)),),
            fields,
        ),
    )
    symbols = {"BALL_VALVE": BALL_VALVE, "MOTOR": MOTOR}
    views = (plan, elevation, diagram)
    return Drawing(title, "Compressed-air piping", "A. Drafter", "2026-03-02", imperial, LAYERS, symbols, views, sheets)


@pytest.fixture(scope="session", params=[False, True], ids=["metric", "imperial"])
def drawing(request: pytest.FixtureRequest) -> Drawing:
    return sample(imperial=request.param)


@pytest.fixture(scope="session")
def metric() -> Drawing:
    return sample()


@pytest.fixture(scope="session")
def imperial() -> Drawing:
    return sample(imperial=True)


HOSTILE = (
    "A\n  0\nLINE\n  8\nHACK",
    "A\r\n  0\r\nSECTION",
    "nul\x00bell\x07escape\x1b[31m",
    "100%%d %%c50 %%%u",
    "\\PX\\H5;Y\\U+00D8 {\\fArial|b1;bold} ^J^M",
    "<b>bold</b> <img src='/etc/hostname'/> 3/4\" <DN20> A&B &amp; ]]> <!-- -->",
    "half \ud800 pair \udfff",
    "rtl \u202eevil\u202c \u2066x\u2069 \u200f",
    "\u2028line\u2029paragraph\u0085next",
    "<>",
    " ",
    "Ø 33.7 ± 0.5 at 20 °C, ⌀ 28, 6′ 8″",
    "漢字 кириллица עברית",
    "x" * 10_000,
)


@pytest.fixture(params=HOSTILE, ids=range(len(HOSTILE)))
def hostile(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="session")
def spoil() -> Callable[[str], Drawing]:
    return spoiled


def spoiled(text: str) -> Drawing:
    """The metric drawing with the text wherever a user's words can come in."""
    clean = sample(tag=text, title=text)
    plan, *others = clean.views
    items = tuple(_spoiled(item, text) for item in plan.items)
    sheets = tuple(
        replace(sheet, title=text, number=text if count else sheet.number, fields=(("OWNER", text),))
        for count, sheet in enumerate(clean.sheets)
    )
    layers = tuple(replace(layer, meaning=text) for layer in clean.layers)
    views = (replace(plan, items=items, title=text, scale_text=text), *others)
    return replace(clean, subject=text, author=text, date=text, layers=layers, views=views, sheets=sheets)


def _spoiled(item: Item, text: str) -> Item:
    match item:
        case Line(id=name) if name:
            return replace(item, id=text)
        case Insert(attributes=attributes) if attributes:
            return replace(item, attributes=tuple((tag, text) for tag, _ in attributes))
        case Dimension() | Ordinate() | Text():
            return replace(item, text=text)
    return item
