"""The report for people and the JSON for programs say the same, and say it fully."""

from __future__ import annotations

import itertools
import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import drafter
from drafter.finding import Finding, Place, Severity
from drafter.pipeline import Designed, design
from drafter.report import findings_text, report_text, to_json, verdict

SITE = (Path(__file__).parent / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
SCHEMA = json.loads((Path(drafter.__file__).parent / "report" / "schema.json").read_text(encoding="utf-8"))
IMPERIAL = SITE.replace("[8 m, 6 m]", "[26 ft, 20 ft]").replace("ceiling: 3 m", "ceiling: 10 ft").replace(
    "from left: 3 m", "from left: 10 ft"
)  # fmt: skip


@pytest.fixture(scope="module")
def designed() -> Designed:
    return design(SITE, "yard.yaml")


def data_of(designed: Designed) -> dict[str, Any]:
    return to_json(designed.findings, designed.design, designed.takeoff)


def finding(line: int, column: int, severity: Severity = Severity.ERROR, **more: str) -> Finding:
    return Finding("UNIT001", severity, Place("yard.yaml", line, column), "'4 feets' is no length", **more)


def test_a_finding_shows_its_line_with_a_caret_and_what_to_do() -> None:
    text = findings_text([finding(2, 9, fix="write 4 ft")], "site: Yard\nheight: 4 feets\n")
    assert text.splitlines() == [
        "yard.yaml:2:9: error UNIT001: '4 feets' is no length",
        "    2 | height: 4 feets",
        "      |         ^",
        "      fix: write 4 ft",
    ]


def test_a_finding_about_the_whole_file_shows_no_line() -> None:
    whole = Finding("FILE001", Severity.ERROR, Place("yard.yaml"), "the file is empty")
    assert findings_text([whole], "") == "yard.yaml: error FILE001: the file is empty"


def test_a_tab_before_the_place_keeps_the_caret_under_it() -> None:
    _, line, caret = findings_text([finding(1, 3)], "\ta4 feets").splitlines()
    assert line[caret.index("^")] == "4"


def test_a_very_long_line_is_cut_around_the_place() -> None:
    _, line, caret = findings_text([finding(1, 5001)], "x" * 5000 + "Y" + "x" * 5000).splitlines()
    assert len(line) < 200
    assert line[caret.index("^")] == "Y"


def test_a_place_past_the_end_of_the_file_does_no_harm() -> None:
    assert findings_text([finding(99, 1)], "site: Yard").startswith("yard.yaml:99:1: error")


@pytest.mark.parametrize(
    "severities, built, said",
    [
        ([], True, "It can be built as described."),
        ([Severity.NOTE], True, "It can be built as described (1 note)."),
        ([Severity.WARNING] * 2, True, "It can be built as described, once the warnings are settled (2 warnings)."),
        (
            [Severity.ERROR, Severity.NOTE],
            True,
            "It cannot be built as described: correct the errors first (1 error, 1 note).",
        ),
        ([Severity.ERROR], False, "It cannot be built as described: correct the errors first (1 error)."),
    ],
)
def test_the_last_line_says_whether_it_can_be_built(
    designed: Designed, severities: list[Severity], built: bool, said: str
) -> None:
    findings = [finding(1, 1, severity) for severity in severities]
    made = designed.design if built else None
    assert verdict(findings, made) == said
    assert report_text(findings, SITE, made).splitlines()[-1] == said


def test_the_report_says_the_basis_of_its_numbers(designed: Designed) -> None:
    text = report_text(designed.findings, SITE, designed.design)
    assert "free air at 20 degC, 1 bar absolute, dry" in text
    assert "gauge" in text
    assert "Data plates, local codes and licensed practice decide" in text


def test_the_report_has_every_outlet_with_its_pressure(designed: Designed) -> None:
    assert designed.network is not None
    lines = report_text(designed.findings, SITE, designed.design).splitlines()
    for flow in designed.network.outlets:
        row = next(line for line in lines if line.split()[:1] == [flow.tag])
        assert f"{flow.gauge_pressure_pa / 1e5:.2f} bar" in row


def test_lengths_in_the_report_add_up_to_all_pipes(designed: Designed) -> None:
    assert designed.layout is not None
    text = report_text(designed.findings, SITE, designed.design)
    block = text.partition("SIZES AND LENGTHS")[2].partition("OUTLETS")[0]
    told = sum(float(words[words.index("m") - 1]) for words in map(str.split, block.splitlines()) if "m" in words)
    assert told == pytest.approx(sum(map(designed.layout.length_m, designed.layout.runs)), abs=0.02)


def test_an_imperial_site_is_reported_in_its_units() -> None:
    imperial = design(IMPERIAL, "yard.yaml")
    text = report_text(imperial.findings, IMPERIAL, imperial.design)
    assert " psi gauge" in text
    assert " cfm" in text
    assert " l/s" not in text


@pytest.mark.parametrize(
    "text",
    [SITE, IMPERIAL, SITE.replace("fall: 1 %", "fall: 0 %"), SITE.replace("8 l/s", "8 litres"), "", "\x00", "a: [b"],
    ids=["good", "imperial", "warning", "unreadable value", "empty", "no text", "no YAML"],
)
def test_json_keeps_to_its_schema(text: str) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    data = data_of(design(text, "yard.yaml"))
    jsonschema.validate(data, SCHEMA)
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_json_holds_what_was_designed(designed: Designed) -> None:
    data = data_of(designed)
    assert designed.design is not None
    assert designed.takeoff is not None
    network, layout = designed.design.network, designed.design.network.layout
    assert data["can_be_built"] is True
    assert [outlet["id"] for outlet in data["outlets"]] == ["A1", "A2"]
    for outlet, flow, node in zip(data["outlets"], network.outlets, layout.couplings, strict=True):
        assert outlet["gauge_pressure_bar"] == pytest.approx(flow.gauge_pressure_pa / 1e5, abs=1e-4)
        assert outlet["free_air_l_s"] == pytest.approx(flow.free_air_m3_s * 1000, abs=1e-3)
        assert (outlet["x_m"], outlet["y_m"], outlet["height_m"]) == pytest.approx(tuple(node.at), abs=1e-3)
    assert [bracket["id"] for bracket in data["brackets"]] == [bracket.tag for bracket in designed.design.brackets]
    assert len(data["parts"]) == len(designed.takeoff.parts)


def test_json_pipes_are_as_long_as_their_nodes_lie_apart(designed: Designed) -> None:
    data = data_of(designed)
    nodes = {node["id"]: (node["x_m"], node["y_m"], node["height_m"]) for node in data["nodes"]}
    for pipe in data["pipes"]:
        apart = sum((a - b) ** 2 for a, b in zip(nodes[pipe["from"]], nodes[pipe["to"]], strict=True)) ** 0.5
        assert pipe["length_m"] == pytest.approx(apart, abs=5e-4)


def test_json_of_a_file_that_cannot_be_read_has_findings_only() -> None:
    data = data_of(design(SITE.replace("8 l/s", "8 litres"), "yard.yaml"))
    assert data["can_be_built"] is False
    assert [found["line"] for found in data["findings"]] == [6]
    assert data["outlets"] == data["pipes"] == data["brackets"] == data["parts"] == []


WET = SITE.replace("main: {", "treatment: [filter]\nmain: {")
DRIED = SITE.replace("main: {", "treatment: [coalescing filter, desiccant dryer, filter]\nmain: {")


@pytest.mark.parametrize("text", [SITE, WET, DRIED], ids=["untreated", "filter", "desiccant"])
def test_the_report_and_json_tell_the_same_water(text: str) -> None:
    done = design(text, "yard.yaml")
    assert done.network is not None
    warm, said = done.network.water.warm, report_text(done.findings, text, done.design)
    data = data_of(done)["water"]
    day = data["days"][0]
    kept = sum(place["water_kg"] for place in day["places"])
    assert kept + day["leaves_as_vapour_kg"] + day["given_off_with_purge_air_kg"] == pytest.approx(
        day["taken_in_kg"], abs=1e-4
    )
    water = done.network.layout.site.units.water
    assert f"{water(sum(place.a_day_kg for place in warm.places))} of water falls out" in said
    assert f"{water(warm.places[0].a_day_kg)} at the tank" in said
    assert f"{water(warm.taken_in_kg)} came in with the air" in said
    assert ("purge air" in said) is (text is DRIED)
    assert ("the first filter, stands" in said) is (text is WET)
    assert [row["id"] for row in data["air"]] == ["A1", "A2"]
    for row in data["air"]:
        line = next(line for line in said.partition("AIR AT THE OUTLETS")[2].splitlines() if row["id"] in line.split())
        assert row["wanted_class"] in line
        assert row["reached_class"] in line


def test_drains_that_get_next_to_nothing_are_told_in_one_line(designed: Designed) -> None:
    assert designed.network is not None
    block = report_text(designed.findings, SITE, designed.design).partition("WATER (")[2].partition("AIR AT")[0]
    for leg in designed.network.water.legs:
        tag = designed.network.layout.nodes[leg.node].tag
        assert sum(f"{tag}" in line for line in block.splitlines()[4:]) == 1


def test_automatic_drains_open_by_themselves() -> None:
    automatic = SITE.replace("fall: 1 %", "fall: 1 %, drains: automatic")
    done = design(automatic, "yard.yaml")
    assert "by itself" in report_text(done.findings, automatic, done.design)
    assert "by itself" not in report_text((), SITE, design(SITE, "yard.yaml").design)


def test_an_endless_tank_is_null_in_json() -> None:
    strong = design(SITE.replace("free air: 8 l/s", "free air: 80 l/s"), "yard.yaml")
    together = data_of(strong)["tank"]["together"]
    assert (together["lasts_s"], together["short"], together["wait_s"]) == (None, None, None)
    assert "as long as wanted" in report_text(strong.findings, SITE, strong.design)


def test_the_work_pattern_is_told_in_words_and_in_json() -> None:
    site = SITE + "work: {length: 1 h, runs: [{outlet: A1, for: 50 min}, {outlet: A2, from: 1 min, for: 40 min}]}\n"
    worked = design(site, "yard.yaml")
    assert worked.network is not None
    work = worked.network.tank.work
    assert work is not None
    data = data_of(worked)
    jsonschema.validate(data, SCHEMA)
    tank = data["tank"]
    assert [(s["outlet"], s["at_s"]) for s in tank["work"]["shortages"]] == [
        (s.run.tool.outlet, pytest.approx(s.at_s, abs=0.01)) for s in work.shortages
    ]
    assert tank["work"]["shortages"]
    assert tank["motor"]["basis"] == "work pattern"
    assert tank["curve"][0]["from_gauge_bar"] == 8.5
    assert all(a["to_s"] == b["from_s"] for a, b in itertools.pairwise(tank["curve"]))
    assert tank["curve"][-1]["to_s"] == 3600.0
    text = report_text(worked.findings, site, worked.design)
    assert "TANK OVER TIME (work pattern)" in text
    assert all(len(line) <= 130 for line in text.partition("TANK OVER")[2].partition("SIZES AND")[0].splitlines())


@pytest.mark.parametrize(
    "ids, said",
    [
        (["BLOW001"], "once the first point (people could be hurt) is settled"),
        (["BLOW001", "HEAT002"], "once the first 2 points (people could be hurt) are settled"),
        (["TANK005"], "It can be built as described (1 note)."),
    ],
)
def test_what_guards_people_is_settled_before_anything_is_built(designed: Designed, ids: list[str], said: str) -> None:
    findings = [Finding(id, Severity.NOTE, Place("yard.yaml", 3, 1), "x") for id in ids]
    assert said in verdict(findings, designed.design)
