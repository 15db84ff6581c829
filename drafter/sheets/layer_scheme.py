"""A small file that gives layers the names and looks another office has for them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from drafter.drawing import Layer, LineKind, Scheme
from drafter.finding import Finding, Severity, errors
from drafter.line_widths import nearest_widths
from drafter.quantity import Kind
from drafter.reader import (
    CountForm,
    Entry,
    EntryForm,
    NamedForm,
    QuantityForm,
    Reading,
    TextForm,
    WordForm,
    is_read,
    key,
    nearest_hint,
    read_entry,
)
from drafter.sheets.layers import Layers

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_$-]{0,59}")
_TAKEN = ("0", "DEFPOINTS")
"""Names that CAD programs keep for purposes of their own."""

_KINDS = {kind.name.lower(): kind for kind in LineKind}


@dataclass(frozen=True, kw_only=True)
class OtherLayer(Entry):
    """What stands in place of a layer; what is left out stays as it is."""

    name: str = key("name", TextForm("AIR-MAIN", 60), "")
    colour: int = key("colour", CountForm(1, 255), 0, "number in the usual table of 255 colours")
    width_m: float = key("width", QuantityForm(Kind.LENGTH, "0.05 mm", "2.11 mm"), 0.0, "of its lines on paper")
    line: str = key("line", WordForm(tuple(_KINDS)), "")


@dataclass(frozen=True, kw_only=True)
class LayerFile(Entry):
    """A whole file."""

    layers: Mapping[str, OtherLayer] = key(
        "layers",
        NamedForm(
            EntryForm(OtherLayer), "M-CMPA-PIPE-MAIN", r"[A-Za-z0-9_$-]{1,60}", "names of the drawing's layers", 1, 99
        ),
    )


def read_scheme(text: bytes, file: str, letter: str) -> tuple[Scheme | None, tuple[Finding, ...]]:
    """Read a file that maps layers.

    Args:
        letter: of the discipline, which the names of the drawing's layers begin with.

    Returns:
        The scheme, or None where an error was found, and all findings: LAYER001 for a layer that the drawing does
        not have, LAYER002 for a name that some readers refuse, LAYER003 for one name given to layers that differ,
        LAYER004 for a width that DXF files do not know.
    """
    entry, reading = read_entry(text, file, LayerFile)
    known = {layer.name: layer for layer in Layers(letter).definitions()}
    made: dict[str, Layer] = {}
    if entry is not None and is_read(entry.layers):
        for name, other in entry.layers.items():
            if not is_read(other):
                continue
            own = known.get(name.upper())
            if own is None:
                hint = nearest_hint(name.upper(), known)
                message, fix = f"the drawing has no layer '{name}'", f"{hint}its layers: {', '.join(known)}"
                reading.findings.append(Finding("LAYER001", Severity.ERROR, other.place, message, name, fix=fix))
            elif _is_fit(other, name, reading):
                made[own.name] = _made(own, other)
    _refuse_unlike(known, made, entry, reading)
    findings = tuple(sorted(reading.findings, key=lambda finding: finding.order))
    return (None if errors(findings) else Scheme(made)), findings


def _is_fit(other: OtherLayer, name: str, reading: Reading) -> bool:
    if not all(map(is_read, (other.name, other.colour, other.width_m, other.line))):
        return False
    if other.name and (not _NAME.fullmatch(other.name) or other.name.upper() in _TAKEN):
        message = f"'{other.name}' is no name for a layer that every program reads"
        fix = "write letters without accents, digits, hyphens and underscores, beginning with a letter or digit"
        reading.findings.append(Finding("LAYER002", Severity.ERROR, other.where("name"), message, name, fix=fix))
        return False
    width_mm = other.width_m * 1000.0
    near = nearest_widths(width_mm)
    if width_mm and len(near) > 1:
        message = f"DXF files know no lines {width_mm:.3g} mm wide"
        fix = f"write width: {near[0]:g} mm, or {near[1]:g} mm"
        reading.findings.append(Finding("LAYER004", Severity.ERROR, other.where("width"), message, name, fix=fix))
        return False
    return True


def _refuse_unlike(
    known: Mapping[str, Layer], made: Mapping[str, Layer], entry: LayerFile | None, reading: Reading
) -> None:
    """Find layers brought together under one name that do not look alike, or of which not all are printed."""
    first: dict[str, str] = {}
    written = {name: made.get(name, layer) for name, layer in known.items()}
    for name in sorted(written, key=lambda name: name in made):
        other = first.setdefault(written[name].name, name)
        if _look(written[other], known[other]) != _look(written[name], known[name]):
            assert entry is not None
            place = next(value.place for key, value in entry.layers.items() if key.upper() == name)
            message = f"'{written[name].name}' is the name of {other} too, which looks otherwise"
            fix = "write the same colour, width and line for both, or another name"
            if known[other].plots != known[name].plots:
                message, fix = message.replace("looks", "is printed"), "write another name"
            reading.findings.append(Finding("LAYER003", Severity.ERROR, place, message, name, fix=fix))


def _look(written: Layer, own: Layer) -> tuple[object, ...]:
    return written.colour, written.width_mm, written.line_kind, own.plots, own.shown


def _made(own: Layer, other: OtherLayer) -> Layer:
    return Layer(
        (other.name or own.name).upper(),
        own.meaning,
        nearest_widths(other.width_m * 1000.0)[0] if other.width_m else own.width_mm,
        _KINDS[other.line] if other.line else own.line_kind,
        other.colour or own.colour,
        own.grey,
        flat_colour=0 if other.colour else own.flat_colour,
    )
