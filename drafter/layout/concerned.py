"""What the latest revision of the drawings concerns: things by their tags, walls and rooms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.layout.graph import Layout
from drafter.reader import nearest_hint
from drafter.site.wall import in_words


@dataclass(frozen=True)
class Concerned:
    """What a revision touches.

    Attributes:
        revision: its letter, empty where it names nothing.
        tags: of outlets, valves, drains, units, spare tees, the compressor.
        walls: rooms and names of walls and crossings.
        rooms: their names.
    """

    revision: str = ""
    tags: frozenset[str] = frozenset()
    walls: frozenset[tuple[str, str]] = frozenset()
    rooms: frozenset[str] = frozenset()


def concerned(layout: Layout) -> Concerned:
    """Return what the latest revision names; earlier ones are no longer marked."""
    revisions = layout.site.drawing.revisions
    if not revisions or not revisions[-1].concerns:
        return Concerned()
    names = _names(layout)
    wanted = {each.name.lower() for each in revisions[-1].concerns}
    found = [thing for name, things in names.items() if name.lower() in wanted for thing in things]
    return Concerned(
        revisions[-1].revision,
        frozenset(thing for kind, thing in found if kind == "tag" and isinstance(thing, str)),
        frozenset(thing for _, thing in found if isinstance(thing, tuple)),
        frozenset(thing for kind, thing in found if kind == "room" and isinstance(thing, str)),
    )


def check_concerned(layout: Layout) -> Iterator[Finding]:
    """Yield ISSUE004 for what the latest revision concerns that is not there, or not the only one of its name."""
    revisions, names = layout.site.drawing.revisions, _names(layout)
    by_letters = {name.lower(): things for name, things in names.items()}
    for each in revisions[-1].concerns if revisions else ():
        things = by_letters.get(each.name.lower(), ())
        if len(things) == 1 or any(kind != "wall" for kind, _ in things):
            continue
        if things:
            rooms = [thing[0] for _, thing in things if isinstance(thing, tuple)]
            message = f"there are {len(things)} walls called '{each.name}'"
            fix = "write " + " or ".join(f"'{each.name} of {room}'" for room in rooms)
        else:
            message = (
                f"revision {revisions[-1].revision} concerns '{each.name}', which is neither tag nor wall nor room"
            )
            known = ", ".join(name for name, things in names.items() if len(things) == 1)
            fix = f"{nearest_hint(each.name, names)}there are: {known}"
        yield Finding("ISSUE004", Severity.ERROR, each.where("name"), message, revisions[-1].revision, fix=fix)


def _names(layout: Layout) -> Mapping[str, list[tuple[str, str | tuple[str, str]]]]:
    """What may be named, with what has the name: a tag, a room, or a wall by its own name and that of its room."""
    found: dict[str, list[tuple[str, str | tuple[str, str]]]] = {}
    for tag in sorted({node.tag for node in layout.nodes.values() if node.tag}):
        found.setdefault(tag, []).append(("tag", tag))
    for room in layout.site.walls:
        found.setdefault(room, []).append(("room", room))
    several = len(layout.site.walls) > 1
    for wall in layout.site.faces:
        place = wall.room, wall.name
        found.setdefault(in_words(wall.name), []).append(("wall", place))
        if several:
            found.setdefault(f"{in_words(wall.name)} of {wall.room}", []).append(("wall", place))
    return found
