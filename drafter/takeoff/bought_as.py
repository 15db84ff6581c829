"""What a part is called where it is bought: its item with the form of its pipe threads and what it must do."""

from __future__ import annotations

from drafter.sizing.network import Network
from drafter.takeoff.part import Part
from drafter.takeoff.pipe_threads import pipe_thread


def bought_as(part: Part, network: Network) -> str:
    """Return the item of the parts schedule for a part."""
    form = pipe_thread(network, part)
    return ", ".join(words for words in (part.item, form and f"pipe thread {form}", part.made_for) if words)
