"""The block, the object and the plan of reach say the same."""

from __future__ import annotations

import io
import json
from pathlib import Path

import ezdxf
import jsonschema
import pytest
from shapely import Point as Spot
from shapely import Polygon

import drafter
from drafter.backends.dxf import to_dxf
from drafter.drawing import Area, Drawing, Polyline, Text
from drafter.pipeline import Designed, compose_drawing, design
from drafter.report.reach import reach_data, reach_text
from drafter.sheets.item_boxes import text_box
from drafter.sheets.pages import REACH_TITLE
from drafter.sizing.network import Network

SITE = (Path(__file__).parent / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
FEET = SITE.replace("[8 m, 6 m]", "[26 ft, 20 ft]").replace("ceiling: 3 m", "ceiling: 10 ft").replace(
    "from left: 3 m", "from left: 10 ft"
)  # fmt: skip
PLACES = """
places:
  - {name: vice, wall: east, from left: 2 m, off wall: 1 m}
  - {name: bay 1, wall: west, from left: 3 m, off wall: 0.2 m}
"""
PAPERS = ("A4", "A3", "A2", "A1", "Letter", "11x17", "ARCH C", "ARCH D")
SCHEMA = json.loads((Path(drafter.__file__).parent / "report" / "schema.json").read_text(encoding="utf-8"))


def designed(paper: str = "A3", text: str = SITE, places: str = PLACES) -> Designed:
    return design(f"{text}{places}drawing: {{paper: {paper}}}\n", "yard.yaml")


def network_of(done: Designed) -> Network:
    assert done.network is not None, done.findings
    return done.network


def test_the_block_says_what_the_object_says() -> None:
    network = network_of(designed())
    text, data = reach_text(network), reach_data(network)
    jsonschema.validate(data, SCHEMA["properties"]["reach"])
    for outlet in data["outlets"]:
        row = next(line.split() for line in text.splitlines() if line.split()[0] == outlet["id"])
        said = [outlet[key] for key in ("hose_m", "over_floor_m", "floor_m2")]
        assert [float(number) for number in row[1:6:2]] == pytest.approx(said, abs=0.051)
    (room,) = data["rooms"]
    share = room["reached_m2"] / room["open_floor_m2"]
    assert f"{share * 100:.0f} % of {room['open_floor_m2']:.1f} m² of open floor is reached" in text
    vice, bay = data["places"]
    assert [place["reached"] for place in (vice, bay)] == [True, False]
    assert f"A1, {int(vice['to_spare_m'] * 10) / 10:.2f} m to spare" in text
    assert bay["to_spare_m"] == pytest.approx(-bay["remedy"]["more_hose_m"])
    assert "bay 1  NOT REACHED: " in text


def test_feet_are_written_in_feet() -> None:
    text = reach_text(network_of(designed(text=FEET, places="")))
    assert " ft² of open floor is reached" in text
    assert "16.4 ft" in text


def test_hoses_no_one_gave_are_among_what_was_taken() -> None:
    drawing = compose_drawing(designed())
    told = " ".join(item.text for sheet in drawing.sheets for item in sheet.items if isinstance(item, Text))
    assert "hose: length" in told
    assert "places: height" in told


@pytest.mark.parametrize("paper", PAPERS)
def test_every_paper_has_the_plan_and_the_tables(paper: str) -> None:
    drawing = compose_drawing(designed(paper))
    placed = [(sheet, each) for sheet in drawing.sheets for each in sheet.placements if each.view == "reach"]
    ((sheet, placement),) = placed
    assert REACH_TITLE.split(" ")[0].lower() in sheet.title.lower()
    window, view = placement.window, drawing.view("reach")
    assert view.box.width / view.scale <= window.width + 1e-6
    assert view.box.height / view.scale <= window.height + 1e-6
    told = [item.text for each in drawing.sheets for item in each.items if isinstance(item, Text)]
    assert told.count("REACH") == told.count("PLACES") == told.count("end of a hose, with its outlet's tag") == 1


def test_the_plan_shows_ends_of_hoses_unreached_floor_and_places() -> None:
    done = designed()
    drawing: Drawing = compose_drawing(done)
    view, reach = drawing.view("reach"), network_of(done).layout.reach
    ends = [item for item in view.items if isinstance(item, Polyline) and item.layer == "M-CMPA-RECH"]
    assert len(ends) == sum(len(outlet.ends) for outlet in reach.outlets) > 0
    hatched = [item for item in view.items if isinstance(item, Area) and item.layer == "M-CMPA-RECH-NONE"]
    assert len(hatched) >= len(reach.unreached) > 0
    floor = [Polygon(area.boundary, area.holes) for area in hatched]
    texts = [item for item in view.items if isinstance(item, Text)]
    for text in texts:
        words = text_box(text, view.scale)
        middle = Spot(words.centre.x * view.scale, words.centre.y * view.scale)
        assert not any(piece.contains(middle) for piece in floor)
    told = [text.text for text in texts]
    assert {"A1", "A2", "vice", "bay 1", "not reached"} <= set(told)


def test_dashes_of_the_ends_run_on_in_the_dxf() -> None:
    drawing = compose_drawing(designed())
    data = to_dxf(drawing, ["plan", "reach"], ["M-101", "M-102"])
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    lines = document.modelspace().query("LWPOLYLINE[layer=='M-CMPA-RECH']")
    assert len(lines) > 0
    assert all(line.dxf.flags & 128 for line in lines)
    assert document.layers.get("M-CMPA-RECH").dxf.linetype != "Continuous"
