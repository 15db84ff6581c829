"""The compressor set and the treatment train, as their data plates say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from drafter.quantity import Kind, Quantity
from drafter.reader import Entry, EntryForm, QuantityForm, WordForm, key
from drafter.site.model.forms import BOWL, LABEL_TEMPERATURE, LENGTH, PRACTICE, PRESSURE, ROOM, SIZE, WALL

THREADS = ("1/4", "3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2")


@dataclass(frozen=True, kw_only=True)
class Connection(Entry):
    """Where the compressor set gives its air: along the wall, and above the floor."""

    from_left_m: float = key("from left", LENGTH)
    height_m: float = key("height", SIZE)
    thread: str = key("thread", WordForm(THREADS), "", "of the tank's port", "as the line is wide")


@dataclass(frozen=True, kw_only=True)
class Compressor(Entry):
    """The compressor on its tank, as its data plate says."""

    room: str = key("room", ROOM, "")
    wall: str = key("wall", WALL)
    from_left_m: float = key("from left", LENGTH, meaning="to its left end")
    off_wall_m: float = key("off wall", LENGTH, 0.3, "gap to the wall, for cooling air", PRACTICE)
    width_m: float = key("width", SIZE, 1.1, "along the wall", PRACTICE)
    depth_m: float = key("depth", SIZE, 0.5, "", PRACTICE)
    height_m: float = key("height", SIZE, 0.9, "", PRACTICE)
    connection: Connection | None = key(
        "connection", EntryForm(Connection), None, "", "near the end with more wall, 0.6 m up; common practice"
    )
    power_w: float = key("power", QuantityForm(Kind.POWER, "100 W", "75 kW"))
    free_air: Quantity = key("free air", QuantityForm(Kind.FREE_AIR, "0.1 l/s", "300 l/s"), meaning="delivered")
    cut_in_pa: float = key("cut in", PRESSURE)
    cut_out_pa: float = key("cut out", PRESSURE)
    tank_m3: float = key("tank", QuantityForm(Kind.VOLUME, "1 l", "20000 l"))
    rated_pa: float = key("rated", PRESSURE, meaning="highest pressure on the tank's data plate")
    relief_pa: float = key("relief", PRESSURE, meaning="set pressure of the relief valve")
    relief_flow: Quantity | None = key(
        "relief flow",
        QuantityForm(Kind.FREE_AIR, "0.1 l/s", "2000 l/s"),
        None,
        "what the relief valve passes, as stamped on it",
    )
    drain: str = key("drain", WordForm(("manual", "automatic")), "manual", "of the tank", PRACTICE)
    control: str = key(
        "control",
        WordForm(("start-stop", "load-unload")),
        "start-stop",
        "whether the motor stops at the cut-out or runs on without load",
        PRACTICE,
    )
    oil: str = key("oil", WordForm(("lubricated", "oil-free")), "lubricated", "how it compresses", PRACTICE)
    intake_humidity: float = key(
        "intake humidity", QuantityForm(Kind.SHARE, "0 %", "100 %"), 0.6, "relative, of the air taken in", PRACTICE
    )
    air_warmer_by_k: float = key(
        "air warmer by",
        QuantityForm(Kind.TEMPERATURE_DIFFERENCE, "0 K", "60 K"),
        25.0,
        "air leaving the tank than its room",
        PRACTICE
        + ", from memory: 25 K for a tank on the compressor, 12 K for a set with an aftercooler, that runs on unloaded",
    )

    @property
    def unloads(self) -> bool:
        """Whether the motor runs on without load at the cut-out."""
        return self.control == "load-unload"


@dataclass(frozen=True, kw_only=True)
class Treatment(Entry):
    """One unit of the treatment train, in the order of flow."""

    ALONE: ClassVar[str] = "kind"
    kind: str = key(
        "kind",
        WordForm(
            (
                "aftercooler",
                "separator",
                "filter",
                "coalescing filter",
                "activated carbon filter",
                "refrigeration dryer",
                "desiccant dryer",
                "regulator",
                "lubricator",
            )
        ),
    )
    drop_pa: float | None = key("drop", QuantityForm(Kind.PRESSURE, "0 bar", "2 bar"), None, "at full flow")
    set_pa: float | None = key("set", PRESSURE, None, "what a regulator holds")
    rated_pa: float | None = key("rated", PRESSURE, None, "highest pressure on its label")
    rated_to_k: float | None = key("rated to", LABEL_TEMPERATURE, None, "warmest air that its label allows")
    bowl: str = key("bowl", BOWL, "", "of a filter, separator or lubricator", "plastic, as most are")
    dew_point_k: float | None = key(
        "dew point",
        QuantityForm(Kind.TEMPERATURE, "-80 degC", "20 degC"),
        None,
        "of the air behind a dryer, at its pressure",
        "3 degC refrigeration, -40 degC desiccant, from memory",
    )
