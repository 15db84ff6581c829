"""How clean and dry compressed air is: the classes for particles, water and oil, and what each use asks for."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from drafter.standards.data_file import read_data_file

WORSE = 10
"""Number that stands for X, worse than every class of the table. Source: ISO 8573-1:2010."""

_WRITTEN = re.compile(r"(\d|X):(\d|X):(\d|X)", re.ASCII | re.IGNORECASE)
_GROUPS = ("particles", "water", "oil")
_SIZES = (("to_0_5_um", "0.1 to 0.5 µm"), ("to_1_um", "0.5 to 1 µm"), ("to_5_um", "1 to 5 µm"))
_SLACK_K, _SLACK_G_M3 = 0.05, 1e-9


@dataclass(frozen=True, slots=True)
class Purity:
    """A class each for particles, water and oil: 0 best, then 1 and up; `WORSE` stands for X."""

    particles: int
    water: int
    oil: int

    def __str__(self) -> str:
        return ":".join("X" if number >= WORSE else str(number) for number in (self.particles, self.water, self.oil))

    def meets(self, wanted: Purity) -> bool:
        """Whether each class is as good as the one wanted, or better."""
        return self.particles <= wanted.particles and self.water <= wanted.water and self.oil <= wanted.oil


@dataclass(frozen=True, slots=True)
class AirUse:
    """What compressed air is used for, the purity that usually does for it, and where that comes from."""

    name: str
    purity: Purity
    source: str


def parse_purity(text: str) -> Purity | None:
    """The purity written so, such as `1:4:2` or `6:7:X`; None where it is none, or names a class there is not.

    Source:
        designation of ISO 8573-1:2010; class 0 is as agreed with the supplier, stricter than class 1.
    """
    found = _WRITTEN.fullmatch(text.strip())
    if found is None:
        return None
    numbers = [WORSE if sign in "xX" else int(sign) for sign in found.groups()]
    for group, number in zip(_GROUPS, numbers, strict=True):
        if number not in (0, WORSE) and number not in [row["number"] for row in _table()[group]]:
            return None
    return Purity(*numbers)


def water_class(dew_point_k: float, liquid_g_m3: float) -> int:
    """Class for water of air with a pressure dew point [K] and so much liquid water [g/m3 of free air].

    Source:
        ISO 8573-1:2010.
    """
    for row in _table()["water"]:
        dry = "dew_point_k" in row and dew_point_k <= row["dew_point_k"] + _SLACK_K
        if dry and liquid_g_m3 <= _SLACK_G_M3:
            return int(row["number"])
        if "liquid_g_m3" in row and liquid_g_m3 <= row["liquid_g_m3"] + _SLACK_G_M3:
            return int(row["number"])
    return WORSE


def air_uses() -> tuple[AirUse, ...]:
    """What compressed air is used for.

    Source:
        `purity.yaml`, each with its own.
    """
    uses = []
    for row in _table()["uses"]:
        purity = parse_purity(row["purity"])
        assert purity is not None
        uses.append(AirUse(row["name"], purity, row["source"]))
    return tuple(uses)


def air_use(name: str) -> AirUse:
    """The use of that name, which must be one of `air_uses`.

    Source:
        `purity.yaml`.
    """
    return next(use for use in air_uses() if use.name == name)


def purity_words(purity: Purity) -> str:
    """What a purity allows, in words.

    Source:
        ISO 8573-1:2010.
    """
    limits = zip(_GROUPS, (purity.particles, purity.water, purity.oil), strict=True)
    return "; ".join(_words(group, number) for group, number in limits)


def _words(group: str, number: int) -> str:
    row = next((row for row in _table()[group] if row["number"] == number), None)
    if row is None:
        return f"{group} not limited" if number >= WORSE else f"{group} as agreed with the supplier"
    if "dew_point_k" in row:
        return f"pressure dew point at most {row['dew_point_k'] - 273.15:.0f} °C"
    if "liquid_g_m3" in row:
        return f"liquid water at most {row['liquid_g_m3']:g} g/m3"
    if "oil_mg_m3" in row:
        return f"oil at most {row['oil_mg_m3']:g} mg/m3"
    if "mass_mg_m3" in row:
        return f"particles at most {row['mass_mg_m3']:g} mg/m3"
    counts = (f"{row[key]:,} of {size}".replace(",", " ") for key, size in _SIZES if key in row)
    return f"particles in a m3 at most {', '.join(counts)}"


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    content: dict[str, Any] = read_data_file("purity.yaml")
    return content
