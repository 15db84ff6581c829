"""How large the threads of valves, hoses and units are: as the line they are in, or as their flow asks for."""

from __future__ import annotations

from collections.abc import Iterable

from drafter.layout.graph import Run, RunKind
from drafter.sizing.network import Network
from drafter.standards.materials import TubeSize, material

LEAST_THREAD, LEAST_AT_OUTLET = "1/2", "1/4"
"""Of valves, hoses and units in the line, and of units at an outlet (common practice)."""

AS_WIDE = 0.9
"""A thread passes for as wide as a line when its bore is this share of that (common practice)."""

FASTEST_M_S = 10.0
"""Air in the ports of a unit; in a line this fast already, its ports are as wide as the line (common practice)."""


def supply_thread(network: Network) -> str:
    """Return the thread of the valve and the hose behind the tank: as wide as the line."""
    flexible = next(run for run in network.layout.runs if run.kind is RunKind.FLEXIBLE)
    return _as_wide_as(network.sizes[flexible.id], LEAST_THREAD)


def unit_thread(network: Network, runs: Iterable[Run], least: str) -> str:
    """Return the thread of a unit between two runs: the smallest that its air does not hurry through.

    Args:
        least: the smallest that such units are sold with.
    """
    run = max(runs, key=lambda run: network.pipe(run.id).velocity_m_s)
    size = network.sizes[run.id]
    widest, velocity_m_s = _as_wide_as(size, least), network.pipe(run.id).velocity_m_s
    names = [each.name for each in _threads(least)]
    for thread in _threads(least):
        if names.index(thread.name) >= names.index(widest):
            break
        if velocity_m_s * (size.bore_m / thread.bore_m) ** 2 <= FASTEST_M_S:
            return thread.name
    return widest


def _as_wide_as(size: TubeSize, least: str) -> str:
    threads = _threads(least)
    return next((each.name for each in threads if each.bore_m >= AS_WIDE * size.bore_m), threads[-1].name)


def _threads(least: str) -> tuple[TubeSize, ...]:
    """Pipe threads from a size on, with the bores of the pipe they belong to."""
    sizes = material("steel pipe schedule 40").sizes
    return sizes[[each.name for each in sizes].index(least) :]
