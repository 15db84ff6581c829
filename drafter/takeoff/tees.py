"""Which tee a family has for three runs that meet: the ends along the run first, then the branch."""

from __future__ import annotations

from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, Run
from drafter.standards.materials import Material, TubeSize


def branch_of(layout: Layout, node: Node, runs: tuple[Run, ...]) -> int:
    """Return which of three runs that meet at a node stands off the line of the other two."""

    ways = [way_out(layout, node, run) for run in runs]
    in_line = {branch: ways[(branch + 1) % 3].dot(ways[(branch + 2) % 3]) for branch in range(3)}
    return min(in_line, key=lambda branch: in_line[branch])


def way_out(layout: Layout, node: Node, run: Run) -> Point3:
    """Return the way a run leads out of a node, one long."""
    other = run.start if run.end == node.id else run.end
    way = layout.nodes[other].at.minus(node.at)
    return Point3(way.x / way.length, way.y / way.length, way.z / way.length)


def tee_sizes(
    family: Material, one: TubeSize, other: TubeSize, branch: TubeSize
) -> tuple[TubeSize, TubeSize, TubeSize]:
    """Return the ends of the tee for two runs in line and a branch: their own sizes where the family has it.

    A tee with a smaller branch is usual in most families; two sizes along the run, or a branch larger than the
    run, in few. In the others the run is of one size, and reducers bring it down.
    """
    if family.reducing_run_tees:
        return one, other, branch
    run = max(one, other, branch, key=lambda size: size.outside_m)
    return run, run, branch if family.reducing_tees else run
