"""Findings and results as text for people and as JSON for programs.

Pressures are gauge; flows are free air, counted at 20 degC and 1 bar absolute, dry.
"""

from drafter.report.data import to_json
from drafter.report.findings import findings_text
from drafter.report.first_things import grouped_text
from drafter.report.text import CAUTIONS, report_text, verdict

__all__ = ["CAUTIONS", "findings_text", "grouped_text", "report_text", "to_json", "verdict"]
