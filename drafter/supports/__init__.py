"""Stage 4: a `Network` to a `Design`: brackets along the runs."""

from drafter.supports.design import Bracket, Design
from drafter.supports.placing import place_supports

__all__ = ["Bracket", "Design", "place_supports"]
