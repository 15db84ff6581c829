"""Outlets, what is used there, and how much together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from drafter.quantity import Kind, Quantity
from drafter.reader import CountForm, Entry, EntryForm, ListForm, QuantityForm, TextForm, WordForm, key
from drafter.site.model.forms import LENGTH, PRACTICE, PRESSURE, ROOM, TAG, WALL

SERVICE_UNITS = ("filter", "regulator", "coalescing filter", "activated carbon filter", "lubricator")


@dataclass(frozen=True, kw_only=True)
class ToolUse(Entry):
    """A tool used at an outlet; what is not given is taken from the table of typical tools."""

    ALONE: ClassVar[str] = "tool"
    tool: str = key("tool", TextForm("ratchet wrench", 40))
    free_air: Quantity | None = key("free air", QuantityForm(Kind.FREE_AIR, "0.01 l/s", "200 l/s"), None)
    pressure_pa: float | None = key("pressure", PRESSURE, None, "needed at the tool")
    use: float | None = key("use", QuantityForm(Kind.SHARE, "0 %", "100 %"), None, "share of the time it runs")


@dataclass(frozen=True, kw_only=True)
class Outlet(Entry):
    """A wall outlet with its drop."""

    tag: str = key("tag", TAG)
    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    height_m: float = key("height", QuantityForm(Kind.LENGTH, "0.3 m", "4 m"), 1.2, "of the coupling", PRACTICE)
    tools: tuple[ToolUse, ...] = key("tools", ListForm(EntryForm(ToolUse)), ())
    coupling: str = key("coupling", WordForm(("1/4", "3/8", "1/2")), "1/4", "body size of the coupling", PRACTICE)
    service: tuple[str, ...] = key(
        "service", ListForm(WordForm(SERVICE_UNITS)), (), "units at the outlet, in the order of flow"
    )
    pressure_pa: float | None = key("pressure", PRESSURE, None, "needed here", "highest of the tools")
    air_for: str = key(
        "air for", WordForm(("tools", "paint", "blow-off")), "", "", "paint where a spray gun hangs, else tools"
    )
    purity: str = key("class", TextForm("1:4:2", 5), "", "particles:water:oil, ISO 8573-1", "as the air's use asks")


@dataclass(frozen=True, kw_only=True)
class Demand(Entry):
    """How much is used together."""

    at_once: int | None = key("at once", CountForm(1, 500), None, "outlets in use together")
    leakage: float = key("leakage", QuantityForm(Kind.SHARE, "0 %", "50 %"), 0.1, "of the average", PRACTICE)
    growth: float = key("growth", QuantityForm(Kind.SHARE, "0 %", "200 %"), 0.2, "for later", PRACTICE)
    working_day_s: float = key(
        "working day", QuantityForm(Kind.TIME, "1 min", "24 h"), 28800.0, "hours the average is drawn", PRACTICE
    )
