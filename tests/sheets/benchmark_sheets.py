"""How long a set of sheets takes, and its parts: the whole set, labels alone, the PDF against the library alone.

Prints for each example the processor time of layout, sizing, composing and PDF after imports; the time to place 500
labels; and the time to write the PDF against the library making the same calls from a ready list.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from drafter.backends import pdf
from drafter.drawing import Drawing
from drafter.geometry import Point
from drafter.pipeline import compose_drawing, design
from drafter.sheets.placing import Ground, Label

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
LABELS, ACROSS_MM, UP_MM = 500, 700.0, 450.0
TURNS = 5
Call = tuple[str, tuple[Any, ...], dict[str, Any]]
MADE = ("beginPath", "beginText")
"""Calls that return something to draw into."""


class Noted:
    """Passes calls on to an object and notes them; what it makes notes its own."""

    def __init__(self, of: Any, calls: list[Call]) -> None:
        self.__dict__.update(of=of, calls=calls)

    def __setattr__(self, name: str, value: Any) -> None:
        setattr(self.of, name, value)

    def __getattr__(self, name: str) -> Any:
        found = getattr(self.of, name)
        if not callable(found) or name.startswith("_"):
            return found

        def noted(*args: Any, **more: Any) -> Any:
            if name in MADE:
                made = Noted(found(*args, **more), [])
                made.__dict__["kind"] = name
                return made
            self.calls.append((name, args, more))
            return found(*(arg.of if isinstance(arg, Noted) else arg for arg in args), **more)

        return noted


def again(target: Any, calls: list[Call]) -> None:
    for name, args, more in calls:
        plain = []
        for arg in args:
            if isinstance(arg, Noted):
                made = getattr(target, arg.__dict__["kind"])()
                again(made, arg.calls)
                arg = made
            plain.append(arg)
        getattr(target, name)(*plain, **more)


def calls_of(drawing: Drawing) -> tuple[dict[str, Any], list[Call]]:
    calls: list[Call] = []
    given: dict[str, Any] = {}

    def noting(*args: Any, **more: Any) -> Noted:
        given.update(more)
        return Noted(Canvas(*args, **more), calls)

    kept, pdf.Canvas = pdf.Canvas, noting  # type: ignore[misc, assignment]
    try:
        pdf.to_pdf(drawing)
    finally:
        pdf.Canvas = kept  # type: ignore[misc]
    return given, calls


def seconds(work: Callable[[], object], turns: int = TURNS) -> float:
    times = []
    for _ in range(turns):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def report_sets() -> None:
    for path in EXAMPLES:
        data = path.read_bytes()
        drawing = compose_drawing(design(data, path.name))
        designing = seconds(lambda data=data, path=path: design(data, path.name))  # type: ignore[misc]
        designed = design(data, path.name)
        composing = seconds(lambda designed=designed: compose_drawing(designed))  # type: ignore[misc]
        writing = seconds(lambda drawing=drawing: pdf.to_pdf(drawing))  # type: ignore[misc]
        given, calls = calls_of(drawing)
        alone = seconds(lambda given=given, calls=calls: again(Canvas(BytesIO(), **given), calls))  # type: ignore[misc]
        print(
            f"{path.stem:16} design {designing:5.2f} s, composing {composing:5.2f} s, PDF {writing:5.2f} s, together "
            f"{designing + composing + writing:5.2f} s; PDF against {alone:5.2f} s: {writing / alone:4.2f}"
        )


def report_labels() -> None:
    chance = random.Random(1)
    labels = [
        Label(
            "T", "T", Point(chance.uniform(0, ACROSS_MM), chance.uniform(0, UP_MM)), (f"A{n}", "+1.200"), kind="outlet"
        )
        for n in range(LABELS)
    ]
    taken_s = seconds(lambda: Ground(1.0).set_all(labels), 3)
    ground = Ground(1.0)
    ground.set_all(labels)
    print(f"{LABELS} labels: {taken_s:.2f} s, {len(ground.homeless)} found no place")


if __name__ == "__main__":
    report_sets()
    report_labels()
