"""YAML text to frozen entries: every place kept, every finding collected, nothing raised.

A file is composed to nodes and never constructed, so YAML's guesses (``NO``, ``1:30``, ``010``) play no
part: every scalar stays the text that was written, and a `Form` says what it must be. An entry is a
frozen dataclass whose fields are declared with `key`; the same declarations give the JSON Schema.
"""

from __future__ import annotations

from typing import Any

from drafter.reader.composing import compose, source_lines
from drafter.reader.entry import AnyEntry, Entry, Form, Reading, key, keys_of
from drafter.reader.forms import CountForm, DateForm, NumberForm, QuantityForm, TextForm, WordForm
from drafter.reader.groups import EntryForm, ListForm, NamedForm
from drafter.reader.spelling import letters, nearest, nearest_hint
from drafter.reader.unread import UNREAD, Unread, is_read

__all__ = [
    "UNREAD",
    "CountForm",
    "DateForm",
    "Entry",
    "EntryForm",
    "Form",
    "ListForm",
    "NamedForm",
    "NumberForm",
    "QuantityForm",
    "Reading",
    "TextForm",
    "Unread",
    "WordForm",
    "is_read",
    "key",
    "keys_of",
    "letters",
    "nearest",
    "nearest_hint",
    "read_entry",
    "schema",
    "source_lines",
]


def read_entry(text: str | bytes, file: str, entry: type[AnyEntry]) -> tuple[AnyEntry | None, Reading]:
    """Read a whole file as one entry.

    Returns:
        The entry, or None where the file is no group of keys, and the reading with all findings. Where
        these hold an error, values of the entry may be `UNREAD`.
    """
    reading = Reading(file)
    node = compose(text, reading)
    value = UNREAD if node is None else EntryForm(entry).read(node, reading)
    return (None if value is UNREAD else value), reading


def schema(entry: type[Entry], title: str) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of files that hold one such entry."""
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title}
    return head | EntryForm(entry).schema()
