"""The one gate that every string passes on its way into a DXF file.

A DXF is lines of tags: a line feed in a string would begin a tag of its own, and ``%%``, ``\\``,
``{`` and ``^`` are codes inside texts. What a user wrote is therefore changed to harmless signs.
"""

from __future__ import annotations

import re

LONGEST = 250
"""Longest value [signs] of an attribute and longest line of a TEXT: at 255 the oldest release ends (from memory)."""

_HARMLESS = str.maketrans({"\\": "/", "{": "(", "}": ")", "^": "'"})
_COMMON_SIGNS = str.maketrans(dict(zip("⌀″′–—“”‘’•", "Ø\"'--\"\"''·", strict=True)) | {"…": "..."})
_SPELLED = {"°": "deg", "±": "+/-", "Ø": "dia", "⌀": "dia", "²": "2", "³": "3", "µ": "u", "×": "x", "·": " "}
_CONTROL_CODES = str.maketrans({"Ø": "%%c", "°": "%%d", "±": "%%p"})
_NO_NAME = re.compile(r"[^A-Z0-9_$-]+")
_NO_LAYOUT = re.compile(r"[<>/\":;?*|=`,]")


def dxf_text(text: str) -> str:
    """Return the text on one line without control signs, codes and half characters; nothing of it is cut."""
    plain = text.translate(_HARMLESS).translate(_COMMON_SIGNS)
    kept = "".join(sign if sign.isprintable() else " " if sign.isspace() else "" for sign in plain)
    return re.sub(r"%(?=[%Ø°±])", "% ", kept)


def dxf_value(text: str) -> str:
    """Return a text for data that programs read; what is longer than any word of a site file may be is cut.

    Signs of units are spelled in plain letters, since readers take what is no ASCII for signs of other alphabets.
    """
    return dxf_text("".join(_SPELLED.get(sign, sign) for sign in text))[:LONGEST]


def lines_of(text: str) -> list[str]:
    """Return a text in parts that each fit a TEXT with its control codes; each ends behind a blank if it can."""
    most = LONGEST if len(shown_text(text)) <= LONGEST else LONGEST // 3
    parts = []
    while len(text) > most:
        end = text.rfind(" ", 1, most) + 1 or most
        parts.append(text[:end])
        text = text[end:]
    return [*parts, text]


def shown_text(text: str) -> str:
    """Return a text for display, with the signs for diameter, degree and plus-minus as control codes."""
    return dxf_text(text).translate(_CONTROL_CODES)


def dxf_name(name: str) -> str:
    """Return a name for a layer, block, style or tag: ASCII capitals, digits, ``-``, ``_`` and ``$``."""
    return _NO_NAME.sub("_", name.upper()).lstrip("_-$")[:60] or "X"


def layout_names(names: list[str]) -> list[str]:
    """Return names for layouts: allowed signs only, no two alike whatever their case."""
    given: list[str] = []
    taken = {"MODEL"}
    for name in names:
        plain = _NO_LAYOUT.sub("-", dxf_text(name)).strip()[:60] or "SHEET"
        unique, count = plain, 2
        while unique.upper() in taken:
            unique, count = f"{plain}-{count}", count + 1
        taken.add(unique.upper())
        given.append(unique)
    return given
