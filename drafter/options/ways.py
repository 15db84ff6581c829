"""The way of the main: a dead end or a ring, whichever the site file does not say."""

from __future__ import annotations

from drafter.options.variant import WAY, Variant
from drafter.site import Site


def way_variants(site: Site) -> list[Variant]:
    """Return the other arrangement."""
    other = "dead end" if site.main.arrangement == "ring" else "ring"
    return [Variant(WAY, other, {"arrangement": other})]
