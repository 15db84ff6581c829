"""Threads of pipe that is threaded: their form, and the pieces too short to be threaded between vice and threader."""

from __future__ import annotations

from collections.abc import Iterable

from drafter.sizing.network import Network
from drafter.takeoff.part import Part
from drafter.takeoff.pieces import Piece

SHORTEST_M = 0.11
"""Shorter pieces cannot be held for the second thread without a nipple chuck (common practice)."""

SHORT_WORDS = "nipple chuck, or a bought nipple"

_FORMS = {"G": {"male": "R", "female": "Rp"}, "NPT": {"male": "NPT", "female": "NPT"}}
"""ISO 7-1: taper outside, parallel inside; ASME B1.20.1: both taper."""


def thread_form(network: Network, kinds: Iterable[str]) -> str:
    """Return the form of threads, such as ``R / Rp``, by the site's thread standard.

    Args:
        kinds: `male` and `female` ends of pipe threads.

    Source:
        ISO 7-1, ASME B1.20.1: which forms make pressure-tight joints of pipe.
    """
    forms = _FORMS[network.layout.site.threads]
    return " / ".join(dict.fromkeys(forms[kind] for kind in sorted(set(kinds), reverse=True)))


def pipe_thread(network: Network, part: Part) -> str:
    """Return the form of a part's pipe threads; empty where it has none, or where its size says the thread."""
    if network.material.joins_by != "thread":
        return ""
    names = {size.name for size in network.material.sizes}
    forms = thread_form(network, (port.kind for port in part.ports if port.size in names))
    return "" if part.size.startswith(network.layout.site.threads) else forms


def short_pieces(network: Network, pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Return the threaded pieces too short to be held for their second thread."""
    if network.material.joins_by != "thread":
        return ()
    return tuple(piece for piece in pieces if piece.cut_m < SHORTEST_M)
