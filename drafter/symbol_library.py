"""The symbol files read as `Symbol`s: geometry in modules becomes millimetres on paper.

`symbols/README.md` describes the form of a file. A fault in one is a fault of the program, not of
a site, and raises ValueError with the file and the key.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, get_args

from drafter.drawing import MODULE_MM, Anchor, Arc, Area, Circle, Line, Polyline, Port, Symbol, Text
from drafter.geometry import Point

Shape = Line | Polyline | Circle | Arc | Area | Text

_LAYER = ""
_SIDES = ("north", "east", "south", "west")


def folder() -> Traversable:
    """Return the folder of symbol files: inside the wheel, or beside the package in a checkout."""
    packed = files("drafter") / "symbols"
    return packed if packed.is_dir() else Path(__file__).parents[1] / "symbols"


@cache
def symbol_names() -> tuple[str, ...]:
    """Return the names of all symbols, sorted."""
    names = (file.name for file in folder().iterdir())
    return tuple(sorted(name.removesuffix(".yaml") for name in names if name.endswith(".yaml")))


@cache
def load(name: str) -> Symbol:
    """Return the symbol of a name; raises ValueError where there is none or its file is faulty."""
    if name not in symbol_names():
        near = get_close_matches(name, symbol_names(), n=1)
        raise ValueError(f"there is no symbol {name!r}" + (f"; did you mean {near[0]!r}?" if near else ""))
    return parse(name, (folder() / f"{name}.yaml").read_text(encoding="utf-8"))


def load_all() -> dict[str, Symbol]:
    """Return every symbol by its name, in the order of the names."""
    return {name: load(name) for name in symbol_names()}


def parse(name: str, text: str) -> Symbol:
    """Return the symbol that a file's text describes; raises ValueError naming the file and the key."""
    import yaml

    file = f"{name}.yaml"
    try:
        value = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    except yaml.YAMLError as fault:
        raise ValueError(f"{file}: not readable as YAML: {fault}") from None
    entry = _Entry(value, file, ("title", "meaning", "standard", "size", "ports", "shapes"))
    ports = tuple(_port(port) for port in entry.entries("ports", ("name", "at", "toward")))
    if len({port.name for port in ports}) < len(ports):
        raise ValueError(f"{file}: ports: two ports have the same name")
    width, height = entry.point("size")
    if min(width, height) <= 0:
        raise ValueError(f"{file}: size: must be greater than 0")
    shapes = tuple(_shape(shape, f"{file}: shapes[{i}]") for i, shape in enumerate(entry.list("shapes")))
    if not shapes:
        raise ValueError(f"{file}: shapes: must not be empty")
    return Symbol(
        name, entry.filled("title"), entry.filled("meaning"), _standard(entry), (width, height), ports, shapes
    )


