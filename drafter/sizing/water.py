"""Where water falls out over a day: the result of `drafter.sizing.water_balance`."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from drafter.sizing.moist_air import MoistAir

LEAST_KG = 0.005
"""Less water in a day is not worth the name (value of our own)."""


@dataclass(frozen=True, slots=True)
class WaterPlace:
    """A place where water comes to rest.

    Attributes:
        node: its id; of the outlet's coupling where water leaves with the air.
        from_tank_m: along the pipes.
        air_k: warmest the air comes there.
        dew_point_k: pressure dew point of the air that goes on.
        a_day_kg: water in a working day.
    """

    node: str
    from_tank_m: float
    air_k: float
    dew_point_k: float
    a_day_kg: float


@dataclass(frozen=True)
class WaterDay:
    """A day's water.

    Attributes:
        intake_k: temperature of the air taken in.
        taken_in_kg: water that comes in with it.
        places: where it comes to rest, from the tank outwards.
        given_off_kg: what a desiccant dryer gives off with its purge air.
        leaves_kg: vapour that leaves at the outlets.
        before, behind: the air before and behind each node at hard running, by node id.
    """

    intake_k: float
    taken_in_kg: float
    places: tuple[WaterPlace, ...]
    given_off_kg: float
    leaves_kg: float
    before: Mapping[str, MoistAir]
    behind: Mapping[str, MoistAir]

    def at(self, node: str) -> float:
        """Water that comes to rest at a node [kg]."""
        return next((place.a_day_kg for place in self.places if place.node == node), 0.0)


@dataclass(frozen=True, slots=True)
class DripLeg:
    """A drip leg on a warm day.

    Attributes:
        node: id of its drain.
        holds_kg: water that fills its bore from drain to tee.
        a_day_kg: water that comes to it in a working day.
    """

    node: str
    holds_kg: float
    a_day_kg: float

    @property
    def times_a_day(self) -> int:
        """How often it is to be opened in a working day so that it does not overflow; once where that is enough."""
        return max(1, math.ceil(self.a_day_kg / self.holds_kg - 1e-6))


@dataclass(frozen=True, slots=True)
class CoolingLine:
    """What a length of bare pipe behind the tank would do, on the warm day.

    Attributes:
        air_k: what leaves it at hard running.
        a_day_kg: water it drops at the day's average flow.
    """

    length_m: float
    air_k: float
    a_day_kg: float


@dataclass(frozen=True)
class Water:
    """The year's water by its worst days.

    Attributes:
        warm, cold: the days.
        average_m3_s: free air of the day's average that the amounts hang on.
        legs: drip legs in the order of the drawing.
        near_room_m: metres of main, straight from the tank at hard running, until the air is as warm as the room but
            for `NEAR_ROOM_K`; 200 m stands for more.
        near_room_on_average_m: the same at the day's average flow.
        cooling_lines: bare pipe of the main's size instead of a dryer.
        dryer_kg: what a refrigeration dryer at the tank would take out on the warm day.
        distances_m: of each node from the tank along the pipes, by node id.
    """

    warm: WaterDay
    cold: WaterDay
    average_m3_s: float
    legs: tuple[DripLeg, ...]
    near_room_m: float
    near_room_on_average_m: float
    cooling_lines: tuple[CoolingLine, ...]
    dryer_kg: float
    distances_m: Mapping[str, float]

    def from_tank_m(self, node: str) -> float:
        """Distance of a node from the tank along the pipes [m]."""
        return self.distances_m[node]
