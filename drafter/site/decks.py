"""Decks, such as mezzanines: what stands on them, and which upright pipes pass them in a sleeve."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.geometry import Point, Point3
from drafter.site.model import Deck, Site

BESIDE_M = 0.3
"""So near its edge one stands on a deck to reach an outlet (common practice)."""


def deck_below(site: Site, room: str, at: Point3) -> Deck | None:
    """Return the deck of a room that one stands on to reach a point; None where that is the room's own floor."""
    below = [
        deck for deck in site.rooms[room].decks if deck.top_m < at.z and _off_m(site, room, deck, at.plan) < BESIDE_M
    ]
    return max(below, key=lambda deck: deck.top_m, default=None)


def height_above_standing_m(site: Site, room: str, at: Point3) -> float:
    """Return how high a point is above the floor, or the deck, that one stands on to reach it [m]."""
    deck = deck_below(site, room, at)
    return at.z - (deck.top_m if deck else 0.0)


def decks_passed(site: Site, room: str, start: Point3, end: Point3) -> Iterator[Deck]:
    """Yield the decks of a room that a pipe between two points passes."""
    low_m, high_m = sorted((start.z, end.z))
    for deck in site.rooms[room].decks:
        if low_m < deck.underside_m and high_m > deck.top_m and _off_m(site, room, deck, start.plan) <= 0.0:
            yield deck


def _off_m(site: Site, room: str, deck: Deck, spot: Point) -> float:
    """How far a spot is from a deck in plan; 0 or less over it [m]."""
    along_m, off_m = site.wall(room, deck.wall).measure(spot)
    return max(
        deck.from_left_m - along_m,
        along_m - deck.from_left_m - deck.width_m,
        deck.off_wall_m - off_m,
        off_m - deck.off_wall_m - deck.depth_m,
    )
