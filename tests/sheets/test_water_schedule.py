"""The schedule of water says what the water balance found."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.pipeline import design
from drafter.sheets.layers import Layers
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Table
from drafter.sheets.water_schedule import LEAST_KG, water_table
from drafter.sizing import Network
from drafter.symbol_library import load_all

SITE = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")


def table_of(text: str) -> tuple[Table, Network]:
    done = design(text, "yard.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    scene = Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})
    return water_table(scene), done.design.network


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
    assert {row[3] for row in table.rows} == {""}
