"""Stage 2: a `Site` to a `Layout`: routes, levels and drains as a graph of runs in true 3-D."""

from drafter.layout.graph import Layout
from drafter.layout.laying_out import lay_out

__all__ = ["Layout", "lay_out"]
