"""A comparison as plain data for programs, with units in the names of the keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drafter import __version__
from drafter.finding import Finding, errors
from drafter.options.choosing import Choice
from drafter.options.comparing import Comparison
from drafter.options.figures import Figures
from drafter.options.variant import Option
from drafter.options.wording import recommendation
from drafter.reader import keys_of
from drafter.report.data import arms_data
from drafter.report.rounded import bar
from drafter.site.model import Main
from drafter.standards.materials import TubeSize


def options_json(comparison: Comparison) -> dict[str, Any]:
    """Return a comparison as plain data that keeps to ``schema.json``; no options where the file could not be read."""
    site, choice = comparison.site, comparison.choice
    taken = choice.taken if choice else None
    return {
        "drafter": __version__,
        "pressure_basis": "gauge",
        "site": site.name if site else None,
        "findings": [_finding_data(finding) for finding in comparison.findings],
        "take": taken.id if taken else None,
        "because": recommendation(comparison) if site else None,
        "options": [_option_data(option, choice) for option in comparison.options] if choice else [],
        "not_drawn_up": [{"choice": each.title, "why": each.why} for each in comparison.skipped],
    }


def _finding_data(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": finding.severity.word,
        "message": finding.message,
        "line": finding.place.line,
    }


def _option_data(option: Option, choice: Choice) -> dict[str, Any]:
    return {
        "id": option.id,
        "kind": option.variant.group,
        "choice": option.variant.title,
        "changes": _changes(option),
        "can_be_built": option.can_be_built,
        "errors": errors(option.findings),
        "warnings": len(option.warnings),
        "first_error": _finding_data(option.first_error) if option.first_error else None,
        "why_not": choice.loses.get(option.id),
        "figures": figures_data(option.figures) if option.figures else None,
    }


def _changes(option: Option) -> dict[str, Any]:
    """What to write under the main of the site file; null for a key to be left out."""
    names = {field.name: name for name, field in keys_of(Main).items()}
    return {names[each]: _written(value) for each, value in option.variant.changes.items()}


def _written(value: Any) -> Any:
    if isinstance(value, float):
        return f"{value * 1000:.1f} mm"
    return value or None


def figures_data(figures: Figures) -> dict[str, Any]:
    """Return the figures of one design as plain data."""
    worst = figures.worst
    return {
        "material": figures.material,
        "worst_outlet": worst.tag,
        "gauge_pressure_at_tool_bar": bar(worst.tool_pressure_pa),
        "needed_gauge_pressure_bar": bar(worst.needed_pa) if worst.needed_pa else None,
        "keeps_pressure_with_margin": figures.keeps_pressure,
        "main_velocity_m_s": round(figures.main_m_s, 3),
        "drops_velocity_m_s": round(figures.drops_m_s, 3),
        "main_sizes": _size_data(figures.main_sizes),
        "drop_sizes": _size_data(figures.drop_sizes),
        "tube_m": round(figures.tube_m, 3),
        "bends": figures.bends,
        "tees": figures.tees,
        "other_fittings": figures.other_fittings,
        "pipework_m": round(figures.pipework_m, 3),
        "brackets": figures.brackets,
        "pipe_volume_l": round(figures.volume_m3 * 1000, 3),
        "tube_cost": None if figures.tube_cost is None else round(figures.tube_cost, 2),
        "cost": None if figures.cost is None else round(figures.cost, 2),
        "lowest_level_of_main_m": round(figures.falls_to_m, 4),
        "doorways": [{"doorway": each.doorway, "main_passes": each.how} for each in figures.passings],
        "ring_with_valve_shut": arms_data(figures.arms_shut),
    }


def _size_data(sizes: Sequence[TubeSize]) -> list[dict[str, Any]]:
    return [{"size": size.name, "bore_mm": round(size.bore_m * 1000, 3)} for size in sizes]
