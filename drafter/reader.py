"""YAML text to frozen entries: every place kept, every finding collected, nothing raised.

A file is composed to nodes and never constructed, so YAML's guesses (``NO``, ``1:30``, ``010``) play no
part: every scalar stays the text that was written, and a `Form` says what it must be. An entry is a
frozen dataclass whose fields are declared with `key`; the same declarations give the JSON Schema.
"""

from __future__ import annotations

import dataclasses
import difflib
import math
import re
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, field
from typing import Any, ClassVar, Protocol, TypeVar

import yaml

from drafter.finding import Finding, Place, Severity
from drafter.lettering import missing
from drafter.quantity import Kind, QuantityError, parse

MOST_BYTES = 1_000_000
MOST_DEPTH = 20
LONGEST_TEXT = 200

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Absent:
    """Stands for a value that could not be read."""


ABSENT = _Absent()


@dataclass
class Reading:
    """The reading of one file: its name, and what was found so far.

    Attributes:
        imperial, metric: how many lengths were written in either system.
        broken: names of mapping entries, such as rooms, that were there but could not be read.
    """

    file: str
    findings: list[Finding] = field(default_factory=list)
    imperial: int = 0
    metric: int = 0
    broken: set[str] = field(default_factory=set)

    def place(self, node: yaml.Node) -> Place:
        return Place(self.file, node.start_mark.line + 1, node.start_mark.column + 1)

    def error(self, rule: str, place: Place, message: str, fix: str, subject: str = "") -> None:
        self.findings.append(Finding(rule, Severity.ERROR, place, message, subject, fix=fix))

    def warn(self, rule: str, place: Place, message: str, fix: str) -> None:
        self.findings.append(Finding(rule, Severity.WARNING, place, message, fix=fix))


class Form(Protocol):
    """What a value must look like: reads a node, and describes itself for messages and the schema."""

    @property
    def example(self) -> str: ...

    def read(self, node: yaml.Node, reading: Reading) -> Any: ...

    def schema(self) -> dict[str, Any]: ...


@dataclass(frozen=True, kw_only=True)
class Entry:
    """A mapping of the site file.

    Attributes:
        place: where it begins.
        places: where each value stands, by attribute name.
        defaults: names of the attributes that took their default.
    """

    ALONE: ClassVar[str] = ""
    """Key that a bare scalar stands for, where one may be written instead of the mapping."""

    place: Place = field(default_factory=Place)
    places: Mapping[str, Place] = field(default_factory=dict)
    defaults: tuple[str, ...] = ()

    def where(self, attribute: str) -> Place:
        """Return where an attribute's value stands, or the entry itself where it took its default."""
        return self.places.get(attribute, self.place)


AnyEntry = TypeVar("AnyEntry", bound=Entry)


def key(name: str, form: Form, default: Any = MISSING, meaning: str = "", source: str = "") -> Any:
    """Declare a field of an entry: its key in the file, its form, its default and where that comes from."""
    metadata = {"key": name, "form": form, "meaning": meaning, "source": source}
    return field(default=default, metadata=metadata)


def keys_of(entry: type[Entry]) -> dict[str, dataclasses.Field[Any]]:
    """Return the fields of an entry by their key in the file."""
    return {f.metadata["key"]: f for f in dataclasses.fields(entry) if "key" in f.metadata}


def read_entry(text: str | bytes, file: str, entry: type[AnyEntry]) -> tuple[AnyEntry | None, Reading]:
    """Read a whole file as one entry.

    Returns:
        The entry, or None where something it needs is missing or wrong, and the reading with all findings.
    """
    reading = Reading(file)
    node = _compose(text, reading)
    if node is None:
        return None, reading
    value = EntryForm(entry).read(node, reading)
    return (None if value is ABSENT else value), reading


def schema(entry: type[Entry], title: str) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of files that hold one such entry."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title} | EntryForm(
        entry
    ).schema()


def _compose(text: str | bytes, reading: Reading) -> yaml.Node | None:
    top = Place(reading.file, 1, 1)
    if len(text) > MOST_BYTES:
        reading.error("FILE004", top, f"the file is larger than {MOST_BYTES} bytes", "keep one site a file")
        return None
    try:
        if isinstance(text, bytes):
            text = text.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = text[: error.start].count(b"\n") + 1 if isinstance(text, bytes) else 1
        place = Place(reading.file, line, 1)
        reading.error("FILE001", place, "the file is not UTF-8 text", "save it as UTF-8 plain text")
        return None
    try:
        if not _plain(text, reading):
            return None
        node: yaml.Node | None = yaml.compose(text, Loader=_Loader)
    except yaml.YAMLError as error:
        _syntax(error, text, reading)
        return None
    if node is None:
        reading.error("FILE005", top, "the file is empty", "begin with a line such as 'site: My workshop'")
    return node


