"""Draws up a site with other choices, one at a time and the best of each kind together, and chooses."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drafter.finding import Finding, errors
from drafter.layout import lay_out
from drafter.options.choosing import Choice, choose
from drafter.options.figures import figures_of
from drafter.options.levels import level_variants
from drafter.options.materials import material_variants
from drafter.options.variant import AS_GIVEN, LEVEL, MATERIAL, TOGETHER, WAY, Option, Skipped, Variant
from drafter.options.ways import way_variants
from drafter.pipeline import Designed, design_site
from drafter.site import Site, check_again, read


@dataclass(frozen=True)
class Comparison:
    """All choices of a site, side by side.

    Attributes:
        site: None where the file could not be read; then there are findings only.
        findings: of the site as given, the worst first.
        options: the job as given first.
        skipped: what was not drawn up.
    """

    site: Site | None
    findings: tuple[Finding, ...]
    options: tuple[Option, ...] = ()
    skipped: tuple[Skipped, ...] = ()
    choice: Choice | None = None


def compare(text: str | bytes, file: str) -> Comparison:
    """Take the text of a site file, draw it up with each choice, and say which to take."""
    site, found = read(text, file)
    if site is None:
        return Comparison(None, found)
    layout = lay_out(site)[0] if site.main.level_open else None
    site = layout.site if layout else site
    drawing_up = _DrawingUp(site, found)
    given = drawing_up.option("1", _as_given(site))
    outside_m = given.figures.main_sizes[0].outside_m if given.figures else site.material.sizes[-1].outside_m
    materials, refused = material_variants(site)
    levels, too_high = level_variants(site, outside_m)
    groups = {MATERIAL: materials, WAY: way_variants(site), LEVEL: levels}
    options = [given]
    for variants in groups.values():
        options += [drawing_up.option(str(number), each) for number, each in enumerate(variants, len(options) + 1)]
    together = _together(options, site)
    if together:
        options.append(drawing_up.option(str(len(options) + 1), together))
    choice = choose(options, site.units)
    return Comparison(site, given.findings, tuple(options), (*refused, *too_high), choice)


def _as_given(site: Site) -> Variant:
    main = site.main
    height = site.units.length_with_unit(main.height_m)
    return Variant(AS_GIVEN, f"as given: {main.material}, {main.sizing}, {main.arrangement}, main at {height}")


def _together(options: list[Option], site: Site) -> Variant | None:
    """The best of each kind in one choice, where they are more than one."""
    taken = []
    for group in (MATERIAL, WAY, LEVEL):
        best = choose([each for each in options if each.variant.group in (AS_GIVEN, group)], site.units).taken
        if best and best.variant.changes:
            taken.append(best)
    if len(taken) < 2:
        return None
    changes = {name: value for each in taken for name, value in each.variant.changes.items()}
    titles = "; ".join(each.variant.title for each in taken)
    return Variant(TOGETHER, f"{' and '.join(each.id for each in taken)} together: {titles}", changes)


@dataclass(frozen=True)
class _DrawingUp:
    """Takes a site with other choices through the stages; what was found in its text holds for all of them."""

    site: Site
    found: tuple[Finding, ...]

    def option(self, id: str, variant: Variant) -> Option:
        designed = self._designed(variant.site(self.site))
        return Option(id, variant, designed.findings, figures_of(designed))

    def _designed(self, site: Site) -> Designed:
        findings = (*self._of_text(), *check_again(site))
        return Designed(findings, site) if errors(findings) else design_site(site, findings)

    def _of_text(self) -> Iterable[Finding]:
        checked = check_again(self.site)
        return (finding for finding in self.found if finding not in checked)
