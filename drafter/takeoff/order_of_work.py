"""The order of work, from the compressor outwards: what is done with which pieces and tags, and with what care."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sized
from dataclasses import dataclass
from itertools import groupby

from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.site.wall import in_words, with_article
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S
from drafter.standards.joint_tools import JointTools, joint_tools
from drafter.supports.design import Design
from drafter.takeoff.schedules import Takeoff

IN_REACH_M = 2.0
"""Above this a ladder is needed (common practice)."""

LADDER = "Safe ladder, one holds it."
EYES = "Wear eye protection."

HELD = ("bracket", "hanger")
"""What the marks begin with that hold the pipe."""


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
    told = [*work.before(), *work.marking(), *work.cutting(), *work.supply(), *work.main(), *work.drops()]
    told += [*work.testing(), *work.handover()]
    return tuple(Step(number, *words) for number, words in enumerate(told, 1))


Words = tuple[str, str, str]


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

    def wall(self, room: str, wall: str, words: Callable[[str], str] = in_words) -> str:
        return words(wall) + (f" of {room}" if len(self.layout.site.rooms) > 1 else "")

    def before(self) -> Iterator[Words]:
        site = self.layout.site
        panels = [
            f"{keep.name or keep.kind}, {self.wall(name, keep.wall)}"
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

    def marking(self) -> Iterator[Words]:
        """Wall by wall in the order of the air: marks, sleeves and brackets."""
        units = self.layout.site.units
        walls = dict.fromkeys((run.room, run.wall) for run in self.layout.runs)
        for room, wall in walls:
            marks = [mark for mark in self.takeoff.marks if (mark.room, mark.wall) == (room, wall)]
            if not marks:
                continue
            brackets = [mark.tag for mark in marks if mark.what.startswith(HELD)]
            others = [mark.tag for mark in marks if not mark.what.startswith((*HELD, "sleeve")) and mark.tag]
            which = f"{len(marks)} marks"
            which += f"; brackets {_span(brackets)}" if brackets else ""
            which += f"; {', '.join(dict.fromkeys(others))}" if others else ""
            high = max(mark.height_m for mark in marks)
            care = [f"Up to {units.length_with_unit(high)}. {LADDER}"] if high > IN_REACH_M else []
            if any(
                keep.kind == "electrical panel" and self.layout.site.wall(room, keep.wall).name == wall
                for keep in self.layout.site.rooms[room].keep_clear
            ):
                care.append("Keep off the electrical panel.")
            care += [EYES] if brackets else []
            done = "Mark out, drill, fix the brackets" if brackets else "Mark out"
            yield f"{done}: {self.wall(room, wall)}", which, " ".join(care)
        sleeves = [run for run in self.layout.runs if run.kind is RunKind.SLEEVE]
        if sleeves:
            walls_through = ", ".join(dict.fromkeys(self.wall(run.room, run.wall) for run in sleeves))
            yield (
                "Core the walls and set the sleeves",
                f"{len(sleeves)}: {walls_through}",
                f"Fire stopping by others. {EYES}",
            )

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
            count = sum(len(piece.bends) for piece in bent)
            which = f"piece{_s(bent)} {_ranges(piece.number for piece in bent)}, {count} bend{_s(range(count))}"
            yield (
                f"Bend as the cutting list says, from each piece's first end: {made.bending}",
                which,
                made.bending_care,
            )

    def _made_up(self) -> str:
        numbers = [piece.number for piece in self.takeoff.pieces if piece.make_up]
        return f"; make-up {_ranges(numbers)} when the rest of the line stands" if numbers else ""

    def supply(self) -> Iterator[Words]:
        yield (
            "Stand the set level and screw on valve and flexible connection",
            "C-01, nipple, V-01, flexible connection; V-01 closed",
            "Not running, not wired. Lift with help.",
        )
        runs = [run for run in self.layout.runs if run.kind in (RunKind.RISER, RunKind.TREATMENT)]
        units = [node.tag for node in self.layout.nodes.values() if node.kind is NodeKind.TREATMENT]
        feet = self._feet()
        care = ["Arrows on the units point with the air."] if units else []
        yield (
            "Build the riser" + (" and the treatment line" if units else "") + " from the flexible connection on",
            self._which([*runs, *feet], [*units, *self._tags_at(feet)]),
            " ".join([*care, *self._closing(runs)]),
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
            high = max(self.layout.nodes[run.start].at.z for run in here)
            care = [LADDER] if high > IN_REACH_M else []
            care += self._closing(here)
            yield f"Build the main along {self.wall(room, wall, with_article)}", which, " ".join(care)
        feet = self._feet()
        legs = [run for run in self.layout.runs if run.kind is RunKind.DRIP_LEG and not run.outlet and run not in feet]
        if legs:
            yield "Hang the drip legs of the main, drains closed", self._which(legs, self._tags_at(legs)), ""
        yield "Sight along the main: it falls all the way to its drains", self._fall(), "Tighten the brackets now."

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
            tags += list(outlet.service)
            care = self._closing(runs)
            which = self._which(runs, tags)
            what = f"Build drop {outlet.tag}: swan neck, drop, valve, drip leg, outlet"
            if self.layout.rises_to(outlet.tag):
                what = f"Build the branch that rises to {outlet.tag}: valve, outlet"
            yield what, f"{which}; {self.wall(outlet.room, outlet.wall)}", " ".join(care)

    def testing(self) -> Iterator[Words]:
        units, leaks = self.layout.site.units, self.design.network.leaks
        tight = len(self.takeoff.joints)
        valves = sum(node.kind is NodeKind.VALVE for node in self.layout.nodes.values())
        yield (
            "Before the test: brackets tight, drains and outlets shut, valves of the drops open, V-01 closed",
            f"{len(self.design.brackets)} brackets, {valves} valves",
            "The local code decides pressure, time and witness.",
        )
        yield (
            "Low-pressure test of the piping: leak fluid on every joint",
            f"{tight} joints at 0.5 to 1.7 bar (7 to 25 psi)",
            f"Everyone clear while it fills. {EYES} Bleed to zero before tightening anything.",
        )
        yield (
            "Raise in steps of a quarter, waiting at each, to the leak test",
            f"{units.pressure(leaks.test_gauge_pa)} for {TEST_TIME_S / 60.0:.0f} min; "
            f"may lose {units.pressure_drop(ACCEPTED_FALL_PA)}",
            "Nobody at the pipe while the pressure rises. Not above the weakest part's rating.",
        )

    def handover(self) -> Iterator[Words]:
        layout, site = self.layout, self.layout.site
        yield (
            "Have the set connected and started, then blow the lines out drop by drop, the nearest first",
            ", ".join(outlet.tag for outlet in site.outlets),
            f"An electrician connects it. {EYES} Point no hose at anyone.",
        )
        regulators = [node for node in layout.nodes.values() if "regulator" in node.what]
        served = [node.tag or layout.outlet_at(node) for node in regulators]
        if served:
            yield "Set the regulators with a tool running", ", ".join(served), ""
        yield (
            "Leak check at working pressure, nothing in use; write the time of the fall down",
            f"{len(self.takeoff.joints)} joints, {len(site.outlets)} couplings",
            "Bleed to zero before tightening anything.",
        )
        drains = [node.tag for node in layout.nodes.values() if node.kind is NodeKind.DRAIN]
        daily = "drained daily at first" if site.main.drains == "manual" else "their drains looked at weekly"
        yield (
            "Hand over: tags on valves and drains, drawings as built, data plates, test record",
            f"{_span(drains)} and the tank {daily}; V-01 closed when leaving",
            "",
        )

    def _which(self, runs: Iterable[Run], tags: Iterable[str]) -> str:
        ids = {run.id for run in runs}
        pieces = [piece.number for piece in self.takeoff.pieces if piece.run in ids]
        told = [f"piece{_s(pieces)} {_ranges(pieces)}"] if pieces else []
        on = [piece.number for piece in self.takeoff.pieces if piece.run not in ids and ids.intersection(piece.runs)]
        told += [f"piece{_s(on)} {_ranges(on)} {'goes' if len(on) == 1 else 'go'} on"] if on else []
        return "; ".join([*told, *([", ".join(dict.fromkeys(tags))] if tags else [])])

    def _tags_at(self, runs: Iterable[Run]) -> list[str]:
        return [tag for run in runs if (tag := self.layout.nodes[run.end].tag)]

    def _closing(self, runs: Iterable[Run]) -> list[str]:
        """What to say of the unions in some runs."""
        ids = {run.id for run in runs}
        count = sum(union.run in ids for union in self.takeoff.unions)
        return [f"Close the {f'{count} unions' if count > 1 else 'union'} last."] if count else []

    def _fall(self) -> str:
        main = self.layout.site.main
        return f"{self.layout.site.units.slope(main.fall)}" if main.fall else "level; every end drains"


def _s(things: Sized) -> str:
    """The ending of a word that counts some things."""
    return "" if len(things) == 1 else "s"


def _ranges(numbers: Iterable[int]) -> str:
    """Numbers as a list reads them: ``1-4, 7``."""
    runs = [
        [number for _, number in group]
        for _, group in groupby(enumerate(sorted(numbers)), key=lambda pair: pair[1] - pair[0])
    ]
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def _span(tags: list[str]) -> str:
    """Tags numbered on as first to last."""
    return f"{tags[0]} to {tags[-1]}" if len(tags) > 2 else ", ".join(tags)
