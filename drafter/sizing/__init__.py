"""Stage 3: a `Layout` to a `Network`: demand, bores, flows and pressures."""

from drafter.sizing.network import Network
from drafter.sizing.sizing import size

__all__ = ["Network", "size"]
