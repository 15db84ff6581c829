"""The forms of values that hold others: lists, names of the writer's own, groups of known keys."""

from __future__ import annotations

import dataclasses
import re
from dataclasses import MISSING, dataclass
from itertools import pairwise
from typing import Any, TypeAlias

import yaml

from drafter.finding import Place
from drafter.reader.entry import Entry, Form, Reading, keys_of
from drafter.reader.spelling import letters, nearest, quoted
from drafter.reader.unread import UNREAD

Pairs: TypeAlias = dict[str, tuple[yaml.Node, yaml.Node]]
Given: TypeAlias = dict[str, tuple[yaml.Node, yaml.Node] | None]

_BEFORE_COMMA = re.compile(r"[+-]?\d+", re.ASCII)
_AFTER_COMMA = re.compile(r"\d+\s*\D*", re.ASCII)


@dataclass(frozen=True)
class ListForm:
    """A list of values of one form; a bare value counts as a list of one."""

    item: Form
    fewest: int = 0
    most: int = 500

    @property
    def sample(self) -> str:
        return "[" + ", ".join([self.item.sample] * max(1, self.fewest)) + "]"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        nodes = node.value if isinstance(node, yaml.SequenceNode) else [node]
        if not self.fewest <= len(nodes) <= self.most:
            self._wrong_number(node, nodes, reading)
            return UNREAD
        values = tuple(self.item.read(each, reading) for each in nodes)
        fixed = self.fewest == self.most
        return UNREAD if fixed and any(value is UNREAD for value in values) else values

    def _wrong_number(self, node: yaml.Node, nodes: list[yaml.Node], reading: Reading) -> None:
        for first, second in pairwise(nodes):
            if _comma_splits(first, second):
                _split_by_comma(f"{first.value},{second.value}", first, reading)
                return
        if not nodes:
            message = "the list is empty"
        else:
            wanted = self.fewest if len(nodes) < self.fewest else self.most
            at = "" if self.fewest == self.most else "at least " if wanted == self.fewest else "at most "
            stand = "value stands" if len(nodes) == 1 else "values stand"
            message = f"{len(nodes)} {stand} where {at}{wanted} are wanted"
        reading.error("FILE005", reading.place(node), message, f"write something like {self.sample}")

    def schema(self) -> dict[str, Any]:
        items = self.item.schema()
        many = {"type": "array", "items": items, "minItems": self.fewest, "maxItems": self.most}
        return many if self.fewest > 1 else {"anyOf": [items, many]}


@dataclass(frozen=True)
class NamedForm:
    """Names of the writer's own, each with a value of one form, kept in order.

    A name whose value could not be read stays, with `UNREAD`.
    """

    item: Form
    name_sample: str
    pattern: str = r"[^\W_][\w .&'-]{0,30}"
    names: str = "up to 31 letters, digits, spaces, dots and hyphens, beginning with a letter or digit"
    fewest: int = 1
    most: int = 60

    @property
    def sample(self) -> str:
        return f"{{{self.name_sample}: {self.item.sample}}}"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        if not isinstance(node, yaml.MappingNode):
            message = "names with their values are wanted here"
            reading.error("FILE005", reading.place(node), message, f"write something like {self.sample}")
            return UNREAD
        pairs = _pairs(node, reading)
        self._alike(pairs, reading)
        values = {name: self._value(name, *nodes, reading) for name, nodes in pairs.items()}
        if not self.fewest <= len(values) <= self.most:
            message = f"{len(values) or 'no'} names stand here where {self.fewest} to {self.most} are wanted"
            reading.error("FILE005", reading.place(node), message, f"write something like {self.sample}")
            return UNREAD
        return values

    def _alike(self, pairs: Pairs, reading: Reading) -> None:
        seen: dict[str, str] = {}
        for name, (name_node, _) in pairs.items():
            first = seen.setdefault(letters(name), name)
            if first != name:
                message = f"the names {quoted(first)} and {quoted(name)} are too much alike"
                fix = "let them differ in more than capitals, spaces and hyphens"
                reading.error("FILE002", reading.place(name_node), message, fix)

    def _value(self, name: str, name_node: yaml.Node, child: yaml.Node, reading: Reading) -> Any:
        if not re.fullmatch(self.pattern, name):
            message = f"{quoted(name)} will not do as a name"
            reading.error("TEXT003", reading.place(name_node), message, f"use {self.names}")
            return UNREAD
        if _is_empty(child):
            _without_value(name, name_node, self.item.sample, "delete the name", reading)
            return UNREAD
        return self.item.read(child, reading)

    def schema(self) -> dict[str, Any]:
        return {
            "type": "object",
            "additionalProperties": self.item.schema(),
            "minProperties": self.fewest,
            "maxProperties": self.most,
        }


