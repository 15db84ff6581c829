"""What differs by code, under named sets: working space at panels, vessels, blow guns, hoses, labels."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from drafter.standards.data_file import read_data_file
from drafter.standards.limits import Limit

RULE_SETS = ("us", "international")
DECIDES = "Local codes, data plates and licensed practice decide; this set is what the drawing was held against."


@dataclass(frozen=True, slots=True)
class Vessel:
    """What holds for tanks up to a pressure and a product of pressure and volume; None where there is no end."""

    to_pa_m3: float | None
    to_pa: float | None
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class StrengthTest:
    """A test above the working pressure, where the local code asks for one.

    Attributes:
        times: the design pressure.
        time_s: that it is held.
        words: how.
        beyond_pa, beyond_words: above which design pressure another code asks for something else, and what.
    """

    times: float
    time_s: float
    words: str
    source: str
    beyond_pa: float
    beyond_words: str


@dataclass(frozen=True, slots=True)
class RuleSet:
    """One set.

    Attributes:
        title: what the sheets call it.
        panel_depth_m, panel_width_m, panel_height_m: working space before a panel; 0 where the set says nothing.
        high_voltage_depths: the depth above 150 V to ground, by what the panel faces; empty where the set has none.
        above_panel_m: kept free of pipes above a panel.
        blow_gun_pa: gauge pressure of a blow gun when dead-ended.
        hose_bore_m: widest hose without a safety device.
        piping, piping_source: the code that the piping falls under.
        vessels: from the smallest to the largest.
        noise, noise_source: from which noise on people's ears are guarded.
        strength_test: of the piping.
        label_colours, label_source: of pipe markers.
    """

    title: str
    panel_depth_m: Limit
    panel_width_m: Limit
    panel_height_m: Limit
    high_voltage_depths: Mapping[str, Limit]
    above_panel_m: Limit
    blow_gun_pa: Limit
    hose_bore_m: Limit
    piping: str
    piping_source: str
    vessels: tuple[Vessel, ...]
    noise: str
    noise_source: str
    strength_test: StrengthTest
    label_colours: str
    label_source: str

    def panel_depth(self, voltage: str, opposite: str) -> Limit:
        """Return the depth kept clear before a panel [m].

        Args:
            voltage: to ground, as the site file words it.
            opposite: what the panel faces: insulated, grounded or live.
        """
        above = self.high_voltage_depths if voltage == "to 600 V" else {}
        return above.get(opposite, self.panel_depth_m)

    def vessel(self, rated_pa: float, volume_m3: float) -> Vessel:
        """Return what holds for a tank.

        Args:
            rated_pa: gauge pressure it is rated for.
        """
        product = rated_pa * volume_m3
        return next(
            vessel
            for vessel in self.vessels
            if (vessel.to_pa_m3 is None or product <= vessel.to_pa_m3 * (1.0 + 1e-9))
            and (vessel.to_pa is None or rated_pa <= vessel.to_pa * (1.0 + 1e-9))
        )


@dataclass(frozen=True, slots=True)
class LabelSize:
    """A pipe marker: its length and the height of its letters; both 0 where a tag is hung instead."""

    field_m: float
    letters_m: float


def rule_set(name: str) -> RuleSet:
    """Return a set by its name.

    Raises:
        KeyError: there is no such set.

    Source:
        `rule_sets.yaml`.
    """
    row = _content()[name]
    panel, above, gun, hose = row["panel"], row["above_panel"], row["blow_gun"], row["hose"]
    test = row["strength_test"]
    beyond = test.get("beyond", {"pressure_pa": math.inf, "words": ""})
    return RuleSet(
        title=row["title"],
        panel_depth_m=Limit(panel["depth_m"], panel["source"]),
        panel_width_m=Limit(panel["width_m"], panel["source"]),
        panel_height_m=Limit(panel["height_m"], panel["source"]),
        high_voltage_depths={
            name.removesuffix("_m"): Limit(depth_m, panel["source_above"])
            for name, depth_m in panel.get("above_150_v", {}).items()
        },
        above_panel_m=Limit(above["height_m"], above["source"]),
        blow_gun_pa=Limit(gun["pressure_pa"], gun["source"]),
        hose_bore_m=Limit(hose["bore_m"], hose["source"]),
        piping=row["piping"]["words"],
        piping_source=row["piping"]["source"],
        vessels=tuple(_vessel(each) for each in row["vessels"]),
        noise=row["noise"]["words"],
        noise_source=row["noise"]["source"],
        strength_test=StrengthTest(
            test["times"], test["time_s"], test["words"], test["source"], beyond["pressure_pa"], beyond["words"]
        ),
        label_colours=row["label"]["colours"],
        label_source=row["label"]["source"],
    )


def _vessel(row: Mapping[str, Any]) -> Vessel:
    """A row of the table; a bar times a litre is 100 Pa m3."""
    product = row["to_bar_l"] * 100.0 if "to_bar_l" in row else None
    return Vessel(product, row.get("to_pa"), row["words"], row["source"])


def label_size(outside_m: float) -> LabelSize:
    """Return the marker for a pipe of some outside diameter; the largest of the table for larger ones.

    Source:
        ASME A13.1, in `rule_sets.yaml`.
    """
    rows = _content()["label_sizes"]["rows"]
    row = next((row for row in rows if outside_m < row["below_m"] - 1e-9), rows[-1])
    return LabelSize(row["field_m"], row["letters_m"])


def labels_apart_m() -> float:
    """Return how far markers stand apart at most on a straight run.

    Source:
        ASME A13.1, in `rule_sets.yaml`.
    """
    return float(_content()["label_sizes"]["apart_m"])


@lru_cache(maxsize=1)
def _content() -> Any:
    return read_data_file("rule_sets.yaml")


def source_in(name: str, source: str) -> str:
    """Return a source as a set says it: outside the United States their law is good practice.

    Source:
        words only.
    """
    if name == "us" or "CFR" not in source or "US law" in source:
        return source
    return f"{source}; US law, taken as good practice"
