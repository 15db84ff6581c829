"""Every example as it is designed, drawn and written; each file is made once, when a test first asks for it."""

from __future__ import annotations

from functools import cached_property
from io import StringIO
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from drafter.drawing import Drawing
from drafter.files import DxfChoice, dxf_makers
from drafter.pipeline import Designed, compose_drawing, design

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


class Example:
    def __init__(self, path: Path) -> None:
        self.name = path.stem
        self.path = path
        self._contents: dict[str, dict[str, bytes]] = {}
        self._documents: dict[str, dict[str, Any]] = {}

    @cached_property
    def designed(self) -> Designed:
        return design(self.path.read_bytes(), self.path.name)

    @cached_property
    def drawing(self) -> Drawing:
        return compose_drawing(self.designed)

    @property
    def unit_mm(self) -> float:
        return 25.4 if self.drawing.imperial else 1.0

    def contents(self, version: str = "R2010") -> dict[str, bytes]:
        """The files of a release by their names."""
        if version not in self._contents:
            made = dxf_makers(self.drawing, DxfChoice(version, "plan and elevations"))
            self._contents[version] = {name: make() for name, make in made.items()}
        return self._contents[version]

    def documents(self, version: str = "R2010") -> dict[str, Any]:
        """The same, read strictly."""
        if version not in self._documents:
            encoding = "cp1252" if version in ("R12", "R2000") else "utf-8"
            read = {name: ezdxf.read(StringIO(data.decode(encoding))) for name, data in self.contents(version).items()}
            self._documents[version] = read
        return self._documents[version]

    def write(self, folder: Path, version: str = "R2010") -> dict[str, Path]:
        """Write the files of a release into a folder; return where they are, by their names."""
        written = {}
        for name, data in self.contents(version).items():
            written[name] = folder / f"{self.name}-{version}-{name}"
            written[name].write_bytes(data)
        return written


@pytest.fixture(scope="session", params=EXAMPLES, ids=lambda path: path.stem)
def example(request: pytest.FixtureRequest) -> Example:
    return Example(request.param)


@pytest.fixture(scope="session")
def designed(example: Example) -> Designed:
    return example.designed


@pytest.fixture(scope="session")
def drawing(example: Example) -> Drawing:
    return example.drawing


@pytest.fixture(scope="session")
def files(example: Example) -> dict[str, Any]:
    return example.documents()
