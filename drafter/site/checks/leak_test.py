"""Leak tests as they were read: whole, and never above what the tank is rated for."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.site.model import Site
from drafter.site.model.care import LeakReading

_FALL = "{from: 8 bar, to: 7.9 bar, for: 30 min}"
_TIMES = "{loaded: 2 min, unloaded: 20 min}"


def check_leak_reading(site: Site, reading: LeakReading) -> Iterator[Finding]:
    """Yield LEAK001 for a reading of which a part is missing, LEAK002 for a tank tested above its rating."""
    fall = (reading.start_pa, reading.end_pa, reading.time_s)
    times = (reading.loaded_s, reading.unloaded_s)
    whole = [group for group in (fall, times) if None not in group]
    begun = [group for group in (fall, times) if any(value is not None for value in group)]
    if len(whole) != 1 or begun != whole:
        message = "the reading is not whole" if len(begun) < 2 else "a fall and times together are two readings"
        fix = f"write {_FALL} as the gauge was read, or {_TIMES} as the clock was"
        yield Finding("LEAK001", Severity.ERROR, reading.place, message, "leak test", fix=fix)
    elif (reading.start_k is None) != (reading.end_k is None):
        message, fix = "the air's temperature is given once only", "write both 'air at start' and 'air at end', or none"
        yield Finding("LEAK001", Severity.ERROR, reading.place, message, "leak test", fix=fix)
    rated_pa, start_pa = site.compressor.rated_pa, reading.start_pa
    if reading.under_test == "with tank" and start_pa is not None and start_pa > rated_pa:
        read, rated = site.units.pressure(start_pa), site.units.pressure(rated_pa)
        message = f"the tank was under {read}, above the {rated} it is rated for"
        fix = "never again: shut the tank off for tests above its pressure, and have it inspected"
        source = "29 CFR 1910.169; the tank's data plate"
        yield Finding(
            "LEAK002", Severity.ERROR, reading.where("start_pa"), message, "leak test", read, rated, fix, source
        )
