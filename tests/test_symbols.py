"""The symbol files and their reader."""

from __future__ import annotations

import math

import pytest
import yaml

from drafter import symbol_library
from drafter.drawing import MODULE_MM, Arc, Area, Circle, Line, Polyline, Symbol, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm

WANTED = {
    "adsorption_filter",
    "aftercooler",
    "air_receiver",
    "automatic_drain",
    "ball_valve",
    "ball_valve_lockable",
    "bracket",
    "bracket_fixed",
    "coalescing_filter",
    "compressor",
    "datum",
    "drain_valve",
    "drip_leg",
    "drop",
    "dryer",
    "electric_motor",
    "elevation_mark",
    "filter",
    "flexible_hose",
    "flow_arrow",
    "hose_reel",
    "level_mark",
    "lubricator",
    "non_return_valve",
    "north_arrow",
    "outlet",
    "plug",
    "pressure_gauge",
    "pressure_switch",
    "quick_coupling",
    "reducer",
    "regulator",
    "relief_valve",
    "revision_mark",
    "rise",
    "separator",
    "service_unit",
    "silencer",
    "sleeve",
    "slope",
    "take_off_top",
    "tee_joint",
    "thermometer",
    "union",
    "vent",
}
TOLERANCE_MM = 0.01
SIDES = {"north": Point(0, 1), "east": Point(1, 0), "south": Point(0, -1), "west": Point(-1, 0)}
VALVE = (symbol_library.folder() / "ball_valve.yaml").read_text(encoding="utf-8")


@pytest.fixture(params=symbol_library.symbol_names())
def symbol(request: pytest.FixtureRequest) -> Symbol:
    return symbol_library.load(request.param)


def extent(shape: Line | Polyline | Circle | Arc | Area | Text) -> Box:
    match shape:
        case Line(start=start, end=end):
            return Box.around([start, end])
        case Polyline(points=points) | Area(boundary=points):
            return Box.around(points)
        case Circle(centre=centre, radius=radius):
            return Box(centre.x, centre.y, centre.x, centre.y).grown(radius)
        case Arc(centre=centre, radius=radius, start_deg=start_deg, end_deg=end_deg):
            turn = (end_deg - start_deg) % 360 or 360
            angles = [start_deg, end_deg, *(a for a in range(0, 360, 90) if (a - start_deg) % 360 <= turn)]
            return Box.around([centre.plus(Point(radius, 0).turned(angle)) for angle in angles])
        case Text(at=at, text=text, height_mm=height, anchor=anchor):
            width = text_width_mm(text, height)
            left = at.x if "left" in anchor else at.x - width if "right" in anchor else at.x - width / 2
            foot = at.y if "bottom" in anchor else at.y - height if "top" in anchor else at.y - height / 2
            return Box(left, foot, left + width, foot + height)


def test_every_symbol_wanted_is_there_and_sorted():
    assert list(symbol_library.load_all()) == list(symbol_library.symbol_names())
    assert set(symbol_library.symbol_names()) >= WANTED
    assert len(symbol_library.symbol_names()) >= 20


def test_a_symbol_is_named_as_its_file():
    for name, symbol in symbol_library.load_all().items():
        assert symbol.name == name
        assert name == name.lower()
        assert name.isidentifier()


def test_a_symbol_is_read_once():
    assert symbol_library.load("ball_valve") is symbol_library.load("ball_valve")


def test_shapes_stay_inside_the_size(symbol: Symbol):
    room = symbol.box.grown(TOLERANCE_MM)
    for shape in symbol.shapes:
        box = extent(shape)
        assert room.contains(Point(box.left, box.bottom)), shape
        assert room.contains(Point(box.right, box.top)), shape


def test_the_size_is_no_larger_than_the_shapes_need(symbol: Symbol):
    boxes = [extent(shape) for shape in symbol.shapes]
    reach_x = max(max(-box.left, box.right) for box in boxes)
    reach_y = max(max(-box.bottom, box.top) for box in boxes)
    assert symbol.size[0] / 2 - reach_x <= MODULE_MM / 4 + TOLERANCE_MM
    assert symbol.size[1] / 2 - reach_y <= MODULE_MM / 4 + TOLERANCE_MM


