"""A blow gun can be dead-ended at more than 30 psi.

Why: a nozzle pressed against skin drives air through it, and chips are thrown into eyes.
Passes: outlets for blow guns behind a regulator, of their own or of the treatment set at 30 psi (2.07 bar) or less.
Fails: a note naming the outlets whose blow guns get more. A nozzle that holds below 30 psi when dead-ended, by holes
at its side or a valve, does as well as a regulator: say so as the reason and leave this rule out.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.model import Outlet
from drafter.standards.rule_sets import rule_set
from drafter.standards.tools import find_tool
from drafter.supports.design import Design

CLEANING_PA = rule_set("us").blow_gun_pa

RULE = Rule("BLOW001", "blow gun at line pressure", CLEANING_PA.source, (NOTE,), Threshold(CLEANING_PA, Kind.PRESSURE))

_SLACK_PA = 1.0
_FOR_CLEANING = ("blow gun", "dust blow-off")


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    most = RULE.limit(site, rule_set(site.rule_set).blow_gun_pa)
    settings = [unit.set_pa for unit in site.treatment if unit.set_pa is not None]
    line_pa = min([site.compressor.cut_out_pa, *settings])
    blowing = [outlet for outlet in site.outlets if _blows(outlet) and "regulator" not in outlet.service]
    if not blowing or line_pa <= most.value + _SLACK_PA:
        return
    tags, gets, limit = ", ".join(each.tag for each in blowing), site.units.pressure(line_pa), "30 psi (2.07 bar)"
    if most.value != CLEANING_PA.value:
        limit = site.units.pressure(most.value)
    yield RULE.finding(
        NOTE,
        blowing[0].where("tools"),
        f"blow guns at {tags} get up to {gets} gauge: for cleaning they must hold below {limit} when dead-ended",
        measured=f"{gets} gauge",
        limit=limit,
        fix="take nozzles that hold below it, or give the outlet a regulator of its own: service: [regulator]; wear "
        "eye protection and never point one at anybody",
        subject=blowing[0].tag,
        source=most.source,
    )


def _blows(outlet: Outlet) -> bool:
    tools = [find_tool(use.tool) for use in outlet.tools]
    return any(tool is not None and tool.name in _FOR_CLEANING for tool in tools)
