"""An invented room with outlets on two walls, laid out and sized."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drafter.layout import Layout, lay_out
from drafter.site import read
from drafter.sizing import Network, size

SITE = """
site: Sizing room (invented)
rooms: {{room: {{size: [{width} m, 8 m], ceiling: 3.2 m, warmest: 20 degC}}}}
compressor: {{wall: north, from left: 0.4 m, power: 4 kW, free air: 10 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.6 m{main}}}
outlets:
{outlets}
demand: {{leakage: 10 %, growth: 20 %{demand}}}
{more}
"""


def laid_out(
    outlets: list[str], main: str = "", demand: str = "", more: str = "", width: float = 12, outlet: str = ""
) -> Layout:
    """Lay out the room: outlets take these tools, the first three on the north wall, the others on the east wall."""
    lines = "\n".join(
        f"  - {{tag: A{n}, wall: {'north' if n < 4 else 'east'}, from left: {3 + 2 * (n % 4)} m, "
        f"tools: [{tools}]{outlet}}}"
        for n, tools in enumerate(outlets, 1)
    )
    text = SITE.format(outlets=lines, main=main, demand=demand, more=more, width=width)
    site, findings = read(text, "sizing.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    return layout


@pytest.fixture(scope="session")
def lay() -> Callable[..., Layout]:
    return laid_out


@pytest.fixture(scope="session")
def sized() -> Callable[..., Network]:
    return lambda *args, **options: size(laid_out(*args, **options))[0]


def tool(free_air: str, use: str = "50 %", pressure: str = "5 bar") -> str:
    return f"{{tool: test tool, free air: {free_air}, use: {use}, pressure: {pressure}}}"


@pytest.fixture(scope="session", name="tool")
def tool_fixture() -> Callable[..., str]:
    return tool
