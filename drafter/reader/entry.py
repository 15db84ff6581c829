"""What a file is read into: entries with their places, declared by keys and forms; and the reading itself."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, field
from typing import Any, ClassVar, Protocol, TypeVar

import yaml

from drafter.finding import Finding, Place, Severity
from drafter.reader.spelling import printable


@dataclass
class Reading:
    """The reading of one file: its name, and what was found so far.

    Attributes:
        imperial, metric: how many lengths were written in either system.
    """

    file: str
    findings: list[Finding] = field(default_factory=list)
    imperial: int = 0
    metric: int = 0

    def place(self, node: yaml.Node) -> Place:
        return Place(self.file, node.start_mark.line + 1, node.start_mark.column + 1)

    def error(self, rule: str, place: Place, message: str, fix: str, subject: str = "") -> None:
        self._add(Severity.ERROR, rule, place, message, fix, subject)

    def warn(self, rule: str, place: Place, message: str, fix: str) -> None:
        self._add(Severity.WARNING, rule, place, message, fix, "")

    def _add(self, severity: Severity, rule: str, place: Place, message: str, fix: str, subject: str) -> None:
        self.findings.append(Finding(rule, severity, place, printable(message), printable(subject), fix=printable(fix)))


class Form(Protocol):
    """What a value must look like: reads a node, and describes itself for messages and the schema."""

    @property
    def sample(self) -> str:
        """Something that may be written, as it stands in a file."""

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        """Return the value, or `UNREAD` after a finding."""

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
