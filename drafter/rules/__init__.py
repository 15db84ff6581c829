"""Stage 5: a `Design` held against the engineering rules, one rule a file."""

from __future__ import annotations

from drafter.finding import Finding
from drafter.rules import (
    beyond_code_scope,
    drain_without_room,
    fast_air_in_drop,
    fast_air_in_main,
    freezing_water,
    frequent_starts,
    high_cut_out,
    hot_dryer,
    hot_filter,
    large_pressure_loss,
    level_main,
    low_main,
    low_pressure_at_outlet,
    oiled_paint_air,
    pipe_without_room_to_move,
    place_out_of_reach,
    polymer_near_compressor,
    quick_filling_leg,
    short_lived_tank,
    small_compressor,
    starved_ring_arm,
    starved_tool,
    stored_energy,
    unfit_air,
    weak_pipe,
)
from drafter.rules.own_limits import check_own_limits, with_own_limit
from drafter.rules.rule import Rule, RuleFile, Threshold
from drafter.site.model import Site
from drafter.supports.design import Design

__all__ = ["RULES", "Rule", "RuleFile", "Threshold", "check", "check_limits"]

RULES: tuple[RuleFile, ...] = (
    fast_air_in_main,
    fast_air_in_drop,
    low_pressure_at_outlet,
    large_pressure_loss,
    starved_ring_arm,
    small_compressor,
    high_cut_out,
    short_lived_tank,
    frequent_starts,
    starved_tool,
    stored_energy,
    weak_pipe,
    polymer_near_compressor,
    freezing_water,
    hot_filter,
    hot_dryer,
    quick_filling_leg,
    unfit_air,
    oiled_paint_air,
    low_main,
    level_main,
    drain_without_room,
    pipe_without_room_to_move,
    place_out_of_reach,
    beyond_code_scope,
)


def check_limits(site: Site) -> tuple[Finding, ...]:
    """Return what is wrong with the limits that a site sets for itself."""
    return tuple(check_own_limits(site, {rule.RULE.id: rule.RULE for rule in RULES}))


def check(design: Design) -> tuple[Finding, ...]:
    """Return what every rule finds in a design, rule by rule, with what the site sets for itself kept in sight."""
    site = design.network.layout.site
    return tuple(finding for rule in RULES for finding in with_own_limit(site, rule.RULE, tuple(rule.check(design))))
