"""What the sizes of a design bear where they are laid: in their rooms' warmest air, and with the warm air in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from drafter.layout.graph import Node, NodeKind, Run
from drafter.sizing.network import Network
from drafter.standards.materials import TubeSize, rating_pa

_KINDS = {
    NodeKind.VALVE: "valves",
    NodeKind.DRAIN: "drains",
    NodeKind.COUPLING: "couplings",
    NodeKind.HOSE_END: "flexible",
    NodeKind.BEND: "fittings",
    NodeKind.TEE: "fittings",
    NodeKind.TAKE_OFF: "fittings",
    NodeKind.SPARE_TEE: "fittings",
}
"""What a site file gives the ratings of, by what stands at a node."""


@dataclass(frozen=True, slots=True)
class PipeRating:
    """What a size bears where it is warmest.

    Attributes:
        temperature_k: there.
        gauge_pa: the pressure it carries at that temperature, 0 where it may not be that warm.
        run: id of the run that is as warm, the first from the tank.
    """

    size: TubeSize
    temperature_k: float
    gauge_pa: float
    run: str


def room_ratings(network: Network) -> tuple[PipeRating, ...]:
    """Return the rating of each size used, in the warmest air of the rooms it is laid in, from the tank outwards.

    Source:
        the derating table of the material.
    """
    rooms = network.layout.site.rooms
    return _ratings(network, network.layout.runs, lambda run: rooms[run.room].warmest_k)


def hot_ratings(network: Network) -> tuple[PipeRating, ...]:
    """Return the rating of each size used, with the air in it as on a warm day at hard running.

    Source:
        the derating table of the material; the air as it cools behind the tank: `drafter.sizing.water_balance`.
    """
    return _ratings(network, network.layout.runs, lambda run: air_k(network, run))


def air_k(network: Network, run: Run) -> float:
    """Return the warmest a run gets [K]: the air that enters it on a warm day at hard running, or the room.

    Source:
        `drafter.sizing.water_balance`; the wall of a bare pipe is taken as warm as the air in it, which is safe.
    """
    room_k = network.layout.site.rooms[run.room].warmest_k
    entering = network.water.warm.behind.get(run.start)
    return max(room_k, entering.temperature_k) if entering is not None else room_k


def air_at(network: Network, node: Node) -> float:
    """Return the warmest air at a node [K]: what comes to it on a warm day at hard running, or its room.

    Source:
        `drafter.sizing.water_balance`.
    """
    room_k = network.layout.site.rooms[node.room].warmest_k
    coming = network.water.warm.before.get(node.id)
    return max(room_k, coming.temperature_k) if coming is not None else room_k


def warmest_parts_k(network: Network) -> dict[str, float]:
    """Return the warmest air that comes to each kind of part a site file may give the rating of, by its key there [K].

    Source:
        `drafter.sizing.water_balance`.
    """
    found: dict[str, float] = {}
    for node in network.layout.nodes.values():
        if (kind := _KINDS.get(node.kind)) is not None:
            found[kind] = max(found.get(kind, 0.0), air_at(network, node))
    return found


def weakest_pipe(network: Network) -> PipeRating:
    """Return the size that bears least in the warmest air of its rooms.

    Source:
        the derating table of the material.
    """
    return min(room_ratings(network), key=lambda each: each.gauge_pa)


def _ratings(network: Network, runs: Iterable[Run], warmest_k: Callable[[Run], float]) -> tuple[PipeRating, ...]:
    found: dict[TubeSize, tuple[float, str]] = {}
    for run in runs:
        size, here_k = network.sizes[run.id], warmest_k(run)
        if here_k > found.get(size, (0.0, ""))[0]:
            found[size] = (here_k, run.id)
    return tuple(
        PipeRating(size, here_k, rating_pa(network.material, size, here_k), run)
        for size, (here_k, run) in found.items()
    )
