"""The face that all drawings are lettered in, and the widths of texts set in it.

Fira Sans Condensed (SIL Open Font License 1.1) comes as a package from the registry. Heights are
heights of capitals, as ISO 3098 counts them, not sizes of the font's square.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Literal

Weight = Literal["regular", "bold"]

_FILES: dict[Weight, str] = {
    "regular": "FiraSansCondensed-Regular.ttf",
    "bold": "FiraSansCondensed-SemiBold.ttf",
}

# Signs that the face lacks, and the nearest that it has.
_STAND_INS = str.maketrans({"⌀": "Ø", "″": '"', "′": "'", "\u00a0": " ", "\u2011": "-", "\t": " "})


_UNITS = r"%|°[CF]|[mck]?m[²³]?|in|ft[²³]?|bar|psi|[kM]?Pa|l/s|l/min|l|cfm|gal|min|s|h|kJ|kWh?|W|kg|lb|dB"
_WORD = re.compile(rf"""\S*\d (?:\d+/\d+"?|(?:{_UNITS})(?![\w-]))\S*|\S+""")
"""A word, a number and its unit, or a whole number and its fraction."""


@dataclass(frozen=True, slots=True)
class Face:
    """One weight of the face.

    Attributes:
        file: the TrueType file.
        cap_height_em: height of a capital H as a share of the font size.
        descent_em: depth of the lowest common letters below the base line, as a share of the font size.
        advance_em: advance width of each character as a share of the font size.
    """

    file: Path
    cap_height_em: float
    descent_em: float
    advance_em: dict[int, float]


@cache
def face(weight: Weight = "regular") -> Face:
    """Return the face of a weight, read once from its font file."""
    from fontTools.ttLib import TTFont

    file = Path(str(files("fontpkg_fira_sans_condensed"))) / "files" / _FILES[weight]
    with TTFont(file, lazy=True) as font:
        em = font["head"].unitsPerEm
        widths = font["hmtx"].metrics
        advance = {code: widths[glyph][0] / em for code, glyph in font.getBestCmap().items()}
        capital = font["glyf"]["H"].yMax / em
        descent = -font["glyf"]["g"].yMin / em
    return Face(file, capital, descent, advance)


def font_size_mm(cap_height_mm: float, weight: Weight = "regular") -> float:
    """Return the font size [mm] whose capitals are ``cap_height_mm`` high."""
    return cap_height_mm / face(weight).cap_height_em


def text_width_mm(text: str, cap_height_mm: float, weight: Weight = "regular") -> float:
    """Return how wide a text is [mm] when its capitals are ``cap_height_mm`` high, without kerning."""
    advance = face(weight).advance_em
    unknown = advance[ord("?")]
    return font_size_mm(cap_height_mm, weight) * sum(advance.get(ord(sign), unknown) for sign in text)


def drawable(text: str) -> str:
    """Return the text with signs the face lacks replaced: by the nearest sign, or by a question mark."""
    known = face().advance_em
    return "".join(sign if ord(sign) in known else "?" for sign in text.translate(_STAND_INS) if sign.isprintable())


def missing(text: str) -> str:
    """Return the signs of a text that the face cannot show, each once, in order."""
    known = face().advance_em
    shown = text.translate(_STAND_INS)
    return "".join(dict.fromkeys(sign for sign in shown if sign.isprintable() and ord(sign) not in known))


def words_of(text: str) -> list[str]:
    """Return the words of a text; a number and its unit, and a number and its fraction, are one."""
    return _WORD.findall(text)


def wrapped(text: str, width_mm: float, cap_height_mm: float, weight: Weight = "regular") -> list[str]:
    """Return the text broken into lines no wider than ``width_mm``; a longer word is broken inside.

    Numbers stay with their units where there is room for both on a line.
    """
    lines: list[str] = []
    for paragraph in text.splitlines() or [""]:
        line = ""
        for word in words_of(paragraph):
            for part in _pieces(word, width_mm, cap_height_mm, weight):
                longer = f"{line} {part}" if line else part
                if line and text_width_mm(longer, cap_height_mm, weight) > width_mm:
                    lines.append(line)
                    longer = part
                line = longer
        lines.append(line)
    return lines


def _pieces(word: str, width_mm: float, cap_height_mm: float, weight: Weight) -> list[str]:
    if text_width_mm(word, cap_height_mm, weight) > width_mm and " " in word:
        return [piece for part in word.split() for piece in _pieces(part, width_mm, cap_height_mm, weight)]
    pieces = [""]
    for sign in word:
        if pieces[-1] and text_width_mm(pieces[-1] + sign, cap_height_mm, weight) > width_mm:
            pieces.append("")
        pieces[-1] += sign
    return pieces
