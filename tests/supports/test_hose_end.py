"""The pipe at the compressor's hose is held by a fixed bracket close to it."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.layout.graph import NodeKind
from drafter.pipeline import design as designed
from drafter.report.results import results_text
from drafter.standards.materials import material, material_names
from drafter.supports import Design
from drafter.supports.lines import CLEAR_OF_FITTING_M

SITES = Path(__file__).parents[2] / "example_sites"
EXAMPLES = sorted(path.stem for path in SITES.glob("*.yaml"))
BAY = """
site: Bay (invented)
rooms: {bay: {size: [8 m, 6 m], ceiling: 4 m, coldest: 5 degC, warmest: 30 degC}}
compressor: {wall: north, from left: 1 m, power: 4 kW, free air: 8 l/s, cut in: 6.5 bar, cut out: 7.5 bar,
  tank: 200 l, rated: 11 bar, relief: 8 bar}
main: {material: MATERIAL, size: SIZE, height: 3.2 m, fall: 0.5 %}
outlets: [{tag: A1, wall: east, from left: 3 m, tools: [blow gun]}]
"""
SIZES = [(name, size.name) for name in material_names() for size in material(name).sizes]


def built(text: str) -> Design:
    design = designed(text, "site.yaml").design
    assert design is not None
    return design


def test_each_example_has_one_on_the_pipe_between_hose_and_riser() -> None:
    for name in EXAMPLES:
        design = built((SITES / f"{name}.yaml").read_text(encoding="utf-8"))
        layout = design.network.layout
        end = next(node for node in layout.nodes.values() if node.kind is NodeKind.HOSE_END)
        (held,) = [b for b in design.brackets if b.fixed and layout.run_by_id[b.run].start == end.id]
        assert held.at.minus(end.at).length <= 0.15
        assert f"{held.tag} by the hose is fixed" in results_text(design)


@pytest.mark.parametrize(("family", "size"), SIZES)
def test_it_stands_clear_of_the_fittings_or_it_is_said_which_one_serves(family: str, size: str) -> None:
    design = built(BAY.replace("MATERIAL", family).replace("SIZE", f'"{size}"'))
    layout, text = design.network.layout, results_text(design)
    end = next(node for node in layout.nodes.values() if node.kind is NodeKind.HOSE_END)
    pipe = next(run for run in layout.runs if run.start == end.id)
    tube = design.network.sizes[pipe.id]
    room_m = layout.length_m(pipe) - tube.coupling_length_m / 2 - tube.centre_to_face_m - 2 * CLEAR_OF_FITTING_M
    held = [b for b in design.brackets if b.run == pipe.id]
    assert all(b.fixed for b in held)
    assert bool(held) == (room_m > 0.01) or 0.0 <= room_m <= 0.01
    if held:
        off_m = held[0].at.minus(end.at).length
        assert off_m >= tube.coupling_length_m / 2 + CLEAR_OF_FITTING_M - 1e-6
        assert layout.length_m(pipe) - off_m >= tube.centre_to_face_m + CLEAR_OF_FITTING_M - 1e-6
    else:
        risers = {run.id for run in layout.runs_at[pipe.end]}
        (other,) = [b for b in design.brackets if b.fixed and b.run in risers]
        assert f"{other.tag}, the nearest to the hose, is fixed" in text
