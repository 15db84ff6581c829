"""What is measured on the finished installation, and what energy costs there."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.quantity import Kind
from drafter.reader import DateForm, Entry, QuantityForm, WordForm, key
from drafter.reader.forms import TextForm
from drafter.site.model.forms import PRESSURE

_TIME = QuantityForm(Kind.TIME, "10 s", "14 d")
_AIR = QuantityForm(Kind.TEMPERATURE, "-40 degC", "60 degC")


@dataclass(frozen=True, kw_only=True)
class LeakReading(Entry):
    """A leak test as it was read: a fall of pressure in some time, or the compressor's times with nothing in use."""

    date: str = key("date", DateForm(), "", "of the test")
    by: str = key("by", TextForm("A. Fitter", 60), "", "who tested")
    under_test: str = key("under test", WordForm(("piping", "with tank")), "piping", "what is shut off and under air")
    before: str = key(
        "before", TextForm("T-02", 8), "", "tag of the regulator at which the part under test ends; all, if left out"
    )
    start_pa: float | None = key("from", PRESSURE, None, "gauge pressure at the start")
    end_pa: float | None = key("to", QuantityForm(Kind.PRESSURE, "0 bar", "40 bar"), None, "gauge pressure at the end")
    time_s: float | None = key("for", _TIME, None, "from start to end")
    start_k: float | None = key("air at start", _AIR, None, "temperature of the air in the pipes")
    end_k: float | None = key("air at end", _AIR, None, "temperature of the air in the pipes")
    loaded_s: float | None = key("loaded", _TIME, None, "time the compressor delivers with nothing in use")
    unloaded_s: float | None = key("unloaded", _TIME, None, "time it rests or idles until it delivers again")
