"""The kinds of quantity, the units a text may give them in, and what these are in SI.

pint does the converting, from a small registry of our own. Factors: the international inch of 25.4 mm and
pound of 1959, standard gravity 9.80665 m/s2, the US gallon of 231 cubic inches, the mechanical horsepower
of 550 ft lbf/s.
"""

from __future__ import annotations

from enum import Enum
from functools import lru_cache
from typing import Any, NamedTuple

INCH_M = 0.0254
FOOT_M = 0.3048
PSI_PA = 6894.757293168361
CUBIC_FOOT_M3 = 0.028316846592
US_GALLON_M3 = 0.003785411784
HORSEPOWER_W = 745.6998715822702
FOOT_POUND_J = 1.3558179483314004

_DEFINITIONS = f"""
metre = [length] = m
kilogram = [mass] = kg
second = [time] = s
kelvin = [temperature]; offset: 0 = K
degree_celsius = kelvin; offset: 273.15 = degC
degree_fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9 = degF
fahrenheit_step = 5 / 9 * kelvin
minute = 60 * second
hour = 3600 * second
day = 86400 * second
millimetre = 0.001 * metre
centimetre = 0.01 * metre
inch = {INCH_M} * metre
foot = {FOOT_M} * metre
cubic_metre = metre ** 3
litre = 0.001 * metre ** 3
cubic_foot = {CUBIC_FOOT_M3} * metre ** 3
us_gallon = {US_GALLON_M3} * metre ** 3
pascal = kilogram / metre / second ** 2
kilopascal = 1000 * pascal
megapascal = 1000000 * pascal
millibar = 100 * pascal
bar = 100000 * pascal
pound_force_per_square_inch = {PSI_PA} * pascal
joule = kilogram * metre ** 2 / second ** 2
kilojoule = 1000 * joule
foot_pound_force = {FOOT_POUND_J} * joule
watt = kilogram * metre ** 2 / second ** 3
kilowatt = 1000 * watt
horsepower = {HORSEPOWER_W} * watt
"""


class Kind(Enum):
    """A kind of quantity: its SI unit in pint's words, two samples, and the units people mostly use."""

    LENGTH = ("metre", "2440 mm", "8 ft 2 1/2 in", ("mm", "m", "in", "ft"))
    PRESSURE = ("pascal", "7 bar", "100 psi", ("bar", "psi"))
    FREE_AIR = ("cubic_metre / second", "4.3 l/s", "14 cfm", ("l/s", "l/min", "cfm"))
    VOLUME = ("cubic_metre", "90 l", "60 gal", ("l", "gal"))
    POWER = ("watt", "2.2 kW", "3 hp", ("kW", "hp"))
    TEMPERATURE = ("kelvin", "6 degC", "41 degF", ("degC", "degF"))
    TEMPERATURE_DIFFERENCE = ("kelvin", "15 K", "27 degF", ("K", "degC", "degF"))
    SLOPE = ("", "1 %", "1/8 in per ft", ("%", "mm per m", "in per ft"))
    SHARE = ("", "30 %", "5 %", ("%",))
    TIME = ("second", "90 s", "8 h", ("s", "min", "h"))
    VELOCITY = ("metre / second", "8 m/s", "25 ft/s", ("m/s", "ft/s"))
    ENERGY = ("joule", "100 kJ", "250000 J", ("kJ", "J"))
    RATE = ("1 / second", "10 per hour", "1 per min", ("per hour", "per min"))

    def __init__(self, si_unit: str, sample: str, other_sample: str, usual_units: tuple[str, ...]) -> None:
        self.si_unit = si_unit
        self.sample = sample
        self.example = f"{sample} or {other_sample}"
        self.usual_units = usual_units

    @property
    def words(self) -> str:
        return self.name.lower().replace("_", " ")


class Unit(NamedTuple):
    """A unit as text gives it: its name in the registry, and the basis of a free-air flow if it names one."""

    name: str
    imperial: bool = False
    basis: str = ""


_NORMAL, _STANDARD = "0 degC, 1.01325 bar", "68 degF, 14.5 psi"
_BAR, _PSI = Unit("bar"), Unit("pound_force_per_square_inch", True)
_CELSIUS, _FAHRENHEIT = Unit("degree_celsius"), Unit("degree_fahrenheit", True)
_LITRE, _CUBIC_METRE, _CUBIC_FOOT = Unit("litre"), Unit("cubic_metre"), Unit("cubic_foot", True)
_LITRES_A_SECOND, _LITRES_A_MINUTE = Unit("litre / second"), Unit("litre / minute")
_CUBIC_FEET_A_MINUTE = Unit("cubic_foot / minute", True)

