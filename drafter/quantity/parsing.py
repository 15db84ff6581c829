"""Text with a unit to SI floats, by a strict grammar that stands in front of the unit registry.

One number and one known unit, or feet, inches and a fraction. Pressures are gauge, because data plates and
gauges read gauge; a text that says absolute is refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from drafter.quantity.kinds import MEANT_BY, UNITS, Kind, Unit, to_si

LONGEST = 40
STANDARD_ATMOSPHERE_PA = 101325.0

_DECIMAL = r"(?:\d+(?:\.\d*)?|\.\d+)"
_FRACTION = r"(?:\d+[ -])?\d+/\d+"
_AMOUNT = rf"(?:{_FRACTION}|{_DECIMAL})"
_FOOT, _INCH = r"\s*(?:ft|')", r"\s*(?:in|\")"
_PLAIN = re.compile(rf"([+-]?)({_AMOUNT})\s*(\D.*)?", re.ASCII)
_FEET_INCHES = re.compile(rf"([+-]?)(\d+){_FOOT}\s*-?\s*({_AMOUNT}){_INCH}", re.ASCII)
_FEET_NUMBER = re.compile(rf"[+-]?\d+{_FOOT}\s*-?\s*{_AMOUNT}", re.ASCII)
_ONE_TO = re.compile(rf"1\s*(?::|in)\s*({_DECIMAL})", re.ASCII)
_PER_FOOT = re.compile(rf"({_AMOUNT}){_INCH}\s*(?:/|per)\s*ft", re.ASCII)
_PER_METRE = re.compile(rf"({_DECIMAL})\s*mm\s*(?:/|per)\s*m", re.ASCII)
_PERCENT = re.compile(rf"([+-]?)({_DECIMAL})\s*%", re.ASCII)
_ABSOLUTE = re.compile(r"(m?bar|kpa|mpa|psi)\s*\(?(?:a|abs|absolute)\)?", re.IGNORECASE)
_SEVERAL = re.compile(rf"({_AMOUNT}\s*[a-z]+[\s,]*){{2,}}", re.ASCII | re.IGNORECASE)
_RAISED = re.compile(r"\d\s*[²³]")
_TYPED = "′’‘″”“²³º−–\u2011⁄"
_READ = "'''" + '"""' + "23°---/"
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_PLAIN_SIGNS = str.maketrans(_TYPED, _READ) | str.maketrans(
    {sign: f" {fraction}" for sign, fraction in _FRACTIONS.items()}
)


class QuantityError(ValueError):
    """A text that is no quantity of the kind wanted; ``fix`` says what to write instead."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.fix = fix


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity read from text.

    Attributes:
        value: in the SI unit of its kind; pressures are gauge.
        imperial: whether it was written in an inch-pound unit.
        basis: basis of a free-air flow if its unit names one, else empty.
    """

    value: float
    imperial: bool = False
    basis: str = ""


def parse(text: str, kind: Kind) -> Quantity:
    """Read a quantity of a kind from text.

    Raises:
        QuantityError: the text is not one number with one known unit of that kind.
    """
    raised = _RAISED.search(text)
    clean = " ".join(text.translate(_PLAIN_SIGNS).replace("''", '"').split())
    if raised:
        raise QuantityError(
            f"'{clean[:LONGEST]}' has a raised figure after a number", f"write something like {kind.example}"
        )
    if len(clean) > LONGEST:
        raise QuantityError(f"'{clean[:LONGEST]}...' is no {kind.words}", f"write something like {kind.example}")
    if kind in (Kind.SLOPE, Kind.SHARE):
        return _ratio(clean, kind)
    if kind is Kind.LENGTH and (length := _feet_inches(clean)):
        return length
    found = _PLAIN.fullmatch(clean)
    if not found:
        raise _unreadable(clean, kind)
    number, spelling = _signed(found[1], found[2], clean), (found[3] or "").strip()
    if not spelling:
        raise _bare(clean, kind)
    unit = _units_of(kind).get(spelling)
    if unit is None:
        raise _wrong_unit(clean, number, spelling, kind)
    return Quantity(to_si(unit.name, kind, number), unit.imperial, unit.basis)


def _units_of(kind: Kind) -> dict[str, Unit]:
    marks = {"'": UNITS[kind]["ft"], '"': UNITS[kind]["in"]} if kind is Kind.LENGTH else {}
    return UNITS[kind] | marks


def _signed(sign: str, amount: str, whole: str) -> float:
    number = 0.0
    parts = re.split(r"[ -]", amount)
    for part in parts:
        numerator, _, denominator = part.partition("/")
        if denominator and int(denominator) == 0:
            raise QuantityError(f"'{whole}' divides by zero", "check the fraction")
        if denominator and len(parts) == 2 and int(numerator) >= int(denominator):
            raise QuantityError(f"the fraction of '{whole}' is no less than one", "carry it to the whole number")
        number += float(numerator) / int(denominator or 1)
    return -number if sign == "-" else number


