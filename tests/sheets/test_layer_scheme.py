"""A file that gives layers another office's names and looks."""

from __future__ import annotations

import pytest

from drafter.drawing import LineKind
from drafter.sheets.layer_scheme import read_scheme

GOOD = b"""layers:
  M-CMPA-PIPE-MAIN: {name: air-main, colour: 140, width: 0.5 mm, line: center}
  a-wall: {colour: 8}
"""


def test_what_is_said_takes_the_place_of_what_was() -> None:
    scheme, findings = read_scheme(GOOD, "ours.yaml", "M")
    assert findings == ()
    assert scheme is not None
    main = scheme.layers["M-CMPA-PIPE-MAIN"]
    assert (main.name, main.colour, main.width_mm, main.line_kind) == ("AIR-MAIN", 140, 0.5, LineKind.CENTER)
    wall = scheme.layers["A-WALL"]
    assert (wall.name, wall.colour, wall.width_mm) == ("A-WALL", 8, 0.35)


def test_layers_of_another_discipline_are_known_by_its_letter() -> None:
    scheme, findings = read_scheme(b"layers: {P-CMPA-VALV: {name: VALVES}}", "ours.yaml", "P")
    assert findings == ()
    assert scheme is not None


@pytest.mark.parametrize(
    "text, rule",
    [
        (b"layers: {M-CMPA-PIPE-MIAN: {name: X}}", "LAYER001"),
        (b"layers: {A-WALL: {name: 'M\xc3\xa4in'}}", "LAYER002"),
        (b"layers: {A-WALL: {name: 'a b'}}", "LAYER002"),
        (b"layers: {A-WALL: {name: defpoints}}", "LAYER002"),
        (b"layers: {A-WALL: {name: '0'}}", "LAYER002"),
        (b"layers: {A-WALL: {name: A-DOOR}}", "LAYER003"),
        (b"layers: {A-WALL: {name: X}, A-DOOR: {name: x}}", "LAYER003"),
        (b"layers: {M-CMPA-PART: {name: A-STUFF, width: 0.13 mm}, A-WALL-STUD: {name: A-STUFF}}", "LAYER003"),
        (b"layers: {A-WALL: {colour: 300}}", "VAL001"),
        (b"layers: {A-WALL: {line: wavy}}", "WORD001"),
        (b"layers: {A-WALL: {width: 5}}", "UNIT001"),
        (b"layers: {A-WALL: {width: 0.45 mm}}", "LAYER004"),
        (b"layers: {A-WALL: {width: 0.02 in}}", "LAYER004"),
        (b"layer: {}", "KEY001"),
        (b"", "FILE005"),
    ],
)
def test_mistakes_are_found_at_their_line(text: bytes, rule: str) -> None:
    scheme, findings = read_scheme(text, "ours.yaml", "M")
    assert scheme is None
    assert rule in [finding.rule for finding in findings]
    assert all(finding.place.file == "ours.yaml" for finding in findings)


@pytest.mark.parametrize("said, near", [("0.45 mm", "0.4 mm, or 0.5 mm"), ("0.02 in", "0.5 mm, or 0.53 mm")])
def test_a_width_that_files_do_not_know_is_met_with_the_two_next_to_it(said: str, near: str) -> None:
    _, (finding,) = read_scheme(f"layers:\n  A-WALL: {{width: {said}}}".encode(), "ours.yaml", "M")
    assert near in finding.fix
    assert (finding.place.line, finding.place.column) == (2, 11)


def test_a_width_that_files_know_may_be_in_inches() -> None:
    scheme, findings = read_scheme(b"layers: {A-WALL: {width: 0.0394 in}}", "ours.yaml", "M")
    assert findings == ()
    assert scheme is not None
    assert scheme.layers["A-WALL"].width_mm == 1.0


def test_layers_that_look_alike_may_be_brought_together() -> None:
    text = (
        b"layers: {A-WALL: {name: X, colour: 8}, A-DOOR: {name: X, colour: 8, width: 0.35 mm}, G-ANNO-VPRT: {name: VP}}"
    )
    scheme, findings = read_scheme(text, "ours.yaml", "M")
    assert findings == ()
    assert scheme is not None
    assert {layer.name for layer in scheme.layers.values()} == {"X", "VP"}


def test_a_layer_not_known_is_met_with_the_nearest() -> None:
    _, (finding,) = read_scheme(b"layers: {M-CMPA-PIPE-MIAN: {name: X}}", "ours.yaml", "M")
    assert "M-CMPA-PIPE-MAIN" in finding.fix
