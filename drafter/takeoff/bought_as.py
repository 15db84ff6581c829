"""What a part is called where it is bought: its item, the ends it must have, and what it must do."""

from __future__ import annotations

from drafter.sizing.network import Network
from drafter.takeoff.part import OUTLETS, SUPPLY, TREATMENT, VALVES, Part
from drafter.takeoff.pipe_threads import pipe_thread

_WITH_ENDS = (SUPPLY, VALVES, OUTLETS, TREATMENT)
"""Groups of parts that are sold with ends of either kind; the names of fittings say which they have."""


SEALED = "R, or G with a sealing washer"
"""How an outside thread is made tight in an inside one of G: taper, or against the face (ISO 7-1, ISO 228-1)."""


def bought_as(part: Part, network: Network) -> str:
    """Return the item of the parts schedule for a part."""
    form = pipe_thread(network, part)
    ends = _ends(part) if part.group in _WITH_ENDS else ""
    sealed = SEALED if "male" in ends.replace("female", "") and network.layout.site.threads == "G" else ""
    words = (part.item, ends, sealed, form and f"pipe thread {form}", part.made_for)
    return ", ".join(each for each in words if each)


def _ends(part: Part) -> str:
    """Which threads a part has outside and which inside; empty where it has none, or its name says so."""
    kinds = [port.kind for port in part.ports if port.kind in ("male", "female")]
    if not kinds or "nipple" in part.item or "male" in part.item:
        return ""
    if len(set(kinds)) > 1:
        return "one end male, one female"
    return f"{'both ends' if len(kinds) > 1 else 'end'} {kinds[0]}"
