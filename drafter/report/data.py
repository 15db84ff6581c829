"""Findings and results as plain data for programs, with units in the names of the keys."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from drafter import __version__
from drafter.finding import Finding, errors
from drafter.layout.graph import Layout
from drafter.report.blocks import FREE_AIR
from drafter.report.cutting import cutting_data
from drafter.report.expansion import expansion_data
from drafter.report.leak_test import leak_test_data
from drafter.report.reach import reach_data
from drafter.report.rounded import bar, litres_per_s, metres
from drafter.report.spare_tees import spare_data
from drafter.report.tank import tank_data
from drafter.report.water_data import water_data
from drafter.report.work import work_data
from drafter.sizing.arm_shut import ArmShut
from drafter.sizing.network import Neighbour, Network
from drafter.supports.design import Design
from drafter.takeoff import Takeoff


def to_json(findings: Sequence[Finding], design: Design | None, takeoff: Takeoff | None) -> dict[str, Any]:
    """Return findings and results as plain data that keeps to ``schema.json``.

    Lists of results are empty where the stages stopped before there was a design.
    """
    return {
        "drafter": __version__,
        "flow_basis": FREE_AIR,
        "pressure_basis": "gauge",
        "can_be_built": design is not None and not errors(tuple(findings)),
        "site": design.network.layout.site.name if design else None,
        "rule_set": design.network.layout.site.rule_set if design else None,
        "findings": [_finding_data(finding) for finding in findings],
        "supply": _supply_data(design.network) if design else None,
        "tank": tank_data(design.network.tank) if design else None,
        "leak_test": leak_test_data(design.network) if design else None,
        "water": water_data(design.network) if design else None,
        "nodes": _node_data(design.network.layout) if design else [],
        "outlets": _outlet_data(design.network) if design else [],
        "reach": reach_data(design.network) if design else None,
        "spare_tees": spare_data(design.network) if design else [],
        "sizes": _size_data(design.network) if design else [],
        "ring_with_valve_shut": arms_data(design.network.arms_shut) if design else [],
        "pipes": _pipe_data(design.network) if design else [],
        "brackets": _bracket_data(design) if design else [],
        "expansion": expansion_data(design) if design else [],
        "boards": _board_data(design) if design else [],
        "parts": _part_data(takeoff) if takeoff else [],
        "pieces": _piece_data(takeoff) if takeoff else [],
        "cutting": cutting_data(takeoff) if takeoff else [],
        **(work_data(design, takeoff) if design and takeoff else {"unions": [], "order_of_work": [], "tools": []}),
    }


def _finding_data(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": finding.severity.word,
        "message": finding.message,
        "subject": finding.subject,
        "file": finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "measured": finding.measured,
        "limit": finding.limit,
        "fix": finding.fix,
        "write": finding.write,
        "source": finding.source,
    }


def _supply_data(network: Network) -> dict[str, Any]:
    supply = network.supply
    return {
        "delivered_free_air_l_s": litres_per_s(supply.delivered_m3_s),
        "tools_average_free_air_l_s": litres_per_s(supply.tools_average_m3_s),
        "average_free_air_l_s": litres_per_s(supply.average_m3_s),
        "peak_free_air_l_s": litres_per_s(supply.peak_m3_s),
        "outlets_at_once": supply.at_once,
        "treatment_drop_bar": bar(supply.treatment_drop_pa),
        "gauge_pressure_into_main_at_cut_in_bar": bar(supply.supply_gauge_pa),
        "stored_energy_kj": round(supply.stored_energy_j / 1000, 1),
    }


def _node_data(layout: Layout) -> list[dict[str, Any]]:
    return [
        {"id": node.id, "kind": node.kind.value, "tag": node.tag, "x_m": metres(node.at.x), "y_m": metres(node.at.y),
         "height_m": metres(node.at.z)}
        for node in layout.nodes.values()
    ]  # fmt: skip


def _outlet_data(network: Network) -> list[dict[str, Any]]:
    at = {node.tag: node.at for node in network.layout.couplings}
    return [
        {"id": flow.tag, "free_air_l_s": litres_per_s(flow.free_air_m3_s),
         "gauge_pressure_bar": bar(flow.gauge_pressure_pa),
         "gauge_pressure_at_tool_bar": bar(flow.tool_pressure_pa),
         "needed_gauge_pressure_bar": bar(flow.needed_pa) if flow.needed_pa else None,
         "case": flow.case, "together_with": list(flow.together_with),
         "ladder": [
             {"what": step.what, "drop_bar": bar(step.drop_pa), "gauge_pressure_bar": bar(step.gauge_pressure_pa)}
             for step in flow.ladder
         ],
         "x_m": metres(at[flow.tag].x), "y_m": metres(at[flow.tag].y), "height_m": metres(at[flow.tag].z)}
        for flow in network.outlets
    ]  # fmt: skip


def _size_data(network: Network) -> list[dict[str, Any]]:
    return [
        {"where": choice.where, "pipes": list(choice.runs), "size": choice.size,
         "velocity_m_s": round(choice.velocity_m_s, 3), "decided_by": choice.decided_by,
         "smaller": _neighbour_data(choice.smaller), "larger": _neighbour_data(choice.larger)}
        for choice in network.choices
    ]  # fmt: skip


def _neighbour_data(neighbour: Neighbour | None) -> dict[str, Any] | None:
    if neighbour is None:
        return None
    return {
        "size": neighbour.size, "velocity_m_s": round(neighbour.velocity_m_s, 3), "outlet": neighbour.outlet,
        "gauge_pressure_bar": bar(neighbour.gauge_pressure_pa), "keeps_limits": neighbour.keeps,
    }  # fmt: skip


def arms_data(arms_shut: Sequence[ArmShut]) -> list[dict[str, Any]]:
    """Return as plain data what a ring gives with each of its valves shut."""
    return [
        {"valve": shut.valve, "velocity_m_s": round(shut.velocity_m_s, 3), "outlet": shut.outlet,
         "gauge_pressure_at_tool_bar": bar(shut.tool_pressure_pa),
         "needed_gauge_pressure_bar": bar(shut.needed_pa) if shut.needed_pa else None}
        for shut in arms_shut
    ]  # fmt: skip


def _pipe_data(network: Network) -> list[dict[str, Any]]:
    return [
        {"id": run.id, "kind": run.kind.value, "from": run.start, "to": run.end,
         "length_m": metres(network.layout.length_m(run)), "size": network.sizes[run.id].name,
         "bore_mm": round(network.sizes[run.id].bore_m * 1000, 3), "free_air_l_s": litres_per_s(pipe.free_air_m3_s),
         "velocity_m_s": round(pipe.velocity_m_s, 3), "drop_bar": bar(pipe.drop_pa)}
        for run, pipe in ((run, network.pipe(run.id)) for run in network.layout.runs)
    ]  # fmt: skip


def _bracket_data(design: Design) -> list[dict[str, Any]]:
    return [
        {"id": bracket.tag, "pipe": bracket.run, "room": bracket.room, "wall": bracket.wall,
         "from_left_corner_m": metres(bracket.from_left_m), "height_m": metres(bracket.at.z), "fixed": bracket.fixed,
         "gives_mm": round(bracket.gives_m * 1000, 2),
         "stud": bracket.stud or None, "board": bracket.board or None}
        for bracket in design.brackets
    ]  # fmt: skip


def _board_data(design: Design) -> list[dict[str, Any]]:
    return [
        {"id": board.tag, "room": board.room, "wall": board.wall, "from_left_corner_m": metres(board.from_left_m),
         "length_m": metres(board.length_m), "height_m": metres(board.height_m), "between": list(board.between)}
        for board in design.boards
    ]  # fmt: skip


def _part_data(takeoff: Takeoff) -> list[dict[str, Any]]:
    prices = takeoff.bill.prices if takeoff.bill else (None,) * len(takeoff.parts)
    return [
        {"group": part.group, "item": part.item, "size": part.size, "quantity": round(part.quantity, 3),
         "unit": part.unit, "order": round(part.order, 3), "tags": list(part.tags), "price": price}
        for part, price in zip(takeoff.parts, prices, strict=True)
    ]  # fmt: skip


def _piece_data(takeoff: Takeoff) -> list[dict[str, Any]]:
    return [
        {"number": piece.number, "pipe": piece.run, "pipes": list(piece.runs), "size": piece.size,
         "from": piece.start, "to": piece.end,
         "centre_to_centre_m": metres(piece.centre_to_centre_m), "cut_m": metres(piece.cut_m),
         "cut_on_site": piece.make_up,
         "bends": [
             {"from_m": metres(bend.from_m), "to_m": metres(bend.to_m), "radius_m": metres(bend.radius_m),
              "turn_deg": round(math.degrees(bend.turn_rad), 2)}
             for bend in piece.bends
         ]}
        for piece in takeoff.pieces
    ]  # fmt: skip
