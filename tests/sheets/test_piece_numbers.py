"""Numbers of the cutting list on the elevations: each once, beside the run it is cut for."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.drawing import Line, Text
from drafter.pipeline import compose_drawing, design

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_numbers_stand_beside_their_pipe(path: Path) -> None:
    designed = design(path.read_bytes(), path.name)
    assert designed.takeoff is not None
    runs = {piece.number: piece.run for piece in designed.takeoff.pieces}
    shown: list[int] = []
    for view in (view for view in compose_drawing(designed).views if view.name.startswith("elevation")):
        pipes = {item.id: item for item in view.items if isinstance(item, Line) and item.id}
        for item in view.items:
            number = re.fullmatch(r"pc (\d+)", item.text) if isinstance(item, Text) else None
            if number is None:
                continue
            assert isinstance(item, Text)
            shown.append(int(number[1]))
            pipe = pipes[runs[shown[-1]]]
            along = pipe.end.minus(pipe.start).unit
            off = item.at.minus(pipe.start)
            assert abs(along.cross(off)) < 4.0 * view.scale
            assert 0.0 <= along.dot(off) + 8.0 * view.scale <= pipe.end.minus(pipe.start).length + 16.0 * view.scale
    assert len(shown) == len(set(shown))
    assert len(shown) >= 4
