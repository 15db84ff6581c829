"""How far the hoses get: the floor that each outlet serves, and the places that are to be reached."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from drafter.geometry import Point, Point3
from drafter.layout.hose_ways import floor_within
from drafter.layout.open_floor import WORK_HEIGHT_M, OpenFloor
from drafter.layout.places import STEP_M
from drafter.layout.site_ways import SiteWays
from drafter.site.decks import deck_below
from drafter.site.model import Outlet, Site, WorkPlace

_SAME_M = 1e-6


@dataclass(frozen=True)
class Patch:
    """A piece of floor in plan [m], with what is left out of it."""

    boundary: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True)
class OutletReach:
    """The floor that the hose of an outlet serves.

    Attributes:
        hose_m: length of the hose, or of what a reel lets out.
        over_floor_m: what is left of it in plan, once it has come from the coupling to the height of the work.
        area_m2: open floor it gets to.
        ends: the lines in plan where that floor ends because the hose does, or in the shadow of something [m].
    """

    tag: str
    hose_m: float
    over_floor_m: float
    area_m2: float
    ends: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True)
class RoomReach:
    """The open floor of a room, and how much of it a hose gets to."""

    room: str
    open_m2: float
    reached_m2: float

    @property
    def share(self) -> float:
        return min(1.0, self.reached_m2 / self.open_m2) if self.open_m2 else 0.0

    @property
    def percent(self) -> str:
        """The same in words: never all of it where a patch is left."""
        whole = self.share * 100.0
        return "99 %" if 99.0 < whole < 99.99 else f"{whole:.0f} %"


@dataclass(frozen=True)
class PlaceReach:
    """A place that is to be reached.

    Attributes:
        spots: what must be reached, in plan [m]: one spot, or spots all round a thing.
        spare_m: by outlet, what is left of its hose at each of the spots; negative where it is too short, minus
            infinity where no way leads there.
    """

    entry: WorkPlace
    spots: tuple[Point, ...]
    spare_m: Mapping[str, tuple[float, ...]]

    @property
    def sides(self) -> tuple[tuple[Point, ...], ...]:
        """The free sides of a thing as lines through its spots; nothing for one spot."""
        found: list[list[Point]] = []
        for spot in self.spots if self.entry.around else ():
            if not found or spot.minus(found[-1][-1]).length > 1.5 * STEP_M:
                found.append([])
            found[-1].append(spot)
        if len(found) > 1 and found[0][0].minus(found[-1][-1]).length <= 1.5 * STEP_M:
            found[0] = [*found.pop(), *found[0]]
        elif len(found) == 1 and found[0][0].minus(found[0][-1]).length <= 1.5 * STEP_M:
            found[0].append(found[0][0])
        return tuple(tuple(side) for side in found)

    @cached_property
    def best_m(self) -> tuple[float, ...]:
        """What is left at each spot of the hose that gets there best [m]."""
        return tuple(map(max, zip(*self.spare_m.values(), strict=True)))

    @property
    def left_m(self) -> float:
        """What is left where it is hardest to reach [m]; minus infinity where it has no spot on open floor."""
        return min(self.best_m, default=-math.inf)

    @property
    def hardest(self) -> Point | None:
        """The spot that is hardest to reach."""
        return self.spots[self.best_m.index(self.left_m)] if self.spots else None

    @property
    def is_reached(self) -> bool:
        """Whether each spot is reached by one hose or another."""
        return self.left_m >= -_SAME_M

    @property
    def alone(self) -> tuple[tuple[str, float], ...]:
        """Outlets whose hose reaches all of it, with what is left of it [m], the most first."""
        least = [(tag, min(spare)) for tag, spare in self.spare_m.items() if spare]
        return tuple(sorted((each for each in least if each[1] >= -_SAME_M), key=lambda each: -each[1]))

    @property
    def in_part(self) -> tuple[str, ...]:
        """Outlets whose hose reaches some of it."""
        return tuple(tag for tag, spare in self.spare_m.items() if max(spare, default=-math.inf) >= -_SAME_M)

    @property
    def remedy(self) -> tuple[str, float] | None:
        """The outlet that needs the least more hose to reach what no hose does, and how much more [m].

        None where no hose gets there however long.
        """
        short = [index for index, left_m in enumerate(self.best_m) if left_m < -_SAME_M]
        more = [(max(-spare[index] for index in short), tag) for tag, spare in self.spare_m.items() if short]
        more_m, tag = min(more, default=(math.inf, ""))
        return (tag, more_m) if math.isfinite(more_m) else None


@dataclass(frozen=True)
class Reach:
    """What the hoses of a site get to.

    Attributes:
        unreached: the open floor that none does.
        above: tags of outlets on decks, whose hoses serve no floor below.
    """

    outlets: tuple[OutletReach, ...]
    rooms: tuple[RoomReach, ...]
    places: tuple[PlaceReach, ...]
    unreached: tuple[Patch, ...]
    above: tuple[str, ...] = ()


def reach_of(site: Site, couplings: Mapping[str, Point3]) -> Reach:
    """Return what the hoses get to on the floor, from couplings given by the tags of their outlets.

    Source:
        shortest ways round what stands on the floor, `drafter.layout.hose_ways`; heights and gaps: common practice.
    """
    from shapely import unary_union

    floor = OpenFloor(site)
    ways = SiteWays(site, floor)
    above = tuple(o.tag for o in site.outlets if deck_below(site, o.room, couplings[o.tag]))
    outlets = [outlet for outlet in site.outlets if outlet.tag not in above]
    shapes = [_served(ways, outlet, couplings[outlet.tag]) for outlet in outlets]
    reached = unary_union([shape for shape, _ in shapes])
    rooms = [(name, floor.room(name)) for name in site.walls]
    return Reach(
        tuple(served for _, served in shapes),
        tuple(RoomReach(name, room.area, room.intersection(reached).area) for name, room in rooms),
        tuple(_place(ways, site, outlets, number, couplings) for number in range(len(site.work_places))),
        _patches(floor.whole.difference(reached)),
        above,
    )


def hose_length_m(outlet: Outlet) -> float:
    """Return how much hose an outlet has: what its reel lets out, or the length of its hose [m]."""
    return outlet.hose.length_m if outlet.reach_m is None else outlet.reach_m


def over_floor_m(hose_m: float, coupling_height_m: float, height_m: float = WORK_HEIGHT_M) -> float:
    """Return what a hose is long in plan [m]: its length less the way up or down to the work.

    Source:
        common practice; a hose drawn straight through the air would get a little further.
    """
    return hose_m - abs(coupling_height_m - height_m)


def _served(ways: SiteWays, outlet: Outlet, at: Point3) -> tuple[Any, OutletReach]:
    from shapely import Polygon

    hose_m, floor = hose_length_m(outlet), ways.floor
    left_m = over_floor_m(hose_m, at.z)
    found = ways.of(outlet.room, at.plan, floor.under(at.plan), left_m)
    shape = Polygon()
    if found is not None and left_m > found[1]:
        shape = floor_within(found[0], left_m - found[1]).intersection(floor.whole)
    return shape, OutletReach(outlet.tag, hose_m, max(0.0, left_m), shape.area, _ends(shape, floor.whole))


def _place(
    ways: SiteWays, site: Site, outlets: list[Outlet], number: int, couplings: Mapping[str, Point3]
) -> PlaceReach:
    place, (spots, all_spots) = site.work_places[number], ways.spots(number)
    over = frozenset[int]() if place.around else ways.floor.under(spots[0])
    spare = {}
    for outlet in outlets:
        at, hose_m = couplings[outlet.tag], hose_length_m(outlet)
        left_m = over_floor_m(hose_m, at.z, place.height_m)
        found = ways.of(outlet.room, at.plan, ways.floor.under(at.plan) | over, math.inf)
        spare[outlet.tag] = (
            tuple(left_m - found[1] - way_m for way_m in found[0].to_spots_m[all_spots])
            if found
            else tuple(-math.inf for _ in spots)
        )
    return PlaceReach(place, spots, spare)


def _ends(shape: Any, floor: Any) -> tuple[tuple[Point, ...], ...]:
    """The outline of a piece of floor, but for what lies along the edges of the whole floor."""
    from shapely import line_merge

    inner = line_merge(shape.boundary.difference(floor.boundary.buffer(0.01)))
    lines = [line for line in getattr(inner, "geoms", [inner]) if line.length > 0.02]
    return tuple(tuple(Point(x, y) for x, y in line.simplify(0.0005).coords) for line in lines)


def _patches(shape: Any) -> tuple[Patch, ...]:
    """The pieces of a shapely shape, without slivers, in the order of their places."""
    parts = [part for part in getattr(shape, "geoms", [shape]) if part.geom_type == "Polygon" and part.area > 1e-4]

    def points(ring: Any) -> tuple[Point, ...]:
        return tuple(Point(x, y) for x, y in ring.coords[:-1])

    return tuple(
        Patch(points(part.exterior), tuple(points(hole) for hole in part.interiors))
        for part in sorted(parts, key=lambda part: part.bounds)
    )
