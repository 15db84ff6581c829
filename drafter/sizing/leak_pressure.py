"""What the pressure of a leak test must not pass, and whether it is enough to say anything."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.site.model.care import LeakReading
from drafter.sizing.network import Network
from drafter.sizing.ratings import weakest_pipe

SHORT_OF_TEST = 0.05
"""A test begun at so much less than the design's gauge pressure still counts (value of our own)."""

_SLACK_PA = 1.0


@dataclass(frozen=True, slots=True)
class PressureLimit:
    """Something that a test must not go above.

    Attributes:
        what: in words.
        gauge_pa: what it is set at or rated for.
    """

    what: str
    gauge_pa: float


def passed_limits(network: Network, reading: LeakReading) -> tuple[PressureLimit, ...]:
    """Return what the pressure of a reading was above, the lowest first; empty for times.

    Source:
        29 CFR 1910.169 for tank and relief valve; the derating table of the material for pipe.
    """
    highest_pa = max(reading.start_pa or 0.0, reading.end_pa or 0.0)
    passed = [limit for limit in _limits(network, reading) if highest_pa > limit.gauge_pa + _SLACK_PA]
    return tuple(sorted(passed, key=lambda limit: limit.gauge_pa))


def _limits(network: Network, reading: LeakReading) -> Iterator[PressureLimit]:
    site = network.layout.site
    yield PressureLimit("the relief valve's setting", site.compressor.relief_pa)
    if reading.under_test == "with tank":
        yield PressureLimit("the tank's rating", site.compressor.rated_pa)
    yield _weakest_pipe(network)
    for unit in site.treatment:
        if unit.rated_pa is not None:
            yield PressureLimit(f"the rating of the {unit.kind}", unit.rated_pa)


def _weakest_pipe(network: Network) -> PressureLimit:
    pipe = weakest_pipe(network)
    warm = network.layout.site.units.temperature(pipe.temperature_k)
    return PressureLimit(f"the rating of {network.material.name} {pipe.size.name} at {warm}", pipe.gauge_pa)


@dataclass(frozen=True, slots=True)
class UnderTest:
    """What a reading was taken on.

    Attributes:
        what: in words.
        gauge_pa: the design's pressure for its test.
    """

    what: str
    volume_m3: float
    gauge_pa: float


def under_test(network: Network, reading: LeakReading) -> UnderTest:
    """Return what a fall of pressure was read on: all of the piping, with the tank, or the part before a regulator.

    Source:
        each part is tested at no less than it works at: common practice.
    """
    leaks = network.leaks
    for part in leaks.before:
        if part.regulator == reading.before:
            return UnderTest(f"V-01 to {part.regulator}", part.volume_m3, part.gauge_pa)
    if reading.under_test == "with tank":
        return UnderTest("piping and tank", leaks.tank_test.volume_m3, leaks.test_gauge_pa)
    return UnderTest("piping", leaks.piping_test.volume_m3, leaks.test_gauge_pa)


def begun_too_low(test_gauge_pa: float, start_gauge_pa: float) -> bool:
    """Return whether a test began so far below the design's that it says nothing of the line at its working pressure.

    Source:
        a line is tested at no less than it works at: common practice.
    """
    return start_gauge_pa < test_gauge_pa * (1.0 - SHORT_OF_TEST) - _SLACK_PA
