"""The tank's pressure while tools run and rest and the switch starts and stops the motor, exact from event to event.

The tank keeps one temperature and the air is an ideal gas, so between two events (a tool starts or stops, the
switch acts) the pressure changes at a steady rate and the time of the next event follows without a time step.
Pressures are gauge; flows are free air at 20 degC, 1 bar absolute, dry.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from drafter.standards.air import FREE_AIR_PRESSURE_PA, FREE_AIR_TEMPERATURE_K
from drafter.standards.receiver import minimum_volume_m3


@dataclass(frozen=True, slots=True)
class TankSet:
    """A compressor on its tank, with a pressure switch.

    Attributes:
        cut_in_pa, cut_out_pa: gauge pressures at which the switch starts and stops the motor.
        delivered_m3_s: free air while the motor runs.
        temperature_k: of the air in the tank.
        free_air_pa: absolute pressure that free air is counted at.

    Raises:
        ValueError: a value is not finite and above zero, or the cut-in is not below the cut-out.
    """

    volume_m3: float
    cut_in_pa: float
    cut_out_pa: float
    delivered_m3_s: float
    temperature_k: float = FREE_AIR_TEMPERATURE_K
    free_air_pa: float = FREE_AIR_PRESSURE_PA

    def __post_init__(self) -> None:
        values = (
            self.volume_m3, self.cut_in_pa, self.cut_out_pa, self.delivered_m3_s, self.temperature_k, self.free_air_pa,
        )  # fmt: skip
        if not all(math.isfinite(value) and value > 0.0 for value in values):
            raise ValueError(f"every value of a tank must be finite and above zero: {values}")
        if self.cut_in_pa >= self.cut_out_pa:
            raise ValueError(f"the cut-in of {self.cut_in_pa} Pa is not below the cut-out of {self.cut_out_pa} Pa")

    def rise_pa_s(self, net_m3_s: float) -> float:
        """Return how fast the pressure rises for a flow of free air into the tank [Pa/s].

        Source:
            ideal gas law at constant temperature.
        """
        warmth = self.temperature_k / FREE_AIR_TEMPERATURE_K
        return self.free_air_pa * warmth * net_m3_s / self.volume_m3

    def held_m3(self, change_pa: float) -> float:
        """Return the free air that a change of pressure puts into the tank [m3].

        Source:
            ideal gas law at constant temperature.
        """
        return change_pa / self.rise_pa_s(1.0)

    def volume_for_starts_m3(self, starts_per_hour: float) -> float:
        """Return the volume of a tank with which the motor starts no more often, whatever is drawn [m3].

        Source:
            `drafter.standards.receiver.minimum_volume_m3`, with the tank's air at its own temperature.
        """
        band_pa = self.cut_out_pa - self.cut_in_pa
        at_20_deg_c = minimum_volume_m3(self.delivered_m3_s, starts_per_hour, band_pa, self.free_air_pa)
        return at_20_deg_c * self.temperature_k / FREE_AIR_TEMPERATURE_K


@dataclass(frozen=True, slots=True)
class Draw:
    """A flow of free air taken from one time to another."""

    start_s: float
    end_s: float
    free_air_m3_s: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """The time between two events: the pressure runs straight from its start to its end.

    Attributes:
        drawn_m3_s: what leaves the tank; less than is wanted once the tank is empty.
        draws: numbers of the draws that run.
    """

    start_s: float
    end_s: float
    start_pa: float
    end_pa: float
    motor_runs: bool
    drawn_m3_s: float
    draws: tuple[int, ...]

    @property
    def length_s(self) -> float:
        return self.end_s - self.start_s

    def pressure_at(self, time_s: float) -> float:
        """Return the pressure at a time between the ends."""
        return self.start_pa + (self.end_pa - self.start_pa) * (time_s - self.start_s) / self.length_s

    def time_of(self, gauge_pa: float) -> float:
        """Return when a pressure between those of the ends is passed."""
        return self.start_s + self.length_s * (gauge_pa - self.start_pa) / (self.end_pa - self.start_pa)


def tank_course(
    tank: TankSet,
    draws: Sequence[Draw],
    length_s: float,
    steady_m3_s: float = 0.0,
    start_pa: float | None = None,
    motor_runs: bool = False,
) -> tuple[Stretch, ...]:
    """Follow the tank through a time; without a start pressure it begins at cut-out, the motor off.

    A tool takes its whole flow however low the pressure is, until the tank is empty; then only what the
    compressor delivers is taken.

    Args:
        steady_m3_s: drawn all the time, such as leakage.
        motor_runs: whether the motor runs at the beginning.

    Raises:
        ValueError: a length, flow or time is not finite or below zero.

    Source:
        mass balance of the tank at constant temperature, ideal gas; a pressure switch with two settings.
    """
    pressure_pa = tank.cut_out_pa if start_pa is None else start_pa
    _check(draws, length_s, steady_m3_s, pressure_pa)
    begin, end = defaultdict[float, set[int]](set), defaultdict[float, set[int]](set)
    for number, draw in enumerate(draws):
        begin[draw.start_s].add(number)
        end[draw.end_s].add(number)
    times = sorted({0.0, length_s, *(time for time in (*begin, *end) if time < length_s)})
    running: set[int] = set()
    course: list[Stretch] = []
    for start_s, end_s in pairwise(times):
        running = (running | begin[start_s]) - end[start_s]
        wanted = steady_m3_s + sum(draws[number].free_air_m3_s for number in sorted(running))
        for stretch in _until(tank, start_s, end_s, pressure_pa, motor_runs, wanted, tuple(sorted(running))):
            course.append(stretch)
            pressure_pa, motor_runs = stretch.end_pa, stretch.motor_runs
    return tuple(course)


def _until(
    tank: TankSet, time_s: float, end_s: float, pressure_pa: float, runs: bool, wanted: float, draws: tuple[int, ...]
) -> Iterator[Stretch]:
    """Yield the stretches of a time with one demand."""
    while time_s < end_s:
        runs = pressure_pa < tank.cut_out_pa if runs else pressure_pa <= tank.cut_in_pa
        delivered = tank.delivered_m3_s if runs else 0.0
        drawn = min(wanted, delivered) if pressure_pa <= 0.0 else wanted
        rate = tank.rise_pa_s(delivered - drawn)
        limit_pa = tank.cut_out_pa if rate > 0.0 else 0.0 if runs else tank.cut_in_pa
        reached_s = time_s + (limit_pa - pressure_pa) / rate if rate else math.inf
        stop_s = min(reached_s, end_s)
        stop_pa = limit_pa if reached_s <= end_s else pressure_pa + rate * (stop_s - time_s)
        if stop_s > time_s:
            yield Stretch(time_s, stop_s, pressure_pa, stop_pa, runs, drawn, draws)
        time_s, pressure_pa = stop_s, stop_pa


def _check(draws: Sequence[Draw], length_s: float, steady_m3_s: float, start_pa: float) -> None:
    numbers = [length_s, steady_m3_s, start_pa]
    numbers += [value for draw in draws for value in (draw.start_s, draw.end_s, draw.free_air_m3_s)]
    if not all(math.isfinite(value) and value >= 0.0 for value in numbers):
        raise ValueError("times, flows and pressures must be finite and not below zero")
    if not length_s > 0.0 or any(draw.end_s < draw.start_s for draw in draws):
        raise ValueError("a time must not end before it begins")