@dataclass(frozen=True)
class EntryForm:
    """A group of known keys; what could not be read of it is `UNREAD`."""

    entry: type[Entry]

    @property
    def sample(self) -> str:
        wanted = [name for name, f in keys_of(self.entry).items() if f.default is MISSING]
        return "{" + ", ".join(f"{name}: ..." for name in wanted or list(keys_of(self.entry))[:2]) + "}"

    def read(self, node: yaml.Node, reading: Reading) -> Any:
        if isinstance(node, yaml.ScalarNode) and self.entry.ALONE and not _is_empty(node):
            pairs: Pairs = {self.entry.ALONE: (node, node)}
        elif isinstance(node, yaml.MappingNode):
            pairs = _pairs(node, reading)
        else:
            self._no_group(node, reading)
            return UNREAD
        fields = keys_of(self.entry)
        given = self._given(pairs, reading)
        values: dict[str, Any] = {}
        places: dict[str, Place] = {}
        for name, nodes in given.items():
            attribute = fields[name].name
            values[attribute] = UNREAD if nodes is None else self._value(name, *nodes, reading)
            if nodes is not None:
                places[attribute] = reading.place(nodes[1])
        self._missing(node, given, reading)
        absent = [f for f in fields.values() if f.name not in values]
        values |= {f.name: UNREAD for f in absent if f.default is MISSING}
        taken = tuple(f.name for f in absent if f.default is not MISSING)
        return self.entry(place=reading.place(node), places=places, defaults=taken, **values)

    def _value(self, name: str, name_node: yaml.Node, child: yaml.Node, reading: Reading) -> Any:
        form: Form = keys_of(self.entry)[name].metadata["form"]
        if _is_empty(child):
            needed = keys_of(self.entry)[name].default is MISSING
            _without_value(name, name_node, form.sample, "" if needed else "delete the key", reading)
            return UNREAD
        return form.read(child, reading)

    def _missing(self, node: yaml.Node, given: Given, reading: Reading) -> None:
        for name, declared in keys_of(self.entry).items():
            if name not in given and declared.default is MISSING:
                form: Form = declared.metadata["form"]
                fix = f"add '{name}:', something like '{name}: {form.sample}'"
                reading.error("KEY002", reading.place(node), f"'{name}' is missing", fix)

    def _no_group(self, node: yaml.Node, reading: Reading) -> None:
        place = reading.place(node)
        name, colon, value = str(node.value).partition(":") if _is_scalar(node) else ("", "", "")
        if colon and name.strip() in keys_of(self.entry):
            fix = f"write '{name.strip()}: {value.strip()}'"
            reading.error("KEY003", place, "there is no space after the colon", fix)
            return
        message = "a group of keys and values is wanted here"
        reading.error("FILE005", place, message, f"write something like {self.sample}")

    def _given(self, pairs: Pairs, reading: Reading) -> Given:
        """Return what stands for each known key: its nodes, or None where it was spoilt."""
        known = keys_of(self.entry)
        given: Given = {}
        previous = ""
        for name, (name_node, child) in pairs.items():
            if name in known:
                given[name] = name_node, child
                previous = name
                continue
            before = pairs.get(previous)
            if before and _is_empty(child) and _comma_splits(before[1], name_node):
                _split_by_comma(f"{before[1].value},{name}", before[1], reading)
                given[previous] = None
            else:
                meant, alike = self._unknown(name, name_node, child, pairs, reading)
                if meant and meant not in pairs and meant not in given:
                    given[meant] = (name_node, child) if alike else None
        return given

    def _unknown(
        self, name: str, name_node: yaml.Node, child: yaml.Node, pairs: Pairs, reading: Reading
    ) -> tuple[str, bool]:
        """Report an unknown key; return the known one that was meant, and whether its value can be used."""
        known = list(keys_of(self.entry))
        place = reading.place(name_node)
        before, colon, value = name.partition(":")
        if colon and before.strip() in known and _is_empty(child):
            fix = f"write '{before.strip()}: {value.strip()}'"
            reading.error("KEY003", place, "there is no space after the colon", fix)
            return before.strip(), False
        meant = nearest(name, known)
        fix = f"did you mean '{meant}'?" if meant else "known here: " + ", ".join(known)
        if meant in pairs:
            fix += f" That stands on line {pairs[meant][0].start_mark.line + 1} already; keep one"
        reading.error("KEY001", place, f"the key {quoted(name)} is not known here", fix)
        return meant, letters(name) == letters(meant)

    def schema(self) -> dict[str, Any]:
        fields = keys_of(self.entry)
        group = {
            "type": "object",
            "properties": {name: _property(declared) for name, declared in fields.items()},
            "required": [name for name, f in fields.items() if f.default is MISSING],
            "additionalProperties": False,
        }
        return {"anyOf": [{"type": ["string", "number"]}, group]} if self.entry.ALONE else group


