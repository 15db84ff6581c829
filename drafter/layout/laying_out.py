"""Lays out a site: riser, route of the main, levels, drops and drains, in that order."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.layout.assembly import Assembly
from drafter.layout.connection import connect, place_riser
from drafter.layout.drops import drop_findings, end_low, find_low_end, hang_drop
from drafter.layout.graph import Layout, NodeKind, RunKind
from drafter.layout.obstacles import Obstacle, obstacles_in
from drafter.layout.routes import RISER, Route, Step, route_main
from drafter.site.model import Outlet, Site
from drafter.site.wall import Wall
from drafter.standards.materials import Material, material

PLUG_IN_REDUCER_M = 0.04
"""What a reducer plugged into an equal tee adds to the swan neck (typical of push-in parts, common practice)."""


def lay_out(site: Site) -> tuple[Layout | None, tuple[Finding, ...]]:
    """Lay out a checked site in space.

    Returns:
        The layout, or None where something finds no room, and the findings.
    """
    family = material(site.main.material)
    off_wall_m = site.main.off_wall_m or site.main.drop_off_wall_m + family.take_off_offset_m
    obstacles = {room: obstacles_in(site, room) for room in site.walls}
    riser, findings = place_riser(site, off_wall_m, obstacles[site.compressor.room])
    if riser is None:
        return None, tuple(findings)
    route, findings = route_main(site, (riser.wall, riser.top_m), off_wall_m, obstacles)
    if route is None:
        return None, tuple(findings)
    assembly = Assembly()
    top = connect(assembly, site, riser, off_wall_m)
    laying = _Laying(site, family, off_wall_m, obstacles, route, assembly, findings)
    laying.run_main(top)
    if any(finding.severity is Severity.ERROR for finding in findings):
        return None, tuple(findings)
    return assembly.layout(site, route.reasons), tuple(findings)


@dataclass
class _Laying:
    site: Site
    family: Material
    off_wall_m: float
    obstacles: dict[str, tuple[Obstacle, ...]]
    route: Route
    assembly: Assembly
    findings: list[Finding]

    def run_main(self, top: str) -> None:
        """Lay the main along its route from the top of the riser, then its low ends and the drops."""
        nodes = {RISER: top}
        if len(self.route.after(RISER)) > 1:
            self.assembly.become(top, NodeKind.TEE)
        take_offs: dict[str, str] = {}
        for step in self.route.steps[1:]:
            nodes[step.station.key] = self._step(step, nodes[step.before])
            if step.station.key.startswith("outlet "):
                take_offs[step.station.key.removeprefix("outlet ")] = nodes[step.station.key]
        for step in self.route.steps:
            if not self.route.after(step.station.key):
                self._low_end(step, nodes[step.station.key])
        for outlet in self.site.outlets:
            self._drop(outlet, take_offs[outlet.tag])

    def _step(self, step: Step, before: str) -> str:
        station, ahead = step.station, self.route.after(step.station.key)
        level = self.site.main.height_m - self.site.main.fall * step.along_m
        kind = NodeKind.BEND
        if station.key.startswith("outlet "):
            kind = NodeKind.TAKE_OFF
        elif len(ahead) > 1:
            kind = NodeKind.TEE
        here = self.assembly.node(kind, station.at, level, station.wall)
        wall = station.wall
        if station.key.startswith("corner ") and not step.through_wall:
            start = self.assembly.nodes[before]
            wall = self._shared_wall(step, start.room) or wall
        run = RunKind.SLEEVE if step.through_wall else RunKind.MAIN
        self.assembly.run(run, before, here, wall)
        return here

    def _shared_wall(self, step: Step, room: str) -> Wall | None:
        """The wall that a piece of main runs along: the one before which both its ends lie."""
        before = next(other for other in self.route.steps if other.station.key == step.before)
        return next(
            (
                wall
                for wall in self.site.walls[room]
                if all(
                    abs(wall.measure(point)[1] - self.off_wall_m) < 1e-6
                    for point in (before.station.at, step.station.at)
                )
            ),
            None,
        )

    def _low_end(self, step: Step, last: str) -> None:
        level = self.assembly.nodes[last].at.z
        room = step.station.wall.room
        end = find_low_end(self.site, self.route, step.station.key, self.off_wall_m, level, self.obstacles[room])
        if end is not None:
            end_low(self.assembly, self.site, last, end, self.off_wall_m)
            return
        name = step.station.key.removeprefix("outlet ")
        place = next((o.where("from_left_m") for o in self.site.outlets if o.tag == name), self.site.main.place)
        self.findings.append(
            Finding(
                "DRAIN001",
                Severity.ERROR,
                place,
                f"past {name} there is no free place on the wall for the drip leg at the low end of the main",
                name,
                fix="move the outlet, or what stands there, so that 0.3 to 2.5 m past it the wall is free to the floor",
            )
        )

    def _drop(self, outlet: Outlet, take_off: str) -> None:
        level = self.assembly.nodes[take_off].at.z
        rise = self.family.take_off_rise_m + (0.0 if self.family.reducing_tees else PLUG_IN_REDUCER_M)
        self.findings += drop_findings(self.site, outlet, level, rise, self.obstacles[outlet.room])
        hang_drop(self.assembly, self.site, outlet, take_off, rise)
