"""Numbers and tags as a list tells them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Sized
from itertools import groupby


def s(things: Sized) -> str:
    """The ending of a word that counts some things."""
    return "" if len(things) == 1 else "s"


def ranges(numbers: Iterable[int]) -> str:
    """Numbers as a list reads them: ``1-4, 7``."""
    runs = [
        [number for _, number in group]
        for _, group in groupby(enumerate(sorted(numbers)), key=lambda pair: pair[1] - pair[0])
    ]
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def span(tags: Sequence[str]) -> str:
    """Tags numbered on as first to last."""
    return f"{tags[0]} to {tags[-1]}" if len(tags) > 2 else ", ".join(tags)
