"""The answer to "how long": each tool alone, the hungriest set, the average, and the work pattern if one is given."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.site.model import Outlet, Site, ToolUse, Work
from drafter.site.work import runs_of, uses_at
from drafter.sizing.demand import delivered_m3_s, tool_figures
from drafter.sizing.motor import MotorDuty, repeated, repeated_duty, steady_duty
from drafter.sizing.tank import TankSet
from drafter.sizing.tank_need import TankNeed, ToolAtWork
from drafter.sizing.work import Endurance, Run, WorkCourse, draws_of, endurance, followed, work_course

_SAME_S, _SAME_PA = 1.0, 1000.0


@dataclass(frozen=True)
class TankOverTime:
    """The tank over time; all begins at cut-out with the motor off.

    Attributes:
        tank: as it was taken; as warm as the compressor's room can be.
        leakage_m3_s: drawn all the time.
        purge_m3_s: what dryers use up themselves, drawn all the time too.
        singles: each tool at each outlet, alone and without a pause.
        together: the hungriest tools of as many outlets as run at once, without a pause.
        motor: in the long run of the work pattern, or with the average demand drawn steadily where there is none.
        work: the first pass of the work pattern, or None.
        later: the hardest pass when it is repeated without end, where it is harder than the first.
        unloads: whether the motor runs on at the cut-out, unloaded; "motor runs" then means that it is loaded.
    """

    tank: TankSet
    leakage_m3_s: float
    purge_m3_s: float
    singles: tuple[Endurance, ...]
    together: Endurance
    motor: MotorDuty
    work: WorkCourse | None
    later: WorkCourse | None
    unloads: bool

    @property
    def hardest(self) -> WorkCourse | None:
        """The hardest pass of the work pattern, if there is one."""
        return self.later or self.work

    @property
    def shown(self) -> WorkCourse:
        """The course that is drawn: the hardest pass of the work pattern, else the hungriest set."""
        return self.hardest or self.together.course


def tank_over_time(
    site: Site, at_once: int, average_m3_s: float, leakage_m3_s: float, purge_m3_s: float, need: TankNeed
) -> TankOverTime:
    """Answer for a site how long its tank lasts and how hard the motor works.

    Args:
        average_m3_s: demand over the day, leakage and growth included.
        purge_m3_s: what dryers use up themselves, on top of it.

    Source:
        `drafter.sizing.tank`; the hungriest set as in `drafter.sizing.demand.largest`.
    """
    plant = site.compressor
    tank = TankSet(
        plant.tank_m3,
        plant.cut_in_pa,
        plant.cut_out_pa,
        delivered_m3_s(site),
        site.rooms[plant.room].warmest_k,
    )
    steady_m3_s = leakage_m3_s + purge_m3_s
    tools = [[tool_at_work(site, outlet, use) for use in uses_at(outlet)] for outlet in site.outlets]
    hungriest = sorted((max(each, key=lambda tool: tool.free_air_m3_s) for each in tools), key=_hunger)[:at_once]
    motor, work, later = steady_duty(tank, average_m3_s + purge_m3_s), None, None
    if site.work is not None:
        runs, length_s = tuple(_runs(site, site.work)), site.work.length_s
        work = work_course(tank, runs, length_s, steady_m3_s, need)
        passes = repeated(tank, draws_of(runs), length_s, steady_m3_s)
        motor = repeated_duty(passes, draws_of(runs), length_s, steady_m3_s)
        later = _hardest([followed(tank, course, runs, length_s, need) for course in passes.courses[1:]], work)
    return TankOverTime(
        tank,
        leakage_m3_s,
        purge_m3_s,
        tuple(endurance(tank, [tool], steady_m3_s, need) for each in tools for tool in each),
        endurance(tank, hungriest, steady_m3_s, need),
        motor,
        work,
        later,
        plant.unloads,
    )


def _hardest(passes: list[WorkCourse], first: WorkCourse) -> WorkCourse | None:
    """The pass with most shortage, or the lowest pressure; None where the first is as hard."""

    def hardness(course: WorkCourse) -> tuple[float, float]:
        return sum(shortage.short_s for shortage in course.shortages), -course.lowest[0]

    hardest = max(passes, key=hardness)
    short_s, low_pa = (a - b for a, b in zip(hardness(hardest), hardness(first), strict=True))
    return hardest if short_s > _SAME_S or (short_s > -_SAME_S and low_pa > _SAME_PA) else None


def tool_at_work(site: Site, outlet: Outlet, use: ToolUse) -> ToolAtWork:
    """Return a tool at its outlet; what the outlet is said to need goes before what the tool asks for.

    Source:
        the site file, else `drafter/standards/tools.yaml`.
    """
    figures = tool_figures(site, use)
    return ToolAtWork(outlet.tag, use.tool, figures.free_air_m3_s, outlet.pressure_pa or figures.needed_pa)


def _hunger(tool: ToolAtWork) -> float:
    return -tool.free_air_m3_s


def _runs(site: Site, work: Work) -> Iterator[Run]:
    for run, outlet, use in runs_of(site):
        tool = tool_at_work(site, outlet, use)
        for start_s, end_s in run.times_s(work.length_s):
            yield Run(tool, start_s, end_s)
