"""The equations of a network: every pipe's, restriction's, nozzle's and regulator's law, and what is known where.

Elements are the open pipes that air gets to, then the restrictions, then the nozzles, each of which ends at a
node of its own that holds the pressure it blows into. Unknown are the flow of every element and, at every
node without a known pressure, the drop of squared pressure below the highest known one.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.network_input import NetworkInput
from drafter.sizing.solving.pipe_law import PipeLaw
from drafter.sizing.solving.restriction_law import RestrictionLaw, restriction_law

Floats = NDArray[np.float64]
Integers = NDArray[np.intp]

_DROOP = 0.1
_TOOL_FLOW_KG_S = 0.005


@dataclass(frozen=True, slots=True)
class Equations:
    """A network ready to be solved.

    Attributes:
        start, end: node numbers of the elements, pipes first.
        node_count: nodes of the network and behind them those of the nozzles.
        pipes, restrictions: laws of the first elements and of the rest.
        known: marks the nodes whose pressure is given or that no supply reaches.
        known_drop_pa2: drop of squared pressure there [Pa2]; 0 elsewhere.
        top_pa2: highest known squared pressure [Pa2].
        regulated: elements with a regulator.
        set_drop_pa2: drop of squared pressure it holds, minus infinity for a check valve [Pa2].
        droop_pa2_s_kg: by which the laws of regulators are eased on the way to their solution [Pa2 s/kg].
        link_numbers: how the caller numbers pipes and restrictions in one row.
        pipe_numbers, restriction_numbers, nozzle_numbers: how the caller numbers each kind.
        copies: how many equal networks stand side by side, for as many cases.
    """

    start: Integers
    end: Integers
    node_count: int
    pipes: PipeLaw
    restrictions: RestrictionLaw
    known: NDArray[np.bool_]
    known_drop_pa2: Floats
    top_pa2: float
    regulated: Integers
    set_drop_pa2: Floats
    droop_pa2_s_kg: Floats
    link_numbers: Integers
    pipe_numbers: Integers
    restriction_numbers: Integers
    nozzle_numbers: Integers
    copies: int = 1

    def times(self, copies: int) -> "Equations":
        """The same network that many times over, node and element numbers running on.

        Source:
            none; it computes nothing.
        """
        if copies == 1:
            return self
        pipe_count, nodes = self.pipe_numbers.size, self.node_count
        shift = np.arange(copies)[:, None]

        def parts(values: NDArray[Any]) -> tuple[NDArray[Any], NDArray[Any]]:
            return values[:pipe_count], values[pipe_count:]

        starts, ends = (
            np.concatenate([(part + shift * nodes).ravel() for part in parts(values)])
            for values in (self.start, self.end)
        )
        rest = self.start.size - pipe_count
        on_pipe = self.regulated < pipe_count
        first = np.where(on_pipe, self.regulated, self.regulated + (copies - 1) * pipe_count)
        return replace(
            self,
            start=starts,
            end=ends,
            node_count=nodes * copies,
            pipes=self.pipes.times(copies),
            restrictions=self.restrictions.times(copies),
            known=np.tile(self.known, copies),
            known_drop_pa2=np.tile(self.known_drop_pa2, copies),
            regulated=(first + shift * np.where(on_pipe, pipe_count, rest)).ravel(),
            set_drop_pa2=np.tile(self.set_drop_pa2, copies),
            droop_pa2_s_kg=np.tile(self.droop_pa2_s_kg, copies),
            copies=copies,
        )

    def number(self, element: int) -> int:
        """How the caller numbers a pipe or restriction: these count on after all pipes, closed ones too.

        Source:
            none; it computes nothing.
        """
        return int(self.link_numbers[element])

    def of_copy(self, copy: int, values: Floats) -> Floats:
        """The values over the elements that belong to one copy.

        Source:
            none; it computes nothing.
        """
        pipe_count = self.pipe_numbers.size
        rest = self.start.size // self.copies - pipe_count
        behind = pipe_count * self.copies
        pipes = values[copy * pipe_count : (copy + 1) * pipe_count]
        return np.concatenate([pipes, values[behind + copy * rest : behind + (copy + 1) * rest]])

    def inflow(self, flow_kg_s: Floats) -> Floats:
        """What flows into each node less what flows out through the elements [kg/s].

        Source:
            mass balance.
        """
        arriving = np.bincount(self.end, flow_kg_s, self.node_count)
        return np.asarray(arriving - np.bincount(self.start, flow_kg_s, self.node_count), float)


def equations_of(
    network: NetworkInput, pipes_law: PipeLaw, temperature_k: float, gas_constant_j_kg_k: float
) -> Equations:
    """Put a checked network together.

    Args:
        pipes_law: of all its pipes.

    Source:
        as in `pipe_law` and `restriction_law`.
    """
    reached, nodes = network.reached, network.reached.size
    links, nozzles, regulators = network.links, network.nozzles, network.regulators
    runs = ~links.closed & reached[links.start]
    link_numbers, pipe_count = np.flatnonzero(runs), network.start.size
    pipe_numbers = np.flatnonzero(runs[:pipe_count])
    restriction_numbers = link_numbers[pipe_numbers.size :] - pipe_count
    nozzle_numbers = np.flatnonzero(reached[np.asarray(nozzles.node)])
    opening = nodes + np.arange(nozzle_numbers.size)
    known, known_drop, top = _known(network, nozzle_numbers, opening)
    regulated = np.asarray(regulators.element)
    at_work = runs[regulated]
    return Equations(
        start=np.concatenate([links.start[runs], np.asarray(nozzles.node)[nozzle_numbers]]),
        end=np.concatenate([links.end[runs], opening]),
        node_count=known.size,
        pipes=pipes_law if pipe_numbers.size == pipe_count else pipes_law.chosen(pipe_numbers),
        restrictions=restriction_law(
            *_characteristics(network, restriction_numbers, nozzle_numbers), temperature_k, gas_constant_j_kg_k
        ),
        known=known,
        known_drop_pa2=known_drop,
        top_pa2=top,
        regulated=(np.cumsum(runs) - 1)[regulated[at_work]],
        set_drop_pa2=top - np.asarray(regulators.set_absolute_pa)[at_work] ** 2,
        droop_pa2_s_kg=np.full(np.count_nonzero(at_work), _DROOP * top / _TOOL_FLOW_KG_S),
        link_numbers=link_numbers,
        pipe_numbers=pipe_numbers,
        restriction_numbers=restriction_numbers,
        nozzle_numbers=nozzle_numbers,
    )


def _known(
    network: NetworkInput, nozzle_numbers: Integers, opening: Integers
) -> tuple[NDArray[np.bool_], Floats, float]:
    """Which nodes are known, those the nozzles open into behind the rest, their drops, and the highest square."""
    nodes = np.concatenate([network.supply_nodes, opening])
    blown_into = np.asarray(network.nozzles.back_absolute_pa)[nozzle_numbers]
    squared = np.concatenate([network.supply_absolute_pa, blown_into]) ** 2
    top = float(squared.max())
    known = np.concatenate([~network.reached, np.ones(opening.size, bool)])
    known_drop = np.zeros(known.size)
    known[nodes], known_drop[nodes] = True, top - squared
    return known, known_drop, top


def _characteristics(
    network: NetworkInput, restriction_numbers: Integers, nozzle_numbers: Integers
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Conductances and critical ratios of restrictions and nozzles, and which of them open out."""
    inside, outside = network.restrictions, network.nozzles
    conductances = (np.asarray(inside.sonic_conductance_m3_s_pa), np.asarray(outside.sonic_conductance_m3_s_pa))
    ratios = (np.asarray(inside.critical_ratio), np.asarray(outside.critical_ratio))
    conductance, ratio = (
        np.concatenate([values[restriction_numbers], blown[nozzle_numbers]]) for values, blown in (conductances, ratios)
    )
    return conductance, ratio, np.arange(conductance.size) >= restriction_numbers.size
