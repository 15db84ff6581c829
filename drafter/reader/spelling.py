"""Finding the word that was meant, and showing what was written."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

MOST_SHOWN = 40


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known word nearest to a mistyped one, or an empty text where none is near."""
    by_letters = {letters(name): name for name in known}
    found = difflib.get_close_matches(letters(word[:MOST_SHOWN]), by_letters, 1, 0.6)
    return by_letters[found[0]] if found else ""


def nearest_hint(word: str, known: Iterable[str]) -> str:
    """Return the question whether the nearest known word was meant, ending in a space; or an empty text."""
    near = nearest(word, known)
    return f"did you mean '{near}'? " if near else ""


def letters(word: str) -> str:
    """Return a word by which spellings that differ in capitals, spaces, hyphens and underscores are one."""
    return re.sub(r"[\s_-]", "", word.lower())


def quoted(text: str) -> str:
    """Return a text as messages show it: between quotes, cut short where it is long."""
    return f"'{text[:MOST_SHOWN]}{'...' if len(text) > MOST_SHOWN else ''}'"


def printable(text: str) -> str:
    """Return a text with the signs that do not print written as their numbers."""
    return "".join(sign if sign.isprintable() else f"<U+{ord(sign):04X}>" for sign in text)
