"""Stage 4: a `Network` to a `Design`: brackets along the runs, boards behind those that meet no stud."""

from drafter.supports.design import Board, Bracket, Design
from drafter.supports.placing import place_supports

__all__ = ["Board", "Bracket", "Design", "place_supports"]
