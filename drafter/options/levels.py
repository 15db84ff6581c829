"""Other levels of the main as choices."""

from __future__ import annotations

from drafter.layout.levels import Level, candidate_levels
from drafter.options.variant import LEVEL, Skipped, Variant
from drafter.site import Site


def level_variants(site: Site, outside_m: float) -> tuple[list[Variant], list[Skipped]]:
    """Return other levels of the main, the highest first, and those that find no room below the ceiling.

    Args:
        outside_m: diameter of the main.
    """
    units = site.units
    levels, no_room = candidate_levels(site, outside_m, Level(site.main.height_m))
    skipped = [
        Skipped(
            f"main over the {each.doorway.name}",
            f"would need {units.length_with_unit(each.needed_m)}; "
            f"the ceilings let the main hang at {units.length_with_unit(each.most_m)} at most",
        )
        for each in no_room
    ]
    return [_variant(site, level) for level in levels], skipped


def _variant(site: Site, level: Level) -> Variant:
    title = f"main at {site.units.length_with_unit(level.height_m)}, {level.words}"
    return Variant(LEVEL, title, {"height_m": level.height_m})