def _feet_inches(clean: str) -> Quantity | None:
    found = _FEET_INCHES.fullmatch(clean)
    if not found:
        return None
    inches = _signed("", found[3], clean)
    if inches >= 12:
        fix = "carry whole feet, such as 8 ft 2 1/2 in"
        raise QuantityError(f"'{clean}' has 12 inches or more after the feet", fix)
    size = to_si("inch", Kind.LENGTH, int(found[2]) * 12 + inches)
    return Quantity(-size if found[1] == "-" else size, True)


def _ratio(clean: str, kind: Kind) -> Quantity:
    if found := _PERCENT.fullmatch(clean):
        return Quantity(_signed(found[1], found[2], clean) / 100)
    if kind is Kind.SLOPE:
        if (found := _ONE_TO.fullmatch(clean)) and float(found[1]) > 0:
            return Quantity(1 / float(found[1]))
        if found := _PER_FOOT.fullmatch(clean):
            return Quantity(_signed("", found[1], clean) / 12, True)
        if found := _PER_METRE.fullmatch(clean):
            return Quantity(float(found[1]) / 1000)
    if re.fullmatch(rf"[+-]?{_AMOUNT}", clean, re.ASCII):
        raise _bare(clean, kind)
    raise _unreadable(clean, kind)


def _bare(clean: str, kind: Kind) -> QuantityError:
    if kind is Kind.SHARE:
        number = _signed("", clean.lstrip("+-"), clean)
        percent = number * 100 if number <= 1 else number
        return QuantityError(f"'{clean}' has no unit", f"write '{percent:g} %'")
    choices = " or ".join(f"'{clean} {unit}'" for unit in kind.usual_units)
    return QuantityError(f"'{clean}' has no unit", f"write {choices}, whichever it is")


def _unreadable(clean: str, kind: Kind) -> QuantityError:
    """Say what keeps a text from being a number and a unit."""
    example = f"write something like {kind.example}"
    if re.search(r"\d,\d{3}(?!\d)", clean):
        fix = f"write {clean.replace(',', '')} without it, or {clean.replace(',', '.')} if it marks decimals"
        return QuantityError(f"'{clean}' has a comma in the number", fix)
    if re.search(r"\d,\d", clean):
        fix = f"write a decimal point: {clean.replace(',', '.')}"
        return QuantityError(f"'{clean}' has a comma in the number", fix)
    if kind is Kind.LENGTH and _FEET_NUMBER.fullmatch(clean):
        return QuantityError(f"the inches of '{clean}' have no unit", f"write {clean} in")
    if _SEVERAL.fullmatch(clean) and all(word in UNITS[kind] for word in re.findall("[a-zA-Z]+", clean)):
        fix = f"write one number and one unit, such as {kind.example}"
        return QuantityError(f"'{clean}' has more than one unit", fix)
    return QuantityError(f"'{clean}' is no {kind.words}", example)


def _wrong_unit(clean: str, number: float, spelling: str, kind: Kind) -> QuantityError:
    """Say what unit is wanted in the place of one that is not known."""
    if kind is Kind.PRESSURE and (found := _ABSOLUTE.fullmatch(spelling)):
        return _absolute(clean, number, found[1])
    if re.search(r"\d", spelling.replace("m3", "").replace("ft3", "").replace("in2", "")):
        return _unreadable(clean, kind)
    amount = clean.removesuffix(spelling).strip()
    small = spelling.lower().rstrip(".")
    meant = next((known for known in UNITS[kind] if known.lower() == small), MEANT_BY.get(small, ""))
    if meant in UNITS[kind]:
        return QuantityError(f"the unit '{spelling}' is written '{meant}'", f"write {amount} {meant}")
    other = next((each for each in Kind if (meant or spelling) in UNITS[each]), None)
    if other is not None:
        message = f"'{spelling}' is a unit of {other.words}, and this is a {kind.words}"
        return QuantityError(message, f"write something like {kind.example}")
    spellings: dict[Unit, str] = {}
    for known, unit in UNITS[kind].items():
        spellings.setdefault(unit, known)
    fix = f"use one of {', '.join(spellings.values())}; for example {kind.example}"
    return QuantityError(f"'{spelling}' is no unit of {kind.words} known here", fix)


def _absolute(clean: str, number: float, gauge_unit: str) -> QuantityError:
    unit = next(known for known in UNITS[Kind.PRESSURE] if known.lower() == gauge_unit.lower())
    one_pa = to_si(UNITS[Kind.PRESSURE][unit].name, Kind.PRESSURE, 1.0)
    gauge = number - STANDARD_ATMOSPHERE_PA / one_pa
    message = f"'{clean}' is an absolute pressure; a site file holds gauge pressures, as data plates read"
    return QuantityError(message, f"write the gauge pressure; at sea level this is about {gauge:.3g} {unit}")
