"""Bytes or text to one YAML node, refusing with a finding all that a plain file needs not hold."""

from __future__ import annotations

import re
from typing import Any

import yaml

from drafter.finding import Place
from drafter.reader.entry import Reading
from drafter.reader.syntax import explain

MOST_BYTES = 1_000_000
MOST_DEPTH = 20

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_LINE_END = re.compile(r"\r\n|\r|\n")
_NEVER_TEXT = re.compile("[^\\t\\n\\r -~\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_BLANKS = str.maketrans(dict.fromkeys("\u00a0\u2002\u2003\u2007\u2009\u202f\u3000", " "))


def source_lines(text: str | bytes) -> list[str]:
    """Return the lines of a file as places count them, whatever the file holds."""
    if isinstance(text, bytes):
        text = text.decode("utf-8-sig", "replace")
    return _LINE_END.split(text)


def compose(text: str | bytes, reading: Reading) -> yaml.Node | None:
    """Return the root node of a file, or None after a finding."""
    top = Place(reading.file, 1, 1)
    if len(text) > MOST_BYTES:
        reading.error("FILE004", top, f"the file is larger than {MOST_BYTES} bytes", "keep one site a file")
        return None
    plain = _decoded(text, reading) if isinstance(text, bytes) else text.removeprefix("\ufeff")
    if plain is None or not _is_text(plain, reading):
        return None
    plain = plain.translate(_BLANKS)
    try:
        if not _is_plain_yaml(plain, reading):
            return None
        node: yaml.Node | None = yaml.compose(plain, Loader=_Loader)
    except yaml.YAMLError as error:
        row, column, message, fix = explain(error, source_lines(plain))
        reading.error("FILE001", Place(reading.file, row + 1, column + 1), message, fix)
        return None
    if node is None or node.value == "":
        reading.error("FILE005", top, "the file is empty", "begin with a line such as 'site: My workshop'")
        return None
    return node


def _at_end_of(text: str, file: str) -> Place:
    lines = _LINE_END.split(text)
    return Place(file, len(lines), len(lines[-1]) + 1)


def _decoded(data: bytes, reading: Reading) -> str | None:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        place = Place(reading.file, 1, 1)
        reading.error("FILE001", place, "the file is UTF-16 text", "save it as UTF-8 plain text")
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        byte = data[error.start : error.start + 1]
        message = f"the file is not UTF-8 text: it holds the byte 0x{byte.hex()} here"
        if sign := byte.decode("cp1252", "ignore").strip():
            message += f", which older programs write for '{sign}'"
        place = _at_end_of(data[: error.start].decode("utf-8-sig"), reading.file)
        reading.error("FILE001", place, message, "save it as UTF-8 plain text")
        return None


def _is_text(text: str, reading: Reading) -> bool:
    found = _NEVER_TEXT.search(text)
    if found:
        message = f"the sign U+{ord(found[0]):04X} stands here, which a text file may not hold"
        reading.error("FILE001", _at_end_of(text[: found.start()], reading.file), message, "delete it")
    return found is None


def _is_plain_yaml(text: str, reading: Reading) -> bool:
    """Walk the events first, so that no alias, tag or bottomless nesting reaches the composer."""
    depth, documents, plain = 0, 0, True
    for event in yaml.parse(text, Loader=_Loader):
        mark: Any = event.start_mark
        place = Place(reading.file, mark.line + 1, mark.column + 1)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            fix = "write the value out; a text that begins with & or * goes between quotes"
            reading.error("FILE003", place, "anchors and aliases (& and *) are not used here", fix)
            plain = False
        elif tag := getattr(event, "tag", None):
            fix = "write the plain value; a text that begins with ! goes between quotes"
            reading.error("FILE003", place, f"tags such as {tag} are not used here", fix)
            plain = False
        documents += isinstance(event, yaml.DocumentStartEvent)
        if documents > 1:
            reading.error("FILE005", place, "a second document starts here", "keep one site a file")
            return False
        depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
        if depth > MOST_DEPTH:
            reading.error("FILE004", place, f"nested more than {MOST_DEPTH} deep", "check the brackets")
            return False
    return plain
