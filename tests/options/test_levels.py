"""Levels of the main: what each is named for holds there, and just so."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from drafter.layout import lay_out
from drafter.layout.doorways import doorways
from drafter.layout.levels import height_over_m, height_with_headroom_m, highest_main_m
from drafter.options.comparing import compare
from drafter.options.levels import level_variants
from drafter.options.passing import OVER, ROUND, passings
from drafter.options.variant import LEVEL, Variant
from drafter.pipeline import design_site
from drafter.site import Site, read

TOP = Path(__file__).parents[2]
EXAMPLES = sorted((TOP / "example_sites").glob("*.yaml"))
DOOR = "ceiling: 4.2 m, openings: [{kind: overhead door, wall: east, from left: 3 m, width: 2.4 m, height: 2.4 m}]"


def site_of(text: str) -> Site:
    site, findings = read(text, "yard.yaml")
    assert site is not None, findings
    return site


def at(site: Site, height_m: float) -> Site:
    return Variant(LEVEL, "", {"height_m": height_m}).site(site)


def rules(site: Site) -> set[str]:
    return {finding.rule for finding in design_site(site, ()).findings}


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def example(request: pytest.FixtureRequest) -> Site:
    return site_of(request.param.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def with_door(yard_text: str) -> Site:
    """A door on the way from the riser to the far outlet."""
    return site_of(yard_text.replace("ceiling: 3 m", DOOR).replace("from left: 2 m", "from left: 1.5 m"))


def test_the_highest_level_can_be_laid_out_and_none_higher(example: Site) -> None:
    """Unless an outlet is fed from below, as on a mezzanine: then the highest is too high for that one alone."""
    most_m, step_m = highest_main_m(example), example.units.set_out_m(0.01)
    layout, findings = lay_out(at(example, most_m))
    high = {outlet.tag for outlet in example.outlets if outlet.height_m > example.main.height_m}
    assert layout is not None or {finding.subject for finding in findings} == high != set()
    assert lay_out(at(example, most_m + step_m))[0] is None
    assert most_m / step_m == pytest.approx(round(most_m / step_m))


def test_headroom_is_kept_at_its_level_and_not_below(yard_text: str) -> None:
    site = site_of(yard_text)
    designed = design_site(site, ())
    assert designed.network is not None
    outside_m = max(size.outside_m for size in designed.network.sizes.values())
    low_m = height_with_headroom_m(site, outside_m, highest_main_m(site))
    assert "HEAD001" not in rules(at(site, low_m))
    assert "HEAD001" in rules(at(site, low_m - 0.01))


def test_at_its_level_the_main_passes_over_the_door_and_below_goes_round(with_door: Site) -> None:
    (doorway,) = doorways(with_door)
    over_m = height_over_m(with_door, doorway, highest_main_m(with_door))
    for height_m, how in ((over_m, OVER), (over_m - 0.01, ROUND)):
        layout, findings = lay_out(at(with_door, height_m))
        assert layout is not None, findings
        assert [passing.how for passing in passings(layout)] == [how]
        assert bool(list(doorway.over_it(layout))) == (how == OVER)


def test_round_is_longer_than_over(with_door: Site) -> None:
    (doorway,) = doorways(with_door)
    over_m = height_over_m(with_door, doorway, highest_main_m(with_door))
    lengths = []
    for height_m in (over_m, over_m - 0.01):
        layout, _ = lay_out(at(with_door, height_m))
        assert layout is not None
        lengths.append(sum(layout.length_m(run) for run in layout.runs))
    assert lengths[1] > lengths[0] + 1.0


def test_a_door_no_level_passes_is_told(yard_text: str) -> None:
    site = site_of(yard_text.replace("ceiling: 3 m", DOOR.replace("4.2 m", "3 m")).replace("2.4 m}", "2.6 m}"))
    variants, skipped = level_variants(site, 0.022)
    assert [each.title for each in skipped] == [f"main over the {doorways(site)[0].name}"]
    assert "ceilings let the main hang at" in skipped[0].why
    assert not [variant for variant in variants if "over the" in variant.title]


def test_levels_stand_apart_from_each_other_and_from_the_given(example: Site) -> None:
    variants, _ = level_variants(example, 0.03)
    heights = [example.main.height_m, *(variant.changes["height_m"] for variant in variants)]
    assert 3 <= len(heights) <= 6
    ordered = sorted(heights)
    assert all(above - below > 0.03 for below, above in pairwise(ordered))
    assert heights[1:] == sorted(heights[1:], reverse=True)


def test_a_level_that_cannot_be_built_is_listed_with_its_first_finding() -> None:
    comparison = compare((TOP / "example_sites" / "bus_depot.yaml").read_bytes(), "bus_depot.yaml")
    blocked = [o for o in comparison.options if o.variant.group == LEVEL and not o.can_be_built]
    assert blocked
    for option in blocked:
        assert option.first_error is not None
        assert comparison.choice is not None
        assert comparison.choice.loses[option.id] == f"cannot be built: {option.first_error.rule}"
