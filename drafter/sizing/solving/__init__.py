"""Steady flow of compressed air through any network of plain arrays."""

from drafter.sizing.solving.pipe_law import PipeLaw, pipe_law
from drafter.sizing.solving.solver import ChokedPipe, Solution, solve

__all__ = ["ChokedPipe", "PipeLaw", "Solution", "pipe_law", "solve"]