def test_ports_stand_on_half_modules(symbol: Symbol):
    for port in symbol.ports:
        for coordinate in port.at:
            assert coordinate / (MODULE_MM / 2) == pytest.approx(round(coordinate / (MODULE_MM / 2)), abs=1e-9)


def test_ports_are_at_the_edge_and_point_outwards(symbol: Symbol):
    for port in symbol.ports:
        outwards = SIDES[port.toward]
        half_size = abs(outwards.dot(Point(*symbol.size))) / 2
        assert port.at.dot(outwards) == pytest.approx(half_size), port
        assert symbol.box.grown(TOLERANCE_MM).contains(port.at), port


def test_a_port_is_where_something_is_drawn(symbol: Symbol):
    boxes = [extent(shape).grown(TOLERANCE_MM) for shape in symbol.shapes]
    for port in symbol.ports:
        assert any(box.contains(port.at) for box in boxes), port


def test_a_standard_is_named_or_the_note_says_why_not(symbol: Symbol):
    text = (symbol_library.folder() / f"{symbol.name}.yaml").read_text(encoding="utf-8")
    standard = yaml.safe_load(text)["standard"]
    assert standard["document"] or standard["note"]
    assert standard["document"] in symbol.standard
    assert standard["note"] in symbol.standard


def test_titles_and_shapes_tell_symbols_apart():
    symbols = list(symbol_library.load_all().values())
    for key in ("title", "meaning"):
        assert len({getattr(symbol, key) for symbol in symbols}) == len(symbols)
    drawn = {frozenset(map(repr, symbol.shapes)) for symbol in symbols}
    assert len(drawn) == len(symbols)


def test_shapes_take_the_layer_of_the_insert(symbol: Symbol):
    assert {shape.layer for shape in symbol.shapes} == {""}


def test_texts_are_legible_at_the_smallest_scale(symbol: Symbol):
    for shape in symbol.shapes:
        if isinstance(shape, Text):
            assert shape.height_mm * 0.6 >= 1.8  # mm, least height of ISO 3098


def test_modules_become_millimetres():
    valve = symbol_library.load("ball_valve")
    assert valve.size == (10.0, 5.0)
    assert [port.at for port in valve.ports] == [Point(-5, 0), Point(5, 0)]
    assert valve.shapes[-1] == Circle("", Point(0, 0), 1.5)
    assert valve.standard == "based on ISO 14617-8 (idea from memory)"


def test_every_kind_of_shape_is_read():
    shapes = """shapes:
  - {line: [[0, 0], [1, 2]]}
  - {polyline: [[0, 0], [1, 0], [1, 1]], closed: true}
  - {circle: [1, 0], radius: 0.4, filled: true}
  - {arc: [0, 1], radius: 2, from: 30, to: 90}
  - {area: [[0, 0], [1, 0], [0, 1]]}
  - {text: "N", at: [0, 1], height: 2, anchor: top left}
"""
    read = symbol_library.parse("trial", VALVE[: VALVE.index("shapes:")] + shapes)
    assert read.shapes == (
        Line("", Point(0, 0), Point(2.5, 5)),
        Polyline("", (Point(0, 0), Point(2.5, 0), Point(2.5, 2.5)), closed=True),
        Circle("", Point(2.5, 0), 1.0, filled=True),
        Arc("", Point(0, 2.5), 5.0, 30.0, 90.0),
        Area("", (Point(0, 0), Point(2.5, 0), Point(0, 2.5))),
        Text("", Point(0, 2.5), "N", 5.0, "top left"),
    )


