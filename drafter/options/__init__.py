"""The same job with other choices, side by side: materials, a ring or a dead end, levels of the main.

A site file goes through all stages once for each choice; what comes out is compared by one rule.
"""

from drafter.options.comparing import Comparison, compare
from drafter.options.data import options_json
from drafter.options.page import options_drawing
from drafter.options.text import options_text

__all__ = ["Comparison", "compare", "options_drawing", "options_json", "options_text"]
