"""Stage 7: design, schedules, findings and symbols to the neutral drawing: views and sheets."""

from drafter.sheets.composing import compose

__all__ = ["compose"]
