"""Leak tests as they were read: whole, and never above what the tank is rated for."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.reader import is_read
from drafter.site.model import Site
from drafter.site.model.care import LeakReading

_FALL = "{from: 8 bar, to: 7.9 bar, for: 30 min}"
_SLACK_PA = 1.0
_TIMES = "{loaded: 2 min, unloaded: 20 min}"


def check_leak_reading(site: Site, reading: LeakReading) -> Iterator[Finding]:
    """Yield LEAK001 for a reading of which a part is missing, LEAK004 for a wrong part, LEAK002 for too high a test."""
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
    yield from _before(site, reading)
    yield from _above(site, reading)


def _before(site: Site, reading: LeakReading) -> Iterator[Finding]:
    """LEAK004 for a part that ends at no regulator which lowers the pressure."""
    if not reading.before:
        return
    known = lowering_tags(site)
    if reading.before not in known:
        message = f"no regulator of the treatment that lowers the pressure is called {reading.before}"
        fix = f"write {' or '.join(known)}" if known else "leave 'before' out: all of the piping is tested at once"
    elif reading.start_pa is None or reading.under_test == "with tank":
        message = "the part before a regulator is tested alone, with a fall of pressure"
        fix = f"write {{before: {reading.before}, from: 8 bar, to: 7.9 bar, for: 30 min}}"
    else:
        return
    yield Finding("LEAK004", Severity.ERROR, reading.where("before"), message, "leak test", fix=fix)


def lowering_tags(site: Site) -> list[str]:
    """Return the tags, as the drawings have them, of the regulators of the train that lower the pressure further."""
    found, lowest_pa = [], site.compressor.cut_out_pa
    for number, unit in enumerate(site.treatment, 1):
        if is_read(unit.set_pa) and unit.set_pa is not None and is_read(lowest_pa) and unit.set_pa < lowest_pa:
            found.append(f"T-{number:02d}")
            lowest_pa = unit.set_pa
    return found


def _above(site: Site, reading: LeakReading) -> Iterator[Finding]:
    start_pa, plant = reading.start_pa, site.compressor
    if start_pa is None or not is_read(start_pa):
        return
    limits = [("the piping was", plant.relief_pa, "that the relief valve is set at")]
    if reading.under_test == "with tank":
        limits.insert(0, ("the tank was", plant.rated_pa, "it is rated for"))
    for what, limit_pa, held in limits:
        if is_read(limit_pa) and start_pa > limit_pa + _SLACK_PA:
            most, read = site.units.pressures_apart(limit_pa, start_pa)
            message = f"{what} under {read}, above the {most} {held}"
            fix = "bleed to zero, have what was under it looked at before it is used; never test above it again"
            source = "29 CFR 1910.169; the tank's data plate"
            where = reading.where("start_pa")
            yield Finding("LEAK002", Severity.WARNING, where, message, "leak test", read, most, fix, source=source)
            return
