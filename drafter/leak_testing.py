"""A leak test from its readings: those of the site file, and one more given at the command line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from drafter.finding import Finding, Place, Severity, errors
from drafter.pipeline import design
from drafter.site.checks.leak_test import check_leak_reading
from drafter.site.model.care import LeakReading
from drafter.sizing.leak_result import LeakResult, leak_result
from drafter.sizing.network import Network

READ = ("start_pa", "end_pa", "time_s", "start_k", "end_k", "loaded_s", "unloaded_s")


@dataclass(frozen=True)
class LeakTest:
    """What came of a leak test.

    Attributes:
        findings: why it could not be worked out; empty where it could.
        network: the sized installation; None where there are findings.
        results: in the order of the site file, the reading given beside it last.
        errors: how many the design has.
    """

    findings: tuple[Finding, ...]
    network: Network | None = None
    results: tuple[LeakResult, ...] = ()
    errors: int = 0


def leak_test_of(text: bytes, file: str, given: Any) -> LeakTest:
    """Work out the readings of a site file, and the one whose values ``given`` has as attributes, if it has any."""
    designed = design(text, file)
    if designed.network is None or designed.site is None:
        found = tuple(finding for finding in designed.findings if finding.severity is Severity.ERROR)
        return LeakTest(found)
    readings = list(designed.site.leak_tests)
    values = {name: getattr(given, name) for name in READ}
    if any(value is not None for value in values.values()):
        tank = "with tank" if given.with_tank else "piping"
        date, by, before = (str(getattr(given, name) or "") for name in ("date", "by", "before"))
        readings.append(LeakReading(**values, under_test=tank, before=before, date=date, by=by, place=Place(file)))
    findings = [finding for reading in readings for finding in check_leak_reading(designed.site, reading)]
    if not readings:
        message = "no reading is given, neither in the site file nor beside it"
        fix = "give --from, --to and --for, or write 'leak test:' with them into the site file"
        findings.append(Finding("LEAK003", Severity.ERROR, Place(file), message, "leak test", fix=fix))
    if errors(findings):
        return LeakTest(tuple(findings))
    results = tuple(leak_result(designed.network, each) for each in readings)
    return LeakTest((), designed.network, results, errors(designed.findings))
