"""Lays out a site: riser, route of the main, levels, drops and drains, in that order."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from drafter.finding import Finding, Severity, errors
from drafter.geometry import Point, Point3
from drafter.layout.asked_for import put_line_valves, put_spare_tees
from drafter.layout.assembly import Assembly
from drafter.layout.connection import connect, place_riser
from drafter.layout.drops import drop_findings, hang_drop
from drafter.layout.graph import IN_LINE, Layout, NodeKind, RunKind
from drafter.layout.isolation import isolation_reasons, put_arm_valves
from drafter.layout.low_ends import end_low, find_low_end, find_low_point_before, hang_drip_leg
from drafter.layout.obstacles import Obstacle, first_in_the_way, obstacles_in
from drafter.layout.ring import VALVE_WORDS
from drafter.layout.ring_levels import RING_LOW
from drafter.layout.route import Route, Step
from drafter.layout.routes import route_main
from drafter.layout.ways import RISER, WAYPOINT, outlet_key
from drafter.site.model import Outlet, Site
from drafter.standards.materials import Material

PLUG_IN_REDUCER_M = 0.04
"""What a reducer plugged into an equal tee adds to the swan neck (typical of push-in parts, common practice)."""


END_REDUCER_M = 0.08
"""What a reducer in the elbow at the end of a main adds to the swan neck there (typical, common practice)."""


def lay_out(site: Site) -> tuple[Layout | None, tuple[Finding, ...]]:
    """Lay out a checked site in space.

    Returns:
        The layout, or None where something finds no room, and the findings.
    """
    family = site.material
    off_wall_m = site.main.off_wall_m or _off_wall_m(site, family)
    obstacles = {room: obstacles_in(site, room) for room in site.walls}
    home = site.compressor.room
    riser, findings = place_riser(site, off_wall_m, obstacles[home])
    if riser is None:
        return None, tuple(findings)
    obstacles[home] = (*obstacles[home], *riser.obstacles(site, off_wall_m))
    route, findings = route_main(site, riser, off_wall_m, obstacles)
    if route is None:
        return None, tuple(findings)
    assembly = Assembly()
    top = connect(assembly, site, riser, off_wall_m, route.steps[0].level_m)
    _Laying(site, family, off_wall_m, obstacles, route, assembly, findings).run_main(top)
    if errors(findings):
        return None, tuple(findings)
    reasons = (*route.reasons, *isolation_reasons(assembly, site))
    return assembly.layout(site, replace(route, reasons=reasons)), tuple(findings)


def _off_wall_m(site: Site, family: Material) -> float:
    """How far off the wall the main hangs where it is not said: as far as its swan necks need, in round inches."""
    least_m, step_m = site.main.drop_off_wall_m + family.take_off_offset_m, site.units.set_out_step_m
    return math.ceil(least_m / step_m - 1e-6) * step_m if site.imperial else least_m


def swan_neck_rise_m(family: Material) -> float:
    """Return how far a swan neck rises, from the centre of the main to that of its top."""
    return family.take_off_rise_m + (0.0 if family.reducing_tees else PLUG_IN_REDUCER_M)


@dataclass
class _Laying:
    """Lays a main; ``last`` gets the take-offs that it ends at."""

    site: Site
    family: Material
    off_wall_m: float
    obstacles: dict[str, tuple[Obstacle, ...]]
    route: Route
    assembly: Assembly
    findings: list[Finding]
    last: set[str] = field(default_factory=set)

    def run_main(self, top: str) -> None:
        """Lay the main along its route from the top of the riser, then its low ends and the drops."""
        nodes = {RISER: top}
        if len(self.route.after(RISER)) > 1:
            self.assembly.become(top, NodeKind.TEE)
        for step in self.route.steps[1:]:
            nodes[step.station.key] = self._step(step, nodes[step.before])
        if self.route.closing:
            step = self.route.closing
            self.assembly.run(RunKind.MAIN, nodes[step.before], nodes[step.station.key], step.wall)
            for key in (key for key in nodes if key.startswith(RING_LOW)):
                hang_drip_leg(self.assembly, self.site, nodes[key], self.route.by_key[key].station.wall)
        self._low_ends(nodes)
        if not self.route.closing:
            self.findings += put_arm_valves(self.assembly, self.site, top, self.obstacles)
        self.findings += put_line_valves(self.assembly, self.site)
        self.findings += put_spare_tees(self.assembly, self.site)
        for outlet in self.site.outlets:
            self._drop(outlet, nodes[outlet_key(outlet.tag)])

    def _step(self, step: Step, before: str) -> str:
        key = step.station.key
        kind = NodeKind.BEND
        if key.startswith("outlet "):
            kind = NodeKind.TAKE_OFF
        elif key in VALVE_WORDS:
            kind = NodeKind.VALVE
        elif key.startswith(RING_LOW) or len(self.route.after(key)) > 1:
            kind = NodeKind.TEE
        if step.rise_m:
            return self._rise(step, before)
        if step.over_m:
            before = self._over(step, before)
            here = self.assembly.node(kind, step.station.at, step.level_m, step.station.wall)
            self.assembly.run(RunKind.RISE, before, here, step.station.wall)
            return here
        what = VALVE_WORDS.get(key, "")
        here = self.assembly.node(kind, step.station.at, step.level_m, step.station.wall, what=what)
        self.assembly.run(RunKind.SLEEVE if step.through_wall else RunKind.MAIN, before, here, step.wall)
        return here

    def _rise(self, step: Step, before: str) -> str:
        """Lay the main to the foot of a rise, with its drain, and up; return the node at its top."""
        assembly, plan, wall = self.assembly, step.station.at, step.station.wall
        foot = assembly.node(NodeKind.TEE, plan, step.level_m, wall)
        assembly.run(RunKind.MAIN, before, foot, step.wall)
        top = assembly.node(NodeKind.BEND, plan, step.out_m, wall)
        assembly.run(RunKind.RISE, foot, top, wall)
        hang_drip_leg(assembly, self.site, foot, wall)
        return top

    def _over(self, step: Step, before: str) -> str:
        """Lay the main up from a node and across a room; return the node where it turns down.

        Where nothing else goes on from there, what turns up is a low point, with a drain.
        """
        assembly, start = self.assembly, self.route.by_key[step.before]
        first, last = start.station, step.station
        if len(self.route.after(step.before)) == 1:
            assembly.become(before, NodeKind.TEE)
        up = assembly.node(NodeKind.BEND, first.at, step.over_m, first.wall)
        assembly.run(RunKind.RISE, before, up, first.wall)
        if len(self.route.after(step.before)) == 1:
            hang_drip_leg(assembly, self.site, before, first.wall)
        down = assembly.node(NodeKind.BEND, last.at, step.over_m - (start.out_m - step.level_m), last.wall)
        assembly.run(RunKind.MAIN, up, down, step.wall)
        return down

    def _low_ends(self, nodes: dict[str, str]) -> None:
        taken: list[Point] = [step.station.at for step in self.route.steps]
        for step in self.route.steps:
            if step.station.key.startswith(RING_LOW) or self.route.after(step.station.key):
                continue
            if self.site.main.falls_to == "riser" and not step.station.key.startswith(WAYPOINT):
                self.last.add(nodes[step.station.key])
                continue
            room = self.obstacles[step.station.wall.room]
            if step.station.key.startswith(WAYPOINT):
                self._end_at_waypoint(step, nodes[step.station.key], room)
                continue
            end = find_low_end(self.site, self.route, step, self.off_wall_m, room, taken)
            if end is None:
                if not self._drains_before(step, nodes[step.station.key], room):
                    self.findings.append(self._no_low_end(step))
            else:
                end_low(self.assembly, self.site, nodes[step.station.key], end)
                taken += [plan for plan, _ in end.legs]

    def _drains_before(self, step: Step, last: str, room: tuple[Obstacle, ...]) -> bool:
        """Let the main drain short of its last take-off, and the rest of it fall back there; return whether it can."""
        assembly = self.assembly
        number = next(n for n, run in enumerate(assembly.runs) if run.end == last)
        start, end = (assembly.nodes[id].at for id in (assembly.runs[number].start, last))
        wall = step.wall
        across = abs(end.plan.minus(start.plan).unit.dot(wall.along)) < IN_LINE
        if step.through_wall or wall.is_crossing or across:
            return False
        low = find_low_point_before(self.site, start, end, wall, room)
        if low is None:
            return False
        tee = assembly.node(NodeKind.TEE, low.plan, low.z, wall)
        assembly.split(number, tee)
        assembly.raise_to(last, low.z + self.site.main.fall * end.plan.minus(low.plan).length)
        hang_drip_leg(assembly, self.site, tee, wall)
        self.last.add(last)
        return True

    def _end_at_waypoint(self, step: Step, node: str, room: tuple[Obstacle, ...]) -> None:
        """Let the main turn down to a drain where nothing lies beyond a place it comes by."""
        foot = Point3(*step.station.at, self.site.main.drain_height_m)
        blocking = first_in_the_way(room, foot, Point3(*step.station.at, step.level_m))
        if blocking is None:
            hang_drip_leg(self.assembly, self.site, node, step.station.wall)
            return
        point = self.site.main.waypoints[int(step.station.key.removeprefix(WAYPOINT)) - 1]
        message = f"the main ends at a place to come by, where {blocking.name} leaves no room for its drip leg"
        fix = "move the place to where the wall is free to the floor"
        self.findings.append(Finding("DRAIN001", Severity.ERROR, point.where("from_left_m"), message, "main", fix=fix))

    def _no_low_end(self, step: Step) -> Finding:
        outlet = next(o for o in self.site.outlets if outlet_key(o.tag) == step.station.key)
        message = f"past {outlet.tag} there is no free place on the wall for the drip leg at the low end of the main"
        fix = "move the outlet, or what stands there, so that 0.3 to 2.5 m past it the wall is free to the floor"
        place = outlet.where("from_left_m")
        return Finding("DRAIN001", Severity.ERROR, place, message, outlet.tag, fix=fix)

    def _drop(self, outlet: Outlet, take_off: str) -> None:
        main, rise = self.assembly.nodes[take_off].at, swan_neck_rise_m(self.family)
        if take_off in self.last:
            rise += END_REDUCER_M
        self.findings += drop_findings(self.site, outlet, main, rise, self.obstacles[outlet.room])
        hang_drop(self.assembly, self.site, outlet, take_off, rise, self.obstacles[outlet.room])
