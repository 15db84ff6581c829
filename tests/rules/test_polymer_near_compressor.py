from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import polymer_near_compressor as rule
from drafter.site.model import Treatment
from drafter.standards.materials import material

POLYAMIDE = material("polyamide tube")


def polyamide(changed: Any, warmest_deg_c: float, relief_bar: float, *treatment: str) -> Any:
    sizes = {run.id: POLYAMIDE.find_size("28 x 2.5") for run in changed().network.layout.runs}
    return changed(
        network={"material": POLYAMIDE, "sizes": sizes},
        room={"warmest_k": warmest_deg_c + 273.15},
        compressor={"relief_pa": relief_bar * 1e5},
        site={"treatment": tuple(Treatment(kind=kind) for kind in treatment)},
    )


@pytest.mark.parametrize("relief_bar, found", [(8.5, []), (9.0, []), (9.1, ["warning"])])
def test_15_degc_room_means_40_degc_at_the_tank(
    changed: Any, severities: Any, relief_bar: float, found: list[str]
) -> None:
    assert severities(rule, polyamide(changed, 15.0, relief_bar)) == found


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
    assert finding.measured == "no rating"


def test_metal_passes(changed: Any, severities: Any) -> None:
    assert severities(rule, changed(room={"warmest_k": 330.0})) == []
