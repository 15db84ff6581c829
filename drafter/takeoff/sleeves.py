"""Where pipes pass walls and decks: the sleeve of each, as it is bought and cored for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from drafter.layout.graph import Layout, Node, Run, RunKind
from drafter.quantity import Units
from drafter.site.decks import decks_passed
from drafter.sizing.network import Network
from drafter.standards.sleeves import Sleeve, sleeve_for
from drafter.takeoff.part import SUNDRIES
from drafter.takeoff.rows import Row


@dataclass(frozen=True, slots=True)
class Passage:
    """A place where a pipe passes a wall or a deck.

    Attributes:
        deck: name of the deck; empty for a wall.
        thick_m: of the wall or deck.
        underside_m: of the deck above the floor; 0 for a wall.
        framed: whether it is a stud wall.
    """

    run: Run
    deck: str
    thick_m: float
    sleeve: Sleeve
    underside_m: float = 0.0
    framed: bool = False

    @property
    def hole(self) -> str:
        """What the way made for the sleeve is called: what a deck is built of, and how it is opened, is not known."""
        return "hole" if self.deck else "core"


def passages(network: Network) -> Iterator[Passage]:
    """Yield where pipes pass walls and decks, from the compressor outwards."""
    layout, imperial = network.layout, network.layout.site.imperial
    for run in layout.runs:
        outside_m = network.sizes[run.id].outside_m
        if run.kind is RunKind.SLEEVE:
            ends = [layout.nodes[id] for id in (run.start, run.end)]
            framed = any(layout.site.rooms[node.room].studs_of(node.wall) is not None for node in ends)
            yield Passage(run, "", _between_faces_m(layout, run), sleeve_for(outside_m, imperial), framed=framed)
        elif layout.is_upright(run):
            start, end = (layout.nodes[id].at for id in (run.start, run.end))
            for deck in decks_passed(layout.site, run.room, start, end):
                yield Passage(run, deck.name, deck.thickness_m, sleeve_for(outside_m, imperial), deck.underside_m)


def _between_faces_m(layout: Layout, run: Run) -> float:
    """Thickness of a wall from room to room: what of a run is past the faces at its ends [m]."""
    ends = [layout.nodes[id] for id in (run.start, run.end)]
    off_m = [layout.site.wall(node.room, node.wall).measure(node.at.plan)[1] for node in ends]
    return layout.length_m(run) - sum(off_m)


def level_at_wall_m(layout: Layout, node: Node) -> float:
    """Level of the pipe at a node; of one that falls through a wall from there, in the face of the node's room [m]."""
    for run in layout.runs_at[node.id]:
        if run.kind is RunKind.SLEEVE:
            other = layout.nodes[run.end if run.start == node.id else run.start]
            off_m = layout.site.wall(node.room, node.wall).measure(node.at.plan)[1]
            return node.at.towards(other.at, off_m).z
    return node.at.z


def sleeve_rows(network: Network) -> list[Row]:
    """Return the sleeves to buy, by bore and by the thickness of what they pass."""
    units = network.layout.site.units
    count = Counter(sleeve_item(passage, units) for passage in passages(network))
    return [Row(SUNDRIES, item, size, number, "pcs", number, ()) for (item, size), number in count.items()]


def sleeve_item(passage: Passage, units: Units) -> tuple[str, str]:
    """Return what a sleeve is bought as: item and size."""
    what, thick = "deck" if passage.deck else "wall", units.length_with_unit(passage.thick_m)
    return f"{what} sleeve with seal, {thick} thick", f"bore {passage.sleeve.name}"
