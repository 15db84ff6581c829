"""Parts of an installation that each have an isometric of their own, where one would be too full to read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from drafter.layout.graph import Layout, Node, NodeKind, Run


@dataclass(frozen=True)
class Part:
    """Some runs of a layout.

    Attributes:
        runs: in the order in which the air comes to them.
        number, count: which part it is, from 1, of how many.
    """

    layout: Layout
    runs: tuple[Run, ...]
    number: int = 1
    count: int = 1

    @cached_property
    def nodes(self) -> tuple[Node, ...]:
        """The nodes at the ends of its runs."""
        ids = dict.fromkeys(id for run in self.runs for id in (run.start, run.end))
        return tuple(self.layout.nodes[id] for id in ids)

    @cached_property
    def own_nodes(self) -> tuple[Node, ...]:
        """The nodes whose signs and tags stand in this part: those that its runs bring air to, and the tank."""
        ids = {run.end for run in self.runs}
        return tuple(node for node in self.nodes if node.id in ids or node.kind is NodeKind.TANK)

    @property
    def couplings(self) -> tuple[Node, ...]:
        mine = {node.id for node in self.own_nodes}
        return tuple(node for node in self.layout.couplings if node.id in mine)

    @cached_property
    def rooms(self) -> tuple[str, ...]:
        """The rooms that it runs through, in the order of the site file."""
        used = {node.room for node in self.nodes}
        return tuple(room for room in self.layout.site.walls if room in used)

    @property
    def tank(self) -> Node | None:
        return next((node for node in self.nodes if node.kind is NodeKind.TANK), None)


def whole(layout: Layout) -> Part:
    """Return everything as one part."""
    return Part(layout, layout.runs)


def split(layout: Layout, count: int) -> list[Part]:
    """Split a layout along its main into so many parts, or fewer, with about as many outlets each."""
    drops: dict[str, list[Run]] = {}
    for run in layout.runs:
        if run.outlet:
            drops.setdefault(layout.take_offs[run.outlet].id, []).append(run)
    main = list(_along(layout))
    brought = [{run.outlet for run in drops.get(run.end, [])} for run in main]
    total = max(1, sum(map(len, brought)))
    chunks: list[list[Run]] = [[] for _ in range(count)]
    done = 0
    for run, outlets in zip(main, brought, strict=True):
        chunk = chunks[min(count - 1, done * count // total)]
        chunk += [run, *drops.pop(run.end, [])]
        done += len(outlets)
    full = [chunk for chunk in chunks if chunk]
    return [Part(layout, tuple(chunk), number, len(full)) for number, chunk in enumerate(full, 1)]


def _along(layout: Layout) -> Iterator[Run]:
    """The runs but for those of the outlets, each arm to its end before the next."""
    seen: set[str] = set()
    waiting = [next(iter(layout.nodes))]
    while waiting:
        node = waiting.pop()
        leaving = [run for run in layout.runs_at[node] if run.start == node and not run.outlet and run.id not in seen]
        if len(leaving) > 1:
            waiting.append(node)
        if leaving:
            seen.add(leaving[0].id)
            yield leaving[0]
            waiting.append(leaving[0].end)


def continued(parts: Sequence[Part], part: Part) -> Iterator[tuple[Node, int]]:
    """Yield the nodes of a part at which the pipe goes on in another, with the number of that."""
    for node in part.nodes:
        for other in parts:
            if other is not part and any(
                node.id in (run.start, run.end) and run.id not in _ids(part) for run in other.runs
            ):
                yield node, other.number


def _ids(part: Part) -> frozenset[str]:
    return frozenset(run.id for run in part.runs)
