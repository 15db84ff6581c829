from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from drafter.pipeline import design as whole_design
from drafter.rules import check_limits
from drafter.rules import polymer_near_compressor as rule
from drafter.site.model import Treatment
from drafter.site.model.own_limits import OwnLimit
from drafter.standards.materials import material

POLYAMIDE = material("polyamide tube")
COOP = Path(__file__).parents[2] / "example_sites" / "bicycle_coop.yaml"


def polyamide(changed: Any, warmest_deg_c: float, relief_bar: float, *treatment: str, cut_out_bar: float = 5.0) -> Any:
    """The design in 28 x 2.5, rated 12.5 bar; 9 bar at 40 °C, 8 bar at 50 °C."""
    sizes = {run.id: POLYAMIDE.find_size("28 x 2.5") for run in changed().network.layout.runs}
    return changed(
        network={"material": POLYAMIDE, "sizes": sizes},
        room={"warmest_k": warmest_deg_c + 273.15},
        compressor={"relief_pa": relief_bar * 1e5, "cut_out_pa": cut_out_bar * 1e5},
        site={"treatment": tuple(Treatment(kind=kind) for kind in treatment)},
    )


@pytest.mark.parametrize(
    "relief_bar, cut_out_bar, found",
    [
        (8.5, 8.0, []),
        (9.0, 8.0, []),
        (9.1, 8.0, ["warning"]),
        (10.0, 9.0, ["warning"]),
        (10.0, 9.01, ["error"]),
        (10.0, 9.5, ["error"]),
    ],
)
def test_15_degc_room_means_40_degc_at_the_tank(
    changed: Any, severities: Any, relief_bar: float, cut_out_bar: float, found: list[str]
) -> None:
    assert severities(rule, polyamide(changed, 15.0, relief_bar, cut_out_bar=cut_out_bar)) == found


def test_an_aftercooler_takes_10_k_off(changed: Any, severities: Any) -> None:
    assert severities(rule, polyamide(changed, 25.0, 9.0)) == ["warning"]
    assert severities(rule, polyamide(changed, 25.0, 9.0, "aftercooler")) == []


def test_the_site_files_own_rise_comes_first(changed: Any, severities: Any) -> None:
    place = changed().network.layout.site.compressor.place
    for rise_k, found in ((15.0, []), (25.0, ["warning"])):
        design = polyamide(changed, 25.0, 9.0)
        layout = design.network.layout
        plant = replace(layout.site.compressor, air_warmer_by_k=rise_k, places={"air_warmer_by_k": place})
        layout = replace(layout, site=replace(layout.site, compressor=plant))
        assert severities(rule, replace(design, network=replace(design.network, layout=layout))) == found


def test_above_its_highest_temperature_the_tube_has_no_rating(changed: Any) -> None:
    (finding,) = rule.check(polyamide(changed, 36.0, 6.0))
    assert (finding.measured, finding.limit, finding.severity.word) == ("no rating", "5.00 bar gauge", "error")


def test_metal_passes(changed: Any, severities: Any) -> None:
    assert severities(rule, changed(room={"warmest_k": 330.0})) == []


@pytest.mark.parametrize("own", [OwnLimit(skip="yes", reason="it held"), OwnLimit(limit="8 bar", reason="it held")])
def test_no_site_leaves_it_out(changed: Any, own: OwnLimit) -> None:
    (finding,) = check_limits(changed(site={"own_limits": {"HEAT001": own}}).network.layout.site)
    assert finding.rule == "LIMIT004"


def test_the_example_in_polyamide_stands_its_cut_out_and_is_told_of_its_relief_valve() -> None:
    """18 x 2, rated 16 bar, carries 16 x 0.584 = 9.34 bar at 58 °C, from 0.64 at 50 °C and 0.57 at 60 °C."""
    text = COOP.read_text(encoding="utf-8")
    hot = [finding for finding in whole_design(text, "coop.yaml").findings if finding.rule == "HEAT001"]
    assert [(each.severity.word, each.measured, each.limit) for each in hot] == [
        ("warning", "9.34 bar gauge", "10.00 bar gauge")
    ]
