"""The order of work, from the compressor outwards: what is done with which pieces and tags, and with what care."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.site.wall import with_article
from drafter.standards.joint_tools import JointTools, joint_tools
from drafter.supports.design import Design
from drafter.takeoff.commissioning import handover, testing
from drafter.takeoff.numbers_told import ranges, s
from drafter.takeoff.pieces import Piece
from drafter.takeoff.schedules import Takeoff
from drafter.takeoff.setting_out import EYES, Words, before, coring, marking
from drafter.takeoff.working_height import height_care

SLIP = (
    "Close the ring last, brackets {brackets} still open: push the slip coupling whole onto piece {number}, swing its "
    "end past that of piece {before}, push both home in their fittings and let them back into line; mark half the "
    "coupling's length on both tubes, slide it back to the marks, join it, close the brackets."
)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work.

    Attributes:
        what: to do.
        which: pieces by number, parts by tag, places.
        care: what to mind; often empty.
    """

    number: int
    what: str
    which: str
    care: str


def order_of_work(design: Design, takeoff: Takeoff) -> tuple[Step, ...]:
    """Return the steps in their order."""
    work = _Work(design, takeoff)
    told = [*before(design.network.layout), *coring(design, takeoff), *marking(design, takeoff)]
    told += [*work.cutting(), *work.supply(), *work.main(), *work.drops()]
    told += [*testing(design, takeoff), *handover(design, takeoff)]
    return tuple(Step(number, *words) for number, words in enumerate(told, 1))


