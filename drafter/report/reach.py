"""What the hoses get to: a block of the report for people, a part of the JSON for programs."""

from __future__ import annotations

import math
from typing import Any

from drafter.layout.open_floor import WORK_HEIGHT_M
from drafter.layout.reach import PlaceReach
from drafter.layout.reach_words import place_title, place_words
from drafter.report.blocks import block, columns
from drafter.report.rounded import metres
from drafter.sizing.network import Network


def reach_text(network: Network) -> str:
    """Return the floor that each outlet serves, how much of each room is served, and the places reached."""
    units, reach = network.layout.site.units, network.layout.reach
    rows: list[tuple[str, ...]] = [("tag", "hose", "over the floor", "floor it gets to")]
    for outlet in reach.outlets:
        hose, left = units.long_length(outlet.hose_m), units.long_length(outlet.over_floor_m)
        rows.append((outlet.tag, hose, left, units.floor_area(outlet.area_m2)))
    shares = [
        (room.room, f"{room.percent} of {units.floor_area(room.open_m2)} of open floor is reached")
        for room in reach.rooms
    ]
    if reach.above:
        shares.append(("on decks", f"{', '.join(reach.above)}: what their hoses get to up there is not worked out"))
    places = [(place_title(place), place_words(place, units)) for place in reach.places]
    title = (
        f"REACH OF THE HOSES (work {units.length_with_unit(units.set_out_m(WORK_HEIGHT_M))} above floor, doors shut)"
    )
    return block(title, [*columns(rows), *columns(shares), *(columns(places) if places else [])])


def reach_data(network: Network) -> dict[str, Any]:
    """Return the same as plain data that keeps to ``schema.json``."""
    reach = network.layout.reach
    return {
        "work_height_m": WORK_HEIGHT_M,
        "outlets": [
            {"id": outlet.tag, "hose_m": metres(outlet.hose_m), "over_floor_m": metres(outlet.over_floor_m),
             "floor_m2": round(outlet.area_m2, 3)}
            for outlet in reach.outlets
        ],
        "rooms": [
            {"room": room.room, "open_floor_m2": round(room.open_m2, 3), "reached_m2": round(room.reached_m2, 3)}
            for room in reach.rooms
        ],
        "places": [_place_data(place) for place in reach.places],
    }  # fmt: skip


def _place_data(place: PlaceReach) -> dict[str, Any]:
    remedy = place.remedy
    return {
        "name": place.entry.title,
        "around": place.entry.around or None,
        "reached": place.is_reached,
        "to_spare_m": _finite(place.left_m),
        "by": [{"outlet": tag, "to_spare_m": _finite(min(spare, default=-math.inf)), "all_of_it": tag in
                dict(place.alone)} for tag, spare in place.spare_m.items() if tag in place.in_part],
        "remedy": {"outlet": remedy[0], "more_hose_m": metres(remedy[1])} if remedy else None,
    }  # fmt: skip


def _finite(length_m: float) -> float | None:
    return metres(length_m) if math.isfinite(length_m) else None
