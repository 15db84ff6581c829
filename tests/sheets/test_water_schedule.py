"""The schedule of water says what the water balance found."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.pipeline import design
from drafter.sheets.layers import Layers
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import schedules
from drafter.sheets.tables import Table
from drafter.sheets.water_schedule import LEAST_KG, cooling_table, water_table
from drafter.sizing import Network
from drafter.symbol_library import load_all

SITE = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")


def scene_of(text: str) -> Scene:
    done = design(text, "yard.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    return Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})


def table_of(text: str) -> tuple[Table, Network]:
    scene = scene_of(text)
    return water_table(scene), scene.design.network


@pytest.mark.parametrize("treatment", ["", "filter", "refrigeration dryer", "desiccant dryer"])
def test_every_place_with_water_has_its_row(treatment: str) -> None:
    table, network = table_of(SITE.replace("main: {", f"treatment: [{treatment}]\nmain: {{"))
    units, layout = network.layout.site.units, network.layout
    rows = {row[0].split()[0]: row for row in table.rows}
    worth = [place for place in network.water.warm.places if place.a_day_kg >= LEAST_KG]
    assert worth
    for place in worth:
        row = rows[layout.nodes[place.node].tag]
        assert row[1:3] == (units.water(place.a_day_kg), units.temperature(place.dew_point_k))
    legs = {layout.nodes[leg.node].tag: leg for leg in network.water.legs if leg.a_day_kg >= LEAST_KG}
    assert {tag: rows[tag][3] for tag in legs} == {tag: f"{leg.times_a_day} x" for tag, leg in legs.items()}
    assert ("purge air" in str(table.rows)) is (treatment == "desiccant dryer")
    assert table.title == "WATER ON A WARM DAY (30 °C, 60 % HUMIDITY)"


def test_automatic_drains_are_not_opened() -> None:
    table, _ = table_of(SITE.replace("fall: 1 %", "fall: 1 %, drains: automatic"))
    assert {row[3] for row in table.rows[1:]} == {""}
    assert table.rows[0][3] == "1 x or more", "the tank's own drain is opened by hand"
    assert table.rows[0][0] == "C-01 tank"


def test_cooling_by_bare_pipe_is_held_against_a_dryer() -> None:
    scene = scene_of(SITE)
    water, units = scene.design.network.water, scene.units
    *pipes, dryer = cooling_table(scene).rows
    assert [row[1:] for row in pipes] == [
        (units.water(line.a_day_kg), units.temperature(line.air_k)) for line in water.cooling_lines
    ]
    assert dryer[1] == units.water(water.dryer_kg)


@pytest.mark.parametrize("treatment, shown", [("filter", True), ("refrigeration dryer", False)])
def test_it_is_shown_where_the_air_is_not_dried(treatment: str, shown: bool) -> None:
    scene = scene_of(SITE.replace("main: {", f"treatment: [{treatment}]\nmain: {{"))
    assert any(table.title.startswith("COOLING BY BARE PIPE") for table in schedules(scene, ())) is shown