def _plain(text: str, reading: Reading) -> bool:
    """Walk the events first, so that no alias, tag or bottomless nesting reaches the composer."""
    depth, documents, fine = 0, 0, True
    for event in yaml.parse(text, Loader=_Loader):
        mark: Any = event.start_mark
        place = Place(reading.file, mark.line + 1, mark.column + 1)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            reading.error("FILE003", place, "anchors and aliases (& and *) are not used here", "write it out")
            fine = False
        elif tag := getattr(event, "tag", None):
            reading.error("FILE003", place, f"the tag {tag} is not used here", "write the plain value")
            fine = False
        if isinstance(event, yaml.DocumentStartEvent):
            documents += 1
            if documents > 1:
                reading.error("FILE005", place, "a second document starts here", "keep one site a file")
                return False
        depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
        if depth > MOST_DEPTH:
            reading.error("FILE004", place, f"nested more than {MOST_DEPTH} deep", "check the brackets")
            return False
    return fine


def _syntax(error: yaml.YAMLError, text: str, reading: Reading) -> None:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    if mark is None:
        offset = getattr(error, "position", 0)
        before = text[:offset]
        place = Place(reading.file, before.count("\n") + 1, offset - before.rfind("\n"))
        reading.error("FILE001", place, "there is a sign here that text files may not hold", "delete it")
        return
    lines = text.splitlines()
    row = min(mark.line, len(lines) - 1)
    place = Place(reading.file, row + 1, mark.column + 1 if row == mark.line else len(lines[row]) + 1)
    problem = getattr(error, "problem", "") or "the text breaks off"
    fix = "check colons, brackets, quotes and indentation of this line and the one before"
    if 0 <= row < len(lines) and "\t" in lines[row][: len(lines[row]) - len(lines[row].lstrip())]:
        problem, fix = "a tab is used to indent", "indent with spaces"
    elif "mapping values are not allowed" in problem:
        problem, fix = "a second ': ' in one value", "put quotes round a text that holds a colon"
    reading.error("FILE001", place, f"cannot be read: {problem}", fix)


def _scalar(node: yaml.Node, reading: Reading, expected: str) -> str | None:
    if isinstance(node, yaml.ScalarNode):
        value = str(node.value).strip()
        if value:
            return value
        reading.error("FILE005", reading.place(node), "there is no value here", f"write {expected}")
        return None
    shape = "a list" if isinstance(node, yaml.SequenceNode) else "a group of keys"
    reading.error(
        "FILE005", reading.place(node), f"{shape} stands where one value is wanted", f"write {expected}"
    )
    return None


def nearest(word: str, known: list[str]) -> str:
    """Return the known word nearest to a mistyped one, or an empty text where none is near."""
    found = difflib.get_close_matches(word.lower(), [name.lower() for name in known], 1, 0.6)
    return next((name for name in known if found and name.lower() == found[0]), "")


@dataclass(frozen=True)
class TextForm:
    """One line of free text."""

    example: str = "a text"
    longest: int = LONGEST_TEXT

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = _scalar(node, reading, self.example)
        if value is None:
            return ABSENT
        place = reading.place(node)
        if len(value) > self.longest:
            reading.error(
                "TEXT001", place, f"the text has {len(value)} signs", f"keep it to {self.longest} signs"
            )
            return ABSENT
        if any(not sign.isprintable() for sign in value):
            reading.warn("TEXT002", place, "the text has signs that do not print", "they are left out")
            value = "".join(sign if sign.isprintable() else " " for sign in value)
        if unknown := missing(value):
            reading.warn(
                "TEXT002", place, f"the drawings' face has no sign for {unknown!r}", "they are drawn as '?'"
            )
        return value

    def schema(self) -> dict[str, Any]:
        return {"type": ["string", "number"], "maxLength": self.longest}


@dataclass(frozen=True)
class DateForm:
    """A calendar date after ISO 8601."""

    example: str = "a date such as 2026-03-02"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        import datetime

        value = _scalar(node, reading, self.example)
        if value is None:
            return ABSENT
        try:
            if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", value):
                raise ValueError
            return datetime.date.fromisoformat(value).isoformat()
        except ValueError:
            reading.error("DATE001", reading.place(node), f"'{value}' is not a date", f"write {self.example}")
            return ABSENT

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}


