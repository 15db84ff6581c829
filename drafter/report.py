"""Findings and results as text for people and as JSON for programs.

Pressures are gauge; flows are free air, counted at 20 degC and 1 bar absolute, dry.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from drafter import __version__
from drafter.finding import Finding, Severity, errors
from drafter.layout.graph import Layout, Run
from drafter.quantity import Units
from drafter.reader import source_lines
from drafter.sizing.network import Network, OutletFlow
from drafter.supports.design import Design
from drafter.takeoff import Takeoff

FREE_AIR = "free air at 20 degC, 1 bar absolute, dry"
CAUTIONS = (
    "Compressed air kills: depressurise and lock out before opening any joint, and wear eye protection.",
    "A tank bursts with all the energy it stores; keep its relief valve free and people away from pressure tests.",
    "Work on ladders and near electrical panels is dangerous; have panels and wiring left to an electrician.",
    "Data plates, local codes and licensed practice decide; where they differ from this report, follow them.",
)
LONGEST_LINE = 160


def findings_text(findings: Iterable[Finding], text: str | bytes) -> str:
    """Return findings with the lines of the site file they point to.

    Args:
        text: what the site file holds.
    """
    lines = source_lines(text)
    return "\n".join(line for finding in findings for line in _finding_lines(finding, lines))


def _finding_lines(finding: Finding, lines: Sequence[str]) -> Iterator[str]:
    place = finding.place
    yield f"{place}: {finding.severity.word} {finding.rule}: {finding.message}"
    if 0 < place.line <= len(lines):
        number = f"{place.line:>5}"
        start = max(0, place.column - LONGEST_LINE // 2)
        shown = lines[place.line - 1][start : start + LONGEST_LINE]
        yield f"{number} | {_printable(shown)}"
        yield f"{' ' * len(number)} | {' ' * (place.column - 1 - start)}^"
    if finding.fix:
        yield f"      fix: {finding.fix}"
    if finding.source:
        yield f"      source: {finding.source}"


def _printable(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)


def report_text(findings: Sequence[Finding], text: str | bytes, design: Design | None) -> str:
    """Return the whole report: findings, results, cautions, and in its last line whether it can be built."""
    parts = [findings_text(findings, text)] if findings else []
    if design is not None:
        parts += [results_text(design), _block("CAUTIONS", CAUTIONS)]
    return "\n\n".join([*parts, verdict(findings, design)]) + "\n"


def verdict(findings: Sequence[Finding], design: Design | None) -> str:
    """Return one line that says whether it can be built."""
    counts = [
        f"{count} {severity.word}{'' if count == 1 else 's'}"
        for severity in sorted(Severity, reverse=True)
        if (count := sum(finding.severity is severity for finding in findings))
    ]
    found = f" ({', '.join(counts)})" if counts else ""
    if design is None or errors(tuple(findings)):
        return f"It cannot be built as described: correct the errors first{found}."
    doubts = any(finding.severity is Severity.WARNING for finding in findings)
    return f"It can be built as described{', once the warnings are settled' if doubts else ''}{found}."


def results_text(design: Design) -> str:
    """Return demand against supply, sizes with their reasons, pressures, lengths and brackets."""
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    drawing = site.drawing
    head = ", ".join(part for part in (f"Drawing {drawing.number}, revision {drawing.revision}", drawing.date) if part)
    fixed = sum(bracket.fixed for bracket in design.brackets)
    blocks = [
        f"{site.name}\n{head}",
        _block(f"DEMAND AND SUPPLY ({FREE_AIR}; gauge pressures)", _columns(_supply_rows(network, units))),
        _block(f"SIZES AND LENGTHS ({network.material.title})", _columns(_size_rows(network, units))),
        _block("OUTLETS (gauge pressure before the coupling, compressor at cut-in)", _columns(_outlet_rows(network))),
        _block("BRACKETS", [f"{len(design.brackets)}, of them {fixed} fixed points"]),
        _block("ROUTE", network.layout.reasons),
    ]
    return "\n\n".join(block for block in blocks if block)


def _block(title: str, lines: Iterable[str]) -> str:
    body = [f"  {line}" for line in lines]
    return "\n".join([title, *body]) if body else ""


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]


def _supply_rows(network: Network, units: Units) -> list[tuple[str, str]]:
    supply, demand = network.supply, network.layout.site.demand
    lasts = supply.tank_lasts_s
    return [
        ("compressor delivers", units.free_air(supply.delivered_m3_s)),
        (
            "average demand",
            f"{units.free_air(supply.average_m3_s)}, {_percent(supply.average_m3_s / supply.delivered_m3_s)} of it; "
            f"leakage {_percent(demand.leakage)} and growth {_percent(demand.growth)} included",
        ),
        (f"peak, {supply.at_once} at once", units.free_air(supply.peak_m3_s)),
        ("tank carries the peak", "as long as wanted" if math.isinf(lasts) else f"{lasts:.0f} s, cut-out to cut-in"),
        ("treatment takes", units.pressure_drop(supply.treatment_drop_pa)),
        ("lowest into the main", f"{units.pressure(supply.supply_gauge_pa)} gauge"),
        ("stored in the tank", f"{supply.stored_energy_j / 1000:.0f} kJ at cut-out"),
    ]


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def _size_rows(network: Network, units: Units) -> list[tuple[str, ...]]:
    """One row for each size of the main and of the drops, with what decided it."""
    layout = network.layout
    groups: dict[tuple[str, str], list[Run]] = {}
    for run in layout.runs:
        groups.setdefault(("drops" if run.outlet else "main", network.sizes[run.id].name), []).append(run)
    rows: list[tuple[str, ...]] = [("", "size", "length", "fastest air", "why")]
    for (line, size), runs in groups.items():
        fastest = max((network.pipe(run.id) for run in runs), key=lambda pipe: pipe.velocity_m_s)
        length = units.long_length(sum(layout.length_m(run) for run in runs))
        rows.append((line, size, length, units.velocity(fastest.velocity_m_s), fastest.decided_by))
    return rows


def _outlet_rows(network: Network) -> list[tuple[str, ...]]:
    units = network.layout.site.units

    def row(flow: OutletFlow) -> tuple[str, ...]:
        needed = units.pressure(flow.needed_pa) if flow.needed_pa else "not known"
        together = ", ".join(flow.together_with) or "none"
        return flow.tag, units.free_air(flow.free_air_m3_s), units.pressure(flow.gauge_pressure_pa), needed, together

    return [("tag", "free air", "pressure", "needed", "worst with"), *map(row, network.outlets)]


def to_json(findings: Sequence[Finding], design: Design | None, takeoff: Takeoff | None) -> dict[str, Any]:
    """Return findings and results as plain data that keeps to ``report.schema.json``.

    Lists of results are empty where the stages stopped before there was a design.
    """
    return {
        "drafter": __version__,
        "flow_basis": FREE_AIR,
        "pressure_basis": "gauge",
        "can_be_built": design is not None and not errors(tuple(findings)),
        "site": design.network.layout.site.name if design else None,
        "findings": [_finding_data(finding) for finding in findings],
        "supply": _supply_data(design.network) if design else None,
        "nodes": _node_data(design.network.layout) if design else [],
        "outlets": _outlet_data(design.network) if design else [],
        "pipes": _pipe_data(design.network) if design else [],
        "brackets": _bracket_data(design) if design else [],
        "parts": _part_data(takeoff) if takeoff else [],
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
        "source": finding.source,
    }


def _supply_data(network: Network) -> dict[str, Any]:
    supply = network.supply
    lasts = supply.tank_lasts_s
    return {
        "delivered_free_air_l_s": _litres(supply.delivered_m3_s),
        "average_free_air_l_s": _litres(supply.average_m3_s),
        "peak_free_air_l_s": _litres(supply.peak_m3_s),
        "outlets_at_once": supply.at_once,
        "tank_carries_peak_s": None if math.isinf(lasts) else round(lasts, 1),
        "treatment_drop_bar": _bar(supply.treatment_drop_pa),
        "lowest_gauge_pressure_into_main_bar": _bar(supply.supply_gauge_pa),
        "stored_energy_kj": round(supply.stored_energy_j / 1000, 1),
    }


def _node_data(layout: Layout) -> list[dict[str, Any]]:
    return [
        {"id": node.id, "kind": node.kind.value, "tag": node.tag, "x_m": _m(node.at.x), "y_m": _m(node.at.y),
         "height_m": _m(node.at.z)}
        for node in layout.nodes.values()
    ]  # fmt: skip


def _outlet_data(network: Network) -> list[dict[str, Any]]:
    at = {node.tag: node.at for node in network.layout.couplings}
    return [
        {"id": flow.tag, "free_air_l_s": _litres(flow.free_air_m3_s),
         "gauge_pressure_bar": _bar(flow.gauge_pressure_pa),
         "needed_gauge_pressure_bar": _bar(flow.needed_pa) if flow.needed_pa else None,
         "x_m": _m(at[flow.tag].x), "y_m": _m(at[flow.tag].y), "height_m": _m(at[flow.tag].z)}
        for flow in network.outlets
    ]  # fmt: skip


def _pipe_data(network: Network) -> list[dict[str, Any]]:
    return [
        {"id": run.id, "kind": run.kind.value, "from": run.start, "to": run.end,
         "length_m": _m(network.layout.length_m(run)), "size": network.sizes[run.id].name,
         "bore_mm": round(network.sizes[run.id].bore_m * 1000, 3), "free_air_l_s": _litres(pipe.free_air_m3_s),
         "velocity_m_s": round(pipe.velocity_m_s, 3), "drop_bar": _bar(pipe.drop_pa)}
        for run, pipe in ((run, network.pipe(run.id)) for run in network.layout.runs)
    ]  # fmt: skip


def _bracket_data(design: Design) -> list[dict[str, Any]]:
    return [
        {"id": bracket.tag, "pipe": bracket.run, "room": bracket.room, "wall": bracket.wall,
         "from_left_corner_m": _m(bracket.from_left_m), "height_m": _m(bracket.at.z), "fixed": bracket.fixed}
        for bracket in design.brackets
    ]  # fmt: skip


def _part_data(takeoff: Takeoff) -> list[dict[str, Any]]:
    return [
        {"group": part.group, "item": part.item, "size": part.size, "quantity": round(part.quantity, 3),
         "unit": part.unit, "order": round(part.order, 3), "tags": list(part.tags)}
        for part in takeoff.parts
    ]  # fmt: skip


def _litres(free_air_m3_s: float) -> float:
    return round(free_air_m3_s * 1000, 4)


def _bar(pressure_pa: float) -> float:
    return round(pressure_pa / 1e5, 5)


def _m(length_m: float) -> float:
    return round(length_m, 4) + 0.0
