"""What a leak test comes to, in words: whether it passes, by which yardstick, and what to do."""

from __future__ import annotations

from drafter.quantity import Units
from drafter.sizing.leak_result import LeakResult, Verdict

_GO_OVER = "go over couplings, hoses and drains with leak fluid"
_MEND = "find it with leak fluid, bleed to zero, mend, test again"


def verdict_words(result: LeakResult, units: Units) -> str:
    """Return whether the test passes, and what to do."""
    if not result.volume_m3:
        return _of_times(result, units)
    doubt = "; but read the air's temperature too: one kelvin could turn this" if result.temperature_decides else ""
    test = units.pressure(result.test_gauge_pa)
    match result.verdict:
        case Verdict.OVER:
            return _over_words(result, units)
        case Verdict.TIGHT:
            return f"PASSES: tight as new work is to be{doubt}"
        case Verdict.ALLOWED:
            return f"DOES NOT PASS as new work, though no more is lost than was allowed for: find it{doubt}"
        case Verdict.EMPTY:
            return (
                "DOES NOT PASS: it was empty at the end and may have emptied much sooner, so the leak is at least "
                f"{units.leak(result.leak_m3_s)}; {_MEND}"
            )
        case Verdict.LOW:
            return (
                f"TELLS NOTHING of the line at its working pressure: begun at {units.pressure(_start_pa(result))}, "
                f"and the design's test is at {test}. Test again at {test}"
            )
        case Verdict.BEFORE:
            begun, tag = units.pressure(_start_pa(result)), result.shut_regulator
            return (
                f"TELLS NOTHING of the line behind {tag}, which lets no {begun} through. All of the piping is tested "
                f"at {test}; what is before {tag} alone is read with 'before: {tag}'"
            )
        case Verdict.NOTHING:
            return _risen_words(result, units)
        case _:
            return f"DOES NOT PASS: it leaks {_leak_words(result, units)}; {_MEND}{doubt}"


def _start_pa(result: LeakResult) -> float:
    assert result.reading.start_pa is not None
    return result.reading.start_pa


def _leak_words(result: LeakResult, units: Units) -> str:
    leak = units.leak(result.at_cut_out_m3_s)
    if not result.allowed_m3_s:
        return leak
    return f"{leak}, {result.at_cut_out_m3_s / result.allowed_m3_s:.1f} times what was allowed for"


def _over_words(result: LeakResult, units: Units) -> str:
    highest_pa = max(_start_pa(result), result.reading.end_pa or 0.0)
    read = units.pressures_apart(result.passed[0].gauge_pa, highest_pa)[1]
    above = " and ".join(
        f"{limit.what} ({units.pressures_apart(limit.gauge_pa, highest_pa)[0]})" for limit in result.passed
    )
    lowest_pa = min(limit.gauge_pa for limit in result.passed)
    again = f"then test at {units.pressure(result.test_gauge_pa)}"
    if result.test_gauge_pa > lowest_pa:
        again = f"test again only when nothing under test is rated below {units.pressure(result.test_gauge_pa)}"
    return (
        f"ERROR: it was under {read}, above {above}. Bleed to zero, have what was under it looked at before it is "
        f"used again; {again}. Does not pass"
    )


def _risen_words(result: LeakResult, units: Units) -> str:
    rise = units.pressure_drop(-result.corrected_fall_pa)
    if result.reading.start_k is None:
        why = f"the pressure rose by {rise}: the air warmed, or the valve before it lets by"
        return f"TELLS NOTHING: {why}. Measure again with steady air, and read its temperature"
    why = f"corrected for the air's temperature the pressure rose by {rise}"
    return (
        f"TELLS NOTHING: {why}; a temperature was read wrongly, or the "
        "valve before it lets by. Measure again with steady air"
    )


def _of_times(result: LeakResult, units: Units) -> str:
    """The verdict by the capacity, and beside it that by the site file's allowance."""
    share, leak = f"{units.share(result.share)} of what is delivered", units.leak(result.at_cut_out_m3_s)
    beside = _beside(result, units)
    both = f"{share}; {beside}" if beside else share
    match result.verdict:
        case Verdict.TIGHT:
            return f"PASSES: well kept, {both}"
        case Verdict.HALF:
            return (
                f"DOES NOT PASS the site file's allowance: it leaks {leak}, {beside}; by the compressor's capacity it "
                f"passes as well kept, {share}; {_GO_OVER}"
            )
        case Verdict.ALLOWED:
            return f"DOES NOT PASS: between well kept and poor, {both}; {_GO_OVER}"
        case _:
            return f"DOES NOT PASS: it leaks {leak}, {both}; {_MEND}"


def _beside(result: LeakResult, units: Units) -> str:
    """How a leak compares with what the site file allows for; nothing where it allows for none."""
    if not result.allowed_m3_s:
        return ""
    times = result.at_cut_out_m3_s / result.allowed_m3_s
    how = f"{times:.1f} times" if times > 1.0 + 1e-9 else "no more than"
    return f"{how} the {units.leak(result.allowed_m3_s)} the site file allows for"