@dataclass(frozen=True)
class WordForm:
    """One of a few words."""

    words: tuple[str, ...]

    @property
    def example(self) -> str:
        return "one of " + ", ".join(self.words)

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = _scalar(node, reading, self.example)
        if value is None:
            return ABSENT
        word = next((word for word in self.words if word.lower() == value.lower()), None)
        if word is not None:
            return word
        near = nearest(value, list(self.words))
        hint = f"did you mean '{near}'? " if near else ""
        reading.error(
            "WORD001", reading.place(node), f"'{value}' is not known here", f"{hint}write {self.example}"
        )
        return ABSENT

    def schema(self) -> dict[str, Any]:
        return {"enum": list(self.words)}


@dataclass(frozen=True)
class FlagForm:
    """Yes or no."""

    example: str = "yes or no"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = _scalar(node, reading, self.example)
        if value is None:
            return ABSENT
        if value.lower() in ("yes", "true", "no", "false"):
            return value.lower() in ("yes", "true")
        reading.error("WORD001", reading.place(node), f"'{value}' is neither yes nor no", "write yes or no")
        return ABSENT

    def schema(self) -> dict[str, Any]:
        return {"enum": ["yes", "no", True, False]}


@dataclass(frozen=True)
class CountForm:
    """A whole number within bounds."""

    low: int = 1
    high: int = 1000

    @property
    def example(self) -> str:
        return f"a whole number from {self.low} to {self.high}"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        value = _scalar(node, reading, self.example)
        if value is None:
            return ABSENT
        if re.fullmatch(r"-?\d{1,9}", value, re.ASCII) and self.low <= int(value) <= self.high:
            return int(value)
        reading.error("VAL001", reading.place(node), f"'{value}' is out of place", f"write {self.example}")
        return ABSENT

    def schema(self) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True)
class QuantityForm:
    """A quantity with its unit, within bounds given as texts; free-air flows keep their unit's basis."""

    kind: Kind
    low: str = ""
    high: str = ""

    @property
    def example(self) -> str:
        return self.kind.example

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        text = _scalar(node, reading, f"something like {self.example}")
        if text is None:
            return ABSENT
        place = reading.place(node)
        try:
            quantity = parse(text, self.kind)
        except QuantityError as error:
            reading.error("UNIT001", place, str(error), error.fix)
            return ABSENT
        if self.kind is Kind.LENGTH:
            reading.imperial += quantity.imperial
            reading.metric += not quantity.imperial
        low = parse(self.low, self.kind).value if self.low else -math.inf
        high = parse(self.high, self.kind).value if self.high else math.inf
        if not low - 1e-9 <= quantity.value <= high + 1e-9:
            bounds = f"from {self.low or 'anything'} to {self.high or 'anything'}"
            reading.error("VAL001", place, f"'{text}' is out of bounds", f"write something {bounds}")
            return ABSENT
        return quantity if self.kind is Kind.FREE_AIR else quantity.value

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "description": f"with its unit: {self.example}"}


@dataclass(frozen=True)
class ListForm:
    """A list of values of one form; a bare value counts as a list of one."""

    item: Form
    fewest: int = 0
    most: int = 2000

    @property
    def example(self) -> str:
        return f"a list [...] of {self.item.example}"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        nodes = node.value if isinstance(node, yaml.SequenceNode) else [node]
        if not self.fewest <= len(nodes) <= self.most:
            bounds = f"{self.fewest}" if self.fewest == self.most else f"{self.fewest} to {self.most}"
            reading.error(
                "FILE005",
                reading.place(node),
                f"{len(nodes)} values, {bounds} wanted",
                f"write {self.example}",
            )
            return ABSENT
        values = [self.item.read(each, reading) for each in nodes]
        good = tuple(value for value in values if value is not ABSENT)
        return ABSENT if len(good) < self.fewest else good

    def schema(self) -> dict[str, Any]:
        items = self.item.schema()
        return {
            "anyOf": [
                items,
                {"type": "array", "items": items, "minItems": self.fewest, "maxItems": self.most},
            ]
        }


