"""SI floats to text for people, in metric or in inch-pound units."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from drafter.quantity.kinds import CUBIC_FOOT_M3, FOOT_M, FOOT_POUND_J, HORSEPOWER_W, INCH_M, PSI_PA, US_GALLON_M3, Kind

SIXTEENTH_M = INCH_M / 16
MILLIMETRE_M = 0.001
POUND_KG = 0.45359237


def feet_inches(length_m: float, parts: int = 16) -> str:
    """Return a length as feet, inches and a reduced fraction to 1/``parts`` inch, such as ``8'-2 1/2"``."""
    steps = round(length_m / (INCH_M / parts))
    feet, rest = divmod(abs(steps), 12 * parts)
    inches, fraction = divmod(rest, parts)
    return f"{'-' if steps < 0 else ''}{feet}'-{inches}{_fraction(fraction, parts, ' ')}\""


def _fraction(steps: int, parts: int, space: str) -> str:
    divisor = math.gcd(steps, parts)
    return f"{space}{steps // divisor}/{parts // divisor}" if steps else ""


def _fixed(number: float, digits: int) -> str:
    """Return a number with so many decimals, and no minus sign before a zero."""
    return f"{round(number, digits) + 0.0:.{digits}f}"


def duration(time_s: float, rounded: Callable[[float], float] = round) -> str:
    """Return a time: in seconds below 2 min, in half minutes below 10 min, in minutes below 3 h, else in hours.

    Args:
        rounded: which way the last digit goes, such as ``math.floor`` for a time that must not be overstated.
    """
    for step_s, below_s, unit_s, unit in ((1, 120, 1, "s"), (30, 600, 60, "min"), (60, 10800, 60, "min")):
        steps = rounded(round(time_s / step_s, 9))
        if steps * step_s < below_s:
            return f"{steps * step_s / unit_s:g} {unit}"
    return f"{rounded(round(time_s / 1800, 9)) / 2:g} h"


def _two_digits(number: float) -> str:
    """Return a number with as many decimals as show two digits that count, and never an exponent."""
    power = int(f"{number:.1e}".partition("e")[2])
    return _fixed(number, max(0, 1 - power) if number else 0)


