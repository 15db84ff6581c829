"""An invented workshop that keeps every rule, and a way to change one thing about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from drafter.finding import Finding, Place, errors
from drafter.geometry import Point3
from drafter.layout import lay_out
from drafter.layout.graph import NodeKind
from drafter.pipeline import design as whole_design
from drafter.rules import RuleFile
from drafter.site import read
from drafter.site.model import Work, WorkRun
from drafter.sizing import size
from drafter.supports import Design, place_supports

KEEPS_EVERY_RULE = Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml"


@pytest.fixture(scope="session")
def design() -> Design:
    site, findings = read(KEEPS_EVERY_RULE.read_bytes(), "yard.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    network, findings = size(layout)
    assert not errors(findings)
    return place_supports(network)


Change = Callable[..., Design]
Raise = Callable[[NodeKind, float], Design]
Look = Callable[[RuleFile, Design], list[str]]


@pytest.fixture(scope="session")
def changed(design: Design) -> Change:
    """The design with other values in its supply, compressor, main, room, outlets, pipes, flows, motor or tank.

    ``works`` are outlet, start and end [s] of the runs of a work pattern, which is then followed anew.
    """

    def change(
        *,
        compressor: dict[str, Any] | None = None,
        main: dict[str, Any] | None = None,
        room: dict[str, Any] | None = None,
        supply: dict[str, Any] | None = None,
        pipes: dict[str, Any] | None = None,
        flows: dict[str, Any] | None = None,
        outlets: dict[str, Any] | None = None,
        site: dict[str, Any] | None = None,
        network: dict[str, Any] | None = None,
        motor: dict[str, Any] | None = None,
        together: dict[str, Any] | None = None,
        works: list[tuple[str, float, float]] | None = None,
    ) -> Design:
        old = design.network
        at = old.layout.site
        new_site = {
            "compressor": replace(at.compressor, **compressor or {}),
            "main": replace(at.main, **main or {}),
            "rooms": {name: replace(each, **room or {}) for name, each in at.rooms.items()},
            "outlets": tuple(replace(outlet, **outlets or {}) for outlet in at.outlets),
        } | (site or {})
        if works:
            place = Place("yard.yaml", 12, 3)
            runs = tuple(WorkRun(place=place, outlet=tag, from_s=a, for_s=b - a) for tag, a, b in works)
            new_site["work"] = Work(place=place, length_s=3600.0, runs=runs)
            worked = size(replace(old.layout, site=replace(at, work=new_site["work"])))[0].tank
        else:
            worked = old.tank
        tank = replace(
            worked, motor=replace(worked.motor, **motor or {}), together=replace(worked.together, **together or {})
        )
        new = {
            "tank": tank,
            "layout": replace(old.layout, site=replace(at, **new_site)),
            "supply": replace(old.supply, **supply or {}),
            "pipes": tuple(replace(pipe, **pipes or {}) for pipe in old.pipes),
            "outlets": tuple(replace(flow, **flows or {}) for flow in old.outlets),
        } | (network or {})
        return replace(design, network=replace(old, **new))

    return change


@pytest.fixture(scope="session")
def raised(design: Design) -> Raise:
    """The design with all nodes of a kind at another height [m]."""

    def lift(kind: NodeKind, height_m: float) -> Design:
        layout = design.network.layout
        nodes = {
            id: replace(node, at=Point3(node.at.x, node.at.y, height_m)) if node.kind is kind else node
            for id, node in layout.nodes.items()
        }
        return replace(design, network=replace(design.network, layout=replace(layout, nodes=nodes)))

    return lift


@pytest.fixture(scope="session")
def severities() -> Look:
    """What a rule finds in a design, as words; each finding must carry its numbers, its source and a fix."""

    def look(rule: RuleFile, design: Design) -> list[str]:
        findings: list[Finding] = list(rule.check(design))
        for finding in findings:
            assert finding.rule == rule.RULE.id
            assert all((finding.message, finding.measured, finding.limit, finding.fix, finding.source))
            assert finding.place.line > 0
        return [finding.severity.word for finding in findings]

    return look


TWO_ROOMS = """
site: Two rooms (invented)
rooms:
  shop: {{size: [9 m, 6 m], ceiling: 3 m, coldest: {shop}, warmest: {warmest}}}
  shed: {{size: [4 m, 4 m], ceiling: 3 m, behind: {{room: shop, wall: east, from left: 1 m}}, coldest: {coldest}}}
compressor:
  {{room: shop, wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 8.2 bar, cut out: 9 bar,
   tank: 100 l, rated: 11 bar, relief: 10.5 bar{plant}}}
treatment: [{treatment}]
main: {{material: copper tube, height: 2.6 m, fall: 1 %{main}}}
outlets:
  - {{tag: A1, room: shop, wall: south, from left: 3 m, tools: [{tool}]{outlet}}}
  - {{tag: A2, room: shed, wall: east, from left: 2 m, tools: [blow gun]{outlet}}}
"""


@pytest.fixture(scope="session")
def drawn() -> Change:
    """An invented workshop with a shed behind it, changed in its text, designed whole."""

    def draw(
        treatment: str = "",
        *,
        coldest: str = "10 degC",
        shop: str = "10 degC",
        warmest: str = "30 degC",
        plant: str = "",
        main: str = "",
        tool: str = "blow gun",
        outlet: str = "",
    ) -> Design:
        text = TWO_ROOMS.format(
            treatment=treatment,
            coldest=coldest,
            shop=shop,
            warmest=warmest,
            plant=plant,
            main=main,
            tool=tool,
            outlet=outlet,
        )
        done = whole_design(text, "two.yaml")
        assert done.design is not None, done.findings
        return done.design

    return draw
