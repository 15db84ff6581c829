"""Formulas and tables from published standards and from practice, each value with its source."""
