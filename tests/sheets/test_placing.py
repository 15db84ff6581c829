"""Labels cover nothing; crowded positions move as little as they can."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box

from drafter.drawing import Leader, Line, Text
from drafter.geometry import Box, Point
from drafter.sheets.item_boxes import boxes_of, text_box
from drafter.sheets.placing import Ground, Label
from drafter.sheets.spreading import spread

POSITIONS = st.lists(st.floats(0, 200, allow_nan=False), min_size=1, max_size=30)


@given(POSITIONS, st.floats(0.5, 8))
def test_spread_keeps_order_and_distance(wanted: list[float], least: float) -> None:
    placed = spread(wanted, least)
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    for before, after in pairwise(order):
        assert placed[after] - placed[before] >= least - 1e-6


@given(POSITIONS, st.floats(0.5, 8))
def test_spread_leaves_roomy_positions_alone_and_keeps_the_middle(wanted: list[float], least: float) -> None:
    placed = spread(wanted, least)
    ordered = sorted(wanted)
    if all(b - a >= least for a, b in pairwise(ordered)):
        assert all(abs(a - b) < 1e-9 for a, b in zip(placed, wanted, strict=True))
    assert abs(sum(placed) - sum(wanted)) < 1e-6 * max(1.0, len(wanted) * 200)


@given(st.lists(st.tuples(st.integers(0, 120), st.integers(0, 80)), min_size=1, max_size=25))
def test_labels_cover_neither_each_other_nor_lines(points: list[tuple[int, int]]) -> None:
    ground = Ground(50.0)
    line = Line("L", Point(0, 2000), Point(6000, 2000))
    ground.enter([line], {})
    texts: list[Text] = []
    for number, (x, y) in enumerate(points):
        items = ground.label(Label("T", "T", Point(x * 50.0, y * 50.0), (f"V-{number:02d}", "+1.200")))
        texts += [item for item in items if isinstance(item, Text)]
        assert all(isinstance(item, Text | Leader) for item in items)
    boxes = [text_box(text, 50.0) for text in texts]
    assert len(texts) + 2 * len(ground.homeless) == 2 * len(points)
    for i, room in enumerate(boxes):
        assert not any(room.overlaps(other) for other in boxes[i + 1 :])
        assert not any(room.overlaps(piece) for piece in boxes_of(line, 50.0, {}))


def test_a_label_too_large_for_its_ground_is_named_and_not_drawn() -> None:
    ground = Ground(1.0)
    ground.take(Box(-300, -300, 300, 300))
    assert ground.label(Label("T", "T", Point(0, 0), ("A1",))) == []
    assert ground.homeless == ["A1"]


@given(st.lists(st.tuples(st.integers(0, 60), st.integers(0, 40)), min_size=2, max_size=20, unique=True))
def test_without_a_leader_no_thing_of_its_kind_is_nearer_to_a_tag_than_its_own(points: list[tuple[int, int]]) -> None:
    ground = Ground(1.0)
    at = [Point(float(x), float(y)) for x, y in points]
    labels = [Label("T", "T", each, (f"{number}",), kind="outlet") for number, each in enumerate(at)]
    items = ground.set_all(labels)
    for here, following in pairwise([*items, None]):
        if isinstance(here, Text) and not isinstance(following, Leader):
            box = text_box(here, 1.0)
            own = at[int(here.text)]
            assert box.distance(own) <= min(box.distance(each) for each in at) + 1e-9


def test_a_leader_that_must_cross_a_pipe_still_keeps_off_signs() -> None:
    """Room for the label is only beyond the pipe; a sign is put where its leader crosses that otherwise."""
    pipe = Line("L", Point(10, -60), Point(10, 60), "P1")

    def led(signs: list[Box]) -> LineString:
        ground = Ground(1.0)
        ground.enter([pipe], {})
        ground.take(Box(-80, -60, 9, 60))
        for sign in signs:
            ground.mark(sign)
        items = ground.label(Label("T", "T", Point(0, 0), ("V-01",)))
        (leader,) = [item for item in items if isinstance(item, Leader)]
        return LineString([leader.points[0], leader.points[-1]])

    stroke = LineString([pipe.start, pipe.end])
    at = led([]).intersection(stroke)
    sign = Box(at.x - 2, at.y - 2, at.x + 2, at.y + 2)
    assert led([sign]).intersects(stroke)
    assert not led([sign]).intersects(box(sign.left, sign.bottom, sign.right, sign.top))


def test_a_label_stands_where_it_is_told_what_it_names() -> None:
    """Without a leader only where that is so, else on a leader."""

    def above_only(place: Box, is_led: bool) -> bool:
        return is_led or place.bottom > 0.0

    (text,) = Ground(1.0).label(Label("T", "T", Point(0, 0), ("V-01",), told=above_only))
    assert isinstance(text, Text)
    assert text.at.y > 0.0
    _, leader = Ground(1.0).label(Label("T", "T", Point(0, 0), ("V-01",), told=lambda _, is_led: is_led))
    assert isinstance(leader, Leader)
