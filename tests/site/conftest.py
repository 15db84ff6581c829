"""A small invented site to change, and what reading it finds."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drafter.finding import Finding
from drafter.site import Site, read

SHED = """\
site: Tin Shed (invented)
rooms:
  shed:
    size: [6 m, 4 m]
    ceiling: 3 m
    openings:
      - {kind: door, wall: east, from left: 1 m, width: 1 m}
compressor:
  {wall: north, from left: 0.5 m, power: 1.5 kW, free air: 3 l/s, cut in: 6 bar, cut out: 8 bar,
   tank: 50 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube type L, height: 2.5 m}
outlets:
  - {tag: A1, wall: south, from left: 2 m, tools: [blow gun]}
  - {tag: A2, wall: west, from left: 1 m, tools: [ratchet wrench]}
"""


@pytest.fixture
def shed() -> str:
    return SHED


@pytest.fixture
def site_of() -> Callable[[str], Site]:
    """The site of a text that has no errors."""

    def read_site(text: str) -> Site:
        site, findings = read(text, "shed.yaml")
        assert site is not None, findings
        return site

    return read_site


@pytest.fixture
def found_in() -> Callable[[str], list[Finding]]:
    """The findings of a text, in the order of the file."""

    def findings(text: str) -> list[Finding]:
        return sorted(read(text, "shed.yaml")[1], key=lambda finding: finding.place)

    return findings
