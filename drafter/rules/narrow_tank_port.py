"""The port of the tank is narrow for the air that goes through it.

Why: all air goes through one port; bushed down, it starves the line behind it, and the sizing of the pipe does not
show it.
Passes: up to 0.1 bar lost in the port at the compressor's cut-in while the most air goes through, one and a half
velocity heads in the bore of pipe of the port's thread: half at its edge, one where the jet widens behind it. Without a
thread in the site file the port is as wide as the line.
Fails: a warning above that.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import RunKind
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.standards.air import FREE_AIR_TEMPERATURE_K, atmospheric_pressure_pa, density_kg_m3, line_velocity_m_s
from drafter.standards.limits import Limit
from drafter.standards.materials import material
from drafter.supports.design import Design

MOST_PA = Limit(
    0.1e5, "common practice, from memory; sharp edge 0.5 and exit 1.0 velocity heads: handbooks, from memory"
)

RULE = Rule("PORT001", "narrow port of the tank", MOST_PA.source, (WARNING,), Threshold(MOST_PA, Kind.PRESSURE))

VELOCITY_HEADS = 1.5
_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site, units = design.network.layout.site, design.network.layout.site.units
    most, lost_pa = RULE.limit(site), port_loss_pa(design)
    connection = site.compressor.connection
    if connection is None or lost_pa <= most.value + _SLACK_PA:
        return
    measured, limit = units.pressure_drop(lost_pa), units.pressure_drop(most.value)
    yield RULE.finding(
        WARNING,
        connection.where("thread"),
        f"the tank's port of {connection.thread} takes about {measured} at cut-in with the most air; the pressures "
        "of the outlets do not count it",
        measured=measured,
        limit=limit,
        fix="use a wider port of the tank, without a bushing, or have one fitted by who may work on the tank",
        subject="compressor",
        source=most.source,
    )


def port_loss_pa(design: Design) -> float:
    """Return what is lost in the port of the tank with the most air at cut-in [Pa]; 0 where its thread is not told.

    Source:
        Bernoulli with handbook coefficients, from memory.
    """
    network = design.network
    site = network.layout.site
    connection = site.compressor.connection
    if connection is None or not connection.thread:
        return 0.0
    bore_m = next(each.bore_m for each in material("steel pipe schedule 40").sizes if each.name == connection.thread)
    flexible = next(run for run in network.layout.runs if run.kind is RunKind.FLEXIBLE)
    absolute_pa = site.compressor.cut_in_pa + atmospheric_pressure_pa(site.altitude_m)
    velocity_m_s = line_velocity_m_s(
        network.pipe(flexible.id).free_air_m3_s, absolute_pa, FREE_AIR_TEMPERATURE_K, bore_m
    )
    return VELOCITY_HEADS * density_kg_m3(absolute_pa, FREE_AIR_TEMPERATURE_K) * velocity_m_s**2 / 2.0