class _Entry:
    """A mapping of a symbol file, with its place in the file for the errors."""

    def __init__(self, value: object, place: str, needed: tuple[str, ...], allowed: tuple[str, ...] = ()) -> None:
        if not isinstance(value, dict):
            raise ValueError(f"{place}: must be a mapping with the keys {', '.join(needed)}")
        for key in needed:
            if key not in value:
                raise ValueError(f"{place}: {key}: is missing")
        for key in value:
            if key not in needed + allowed:
                raise ValueError(f"{place}: {key}: is not a key that is used here")
        self._value: dict[str, Any] = value
        self.place = place

    def fault(self, key: str, what: str) -> ValueError:
        return ValueError(f"{self.place}: {key}: {what}")

    def text(self, key: str) -> str:
        value = self._value[key]
        if not isinstance(value, str):
            raise self.fault(key, f"must be a text, not {value!r}")
        return value

    def filled(self, key: str) -> str:
        if not self.text(key).strip():
            raise self.fault(key, "must not be empty")
        return self.text(key)

    def choice(self, key: str, choices: tuple[str, ...], default: str = "") -> Any:
        value = self._value.get(key, default)
        if value not in choices:
            raise self.fault(key, f"must be one of {', '.join(choices)}, not {value!r}")
        return value

    def flag(self, key: str) -> bool:
        value = self._value.get(key, False)
        if not isinstance(value, bool):
            raise self.fault(key, f"must be true or false, not {value!r}")
        return value

    def number(self, key: str) -> float:
        return self._number(self._value[key], key)

    def length(self, key: str) -> float:
        """A length above 0, from modules to millimetres."""
        value = self.number(key)
        if value <= 0:
            raise self.fault(key, f"must be greater than 0, not {value:g}")
        return value * MODULE_MM

    def point(self, key: str) -> Point:
        return self._point(self._value[key], key)

    def points(self, key: str, least: int, most: int | None = None) -> tuple[Point, ...]:
        values = self.list(key)
        if len(values) < least or (most is not None and len(values) > most):
            raise self.fault(key, f"must have {'exactly' if most == least else 'at least'} {least} points")
        return tuple(self._point(value, key) for value in values)

    def list(self, key: str) -> list[object]:
        value = self._value[key]
        if not isinstance(value, list):
            raise self.fault(key, f"must be a list, not {value!r}")
        return value

    def entry(self, key: str, needed: tuple[str, ...]) -> _Entry:
        return _Entry(self._value[key], f"{self.place}: {key}", needed)

    def entries(self, key: str, needed: tuple[str, ...]) -> tuple[_Entry, ...]:
        values = enumerate(self.list(key))
        return tuple(_Entry(value, f"{self.place}: {key}[{i}]", needed) for i, value in values)

    def _number(self, value: object, key: str) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise self.fault(key, f"must be a number, not {value!r}")
        return float(value)

    def _point(self, value: object, key: str) -> Point:
        if not isinstance(value, list) or len(value) != 2:
            raise self.fault(key, f"must be a pair of numbers, not {value!r}")
        x, y = (self._number(part, key) for part in value)
        return Point(x * MODULE_MM, y * MODULE_MM)


def _standard(entry: _Entry) -> str:
    standard = entry.entry("standard", ("document", "registration", "note"))
    document, registration, note = (standard.text(key) for key in ("document", "registration", "note"))
    if not document:
        if registration:
            raise standard.fault("registration", "needs a document")
        return standard.filled("note")
    based_on = " ".join(part for part in ("based on", document, registration) if part)
    return f"{based_on} ({note})" if note else based_on


def _port(entry: _Entry) -> Port:
    return Port(entry.filled("name"), entry.point("at"), entry.choice("toward", _SIDES))


def _line(entry: _Entry) -> Line:
    start, end = entry.points("line", 2, 2)
    return Line(_LAYER, start, end)


def _polyline(entry: _Entry) -> Polyline:
    closed = entry.flag("closed")
    return Polyline(_LAYER, entry.points("polyline", 3 if closed else 2), closed)


def _circle(entry: _Entry) -> Circle:
    return Circle(_LAYER, entry.point("circle"), entry.length("radius"), entry.flag("filled"))


def _arc(entry: _Entry) -> Arc:
    return Arc(_LAYER, entry.point("arc"), entry.length("radius"), entry.number("from"), entry.number("to"))


def _area(entry: _Entry) -> Area:
    return Area(_LAYER, entry.points("area", 3))


def _text(entry: _Entry) -> Text:
    anchor: Anchor = entry.choice("anchor", get_args(Anchor), "centre")
    return Text(_LAYER, entry.point("at"), entry.filled("text"), entry.length("height"), anchor)


# Each kind of shape: the keys it needs beside its own, the keys it may have, and what reads it.
_KINDS: dict[str, tuple[tuple[str, ...], tuple[str, ...], Callable[[_Entry], Shape]]] = {
    "line": ((), (), _line),
    "polyline": ((), ("closed",), _polyline),
    "circle": (("radius",), ("filled",), _circle),
    "arc": (("radius", "from", "to"), (), _arc),
    "area": ((), (), _area),
    "text": (("at", "height"), ("anchor",), _text),
}


def _shape(value: object, place: str) -> Shape:
    kinds = [kind for kind in _KINDS if isinstance(value, dict) and kind in value]
    if len(kinds) != 1:
        raise ValueError(f"{place}: must have exactly one of the keys {', '.join(_KINDS)}")
    needed, allowed, read = _KINDS[kinds[0]]
    return read(_Entry(value, place, (kinds[0], *needed), allowed))
