"""What the readme and the contributors' guide say is so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.cli import main
from drafter.finding import Severity
from drafter.pipeline import design
from drafter.standards.materials import material_names
from drafter.standards.tools import find_tool

TOP = Path(__file__).parents[1]
README = (TOP / "README.md").read_text(encoding="utf-8")
GUIDE = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
BACK_ROOM = "  back: {size: [2 m, 2 m], ceiling: 2.9 m, behind: {room: garage, wall: north, from left: 2 m}}\n"
WORK = re.findall(r"`(work: {.*?}]})`", README)[0]
LIMITS = re.sub(r"\s+", " ", re.findall(r"`(limits: {.*?}})`", README, re.DOTALL)[0])
LEAK_TEST = re.findall(r"`(leak test: \[.*?\])`", README)[0]
PLACES = ("drafter/", "symbols/", "tests/", "example_sites/", "output/")


def blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


def said(text: str) -> str:
    return " ".join(text.split())


def test_the_first_site_is_short_and_draws_without_doubts(tmp_path: Path) -> None:
    (site,) = blocks("yaml")
    assert len(site.splitlines()) <= 28
    assert "(invented)" in site
    designed = design(site, "garage.yaml")
    assert [finding for finding in designed.findings if finding.severity > Severity.NOTE] == []
    file = tmp_path / "garage.yaml"
    file.write_text(site, encoding="utf-8")
    assert main(["draw", str(file), "--into", str(tmp_path)]) == 0


@pytest.mark.parametrize(
    "old, new",
    [
        ("size: [7.2 m, 6.0 m] ", "corners: {A: [0 m, 0 m], B: [0 m, 6 m], C: [7.2 m, 6 m], D: [7.2 m, 0 m]} "),
        ("main: {", "treatment: [filter, {kind: regulator, set: 7 bar}]\nmain: {"),
        ("tools: [ratchet wrench]", "tools: [ratchet wrench], service: [filter, regulator]"),
        ("[blow gun]", "[{tool: sander, free air: 6 l/s, pressure: 6.3 bar, use: 40 %}]"),
        ("fall: 1 %}", "fall: 1/8 in per ft, path: [north, east], size: 3/4}"),
        (
            "{material: copper tube type L,",
            "{material: aluminium tube, tubes: [{outside: 25 mm, bore: 21 mm}, {outside: 40 mm, bore: 35.6 mm}],",
        ),
        ("ceiling: 2.9 m", "ceiling: 9 ft 6 1/8 in"),
        (
            "ceiling: 2.9 m",
            "ceiling: 2.9 m\n    studs: {spacing: 400 mm, first: 380 mm}\n    walls: [{wall: east, built: masonry}]",
        ),
        ("compressor: ", BACK_ROOM + "compressor: "),
        ("main: {", f"{WORK}\nmain: {{"),
        ("relief: 10 bar}", "relief: 10 bar, intake humidity: 60 %, air warmer by: 15 K, oil: oil-free}"),
        ("relief: 10 bar}", "relief: 10 bar, control: load-unload}"),
        ("main: {", "treatment: [{kind: refrigeration dryer, dew point: 3 degC}]\ndemand: {working day: 8 h}\nmain: {"),
        ("tools: [ratchet wrench]", "tools: [ratchet wrench], air for: blow-off"),
        ("tools: [ratchet wrench]", "tools: [ratchet wrench], coupling: 3/8, hose: {length: 8 m, bore: 10 mm}"),
        ("main: {", "demand: {at once: 2, cases: [{name: evening, running: [A1, A2]}]}\nmain: {"),
        ("main: {", "flow basis: site air\naltitude: 900 m\nmain: {sizing: stepped, prices: {3/4: 9.50, 1: 14}, "),
        ("tools: [ratchet wrench]", "tools: [ratchet wrench], class: 1:4:2"),
        ("main: {", "places: [bench, {name: bay 1, wall: north, from left: 2 m, off wall: 3 m}]\nmain: {"),
        ("tools: [ratchet wrench]", "tools: [ratchet wrench], reach: 12 m"),
        ("main: {", "level line: 1 m\nmain: {"),
        ("height: 2.55 m", "height: auto"),
        ("main: {", "main: {by way of: [{wall: east, from left: 4.5 m}], costs: {bend: 0.6 m, wall: 2 m}, "),
        (
            "    keep clear:",
            "    services: [{kind: cables, wall: east, from left: 4 m, width: 2 m, above floor: 1.8 m}]\n"
            "    keep clear:",
        ),
        ("main: {", "main: {other prices: {steel pipe schedule 40: {3/4: 5.20, 1: 7.80}}, "),
        ("main: {", "main: {spare tees: [{wall: north, from left: 5 m, free air: 6 l/s}], "),
        ("{material: copper tube type L,", "{material: polyamide tube, turns: bent,"),
        ("main: {", "part prices: {ball valve: 9.50, elbow 90° 3/4: 1.20}\nmain: {"),
        ("relief: 10 bar}", "relief: 10 bar, relief flow: 12 l/s, drain: automatic}"),
        ("tools: [ratchet wrench]", "tools: [{tool: drill, highest: 6.3 bar}], hose: {rated: 16 bar}"),
        ("main: {", "rules: us\nmain: {"),
        ("main: {", f"{LIMITS}\nmain: {{"),
        ("main: {", f"energy price: 0.30\n{LEAK_TEST}\nmain: {{"),
    ],
    ids=[
        "corners",
        "treatment",
        "service",
        "tool",
        "main",
        "tubes",
        "units",
        "studs",
        "second room",
        "work",
        "water",
        "control",
        "dew point",
        "use",
        "hose",
        "cases",
        "prices",
        "class",
        "places",
        "reel",
        "level line",
        "height",
        "by way of",
        "services",
        "other prices",
        "spare tees",
        "turns",
        "part prices",
        "plates",
        "highest",
        "rules",
        "limits",
        "leak test",
    ],
)
def test_what_the_readme_says_may_be_written_can_be_read(old: str, new: str) -> None:
    site = blocks("yaml")[0]
    assert site.count(old) == 1
    text = site.replace(old, new)
    if "corners" in new:
        for side, wall in (("north", "B-C"), ("east", "C-D"), ("south", "D-A"), ("west", "A-B")):
            text = text.replace(f"wall: {side}", f"wall: {wall}")
    if "back" in new:
        text = text.replace("wall: north, from left: 0.4", "room: garage, wall: north, from left: 0.4")
        text = re.sub(r"(tag: A\d,)", r"\1 room: garage,", text)
    designed = design(text, "garage.yaml")
    assert designed.site is not None, designed.findings
    assert designed.layout is not None, designed.findings


def test_materials_and_tools_named_in_the_readme_are_those_of_the_tables() -> None:
    listed = said(README).split("Materials: ")[1].split(". ")[0].rstrip(".")
    assert sorted(listed.split(", ")) == sorted(material_names())
    assert find_tool("sander") is not None


def test_the_readme_names_all_files_of_a_set() -> None:
    table = README.split("## What you get")[1].split("\n\n")[1]
    named = set(re.findall(r"`([a-z-]+\.(?:pdf|dxf|csv|txt|svg))`", table))
    kept = {path.name for path in (TOP / "output").glob("*/*.*")} - {"plan-sheet.png"}
    assert named == {name for name in kept if not name.startswith("elevation-")}
    assert "`elevation-....svg`" in table


def test_pictures_and_files_named_in_the_readme_are_there() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    files = re.findall(r"`((?:drafter|example_sites|output)/[\w./-]+)`", README)
    assert pictures
    assert [name for name in [*pictures, *files] if not (TOP / name).exists()] == []


def test_the_readme_is_plain_about_dangers_and_limits() -> None:
    text = said(README)
    for word in ("PVC", "stores energy", "ladder", "lock out", "pressure test", "licensed practice", "no conformity"):
        assert word in text, word
    assert "## Limits" in README


def test_files_named_in_the_guide_are_there() -> None:
    named = re.findall(r"`((?:\.?[\w-]+/)+[\w.-]*)`", GUIDE)
    assert len(named) > 20
    missing = [name for name in named if name.startswith(PLACES) and not (TOP / name).exists()]
    assert missing == []


def test_every_room_of_the_house_is_in_the_guide() -> None:
    rooms = {path.name for path in (TOP / "drafter").iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert [room for room in sorted(rooms) if f"{room}/" not in GUIDE] == []
