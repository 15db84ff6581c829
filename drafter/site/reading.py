"""Text to a checked `Site`: reads the entries, fills in what follows from others, then looks for mistakes."""

from __future__ import annotations

from typing import Any

from drafter.finding import Finding, errors
from drafter.reader import Reading, read_entry, schema
from drafter.site.checks import check_site
from drafter.site.model import Site
from drafter.site.resolving import resolved


def read(text: str | bytes, file: str) -> tuple[Site | None, tuple[Finding, ...]]:
    """Read a site file.

    Args:
        text: what the file holds.
        file: its name, for findings.

    Returns:
        The site, or None where an error was found, and all findings in order of severity and place.
    """
    site, reading = read_entry(text, file, Site)
    if site is not None:
        site = resolved(site, reading)
        check_site(site, reading)
    findings = tuple(sorted(reading.findings, key=lambda finding: finding.order))
    return (None if errors(findings) else site), findings


def check_again(site: Site) -> tuple[Finding, ...]:
    """Return what the checks find in a site that was read and has been changed since, or not."""
    reading = Reading("")
    check_site(site, reading)
    return tuple(reading.findings)


def site_schema() -> dict[str, Any]:
    """Return the JSON Schema of site files, for editors that complete and check."""
    return schema(Site, "Site file of a compressed-air installation")
