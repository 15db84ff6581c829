"""Stage 2: a `Site` to a `Layout`: routes, levels and drains as a graph of runs in true 3-D."""

from drafter.layout.choosing_level import lay_out
from drafter.layout.graph import Layout

__all__ = ["Layout", "lay_out"]
