"""Stage 6: a `Design` to a `Takeoff`: parts, cutting and mark-out."""

from drafter.takeoff.schedules import Takeoff, take_off

__all__ = ["Takeoff", "take_off"]
