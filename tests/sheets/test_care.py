"""The plan of care, the record to sign, and the rules and labels name this installation's own things."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.layout.graph import NodeKind
from drafter.pipeline import design
from drafter.sheets.care import care_rows, log_table
from drafter.sheets.rule_set import rule_set_rows
from drafter.sizing.network import Network

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
YARD = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")


def network_of(text: str) -> Network:
    done = design(text, "yard.yaml")
    assert done.network is not None, done.findings
    return done.network


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_card_names_every_drain_once_every_valve_and_every_unit(path: Path) -> None:
    network = network_of(path.read_text(encoding="utf-8"))
    rows, nodes = care_rows(network), network.layout.nodes.values()
    drained = " ".join(here for _, do, here, _ in rows if "drain" in do and "tank" not in do and "dew" not in do)
    named = re.findall(r"D-\d+", drained)
    assert sorted(named) == sorted(node.tag for node in nodes if node.kind is NodeKind.DRAIN)
    (turned,) = [here for _, do, here, _ in rows if do == "turn each valve"]
    assert sorted(turned.split(", ")) == sorted(node.tag for node in nodes if node.kind is NodeKind.VALVE)
    said = " ".join(" ".join(row) for row in rows)
    assert [node.tag for node in nodes if node.kind is NodeKind.TREATMENT and node.tag not in said] == []
    served = {outlet.tag for outlet in network.layout.site.outlets if outlet.service}
    opened = [here for when, _, here, _ in rows if when == "before a unit at an outlet is opened"]
    assert {part.split(":")[0] for here in opened for part in here.split("; ")} == served
    assert all(re.fullmatch(r"\w+: V-\d+, D-\d+", part) for here in opened for part in here.split("; "))
    assert all(all(row) for row in rows)
    assert not any(word in said for word in ("nan", "inf ", "None"))


def test_drains_are_opened_as_often_as_their_legs_fill() -> None:
    network = network_of(YARD)
    rows = care_rows(network)
    for leg in network.water.legs:
        tag = network.layout.nodes[leg.node].tag
        (when,) = [when for when, do, here, _ in rows if tag in here.replace(",", " ").split() and "drain" in do]
        if leg.a_day_kg < 0.005:
            assert when == "weekly"
        elif leg.times_a_day <= 1:
            assert when == "daily"
        else:
            assert when == f"daily, {leg.times_a_day} times when warm"


def test_automatic_drains_are_looked_at() -> None:
    text = YARD.replace("fall: 1 %", "fall: 1 %, drains: automatic").replace(
        "tank: 80 l", "tank: 80 l, drain: automatic"
    )
    assert "daily" not in [row[0] for row in care_rows(network_of(text))]


def test_the_log_leaves_room_to_write() -> None:
    log = log_table(9)
    assert log.rows == (("", "", "", ""),) * 9
    assert log.least_row_mm >= 7.0


@pytest.mark.parametrize("rules, said", [("us", "ASME Section VIII"), ("international", "880 bar x litres")])
def test_the_rules_say_what_holds_for_this_tank(rules: str, said: str) -> None:
    rows = rule_set_rows(network_of(f"{YARD}rules: {rules}\n"))
    assert said in next(here for what, here, _ in rows if what == "tank")
    assert rows[0][1].startswith(rules)
    assert "licensed practice decide" in rows[1][1]


def test_what_the_site_leaves_out_of_ratings_is_named_as_not_checked() -> None:
    def named(text: str) -> str:
        return " ".join(here for what, here, _ in rule_set_rows(network_of(text)) if what == "NOT CHECKED")

    plain = named(YARD)
    assert "relief valve must pass" in plain
    assert "hoses must be rated" in plain
    assert "treatment" not in plain
    assert re.search(r"fittings and adapters: rated 10\.00 bar or more at \d\d °C: read their marking", plain)
    told = YARD.replace("relief: 10 bar", "relief: 10 bar, relief flow: 12 l/s")
    assert told != YARD
    assert "relief valve" not in named(told)
    assert "treatment units and units at outlets must be rated 10.00 bar" in named(f"{YARD}treatment: [filter]\n")
    assert "as warm as the air" in named(f"{YARD}treatment: [{{kind: filter, rated: 16 bar}}]\n")
    labelled = f"{YARD}treatment: [{{kind: filter, rated: 16 bar, rated to: 80 degC}}]\n"
    assert "treatment" not in named(labelled)
    some = named(f"{YARD}ratings: {{valves: {{rated: 16 bar, rated to: 80 degC}}, drains: 16 bar}}\n")
    assert "flexible connection, drains, couplings, fittings and adapters: rated 10.00 bar" in some
    label = "{rated: 16 bar, rated to: 80 degC}"
    kinds = ("valves", "drains", "couplings", "fittings", "flexible connection")
    every = ", ".join(f"{kind}: {label}" for kind in kinds)
    assert "read their marking" not in named(f"{YARD}ratings: {{{every}}}\n")


@pytest.mark.parametrize(
    "material, treatment, metal",
    [
        ("aluminium tube", "", "aluminium"),
        ("steel pipe schedule 40", "filter", "steel"),
        ("aluminium tube", "refrigeration dryer", ""),
        ("copper tube", "", ""),
        ("stainless press tube", "", ""),
    ],
)
def test_wet_metal_beside_brass_is_looked_at(material: str, treatment: str, metal: str) -> None:
    text = YARD.replace("material: copper tube", f"material: {material}")
    assert text != YARD or material == "copper tube"
    rows = care_rows(network_of(f"{text}treatment: [{treatment}]\n"))
    said = [do for _, do, _, _ in rows if "meets brass" in do]
    assert said == ([f"look for crust where {metal} meets brass"] if metal else [])


@pytest.mark.parametrize("rules, level", [("us", "85 dB(A)"), ("international", "80 dB(A)")])
def test_the_rules_name_the_noise_that_ears_are_guarded_from(rules: str, level: str) -> None:
    rows = rule_set_rows(network_of(f"{YARD}rules: {rules}\n"))
    assert level in next(here for what, here, _ in rows if what.startswith("noise"))
