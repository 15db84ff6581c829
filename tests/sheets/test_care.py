"""The plan of care, the record to sign, and the rules and labels name this installation's own things."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.layout.graph import NodeKind
from drafter.pipeline import design
from drafter.sheets.care import BLANK, care_rows, record_table
from drafter.sheets.rule_set import label_count, rule_set_rows
from drafter.sizing.network import Network

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
YARD = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")


def network_of(text: str) -> Network:
    done = design(text, "yard.yaml")
    assert done.network is not None, done.findings
    return done.network


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_drain_is_in_the_plan_and_every_row_is_whole(path: Path) -> None:
    network = network_of(path.read_text(encoding="utf-8"))
    rows = care_rows(network)
    said = " ".join(" ".join(row) for row in rows)
    drains = [node.tag for node in network.layout.nodes.values() if node.kind is NodeKind.DRAIN]
    assert [tag for tag in drains if tag not in said] == []
    assert all(all(row) for row in rows)
    assert "V-01" in said
    assert not any(word in said for word in ("nan", "inf ", "None"))


def test_drains_that_get_no_water_are_opened_less_often() -> None:
    rows = care_rows(network_of(YARD))
    daily = " ".join(here for when, _, here in rows if when == "daily")
    network = network_of(YARD)
    for leg in network.water.legs:
        tag = network.layout.nodes[leg.node].tag
        assert (tag in daily) == (leg.a_day_kg > 0.0005)


def test_automatic_drains_are_looked_at() -> None:
    text = YARD.replace("fall: 1 %", "fall: 1 %, drains: automatic").replace(
        "tank: 80 l", "tank: 80 l, drain: automatic"
    )
    assert "daily" not in [when for when, _, _ in care_rows(network_of(text))]


def test_the_record_leaves_room_to_write() -> None:
    table = record_table(network_of(YARD))
    assert all(row[-1] == BLANK for row in table.rows)
    assert "10.00 bar, at or below 11.00 bar" in table.rows[0]


@pytest.mark.parametrize("rules, said", [("us", "ASME Section VIII"), ("international", "880 bar x litres")])
def test_the_rules_say_what_holds_for_this_tank(rules: str, said: str) -> None:
    rows = rule_set_rows(network_of(f"{YARD}rules: {rules}\n"))
    assert said in next(here for what, here, _ in rows if what == "tank")
    assert rows[0][1].startswith(rules)
    assert "licensed practice decide" in rows[1][1]


def test_labels_are_counted_by_their_places() -> None:
    """Valves, drains, the tank; the main turns at two corners and at its end, and no stretch exceeds 50 ft."""
    layout = network_of(YARD).layout
    kinds = [node.kind for node in layout.nodes.values()]
    fixed = sum(kinds.count(kind) for kind in (NodeKind.VALVE, NodeKind.DRAIN, NodeKind.TANK))
    turns = sum(node.kind is NodeKind.BEND and layout.is_on_main(node) for node in layout.nodes.values())
    assert turns == 3
    assert label_count(layout) == fixed + turns