@dataclass(frozen=True)
class _Work:
    design: Design
    takeoff: Takeoff

    @property
    def layout(self) -> Layout:
        return self.design.network.layout

    @property
    def threaded(self) -> bool:
        return self.design.network.material.joins_by == "thread"

    def cutting(self) -> Iterator[Words]:
        pieces = self.takeoff.pieces
        bought = ", ".join(
            f"{count} x {self.layout.site.units.long_length(stock)} of {plan.size}"
            for plan in self.takeoff.cutting
            for count, stock in plan.purchase
        )
        yield (
            "Measure a fitting of each kind, then cut by the cutting plan and number each piece",
            f"{len(pieces)} pieces out of {bought}{self._made_up()}",
            f"Gloves. {EYES}",
        )
        made = joint_tools(self.design.network.material.name)
        yield from self._bending(made)
        outwards = "; turn each part onto the one before it, outwards from the compressor" if self.threaded else ""
        yield f"Make each joint so: {made.making}{outwards}", f"{2 * len(pieces)} ends of pieces", made.care

    def _bending(self, made: JointTools) -> Iterator[Words]:
        bent = [piece for piece in self.takeoff.pieces if piece.bends]
        if bent:
            count, later = sum(len(piece.bends) for piece in bent), [piece.number for piece in bent if piece.make_up]
            which = f"piece{s(bent)} {ranges(piece.number for piece in bent)}, {count} bend{s(range(count))}"
            if later:
                which += f"; {ranges(later)} when the rest of the line stands, each bend where its corner falls"
            yield (
                f"Bend as the cutting list says, from each piece's first end: {made.bending}",
                which,
                made.bending_care,
            )

    def _made_up(self) -> str:
        numbers = [piece.number for piece in self.takeoff.pieces if piece.make_up]
        return f"; make-up {ranges(numbers)} when the rest of the line stands" if numbers else ""

    def supply(self) -> Iterator[Words]:
        site, plant = self.layout.site, self.layout.site.compressor
        left, off = (site.units.length_with_unit(m) for m in (plant.from_left_m, plant.off_wall_m))
        yield (
            "Stand the set level and screw on valve and flexible connection",
            f"C-01, its left end {left} from the left-hand corner of the {site.wall_words(plant.room, plant.wall)}, "
            f"{off} off it; nipple, V-01, elbow, flexible connection, elbow; V-01 closed",
            "Not running, not wired. Lift with help. On feet or pads as its maker says, tied stiffly to nothing.",
        )
        yield from self._stands()
        runs = [run for run in self.layout.runs if run.kind in (RunKind.RISER, RunKind.TREATMENT)]
        nodes = [self.layout.nodes[run.end] for run in runs]
        units = [node.tag for node in nodes if node.kind is NodeKind.TREATMENT]
        valves = [node.tag for node in nodes if node.kind is NodeKind.VALVE]
        feet = self._feet()
        care = ["Arrows on the units point with the air."] if units else []
        yield (
            "Build the riser" + (" and the treatment line" if units else "") + " from the flexible connection on",
            self._which([*runs, *feet], [*units, *valves, *self._tags_at(feet)]),
            " ".join([*care, *self._height_care(runs), *self._closing(runs)]),
        )

    def _stands(self) -> Iterator[Words]:
        """Stands on the floor come before the pipe that meets the units on them."""
        on_floor = [console for console in self.design.consoles if console.on_floor]
        if on_floor:
            units = self.layout.site.units
            told = [f"{each.tag}, its ports {units.length_with_unit(each.at.z)} up" for each in on_floor]
            yield (
                f"Set the stand{s(on_floor)} of dryer or cooler level, screw to the floor, put the unit on",
                f"{', '.join(told)}; places: mark-out",
                "Ask what lies in the floor before drilling. Lift with help.",
            )

    def main(self) -> Iterator[Words]:
        """Arm by arm and wall by wall, the pieces by number; then its drip legs."""
        for (room, wall), group in groupby(self._main_runs(), key=lambda run: (run.room, run.wall)):
            here = list(group)
            nodes = [self.layout.nodes[run.end] for run in here]
            tees = [self.layout.outlet_at(node) for node in nodes if node.kind is NodeKind.TAKE_OFF]
            valves = [node.tag for node in nodes if node.kind is NodeKind.VALVE]
            valves += [node.tag for node in nodes if node.kind is NodeKind.SPARE_TEE]
            which = self._which(here, valves) + (f"; take-offs of {', '.join(tees)}, branch up" if tees else "")
            care = [*self._height_care(here), *self._closing(here)]
            yield f"Build the main along {self.layout.site.wall_words(room, wall, with_article)}", which, " ".join(care)
        feet = self._feet()
        legs = [run for run in self.layout.runs if run.kind is RunKind.DRIP_LEG and not run.outlet and run not in feet]
        if legs:
            yield (
                "Hang the drip legs of the main, drains closed",
                self._which(legs, self._tags_at(legs)),
                " ".join(self._height_care(legs)),
            )
        loose = [bracket.tag for bracket in self.design.brackets if bracket.gives_m]
        tighten = "Tighten the brackets now" + (f"; leave room to move in {', '.join(loose)}" if loose else "")
        yield "Sight along the main: it falls all the way to its drains", self._fall(), f"{tighten}."

    def _feet(self) -> list[Run]:
        """The drip legs under the riser."""
        starts = {run.start for run in self.layout.runs if run.kind is RunKind.RISER}
        return [run for run in self.layout.runs if run.kind is RunKind.DRIP_LEG and run.start in starts]

    def _main_runs(self) -> list[Run]:
        """The runs of the main, each arm to its end before the next; what closes a ring last."""
        of_main = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)
        runs = [run for run in self.layout.runs if run.kind in of_main]
        ends = {run.end for run in runs}
        ordered: list[Run] = []
        waiting = [run for run in reversed(runs) if run.start not in ends]
        while waiting:
            run = waiting.pop()
            ordered.append(run)
            here = self.layout.runs_at[run.end]
            waiting += [on for on in reversed(here) if on.start == run.end and on.kind in of_main]
        closing = [run for run in ordered if run in self.layout.runs_at[run.end][1:] and run.end != run.start]
        return [*(run for run in ordered if run not in closing), *closing]

    def drops(self) -> Iterator[Words]:
        for outlet in self.layout.site.outlets:
            runs = [run for run in self.layout.runs if run.outlet == outlet.tag]
            tags = [tag for tag in self._tags_at(runs) if tag != outlet.tag]
            tags += list(outlet.units)
            care = [*self._height_care(runs), *self._closing(runs)]
            which = self._which(runs, tags)
            what = f"Build drop {outlet.tag}: swan neck, drop, valve, drip leg, outlet"
            if self.layout.rises_to(outlet.tag):
                what = f"Build the branch that rises to {outlet.tag}: valve, outlet"
            yield what, f"{which}; {self.layout.site.wall_words(outlet.room, outlet.wall)}", " ".join(care)

    def _height_care(self, runs: list[Run]) -> list[str]:
        """What to work from where some runs are built."""
        ids = {run.id for run in runs}
        pieces = [piece for piece in self.takeoff.pieces if ids.intersection(piece.runs)]
        high_m = max(self.layout.nodes[id].at.z for run in runs for id in (run.start, run.end))
        return height_care(self.design.network, high_m, pieces)

    def _which(self, runs: Iterable[Run], tags: Iterable[str]) -> str:
        ids = {run.id for run in runs}
        pieces = [piece.number for piece in self.takeoff.pieces if piece.run in ids]
        told = [f"piece{s(pieces)} {ranges(pieces)}"] if pieces else []
        on = [piece.number for piece in self.takeoff.pieces if piece.run not in ids and ids.intersection(piece.runs)]
        told += [f"piece{s(on)} {ranges(on)} {'goes' if len(on) == 1 else 'go'} on"] if on else []
        return "; ".join([*told, *([", ".join(dict.fromkeys(tags))] if tags else [])])

    def _tags_at(self, runs: Iterable[Run]) -> list[str]:
        return [tag for run in runs if (tag := self.layout.nodes[run.end].tag)]

    def _closing(self, runs: Iterable[Run]) -> list[str]:
        """What to say of the unions in some runs, and of the coupling that closes a ring."""
        ids = {run.id for run in runs}
        count = sum(union.run in ids for union in self.takeoff.unions)
        words = [f"Close the {f'{count} unions' if count > 1 else 'union'} last."] if count else []
        pieces = self.takeoff.pieces
        last = [number for number, piece in enumerate(pieces) if piece.slips and ids.intersection(piece.runs)]
        return [*words, *(self._slipping(pieces[number - 1], pieces[number]) for number in last)]

    def _slipping(self, before: Piece, last: Piece) -> str:
        """How a ring is closed: the tubes go deeper into their fittings than their ends stand apart.

        The brackets of both pieces stay open, and the next beyond the fittings at their far ends, so that they swing.
        """
        own = [self.layout.run_by_id[id] for id in dict.fromkeys((*before.runs, *last.runs))]
        ends = {node for run in own for node in (run.start, run.end)}
        held = [bracket for bracket in self.design.brackets if bracket.run in {run.id for run in own}]
        for node in ends:
            at = self.layout.nodes[node].at
            beyond = [run.id for run in self.layout.runs_at[node] if run not in own and run.kind is RunKind.MAIN]
            there = [bracket for bracket in self.design.brackets if bracket.run in beyond]
            held += sorted(there, key=lambda bracket: bracket.at.minus(at).length)[:1]
        tags = sorted({bracket.tag for bracket in held}, key=lambda tag: int(tag.partition("-")[2]))
        return SLIP.format(brackets=", ".join(tags), number=last.number, before=before.number)

    def _fall(self) -> str:
        main = self.layout.site.main
        return f"{self.layout.site.units.slope(main.fall)}" if main.fall else "level; every end drains"
