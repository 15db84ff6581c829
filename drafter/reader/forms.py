"""The forms of single values: text, date, word, whole number, quantity."""

from __future__ import annotations

import datetime
import math
import re
from dataclasses import dataclass
from typing import Any

import yaml

from drafter.lettering import missing
from drafter.quantity import Kind, QuantityError, parse
from drafter.reader.entry import Reading
from drafter.reader.spelling import letters, nearest_hint, quoted
from drafter.reader.unread import UNREAD

LONGEST_TEXT = 200
SLACK = 1e-9


def scalar(node: yaml.Node, reading: Reading, sample: str) -> str | None:
    """Return the text of a node, or None after a finding where it is empty or no single value."""
    value = str(node.value).strip() if isinstance(node, yaml.ScalarNode) else ""
    if not value:
        shape = "a list" if isinstance(node, yaml.SequenceNode) else "a group of keys"
        shape = "nothing" if isinstance(node, yaml.ScalarNode) else shape
        message = f"{shape} stands where one value is wanted"
        reading.error("FILE005", reading.place(node), message, f"write something like {sample}")
        return None
    return value


@dataclass(frozen=True)
class TextForm:
    """One line of free text."""

    sample: str = "a text"
    longest: int = LONGEST_TEXT

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = scalar(node, reading, self.sample)
        if value is None:
            return UNREAD
        place = reading.place(node)
        if len(value) > self.longest:
            message, fix = f"the text has {len(value)} signs", f"keep it to {self.longest} signs"
            reading.error("TEXT001", place, message, fix)
            return UNREAD
        if any(not sign.isprintable() for sign in value):
            reading.warn("TEXT002", place, "the text has signs that do not print", "leave them out")
            value = "".join(sign if sign.isprintable() else " " for sign in value)
        if unknown := missing(value):
            message = f"the drawings' face has no sign for '{unknown}'"
            reading.warn("TEXT002", place, message, "write it otherwise; as it is, '?' is drawn")
        return value

    def schema(self) -> dict[str, Any]:
        return {"type": ["string", "number"], "maxLength": self.longest}


@dataclass(frozen=True)
class DateForm:
    """A calendar date after ISO 8601."""

    sample: str = "2026-03-02"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = scalar(node, reading, self.sample)
        if value is None:
            return UNREAD
        try:
            if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", value, re.ASCII):
                raise ValueError
            return datetime.date.fromisoformat(value).isoformat()
        except ValueError:
            fix = f"write year, month and day, such as {self.sample}"
            reading.error("DATE001", reading.place(node), f"{quoted(value)} is no date", fix)
            return UNREAD

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}


@dataclass(frozen=True)
class WordForm:
    """One of a few words, in capitals or not, with spaces and hyphens or without."""

    words: tuple[str, ...]

    @property
    def sample(self) -> str:
        return self.words[0]

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = scalar(node, reading, self.sample)
        if value is None:
            return UNREAD
        word = next((word for word in self.words if letters(word) == letters(value)), None)
        if word is not None:
            return word
        fix = f"{nearest_hint(value, self.words)}write one of {', '.join(self.words)}"
        reading.error("WORD001", reading.place(node), f"{quoted(value)} is not known here", fix)
        return UNREAD

    def schema(self) -> dict[str, Any]:
        return {"enum": list(self.words)}


@dataclass(frozen=True)
class CountForm:
    """A whole number within bounds."""

    low: int = 1
    high: int = 1000

    @property
    def sample(self) -> str:
        return str(self.low)

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = scalar(node, reading, self.sample)
        if value is None:
            return UNREAD
        if re.fullmatch(r"-?\d{1,9}", value, re.ASCII) and self.low <= int(value) <= self.high:
            return int(value)
        wanted = f"a whole number from {self.low} to {self.high}"
        reading.error("VAL001", reading.place(node), f"{quoted(value)} is not {wanted}", f"write {wanted}")
        return UNREAD

    def schema(self) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True)
class NumberForm:
    """A plain number within bounds."""

    low: float
    high: float

    @property
    def sample(self) -> str:
        return "4.20"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = scalar(node, reading, self.sample)
        if value is None:
            return UNREAD
        if re.fullmatch(r"-?\d{1,9}(\.\d{1,9})?", value, re.ASCII) and self.low <= float(value) <= self.high:
            return float(value)
        wanted = f"a plain number from {self.low:g} to {self.high:g}"
        reading.error("VAL001", reading.place(node), f"{quoted(value)} is not {wanted}", f"write {wanted}")
        return UNREAD

    def schema(self) -> dict[str, Any]:
        return {"type": "number", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True)
class QuantityForm:
    """A quantity with its unit, within bounds given as texts; free-air flows keep their unit's basis.

    Attributes:
        word: may stand in the place of the quantity, and is read as 0.
    """

    kind: Kind
    low: str = ""
    high: str = ""
    word: str = ""

    @property
    def sample(self) -> str:
        return self.kind.sample

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        text = scalar(node, reading, self.kind.example)
        if text is None:
            return UNREAD
        place = reading.place(node)
        if self.word and text.strip().lower() == self.word:
            return 0.0
        try:
            quantity = parse(text, self.kind)
        except QuantityError as error:
            reading.error("UNIT001", place, str(error), error.fix)
            return UNREAD
        if self.kind is Kind.LENGTH:
            reading.imperial += quantity.imperial
            reading.metric += not quantity.imperial
        called = self._called(text, quantity.value)
        low = parse(self.low, self.kind).value if self.low else -math.inf
        high = parse(self.high, self.kind).value if self.high else math.inf
        if quantity.value < low - SLACK:
            reading.error("VAL001", place, f"{called} is too small", f"write {self.low} or more")
            return UNREAD
        if quantity.value > high + SLACK:
            reading.error("VAL001", place, f"{called} is too large", f"write {self.high} or less")
            return UNREAD
        return quantity if self.kind is Kind.FREE_AIR else quantity.value

    def _called(self, text: str, value: float) -> str:
        """The text as written, and a temperature in kelvin in degrees too: a difference is easily taken for one."""
        in_kelvin = self.kind is Kind.TEMPERATURE and text.strip().endswith("K")
        return f"{quoted(text)}, which is {value - 273.15:.0f} degC," if in_kelvin else quoted(text)

    def schema(self) -> dict[str, Any]:
        pattern = r"^\s*[-+−]?[.\d½¼¾⅛⅜⅝⅞].*[A-Za-z%°'\"′″:]"
        return {
            "type": "string",
            "pattern": f"{pattern}|^{self.word}$" if self.word else pattern,
            "description": f"with its unit: {self.kind.example}" + (f", or {self.word}" if self.word else ""),
        }
