"""Hostile words in every string of every example's drawing: the files hold the same things as with harmless ones."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from collections import Counter
from dataclasses import fields, is_dataclass, replace
from io import StringIO
from itertools import cycle
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from drafter.drawing import Drawing
from drafter.files import DxfChoice, dxf_makers

HOSTILE = (
    "A\n  0\nLINE\n  8\nHACK",
    "A\r\n  0\r\nSECTION",
    "nul\x00bell\x07escape\x1b[31m",
    "100%%d %%c50 %%%u",
    "\\PX\\H5;Y\\U+00D8 {\\fArial|b1;bold} ^J^M",
    "half \ud800 pair \udfff",
    "rtl \u202eevil\u202c \u2066x\u2069 \u200f",
    "\u2028line\u2029paragraph\u0085next",
    "<> ]]> <!-- -->",
    "\u6f22\u5b57 \u05e2\u05d1\u05e8\u05d9\u05ea \u00d8",
)
LONG = ("x" * 10_000,)

WORDS = {"text", "id", "words", "title", "subject", "author", "date", "scale_text", "meaning"}
RELEASES = ("R12", "R2010")


def spoiled(drawing: Drawing, words: tuple[str, ...]) -> Drawing:
    """The drawing with the words, one after another, wherever those of a site's description can come in."""
    source = cycle(words)

    def of(value: Any, name: str = "") -> Any:
        if name in WORDS and isinstance(value, str):
            return next(source) if value.strip() else value
        if name in ("attributes", "fields"):
            return tuple((tag, next(source)) for tag, _ in value)
        if isinstance(value, tuple) and not hasattr(value, "_fields"):
            return tuple(of(each) for each in value)
        if is_dataclass(value) and not isinstance(value, type):
            changed = {field.name: of(getattr(value, field.name), field.name) for field in fields(value)}
            return replace(value, **changed)
        return value

    symbols = drawing.symbols
    return replace(of(replace(drawing, symbols={})), symbols=symbols)


def written(drawing: Drawing, version: str) -> dict[str, bytes]:
    return {name: make() for name, make in dxf_makers(drawing, DxfChoice(version, "plan and elevations")).items()}


def skeleton(data: bytes, version: str) -> Counter[tuple[str, str]]:
    """How many entities of each kind stand on each layer, anywhere in the file; it is read strictly."""
    document: Any = ezdxf.read(StringIO(data.decode("cp1252" if version in ("R12", "R2000") else "utf-8")))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    return Counter((entity.dxftype(), entity.dxf.get("layer", "")) for entity in document.entitydb.values()
                   if entity.dxf.is_supported("layer"))  # fmt: skip


@pytest.mark.parametrize("version", RELEASES)
def test_hostile_words_change_nothing_but_words(version: str, example: Any) -> None:
    hostile, harmless = (spoiled(example.drawing, words) for words in (HOSTILE, ("harmless",)))
    for (name, data), (_, wanted) in zip(
        written(hostile, version).items(), written(harmless, version).items(), strict=True
    ):
        assert skeleton(data, version) == skeleton(wanted, version), name
        assert b"\nHACK\n" not in data


@pytest.mark.parametrize(("name", "version"), [("elevations.dxf", "R12"), ("space.dxf", "R2010")])
def test_endless_words_change_nothing_but_texts(name: str, version: str, example: Any) -> None:
    """No file of a site says any: the reader ends words at 200 signs."""
    choice = DxfChoice(version, "plan and elevations")
    found, few = (
        skeleton(dxf_makers(spoiled(example.drawing, words), choice)[name](), version)
        for words in (LONG, ("harmless",))
    )
    others = [{key: count for key, count in each.items() if key[0] != "TEXT"} for each in (found, few)]
    assert others[0] == others[1]
    assert few.keys() == found.keys()
    assert few <= found


def digest(path: Path) -> str:
    """One number for all files of an example, with hostile words and with its own."""
    from drafter.pipeline import compose_drawing, design

    drawing = compose_drawing(design(path.read_bytes(), path.name))
    whole = hashlib.sha256()
    for version in RELEASES:
        for each in (drawing, spoiled(drawing, HOSTILE)):
            for name, data in written(each, version).items():
                whole.update(name.encode() + data)
    return whole.hexdigest()


def test_another_process_writes_the_same(example: Any, tmp_path: Path) -> None:
    """Without assertions, with other hashes, in another time zone and folder, for somebody else."""
    surroundings = {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LANG": "C", "USER": "somebody"}
    script = (
        "import runpy, sys; from pathlib import Path; print(runpy.run_path(sys.argv[1])['digest'](Path(sys.argv[2])))"
    )
    command = [sys.executable, "-O", "-c", script, __file__, str(example.path)]
    done = subprocess.run(
        command, cwd=tmp_path, env=os.environ | surroundings, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == digest(example.path)


def test_files_name_no_user_no_machine_and_no_folder(example: Any) -> None:
    for data in example.contents().values():
        for word in (str(Path.home()), str(Path.cwd()), os.uname().nodename):
            assert len(word) < 3 or word.encode() not in data
