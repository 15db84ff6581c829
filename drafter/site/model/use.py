"""Outlets, what is used there, and how much together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from drafter.quantity import Kind, Quantity
from drafter.reader import CountForm, Entry, EntryForm, ListForm, QuantityForm, TextForm, WordForm, key
from drafter.site.model.forms import BOWL, LABEL_TEMPERATURE, LENGTH, PRACTICE, PRESSURE, ROOM, TAG, WALL

SERVICE_UNITS = (
    "filter",
    "regulator",
    "coalescing filter",
    "activated carbon filter",
    "lubricator",
    "excess-flow valve",
)


@dataclass(frozen=True, kw_only=True)
class ToolUse(Entry):
    """A tool used at an outlet; what is not given is taken from the table of typical tools."""

    ALONE: ClassVar[str] = "tool"
    tool: str = key("tool", TextForm("ratchet wrench", 40))
    free_air: Quantity | None = key("free air", QuantityForm(Kind.FREE_AIR, "0.01 l/s", "200 l/s"), None)
    pressure_pa: float | None = key("pressure", PRESSURE, None, "needed at the tool")
    highest_pa: float | None = key("highest", PRESSURE, None, "pressure the tool may get, as its plate says")
    use: float | None = key("use", QuantityForm(Kind.SHARE, "0 %", "100 %"), None, "share of the time it runs")
    dead_end_pa: float | None = key(
        "dead end", PRESSURE, None, "most that builds up before a nozzle pressed shut, as its maker says"
    )


@dataclass(frozen=True, kw_only=True)
class Hose(Entry):
    """The hose between a coupling and its tool."""

    length_m: float = key("length", LENGTH, 5.0, "0 where the tool sits on the coupling", PRACTICE)
    bore_m: float | None = key(
        "bore", QuantityForm(Kind.LENGTH, "3 mm", "50 mm"), None, "inside", "8, 10, 13 mm on a 1/4, 3/8, 1/2 coupling"
    )
    rated_pa: float | None = key("rated", PRESSURE, None, "highest pressure printed on it")
    rated_to_k: float | None = key("rated to", LABEL_TEMPERATURE, None, "warmest air that it is made for")


@dataclass(frozen=True, kw_only=True)
class ServiceUnit(Entry):
    """A unit at an outlet."""

    ALONE: ClassVar[str] = "kind"
    kind: str = key("kind", WordForm(SERVICE_UNITS))
    rated_pa: float | None = key("rated", PRESSURE, None, "highest pressure on its label")
    rated_to_k: float | None = key("rated to", LABEL_TEMPERATURE, None, "warmest air that its label allows")
    bowl: str = key("bowl", BOWL, "", "of a filter or lubricator", "plastic, as most are")


@dataclass(frozen=True, kw_only=True)
class Outlet(Entry):
    """A wall outlet with its drop."""

    tag: str = key("tag", TAG)
    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH)
    height_m: float = key("height", QuantityForm(Kind.LENGTH, "0.3 m", "8 m"), 1.2, "of the coupling", PRACTICE)
    tools: tuple[ToolUse, ...] = key("tools", ListForm(EntryForm(ToolUse)), ())
    coupling: str = key("coupling", WordForm(("1/4", "3/8", "1/2")), "1/4", "body size of the coupling", PRACTICE)
    hose: Hose = key("hose", EntryForm(Hose), Hose(defaults=("length_m", "bore_m")))
    service: tuple[ServiceUnit, ...] = key(
        "service", ListForm(EntryForm(ServiceUnit)), (), "units at the outlet, in the order of flow"
    )
    pressure_pa: float | None = key("pressure", PRESSURE, None, "needed at the tool", "highest of the tools")
    air_for: str = key(
        "air for", WordForm(("tools", "paint", "blow-off")), "", "", "paint where a spray gun hangs, else tools"
    )
    reach_m: float | None = key(
        "reach", LENGTH, None, "hose that its reel lets out, for what it gets to", "the length of its hose"
    )
    purity: str = key("class", TextForm("1:4:2", 5), "", "particles:water:oil, ISO 8573-1", "as the air's use asks")

    @property
    def units(self) -> tuple[str, ...]:
        """The kinds of its units, in the order of flow."""
        return tuple(unit.kind for unit in self.service)


@dataclass(frozen=True, kw_only=True)
class WorkPlace(Entry):
    """A place that a hose is to reach: a spot off a wall, or all round a piece of equipment."""

    ALONE: ClassVar[str] = "around"
    name: str = key("name", TextForm("bay 1", 30), "", "", "the thing's own")
    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL, "")
    from_left_m: float | None = key("from left", LENGTH, None)
    off_wall_m: float = key("off wall", LENGTH, 0.0, "from the wall into the room")
    around: str = key("around", TextForm("boat cradle", 30), "", "equipment to be reached on all its free sides")
    height_m: float = key("height", QuantityForm(Kind.LENGTH, "0 m", "4 m"), 1.0, "of the work above floor", PRACTICE)

    @property
    def title(self) -> str:
        """What it is called: its name, or that of the thing it is all round."""
        return self.name or self.around


@dataclass(frozen=True, kw_only=True)
class InUse(Entry):
    """An outlet in use, with the tool on it where that matters."""

    ALONE: ClassVar[str] = "outlet"
    outlet: str = key("outlet", TAG)
    tool: str = key("tool", TextForm("ratchet wrench", 40), "", "one of that outlet's", "its largest")


@dataclass(frozen=True, kw_only=True)
class DemandCase(Entry):
    """Outlets that run together at some time of the working day."""

    name: str = key("name", TextForm("evening", 30))
    running: tuple[InUse, ...] = key("running", ListForm(EntryForm(InUse), 1))


@dataclass(frozen=True, kw_only=True)
class WorkRun(Entry):
    """A tool that runs at an outlet in the work pattern, once or again and again."""

    outlet: str = key("outlet", TAG)
    tool: str = key("tool", TextForm("orbital sander", 40), "", "one of the outlet's tools")
    from_s: float = key("from", QuantityForm(Kind.TIME, "0 s", "24 h"), 0.0, "after the pattern begins")
    for_s: float = key("for", QuantityForm(Kind.TIME, "1 s", "24 h"), meaning="time it runs without a pause")
    every_s: float | None = key(
        "every", QuantityForm(Kind.TIME, "5 s", "24 h"), None, "from start to start, as often as it ends in the pattern"
    )

    def times_s(self, length_s: float) -> tuple[tuple[float, float], ...]:
        """Return start and end of each run in a pattern of some length."""
        count = (
            1 if self.every_s is None else max(1, int((length_s - self.for_s - self.from_s) / self.every_s + 1e-9) + 1)
        )
        starts = (self.from_s + number * (self.every_s or 0.0) for number in range(count))
        return tuple((start_s, start_s + self.for_s) for start_s in starts)


@dataclass(frozen=True, kw_only=True)
class Work(Entry):
    """The work pattern: which tool runs when, from a full tank, repeated without end."""

    length_s: float = key("length", QuantityForm(Kind.TIME, "1 min", "24 h"), meaning="then it begins again")
    runs: tuple[WorkRun, ...] = key("runs", ListForm(EntryForm(WorkRun), 1, 100))


@dataclass(frozen=True, kw_only=True)
class Demand(Entry):
    """How much is used together."""

    at_once: int | None = key("at once", CountForm(1, 500), None, "outlets in use together")
    cases: tuple[DemandCase, ...] = key("cases", ListForm(EntryForm(DemandCase)), (), "what runs together, by name")
    leakage: float = key("leakage", QuantityForm(Kind.SHARE, "0 %", "50 %"), 0.1, "of the average", PRACTICE)
    growth: float = key("growth", QuantityForm(Kind.SHARE, "0 %", "200 %"), 0.2, "for later", PRACTICE)
    working_day_s: float = key(
        "working day", QuantityForm(Kind.TIME, "1 min", "24 h"), 28800.0, "hours the average is drawn", PRACTICE
    )