@dataclass(frozen=True)
class NamedForm:
    """Names of the writer's own, each with a value of one form, kept in order."""

    item: Form
    names: str = r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,30}"
    fewest: int = 1

    @property
    def example(self) -> str:
        return f"a name, a colon and {self.item.example}"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        if not isinstance(node, yaml.MappingNode):
            reading.error(
                "FILE005", reading.place(node), "names with values are wanted here", f"write {self.example}"
            )
            return ABSENT
        values: dict[str, Any] = {}
        for name, (_, child) in _pairs(node, reading).items():
            value = ABSENT
            if re.fullmatch(self.names, name, re.ASCII):
                value = self.item.read(child, reading)
            else:
                reading.error(
                    "TEXT003",
                    reading.place(child),
                    f"'{name}' will not do as a name",
                    "use up to 31 letters, digits, spaces, dots and hyphens",
                )
            if value is ABSENT:
                reading.broken.add(name)
            else:
                values[name] = value
        if len(values) + len(reading.broken) < self.fewest:
            reading.error("FILE005", reading.place(node), "there is nothing here", f"write {self.example}")
        return values

    def schema(self) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": self.item.schema(), "minProperties": self.fewest}


@dataclass(frozen=True)
class EntryForm:
    """A group of known keys."""

    entry: type[Entry]

    @property
    def example(self) -> str:
        wanted = [name for name, f in keys_of(self.entry).items() if f.default is MISSING]
        return "{" + ", ".join(f"{name}: ..." for name in wanted or list(keys_of(self.entry))[:2]) + "}"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        fields = keys_of(self.entry)
        if isinstance(node, yaml.ScalarNode) and self.entry.ALONE and node.value:
            found: dict[str, tuple[yaml.Node, yaml.Node]] = {self.entry.ALONE: (node, node)}
        elif isinstance(node, yaml.MappingNode):
            found = _pairs(node, reading)
        else:
            reading.error(
                "FILE005", reading.place(node), "a group of keys is wanted here", f"write {self.example}"
            )
            return ABSENT
        values: dict[str, Any] = {"place": reading.place(node)}
        places: dict[str, Place] = {}
        bad = set()
        for name, (name_node, child) in found.items():
            if name not in fields:
                self._unknown(name, name_node, reading)
                continue
            attribute = fields[name].name
            places[attribute] = reading.place(child)
            value = fields[name].metadata["form"].read(child, reading)
            if value is ABSENT:
                bad.add(name)
            else:
                values[attribute] = value
        absent = [name for name, f in fields.items() if f.name not in values and f.default is MISSING]
        for name in absent:
            if name not in bad:
                form: Form = fields[name].metadata["form"]
                reading.error(
                    "KEY002",
                    reading.place(node),
                    f"'{name}' is missing",
                    f"add '{name}:' with {form.example}",
                )
        if absent:
            return ABSENT
        taken = tuple(f.name for f in fields.values() if f.name not in values)
        return self.entry(**values, places=places, defaults=taken)

    def _unknown(self, name: str, node: yaml.Node, reading: Reading) -> None:
        known = list(keys_of(self.entry))
        near = nearest(name, known)
        fix = f"did you mean '{near}'?" if near else "known here: " + ", ".join(known)
        reading.error("KEY001", reading.place(node), f"the key '{name}' is not known here", fix)

    def schema(self) -> dict[str, Any]:
        fields = keys_of(self.entry)
        group = {
            "type": "object",
            "properties": {
                name: f.metadata["form"].schema()
                | ({"description": f.metadata["meaning"]} if f.metadata["meaning"] else {})
                for name, f in fields.items()
            },
            "required": [name for name, f in fields.items() if f.default is MISSING],
            "additionalProperties": False,
        }
        return {"anyOf": [{"type": ["string", "number"]}, group]} if self.entry.ALONE else group


def _pairs(node: yaml.MappingNode, reading: Reading) -> dict[str, tuple[yaml.Node, yaml.Node]]:
    pairs: dict[str, tuple[yaml.Node, yaml.Node]] = {}
    for name_node, child in node.value:
        name = " ".join(str(name_node.value).split()) if isinstance(name_node, yaml.ScalarNode) else ""
        if not name:
            reading.error(
                "FILE005", reading.place(name_node), "this is no key", "write a plain word before the colon"
            )
        elif name in pairs:
            first = pairs[name][0].start_mark.line + 1
            reading.error(
                "FILE002",
                reading.place(name_node),
                f"'{name}' stands here a second time",
                f"keep one; the first is on line {first}",
            )
        else:
            pairs[name] = (name_node, child)
    return pairs
