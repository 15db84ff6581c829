"""Steady flow of compressed air through any network of plain arrays."""

from drafter.sizing.solving.choking import ChokedPipe
from drafter.sizing.solving.devices import Nozzles, Regulators, Restrictions
from drafter.sizing.solving.pipe_law import PipeLaw, pipe_law
from drafter.sizing.solving.solution import RegulatorState, Solution
from drafter.sizing.solving.solver import sensitivity, solve, solve_cases

__all__ = [
    "ChokedPipe", "Nozzles", "PipeLaw", "RegulatorState", "Regulators", "Restrictions", "Solution", "pipe_law",
    "sensitivity", "solve", "solve_cases",
]  # fmt: skip
