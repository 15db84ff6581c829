"""What a syntax error of YAML means for the one who wrote the line, and what to write instead."""

from __future__ import annotations

import re
from typing import Any, NamedTuple

import yaml

_NO_SPACE = re.compile(r"\s*(?:-\s+)?['\"]?([A-Za-z][\w -]*)['\"]?:([^\s:].*)")
_INDENTATION = "begin it in the same column as the lines it belongs with"


class Explained(NamedTuple):
    """Row and column from 0, what is wrong, and what to write."""

    row: int
    column: int
    message: str
    fix: str


def explain(error: yaml.YAMLError, lines: list[str]) -> Explained:
    """Say in plain words what a syntax error is about, and where it begins."""
    problem = str(getattr(error, "problem", "") or "")
    row, column = _spot(getattr(error, "problem_mark", None), lines)
    opening = _spot(getattr(error, "context_mark", None), lines)
    line = lines[row]
    if "\t" in line[: len(line) - len(line.lstrip())]:
        return Explained(row, line.index("\t"), "a tab is used to indent", "indent with spaces")
    if "quoted scalar" in str(getattr(error, "context", "")) and "end of stream" in problem:
        fix = "close it, or leave the quotes out; inside double quotes write inches as in"
        return Explained(*opening, "the quote that opens here is not closed", fix)
    if found := re.search(r"expected ',' or '([]}])'", problem):
        return _bracket(found[1], opening, row, column, lines)
    if "mapping values are not allowed" in problem:
        return _second_colon(row, column, lines)
    if "could not find expected ':'" in problem:
        return _no_space(opening[0], lines) or Explained(
            *opening, "this line has no colon", "write a key, a colon, a space and the value"
        )
    if "expected key" in problem or "block end" in problem or "'-' indicator" in problem:
        return _out_of_line(row, column, line)
    return _by_problem(problem, row, column, line)


def _spot(mark: Any, lines: list[str]) -> tuple[int, int]:
    """Return row and column of a mark; the end of the last written line where it lies behind that."""
    if mark is None:
        return 0, 0
    if mark.line < len(lines) and (lines[mark.line] or mark.line == 0):
        return mark.line, mark.column
    row = max((n for n, line in enumerate(lines[: mark.line]) if line.strip()), default=0)
    return row, len(lines[row].rstrip())


def _bracket(wanted: str, opening: tuple[int, int], row: int, column: int, lines: list[str]) -> Explained:
    opener = {"}": "{", "]": "["}[wanted]
    at_end = not any(line.strip() for line in (lines[row][column:], *lines[row + 1 :]))
    indent = len(lines[row]) - len(lines[row].lstrip())
    first = lines[opening[0]]
    if at_end or (row > opening[0] and indent <= len(first) - len(first.lstrip())):
        fix = f"close it with {wanted} after its last value"
        return Explained(*opening, f"the {opener} that opens here is not closed", fix)
    if lines[row][column : column + 1] in ("]", "}"):
        message = f"this {lines[row][column]} does not close the {opener} of line {opening[0] + 1}"
        return Explained(row, column, message, f"close that with {wanted} first")
    message = f"a comma is missing before here, in what the {opener} of line {opening[0] + 1} opens"
    return Explained(row, column, message, f"write a comma between the values, or {wanted} after the last")


def _no_space(row: int, lines: list[str]) -> Explained | None:
    found = _NO_SPACE.fullmatch(lines[row])
    if not found or ": " in lines[row][: found.start(2)]:
        return None
    message = "there is no space after the colon"
    return Explained(row, found.start(2), message, f"write '{found[1]}: {found[2].strip()}'")


def _second_colon(row: int, column: int, lines: list[str]) -> Explained:
    before = [n for n in range(row) if lines[n].strip() and not lines[n].lstrip().startswith("#")]
    for candidate in (row, *before[-1:]):
        if found := _no_space(candidate, lines):
            return found
    if re.search(r":\s", lines[row][:column]):
        fix = "put quotes round a text that holds a colon"
        return Explained(row, column, "a second colon stands in one value", fix)
    indent = len(lines[row]) - len(lines[row].lstrip())
    message = "this line stands further in than the line before it, which has its value already"
    return Explained(row, indent, message, _INDENTATION)


def _out_of_line(row: int, column: int, line: str) -> Explained:
    if line[:column].strip(" -"):
        fix = "put the whole value between quotes, of a kind that it does not hold itself"
        return Explained(row, column, "text stands here behind the end of the value", fix)
    return Explained(row, column, "this line begins in a column that fits no line above", _INDENTATION)


def _by_problem(problem: str, row: int, column: int, line: str) -> Explained:
    sign = line[column : column + 1]
    if "cannot start any token" in problem:
        return Explained(row, column, f"a value cannot begin with '{sign}'", "put it between quotes")
    if "node content" in problem:
        return Explained(row, column, f"a '{sign}' stands here by itself", "delete it or write the value first")
    if "sequence entries" in problem:
        fix = "begin the list on the next line, or write it as [one, two]"
        return Explained(row, column, "a list begins on the line of its key", fix)
    if "escape" in problem:
        message = "a backslash stands in double quotes"
        return Explained(row, column, message, "use single quotes, or leave the quotes out")
    if "nesting" in problem:
        return Explained(row, column, "brackets are nested too deep here", "check the brackets")
    fix = "check colons, brackets, quotes and indentation of this line and the one before"
    return Explained(row, column, f"this cannot be read: {problem or 'the text breaks off'}", fix)