def _property(declared: dataclasses.Field[Any]) -> dict[str, Any]:
    form: Form = declared.metadata["form"]
    described = form.schema()
    texts = [declared.metadata["meaning"], described.get("description", "")]
    text = "; ".join(each for each in texts if each)
    return described | ({"description": text} if text else {})


def _pairs(node: yaml.MappingNode, reading: Reading) -> Pairs:
    pairs: Pairs = {}
    for name_node, child in node.value:
        name = " ".join(str(name_node.value).split()) if _is_scalar(name_node) else ""
        place = reading.place(name_node)
        if not name:
            reading.error("FILE005", place, "this is no key", "write a plain word before the colon")
        elif name in pairs:
            fix = f"keep one; the first is on line {pairs[name][0].start_mark.line + 1}"
            reading.error("FILE002", place, f"{quoted(name)} stands here a second time", fix)
        else:
            pairs[name] = (name_node, child)
    return pairs


def _without_value(name: str, name_node: yaml.Node, sample: str, otherwise: str, reading: Reading) -> None:
    fix = f"write something like '{name}: {sample}'" + (f", or {otherwise}" if otherwise else "")
    reading.error("KEY004", reading.place(name_node), f"{quoted(name)} has no value", fix)


def _is_scalar(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode)


def _is_empty(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode) and not node.value and not node.style


def _comma_splits(first: yaml.Node, second: yaml.Node) -> bool:
    """Whether a decimal comma in a flow list or group has made two values of one number."""
    return (
        isinstance(first, yaml.ScalarNode)
        and isinstance(second, yaml.ScalarNode)
        and _BEFORE_COMMA.fullmatch(first.value) is not None
        and _AFTER_COMMA.fullmatch(second.value) is not None
    )


def _split_by_comma(number: str, node: yaml.Node, reading: Reading) -> None:
    fix = f"write a decimal point: {number.replace(',', '.')}"
    reading.error("UNIT001", reading.place(node), f"'{number}' has a comma in the number", fix)