UNITS: dict[Kind, dict[str, Unit]] = {
    Kind.LENGTH: {
        "mm": Unit("millimetre"),
        "cm": Unit("centimetre"),
        "m": Unit("metre"),
        "in": Unit("inch", True),
        "ft": Unit("foot", True),
    },
    Kind.PRESSURE: {
        **dict.fromkeys(("bar", "barg", "bar(g)", "bar g", "bar gauge"), _BAR),
        **dict.fromkeys(("psi", "psig", "psi(g)", "psi g", "psi gauge"), _PSI),
        "kPa": Unit("kilopascal"),
        "MPa": Unit("megapascal"),
        "mbar": Unit("millibar"),
    },
    Kind.FREE_AIR: {
        **dict.fromkeys(("l/s", "L/s"), _LITRES_A_SECOND),
        **dict.fromkeys(("l/min", "L/min"), _LITRES_A_MINUTE),
        "m3/h": Unit("cubic_metre / hour"),
        "m3/min": Unit("cubic_metre / minute"),
        "m3/s": Unit("cubic_metre / second"),
        **dict.fromkeys(("cfm", "ft3/min"), _CUBIC_FEET_A_MINUTE),
        "scfm": _CUBIC_FEET_A_MINUTE._replace(basis=_STANDARD),
        "Nl/min": _LITRES_A_MINUTE._replace(basis=_NORMAL),
        "Nl/s": _LITRES_A_SECOND._replace(basis=_NORMAL),
        "Nm3/h": Unit("cubic_metre / hour", basis=_NORMAL),
        "Nm3/min": Unit("cubic_metre / minute", basis=_NORMAL),
    },
    Kind.VOLUME: {
        **dict.fromkeys(("l", "L"), _LITRE),
        "m3": _CUBIC_METRE,
        **dict.fromkeys(("gal", "US gal"), Unit("us_gallon", True)),
        "ft3": _CUBIC_FOOT,
    },
    Kind.POWER: {"kW": Unit("kilowatt"), "W": Unit("watt"), "hp": Unit("horsepower", True)},
    Kind.TEMPERATURE: {
        **dict.fromkeys(("degC", "°C", "C"), _CELSIUS),
        **dict.fromkeys(("degF", "°F", "F"), _FAHRENHEIT),
        "K": Unit("kelvin"),
    },
    Kind.TEMPERATURE_DIFFERENCE: {
        **dict.fromkeys(("K", "degC", "°C", "C"), Unit("kelvin")),
        **dict.fromkeys(("degF", "°F", "F"), Unit("fahrenheit_step", True)),
    },
    Kind.TIME: {"s": Unit("second"), "min": Unit("minute"), "h": Unit("hour"), "d": Unit("day")},
    Kind.VELOCITY: {"m/s": Unit("metre / second"), "ft/s": Unit("foot / second", True)},
    Kind.ENERGY: {"kJ": Unit("kilojoule"), "J": Unit("joule"), "ft lbf": Unit("foot_pound_force", True)},
    Kind.RATE: {
        **dict.fromkeys(("per hour", "/h", "per h"), Unit("1 / hour")),
        **dict.fromkeys(("per min", "/min"), Unit("1 / minute")),
    },
    Kind.SLOPE: {},
    Kind.SHARE: {},
}

MEANT_BY: dict[str, str] = {
    **dict.fromkeys(("feet", "foot"), "ft"),
    **dict.fromkeys(("inch", "inches", "ins"), "in"),
    **dict.fromkeys(("meter", "meters", "metre", "metres", "mtr"), "m"),
    **dict.fromkeys(("millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("centimeter", "centimeters", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("litre", "litres", "liter", "liters", "ltr"), "l"),
    **dict.fromkeys(("gallon", "gallons", "gals"), "gal"),
    **dict.fromkeys(("cu ft", "cubic feet"), "ft3"),
    **dict.fromkeys(("lpm", "litres/min", "liters/min", "litres per minute", "liters per minute"), "l/min"),
    **dict.fromkeys(("lps", "l/sec", "litres/s", "liters/s"), "l/s"),
    **dict.fromkeys(("m3/hr", "m3/hour", "cubic metres per hour"), "m3/h"),
    **dict.fromkeys(("cubic feet per minute", "cu ft/min"), "cfm"),
    **dict.fromkeys(("lb", "lbs", "pounds", "lb/in2", "lbf/in2", "lbs/in2"), "psi"),
    "bars": "bar",
    **dict.fromkeys(("kilowatt", "kilowatts"), "kW"),
    **dict.fromkeys(("watt", "watts"), "W"),
    **dict.fromkeys(("horsepower", "horse power"), "hp"),
    **dict.fromkeys(("deg c", "degrees c", "celsius", "degrees celsius", "° c"), "degC"),
    **dict.fromkeys(("deg f", "degrees f", "fahrenheit", "degrees fahrenheit", "° f"), "degF"),
    **dict.fromkeys(("sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("mins", "minute", "minutes"), "min"),
    **dict.fromkeys(("hr", "hrs", "hour", "hours"), "h"),
    **dict.fromkeys(("day", "days"), "d"),
    **dict.fromkeys(("percent", "per cent", "pct"), "%"),
}
"""Words, in small letters, that stand for a unit but are not the spelling read here."""


def to_si(unit_name: str, kind: Kind, number: float) -> float:
    """Return a number of some unit of the registry in the SI unit of its kind."""
    registry = _registry()
    return float(registry.Quantity(number, registry.parse_units(unit_name)).to(kind.si_unit).magnitude)


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint

    registry = pint.UnitRegistry(None, on_redefinition="raise")
    registry.load_definitions(_DEFINITIONS.strip().splitlines())
    return registry
