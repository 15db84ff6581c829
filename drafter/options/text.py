"""A comparison as text for people."""

from __future__ import annotations

from drafter.options.comparing import Comparison
from drafter.options.wording import HEADS, against, doors, recommendation, remarks, row
from drafter.report import CAUTIONS
from drafter.report.blocks import block, columns


def options_text(comparison: Comparison) -> str:
    """Return the recommendation, the table of choices, and what stands against those that cannot be built.

    Raises:
        ValueError: the site file could not be read, so there is nothing to compare.
    """
    site, choice = comparison.site, comparison.choice
    if site is None or choice is None:
        raise ValueError("there are no choices to compare")
    table = columns([HEADS, *(row(option, choice, site.units) for option in comparison.options)])
    passed, found = doors(comparison), against(comparison)
    blocks = [
        f"{site.name}\nChoices side by side",
        block("WHICH TO TAKE", [recommendation(comparison)]),
        block("CHOICES", table),
        block("DOORS ON THE WAY OF THE MAIN", columns(passed)) if passed else "",
        block("CANNOT BE BUILT, OR NOT DRAWN UP", columns(found)) if found else "",
        block("REMARKS", remarks(comparison)),
        block("CAUTIONS", CAUTIONS),
    ]
    return "\n\n".join(each for each in blocks if each) + "\n"
