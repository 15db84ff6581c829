"""Stage 5: a `Design` held against the engineering rules, one rule a file."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from drafter.finding import Finding
from drafter.rules import (
    beyond_code_scope,
    bowl_without_room,
    compressor_near_wall,
    compressor_room_temperature,
    compressor_without_access,
    damp_behind_dryer,
    drain_near_floor,
    drain_out_of_reach,
    drain_without_room,
    drop_beside_door,
    fast_air_in_drop,
    fast_air_in_main,
    freezing_water,
    frequent_starts,
    high_cut_out,
    hot_bowl,
    hot_compressor_room,
    hot_dryer,
    hot_filter,
    large_pressure_loss,
    level_main,
    long_hose,
    long_main_without_drain,
    lossy_tool_end,
    low_crossing,
    low_main,
    low_pressure_at_outlet,
    narrow_tank_port,
    oiled_paint_air,
    optimistic_delivery,
    outlet_behind_equipment,
    outlet_out_of_reach,
    paint_at_the_intake,
    pipe_in_warm_air,
    pipe_over_panel,
    pipe_without_room_to_move,
    place_out_of_reach,
    quick_filling_leg,
    rusting_pipe,
    short_lived_tank,
    small_compressor,
    small_relief_valve,
    small_working_space,
    starved_ring_arm,
    starved_tool,
    stored_energy,
    strong_blow_gun,
    tool_over_its_pressure,
    treatment_in_wrong_order,
    unfit_air,
    valve_far_from_exit,
    valve_out_of_reach,
    weak_hose,
    weak_part,
    weak_pipe,
    weak_unit,
    wet_tank,
    wide_hose,
)
from drafter.rules.own_limits import check_own_limits, with_own_limit
from drafter.rules.rule import Rule, RuleFile, Threshold
from drafter.site.model import Site
from drafter.supports.design import Design

__all__ = ["GUARD_PEOPLE", "RULES", "Rule", "RuleFile", "Threshold", "check", "check_limits"]

RULES: tuple[RuleFile, ...] = (
    fast_air_in_main,
    fast_air_in_drop,
    low_pressure_at_outlet,
    narrow_tank_port,
    large_pressure_loss,
    starved_ring_arm,
    lossy_tool_end,
    small_compressor,
    optimistic_delivery,
    high_cut_out,
    short_lived_tank,
    frequent_starts,
    starved_tool,
    stored_energy,
    wet_tank,
    small_relief_valve,
    weak_pipe,
    weak_unit,
    weak_hose,
    weak_part,
    tool_over_its_pressure,
    strong_blow_gun,
    wide_hose,
    long_hose,
    pipe_in_warm_air,
    hot_bowl,
    bowl_without_room,
    freezing_water,
    hot_filter,
    hot_dryer,
    quick_filling_leg,
    damp_behind_dryer,
    rusting_pipe,
    unfit_air,
    oiled_paint_air,
    treatment_in_wrong_order,
    paint_at_the_intake,
    hot_compressor_room,
    compressor_room_temperature,
    compressor_near_wall,
    compressor_without_access,
    small_working_space,
    pipe_over_panel,
    low_main,
    low_crossing,
    drop_beside_door,
    level_main,
    long_main_without_drain,
    drain_without_room,
    drain_near_floor,
    drain_out_of_reach,
    valve_out_of_reach,
    valve_far_from_exit,
    outlet_behind_equipment,
    outlet_out_of_reach,
    place_out_of_reach,
    pipe_without_room_to_move,
    beyond_code_scope,
)


GUARD_PEOPLE = frozenset(rule.RULE.id for rule in RULES if rule.RULE.firm or rule.RULE.guards)
"""Rules by whose faults, errors or not, people could be hurt."""


def check_limits(site: Site) -> tuple[Finding, ...]:
    """Return what is wrong with the limits that a site sets for itself."""
    return tuple(check_own_limits(site, {rule.RULE.id: rule.RULE for rule in RULES}))


def check(design: Design) -> tuple[Finding, ...]:
    """Return what every rule finds in a design, rule by rule, with what the site sets for itself kept in sight."""
    site = design.network.layout.site
    usual = partial(_by_usual_limits, design)
    return tuple(
        finding
        for rule in RULES
        for finding in with_own_limit(site, rule.RULE, tuple(rule.check(design)), partial(usual, rule))
    )


def _by_usual_limits(design: Design, rule: RuleFile) -> tuple[Finding, ...]:
    """What a rule finds with the limits that hold where a site sets none."""
    network = design.network
    layout = replace(network.layout, site=replace(network.layout.site, own_limits={}))
    return tuple(rule.check(replace(design, network=replace(network, layout=layout))))
