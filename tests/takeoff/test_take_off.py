"""Parts that mate, pieces that rebuild the route, lengths that come out of stock."""

from __future__ import annotations

import dataclasses
from collections import Counter
from pathlib import Path

import pytest

from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import Designed, design
from drafter.standards.materials import material
from drafter.takeoff import Takeoff
from drafter.takeoff.part import FIXINGS, HOSES, Part, Port, faults
from drafter.takeoff.pieces import Piece

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def designed(request: pytest.FixtureRequest) -> Designed:
    return design(request.param.read_bytes(), request.param.name)


def takeoff_of(designed: Designed) -> Takeoff:
    assert designed.takeoff is not None
    return designed.takeoff


def test_everything_goes_together(designed: Designed) -> None:
    takeoff = takeoff_of(designed)
    assert faults(takeoff.instances, takeoff.joints) == []
    assert takeoff.findings == ()
    ports = sum(len(part.ports) for part in takeoff.instances)
    opens = sum(port.kind == "open" for part in takeoff.instances for port in part.ports)
    assert ports == 2 * len(takeoff.joints) + opens
    assert designed.site is not None
    loops = int(designed.site.main.arrangement == "ring")
    assert len(takeoff.instances) - len(takeoff.joints) == 1 - loops


def test_counts_follow_from_the_graph(designed: Designed) -> None:
    takeoff, layout = takeoff_of(designed), designed.layout
    assert layout is not None
    kinds = Counter(node.kind for node in layout.nodes.values())
    items = Counter(part.item.split(",")[0] for part in takeoff.instances)
    assert sum(items[item] for item in items if item.startswith("ball valve")) == kinds[NodeKind.VALVE]
    assert items["drain valve"] == kinds[NodeKind.DRAIN]
    assert items["quick coupling"] == kinds[NodeKind.COUPLING]
    assert items["elbow 90°"] == kinds[NodeKind.BEND]
    assert items["tee"] + items["reducing tee"] == kinds[NodeKind.TEE] + kinds[NodeKind.TAKE_OFF]
    rows = sum(
        row.quantity
        for row in takeoff.parts
        if row.unit == "pcs"
        and row.group not in (FIXINGS, HOSES)
        and not row.item.startswith(("joiner", "brace", "drain tube"))
    )
    design_ = designed.design
    assert design_ is not None
    sleeves = sum(run.kind is RunKind.SLEEVE for run in layout.runs)
    sleeves += sum(mark.what.startswith("sleeve through") for mark in takeoff.marks)
    not_bought = len(takeoff.pieces) + 1
    own = (NodeKind.COUPLING, NodeKind.TREATMENT, NodeKind.SERVICE)
    held = len(design_.brackets) + len(design_.boards) + sum(kinds[kind] for kind in own)
    assert rows == len(takeoff.instances) - not_bought + held + sleeves


def test_pieces_and_fittings_rebuild_each_run(designed: Designed) -> None:
    """Cut length plus what the fittings at both ends take, less what goes into them, is centre to centre."""
    takeoff, layout, network = takeoff_of(designed), designed.layout, designed.network
    assert layout is not None
    assert network is not None
    by_run: dict[str, list[Piece]] = {}
    for piece in takeoff.pieces:
        by_run.setdefault(piece.run, []).append(piece)
    for run in layout.runs:
        if run.kind in (RunKind.CONNECTION, RunKind.FLEXIBLE):
            assert run.id not in by_run
            continue
        tube = network.sizes[run.id]
        pieces = by_run[run.id]
        couplings = (len(pieces) - 1) * (tube.coupling_length_m - 2 * tube.insertion_m)
        inside = sum(piece.cut_m for piece in pieces) + couplings - 2 * tube.insertion_m
        assert 0.0 < inside < layout.length_m(run)
        assert all(piece.cut_m <= max(network.material.stock_lengths_m) + 1e-9 for piece in pieces)


def test_a_cut_length_by_hand() -> None:
    """Between an elbow and a tee of 3/4 in copper, both the same centre to face: centres - 2 faces + 2 insertions."""
    path = next(path for path in EXAMPLES if path.stem == "cabinet_shop")
    done = design(path.read_bytes(), path.name)
    takeoff, tube = takeoff_of(done), material("copper tube type L").find_size("3/4")
    assert tube is not None
    main = [p for p in takeoff.pieces if p.size == "3/4" and p.start.startswith("take-off") and p.end == "bend"]
    assert main
    for piece in main:
        expected = piece.centre_to_centre_m - 2 * tube.centre_to_face_m + 2 * tube.insertion_m
        assert piece.cut_m == pytest.approx(expected, abs=0.0005)


def test_every_kind_of_mistake_is_caught(designed: Designed) -> None:
    takeoff = takeoff_of(designed)
    parts, joints = takeoff.instances, takeoff.joints
    for number in range(0, len(parts), 7):
        part = parts[number]
        assert faults(parts[:number] + parts[number + 1 :], joints), "a part is lost"
        assert faults((*parts, part), joints), "a part stands twice"
        wrong = dataclasses.replace(part, ports=tuple(Port(p.kind, p.size + "?") for p in part.ports))
        assert faults((*parts[:number], wrong, *parts[number + 1 :]), joints), "a size is wrong"
        turned = dataclasses.replace(part, ports=tuple(Port(other(p.kind), p.size) for p in part.ports))
        assert faults((*parts[:number], turned, *parts[number + 1 :]), joints), "a gender is wrong"
    for number in range(0, len(joints), 5):
        assert faults(parts, joints[:number] + joints[number + 1 :]), "a joint is lost"
        assert faults(parts, (*joints, joints[number])), "a joint is made twice"


def other(kind: str) -> str:
    return {"tube": "socket", "socket": "tube", "male": "female", "female": "male", "open": "male"}[kind]


def test_parts_of_two_islands_are_noticed() -> None:
    ends = (Port("tube", "1"), Port("tube", "1"))
    loose = (Part("1", "tube", "a", "1", ends), Part("2", "tube", "b", "1", ends))
    assert any("hang together" in fault for fault in faults(loose, ()))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_unit_that_lets_water_out_has_a_drain_tube(path: Path) -> None:
    designed = design(path.read_bytes(), path.name)
    assert designed.takeoff is not None
    assert designed.layout is not None
    tubes = [row for row in designed.takeoff.parts if row.item.startswith("drain tube")]
    units = [n.tag for n in designed.layout.nodes.values() if n.kind is NodeKind.TREATMENT and n.what != "regulator"]
    assert [tag for row in tubes for tag in row.tags if tag != "C-01"] == units