@dataclass(frozen=True, slots=True)
class Units:
    """How quantities are written for people: in metric or in inch-pound units."""

    imperial: bool = False

    @property
    def grid_m(self) -> float:
        """The step that dimensions are rounded to: 1 mm, or 1/16 in."""
        return SIXTEENTH_M if self.imperial else MILLIMETRE_M

    def snapped_m(self, length_m: float) -> float:
        """Return a length on the grid of dimensions, so that chains of them close."""
        return round(length_m / self.grid_m) * self.grid_m

    @property
    def set_out_step_m(self) -> float:
        """The step a fitter chooses lengths on: 10 mm, or half an inch."""
        return 0.0127 if self.imperial else 0.01

    def set_out_m(self, length_m: float) -> float:
        """Return a length as a fitter would choose it: on the next 10 mm, or half inch."""
        return round(length_m / self.set_out_step_m) * self.set_out_step_m

    def length(self, length_m: float) -> str:
        """Return a length as a dimension reads: whole millimetres without unit, or feet and inches."""
        return feet_inches(length_m) if self.imperial else f"{round(length_m / MILLIMETRE_M)}"

    def signed_length(self, length_m: float) -> str:
        """Return a length up (``+``) or down (``-``) from somewhere, as `length` writes it."""
        words = self.length(abs(length_m))
        return words if words == self.length(0.0) else ("+" if length_m > 0.0 else "-") + words

    def length_with_unit(self, length_m: float) -> str:
        return self.length(length_m) if self.imperial else f"{self.length(length_m)} mm"

    def movement(self, length_m: float) -> str:
        """Return a small movement: tenths of a millimetre, or hundredths of an inch."""
        return f"{_fixed(length_m / INCH_M, 2)} in" if self.imperial else f"{_fixed(length_m * 1000, 1)} mm"

    def room_to_move(self, length_m: float) -> str:
        """Return a movement that must not be understated: the next whole millimetre, or sixteenth of an inch."""
        steps = math.ceil(length_m / self.grid_m - 1e-6)
        if not self.imperial:
            return f"{steps} mm"
        inches, fraction = divmod(steps, 16)
        return f'{inches or ""}{_fraction(fraction, 16, " " if inches else "")}"'

    def bore(self, bore_m: float) -> str:
        """Return an inside diameter, as exactly as `movement`."""
        return self.movement(bore_m)

    def long_length(self, length_m: float) -> str:
        return f"{_fixed(length_m / FOOT_M, 1)} ft" if self.imperial else f"{_fixed(length_m, 2)} m"

    @property
    def rough_step_m(self) -> float:
        """The step of lengths that are given in tenths: of a metre, or of a foot."""
        return FOOT_M / 10 if self.imperial else 0.1

    def floor_area(self, area_m2: float) -> str:
        """Return an area of floor in square metres to a tenth, or in whole square feet."""
        return f"{_fixed(area_m2 / FOOT_M**2, 0)} ft²" if self.imperial else f"{_fixed(area_m2, 1)} m²"

    def rough_length(self, length_m: float) -> str:
        """Return a length known roughly, in whole metres or feet."""
        return f"{_fixed(length_m / FOOT_M, 0)} ft" if self.imperial else f"{_fixed(length_m, 0)} m"

    def level(self, height_m: float) -> str:
        """Return a height above finished floor as a level mark reads, the floor itself with ``±``."""
        steps = round(height_m / self.grid_m)
        sign = "+" if steps > 0 else "-" if steps < 0 else "±"
        above_m = abs(steps) * self.grid_m
        return sign + (feet_inches(above_m) if self.imperial else _fixed(above_m, 3))

    def pressure(self, gauge_pa: float) -> str:
        """Return a gauge pressure with its unit."""
        return f"{_fixed(gauge_pa / PSI_PA, 0)} psi" if self.imperial else f"{_fixed(gauge_pa / 1e5, 2)} bar"

    def pressures_apart(self, low_pa: float, high_pa: float) -> tuple[str, str]:
        """Return two gauge pressures with their unit, in as many digits as tell them apart if anything does."""
        unit, size_pa = self.pressure_unit
        if _fixed(low_pa / size_pa, 5) == _fixed(high_pa / size_pa, 5):
            return self.pressure(low_pa), self.pressure(high_pa)
        digits = 0 if self.imperial else 2
        while _fixed(low_pa / size_pa, digits) == _fixed(high_pa / size_pa, digits) and digits < 5:
            digits += 1
        return f"{_fixed(low_pa / size_pa, digits)} {unit}", f"{_fixed(high_pa / size_pa, digits)} {unit}"

    @property
    def pressure_unit(self) -> tuple[str, float]:
        """Name and size [Pa] of the unit that pressures are written in."""
        return ("psi", PSI_PA) if self.imperial else ("bar", 1e5)

    def pressure_drop(self, drop_pa: float) -> str:
        return f"{_fixed(drop_pa / PSI_PA, 2)} psi" if self.imperial else f"{_fixed(drop_pa / 1e5, 3)} bar"

    def free_air(self, free_air_m3_s: float) -> str:
        """Return a free-air flow (20 degC, 1 bar) with its unit."""
        if self.imperial:
            return f"{_fixed(free_air_m3_s / CUBIC_FOOT_M3 * 60, 1)} cfm"
        return f"{_fixed(free_air_m3_s * 1000, 1)} l/s"

    def free_air_volume(self, free_air_m3: float) -> str:
        """Return an amount of free air (20 degC, 1 bar) with its unit."""
        if self.imperial:
            return f"{_fixed(free_air_m3 / CUBIC_FOOT_M3, 0)} ft³"
        return f"{_fixed(free_air_m3 * 1000, 0)} l"

    def leak(self, free_air_m3_s: float) -> str:
        """Return a leak as free air (20 degC, 1 bar) with two digits that count."""
        per_minute = free_air_m3_s / CUBIC_FOOT_M3 * 60 if self.imperial else free_air_m3_s * 60e3
        return f"{_two_digits(per_minute)} {'cfm' if self.imperial else 'l/min'}"

    def share(self, share: float) -> str:
        """Return a share in percent with two digits that count, and never an exponent."""
        return f"{_two_digits(share * 100)} %"

    def velocity(self, velocity_m_s: float) -> str:
        return f"{_fixed(velocity_m_s / FOOT_M, 0)} ft/s" if self.imperial else f"{_fixed(velocity_m_s, 1)} m/s"

    def volume(self, volume_m3: float) -> str:
        if self.imperial:
            return f"{_fixed(volume_m3 / US_GALLON_M3, 0)} gal"
        return f"{_fixed(volume_m3 * 1000, 0)} l"

    def line_volume(self, volume_m3: float) -> str:
        """Return what pipes hold, with two digits that count."""
        if self.imperial:
            return f"{_two_digits(volume_m3 / US_GALLON_M3)} gal"
        return f"{_two_digits(volume_m3 * 1000)} l"

    def power(self, power_w: float) -> str:
        return f"{_fixed(power_w / HORSEPOWER_W, 1)} hp" if self.imperial else f"{_fixed(power_w / 1000, 1)} kW"

    def energy(self, energy_j: float) -> str:
        """Return an energy in whole kilojoules, or thousands of foot pounds where there are so many."""
        pounds = energy_j / FOOT_POUND_J
        if self.imperial:
            return f"{_fixed(pounds, 0)} ft lbf" if pounds < 1000.0 else f"{_fixed(pounds / 1000.0, 0)},000 ft lbf"
        return f"{_fixed(energy_j / 1000, 0)} kJ"

    def temperature(self, temperature_k: float) -> str:
        celsius = temperature_k - 273.15
        return f"{_fixed(celsius * 1.8 + 32, 0)} °F" if self.imperial else f"{_fixed(celsius, 0)} °C"

    def temperature_difference(self, difference_k: float) -> str:
        return f"{_fixed(difference_k * 1.8, 0)} °F" if self.imperial else f"{_fixed(difference_k, 0)} K"

    @property
    def free_air_state(self) -> str:
        """The state that free air is counted at, of ISO 8778: 20 °C, 1 bar absolute."""
        return f"{self.temperature(293.15)}, {'14.5 psi' if self.imperial else '1 bar'} absolute"

    def water(self, mass_kg: float) -> str:
        """Return an amount of water as it is poured out: millilitres to litres, or US fluid ounces to gallons."""
        gallons = mass_kg / 1000.0 / US_GALLON_M3
        if self.imperial:
            return f"{_fixed(gallons, 2)} gal" if gallons >= 1.0 else f"{_fixed(gallons * 128, 1)} fl oz"
        return f"{_fixed(mass_kg, 2)} l" if mass_kg >= 0.1 else f"{_fixed(mass_kg * 1000, 0)} ml"

    def small_weight(self, mass_kg: float) -> str:
        """Return a weight in whole grams or ounces."""
        return f"{_fixed(mass_kg / POUND_KG * 16, 0)} oz" if self.imperial else f"{_fixed(mass_kg * 1000, 0)} g"

    def weight(self, mass_kg: float) -> str:
        """Return a weight in whole kilograms or pounds."""
        return f"{_fixed(mass_kg / POUND_KG, 0)} lb" if self.imperial else f"{_fixed(mass_kg, 0)} kg"

    def slope(self, slope: float) -> str:
        """Return a fall as it is set out: sixteenths of an inch a foot where it is so many, else percent."""
        steps = slope * 12 * 16
        if not self.imperial or abs(steps - round(steps)) > 0.005:
            return f"{slope * 100:.3g} %"
        inches, fraction = divmod(round(steps), 16)
        whole = str(inches) if inches or not fraction else ""
        return f'{whole}{_fraction(fraction, 16, " " if whole else "")}" per ft'

    def of_kind(self, kind: Kind, value: float) -> str:
        """Return a value in the SI unit of its kind as people read it; pressures are gauge."""
        match kind:
            case Kind.TIME:
                return duration(value)
            case Kind.SHARE:
                return f"{value * 100:.3g} %"
            case Kind.ENERGY:
                return self.energy(value)
            case Kind.RATE:
                return f"{value * 3600:.3g} per hour"
            case Kind.LENGTH:
                return self._limit_length(value)
        say: Callable[[float], str] = getattr(self, kind.name.lower())
        return say(value)

    def _limit_length(self, length_m: float) -> str:
        """A length that something is held against: to a tenth of a millimetre, or in inches below a foot."""
        if self.imperial:
            return self.length_with_unit(length_m).removeprefix("0'-").removeprefix("0 ")
        return f"{length_m:.4g} m" if length_m >= 10.0 else f"{float(f'{length_m * 1000:.1f}'):g} mm"
