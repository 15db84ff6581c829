"""The stages in their order: the map of the program."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drafter.drawing import Drawing
from drafter.finding import Finding, Place
from drafter.layout import Layout, lay_out
from drafter.layout.concerned import check_concerned
from drafter.rules import GUARD_PEOPLE, check, check_limits
from drafter.sheets import compose
from drafter.site import Site, read
from drafter.sizing import Network, size
from drafter.standards.rule_sets import source_in
from drafter.supports import Design, place_supports
from drafter.symbol_library import load_all
from drafter.takeoff import Takeoff, take_off


@dataclass(frozen=True)
class Designed:
    """What each stage made of a site file: None from where an earlier stage could not go on.

    Attributes:
        findings: of all stages, the worst first, then those that guard people, then in the order of the file.
    """

    findings: tuple[Finding, ...]
    site: Site | None = None
    layout: Layout | None = None
    network: Network | None = None
    design: Design | None = None
    takeoff: Takeoff | None = None


def design(text: str | bytes, file: str, paper: str = "", discipline: str = "") -> Designed:
    """Take the text of a site file through all stages up to the take-off.

    Args:
        file: its name in findings.
        paper, discipline: size of the sheets and letter of the discipline, where not as the file says.
    """
    return design_site(*read_site(text, file, paper, discipline))


def read_site(
    text: str | bytes, file: str, paper: str = "", discipline: str = ""
) -> tuple[Site | None, tuple[Finding, ...]]:
    """Read a site file as `design` does."""
    site, findings = read(text, file)
    if site is None:
        return None, findings
    said = site.drawing
    drawing = replace(said, paper=paper or said.paper, discipline=discipline or said.discipline)
    return replace(site, drawing=drawing), findings


def design_site(site: Site | None, findings: tuple[Finding, ...]) -> Designed:
    """Take a site through the stages after reading; ``findings`` are those of its text, which gave none if wrong."""
    if site is None:
        return Designed(_sorted(findings))
    layout, found = lay_out(site)
    findings += (*check_limits(site), *found)
    if layout is None:
        return Designed(_sorted(findings, site.rule_set), site)
    findings += tuple(check_concerned(layout))
    site = layout.site
    network, found = size(layout)
    supported = place_supports(network)
    takeoff = take_off(supported)
    findings += (*found, *supported.findings, *check(supported), *takeoff.findings)
    return Designed(_sorted(findings, site.rule_set), site, layout, network, supported, takeoff)


def compose_drawing(designed: Designed) -> Drawing:
    """Compose views and sheets of what was designed.

    Raises:
        ValueError: the stages stopped before there was a design to draw.
    """
    if designed.design is None or designed.takeoff is None:
        raise ValueError("there is no design to draw")
    return compose(designed.design, designed.takeoff, designed.findings, load_all())


def _sorted(findings: tuple[Finding, ...], rules: str = "us") -> tuple[Finding, ...]:
    """The findings in order, their sources as the site's set of rules says them."""

    def key(finding: Finding) -> tuple[int, bool, tuple[int, Place, str, str]]:
        return -finding.severity, finding.rule not in GUARD_PEOPLE, finding.order

    told = (replace(finding, source=source_in(rules, finding.source)) for finding in findings)
    return tuple(sorted(told, key=key))
