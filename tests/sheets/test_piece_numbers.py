"""Numbers of the cutting list on the elevations: each once, beside the run it is cut for."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path

import pytest

from drafter.drawing import Line, Text
from drafter.geometry import Point
from drafter.pipeline import compose_drawing, design

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_numbers_stand_beside_their_pipe(path: Path) -> None:
    designed = design(path.read_bytes(), path.name)
    assert designed.takeoff is not None
    runs = {piece.number: piece.run for piece in designed.takeoff.pieces}
    shown: list[int] = []
    for view in (view for view in compose_drawing(designed).views if view.name.startswith("elevation")):
        pipes = defaultdict[str, list[Line]](list)
        for line in (item for item in view.items if isinstance(item, Line) and item.id):
            pipes[line.id].append(line)
        for item in view.items:
            number = re.fullmatch(r"pc (\d+)", item.text) if isinstance(item, Text) else None
            if number is None:
                continue
            assert isinstance(item, Text)
            shown.append(int(number[1]))
            assert any(stands_beside(item.at, pipe, view.scale) for pipe in pipes[runs[shown[-1]]])
    assert len(shown) == len(set(shown))
    assert len(shown) >= 4


def stands_beside(at: Point, pipe: Line, scale: float) -> bool:
    along, off = pipe.end.minus(pipe.start).unit, at.minus(pipe.start)
    reach = pipe.end.minus(pipe.start).length + 8.0 * scale
    return abs(along.cross(off)) < 4.0 * scale and -8.0 * scale <= along.dot(off) <= reach


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_piece_is_found_on_the_isometric(path: Path) -> None:
    """Pieces of the main by their own number, those of a drop at least by those that its outlet names."""
    designed = design(path.read_bytes(), path.name)
    assert designed.takeoff is not None
    assert designed.layout is not None
    drops = {run.id: run.outlet for run in designed.layout.runs if run.outlet}
    texts = [
        item.text
        for view in compose_drawing(designed).views
        for item in view.items
        if view.name.startswith("isometric") and isinstance(item, Text)
    ]
    own = {int(number) for text in texts for number in re.findall(r"^pc (\d+)$", text)}
    told = {number for text in texts for number in numbers_of(text)}
    for piece in designed.takeoff.pieces:
        of_drop = any(span.run in drops for span in piece.spans)
        assert piece.number in (told if of_drop else own)


def numbers_of(words: str) -> set[int]:
    """The numbers of ``pc 3`` or ``pc 3-6, 9``."""
    if not words.startswith("pc "):
        return set()
    ends = [list(map(int, each.split("-"))) for each in words.removeprefix("pc ").split(", ")]
    return {number for pair in ends for number in range(pair[0], pair[-1] + 1)}
