"""The first part of the order of work: what is switched off, marked, cored and fixed before there is pipe."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import Layout
from drafter.supports.design import Design
from drafter.takeoff.marks import Mark
from drafter.takeoff.numbers_told import s, span
from drafter.takeoff.schedules import Takeoff
from drafter.takeoff.sleeves import passages
from drafter.takeoff.working_height import IN_REACH_M, PLATFORM, height_care

Words = tuple[str, str, str]
"""What to do, with what, what to mind."""

EYES = "Wear eye protection."

DECK = "Look first what the deck is built of: a hole saw in timber or sheet, a core drill in concrete."

HELD = ("bracket", "hanger")
"""What the marks begin with that hold the pipe."""


def before(layout: Layout) -> Iterator[Words]:
    """Yield what comes before any work on the walls."""
    site = layout.site
    panels = [
        f"{keep.name or keep.kind}, {layout.site.wall_words(name, keep.wall)}"
        for name, room in site.rooms.items()
        for keep in room.keep_clear
        if keep.kind == "electrical panel"
    ]
    yield (
        "Read the data plates; switch off, lock out and tag what runs, bleed it to zero",
        "; ".join(["C-01", *panels]),
        "Wiring and panels are an electrician's. Look for cables and pipes in the walls before drilling.",
    )
    yield (
        "Strike the level line round the walls that carry pipe",
        f"{site.units.length_with_unit(site.level_line_m)} above the floor at the datum corner",
        "",
    )


def coring(design: Design, takeoff: Takeoff) -> Iterator[Words]:
    """Yield the holes for sleeves, before anything stands in the way of the drill; it kicks, so never from a ladder."""
    layout, through = design.network.layout, list(passages(design.network))
    if not through:
        return
    places = [f"{p.deck or layout.site.wall_words(p.run.room, p.run.wall)}, {p.hole} {p.sleeve.core}" for p in through]
    high_m = max(mark.fixed_at_m for mark in takeoff.marks if mark.what.startswith("sleeve"))
    studs = "studs, " if any(passage.framed for passage in through) else ""
    care = [f"Look for {studs}cables and pipes on both sides; beams and reinforcement are a builder's."]
    care += [DECK] if any(passage.deck for passage in through) else []
    care += [PLATFORM] if high_m > IN_REACH_M else []
    care.append(f"Fire stopping by others. {EYES}")
    yield (
        "Mark both faces, make the holes for the sleeves, set them",
        f"{len(through)}: {'; '.join(dict.fromkeys(places))}",
        " ".join(care),
    )


def marking(design: Design, takeoff: Takeoff) -> Iterator[Words]:
    """Yield the marks and brackets wall by wall, in the order of the air."""
    layout = design.network.layout
    for room, wall in dict.fromkeys((run.room, run.wall) for run in layout.runs):
        here = [mark for mark in takeoff.marks if (mark.room, mark.wall) == (room, wall)]
        marks = [mark for mark in here if not mark.what.startswith("sleeve, core")]
        if not marks:
            continue
        held = any(mark.what.startswith(HELD) for mark in marks)
        done = "Mark out, drill, fix the brackets" if held else "Mark out"
        care = _care(design, room, wall, marks)
        yield (
            f"{done}: {layout.site.wall_words(room, wall)}",
            _marked(marks),
            " ".join([*care, *([EYES] if held else [])]),
        )


def _marked(marks: list[Mark]) -> str:
    brackets = [mark.tag for mark in marks if mark.what.startswith(HELD)]
    others = [mark.tag for mark in marks if not mark.what.startswith(HELD) and mark.tag]
    which = f"{len(marks)} mark{s(marks)}"
    which += f"; brackets {span(brackets)}" if brackets else ""
    return which + (f"; {', '.join(dict.fromkeys(others))}" if others else "")


def _care(design: Design, room: str, wall: str, marks: list[Mark]) -> Iterator[str]:
    """How high one works on a wall, and what is near."""
    site = design.network.layout.site
    highest = max(marks, key=lambda mark: mark.fixed_at_m)
    if care := height_care(design.network, highest.fixed_at_m):
        where = ", where the hangers are fixed" if highest.fixed_at_m > highest.height_m else ""
        yield f"Up to {site.units.length_with_unit(highest.fixed_at_m)}{where}."
        yield from care
    panels = [keep for keep in site.rooms[room].keep_clear if keep.kind == "electrical panel"]
    if any(site.wall(room, keep.wall).name == wall for keep in panels):
        yield "Keep off the electrical panel."
