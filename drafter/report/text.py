"""The whole report as text: findings, results, cautions, and whether it can be built."""

from __future__ import annotations

from collections.abc import Sequence

from drafter.finding import Finding, Severity, errors
from drafter.report.blocks import block
from drafter.report.cutting import cutting_text
from drafter.report.first_things import grouped_text, guarding_people, own_limits_words
from drafter.report.results import results_text
from drafter.report.work import cost_text, work_text
from drafter.sheets.stamp import stamp_of
from drafter.supports.design import Design
from drafter.takeoff import Takeoff

CAUTIONS = (
    "Compressed air kills: depressurise and lock out before opening any joint, and wear eye protection.",
    "A tank bursts with all the energy it stores; keep its relief valve free and people away from pressure tests.",
    "Work on ladders and near electrical panels is dangerous; have panels and wiring left to an electrician.",
    "Data plates, local codes and licensed practice decide; where they differ from this report, follow them.",
)


def report_text(
    findings: Sequence[Finding], text: str | bytes, design: Design | None, takeoff: Takeoff | None = None
) -> str:
    """Return the whole report: findings by what to do first, results, cautions; its last line is the verdict.

    Of a design with errors its first line is the stamp of the sheets.
    """
    stamp = stamp_of(errors(tuple(findings))) if design is not None else ""
    parts = [part for part in (stamp, grouped_text(findings, text) if findings else "") if part]
    if design is not None:
        parts.append(results_text(design))
        if takeoff is not None:
            parts.append(cutting_text(takeoff, design.network))
            parts += [text for text in (cost_text(takeoff), work_text(design, takeoff)) if text]
        parts.append(block("CAUTIONS", CAUTIONS))
    return "\n\n".join([*parts, verdict(findings, design)]) + "\n"


def verdict(findings: Sequence[Finding], design: Design | None) -> str:
    """Return one line that says whether it can be built."""
    counts = [
        f"{count} {severity.word}{'' if count == 1 else 's'}"
        for severity in sorted(Severity, reverse=True)
        if (count := sum(finding.severity is severity for finding in findings))
    ]
    own = own_limits_words(findings)
    found = f" ({', '.join(counts)})" if counts else ""
    found += f", with {own} by the site file" if own else ""
    if design is None or errors(tuple(findings)):
        return f"It cannot be built as described: correct the errors first{found}."
    warned = any(finding.severity is Severity.WARNING for finding in findings)
    unsafe = guarding_people(findings)
    points = f"the first {unsafe} points" if unsafe > 1 else "the first point"
    doubts = [*([f"{points} (people could be hurt)"] if unsafe else []), *(["the warnings"] if warned else [])]
    is_one = unsafe == 1 and not warned
    once = f", once {' and '.join(doubts)} {'is' if is_one else 'are'} settled" if doubts else ""
    return f"It can be built as described{once}{found}."