@pytest.mark.parametrize(
    "old, new, message",
    [
        ("title: Ball valve", "titel: Ball valve", "trial.yaml: title: is missing"),
        ("title: Ball valve", "title: Ball valve\nscale: 2", "trial.yaml: scale: is not a key that is used here"),
        ("title: Ball valve", "title: 7", "trial.yaml: title: must be a text, not 7"),
        ("title: Ball valve", "title: ''", "trial.yaml: title: must not be empty"),
        ("title: Ball valve", "title: [", "trial.yaml: not readable as YAML"),
        ("size: [4, 2]", "size: 4", "trial.yaml: size: must be a pair of numbers, not 4"),
        ("size: [4, 2]", "size: [4, 0]", "trial.yaml: size: must be greater than 0"),
        ("size: [4, 2]", "size: [4, .nan]", "trial.yaml: size: must be a number, not nan"),
        ("size: [4, 2]", "size: [4, true]", "trial.yaml: size: must be a number, not True"),
        ("document: ISO 14617-8", "document: ''\n  part: 8", "trial.yaml: standard: part: is not a key"),
        ("  note: idea from memory", "  remark: none", "trial.yaml: standard: note: is missing"),
        ("toward: west", "toward: left", "trial.yaml: ports[0]: toward: must be one of north, east"),
        ("name: out", "name: in", "trial.yaml: ports: two ports have the same name"),
        ("at: [2, 0]", "at: [2, 0, 1]", "trial.yaml: ports[1]: at: must be a pair of numbers"),
        ("radius: 0.6", "radius: -1", "trial.yaml: shapes[2]: radius: must be greater than 0, not -1"),
        ("radius: 0.6", "radius: 2*3", "trial.yaml: shapes[2]: radius: must be a number, not '2*3'"),
        (", radius: 0.6", "", "trial.yaml: shapes[2]: radius: is missing"),
        ("radius: 0.6", "radius: 0.6, filled: 1", "trial.yaml: shapes[2]: filled: must be true or false, not 1"),
        ("radius: 0.6", "radius: 0.6, width: 1", "trial.yaml: shapes[2]: width: is not a key"),
        ("circle: [0, 0]", "disc: [0, 0]", "trial.yaml: shapes[2]: must have exactly one of the keys line, "),
        ("circle: [0, 0]", "circle: [0, 0], line: 1", "trial.yaml: shapes[2]: must have exactly one of the keys"),
        ("circle: [0, 0], radius: 0.6", "line: [[0, 0]]", "shapes[2]: line: must have exactly 2 points"),
        ("circle: [0, 0], radius: 0.6", "area: [[0, 0], [1, 1]]", "shapes[2]: area: must have at least 3 points"),
        ("circle: [0, 0], radius: 0.6", "area: 3", "trial.yaml: shapes[2]: area: must be a list, not 3"),
    ],
)
def test_a_faulty_file_is_named_with_its_key(old: str, new: str, message: str):
    assert old in VALVE
    with pytest.raises(ValueError, match=r"trial\.yaml") as fault:
        symbol_library.parse("trial", VALVE.replace(old, new))
    assert message in str(fault.value)


def test_a_symbol_without_document_needs_a_note():
    nothing = VALVE.replace("document: ISO 14617-8", "document: ''").replace("note: idea from memory", "note: ''")
    with pytest.raises(ValueError, match=r"trial\.yaml: standard: note: must not be empty"):
        symbol_library.parse("trial", nothing)
    numbered = VALVE.replace("document: ISO 14617-8", "document: ''").replace('registration: ""', "registration: X1")
    with pytest.raises(ValueError, match=r"trial\.yaml: standard: registration: needs a document"):
        symbol_library.parse("trial", numbered)


def test_a_file_that_is_no_mapping_or_draws_nothing_is_refused():
    with pytest.raises(ValueError, match=r"trial\.yaml: must be a mapping with the keys title, meaning"):
        symbol_library.parse("trial", "- 1\n")
    with pytest.raises(ValueError, match=r"trial\.yaml: shapes: must not be empty"):
        symbol_library.parse("trial", VALVE[: VALVE.index("shapes:")] + "shapes: []\n")


def test_an_unknown_symbol_is_answered_with_the_nearest():
    with pytest.raises(ValueError, match="no symbol 'ball_valv'; did you mean 'ball_valve'"):
        symbol_library.load("ball_valv")
    with pytest.raises(ValueError, match="no symbol"):
        symbol_library.load("../symbols/ball_valve")


def test_arcs_and_circles_of_a_symbol_are_no_speck(symbol: Symbol):
    for shape in symbol.shapes:
        if isinstance(shape, Circle | Arc):
            assert shape.radius * 0.6 >= 0.35 - 1e-9  # mm, the width of a wide line
        elif isinstance(shape, Line):
            assert math.dist(shape.start, shape.end) >= 0.15 * MODULE_MM - 1e-9
