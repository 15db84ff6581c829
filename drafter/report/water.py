"""Water in words: how much a day and where, how dry the air is, what a filter, a line or a dryer does about it."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import Node, NodeKind
from drafter.report.blocks import block, columns, percent
from drafter.sizing.air_quality import outlet_air
from drafter.sizing.network import Network
from drafter.sizing.water import LEAST_KG, DripLeg, WaterDay, WaterPlace
from drafter.standards.components import component
from drafter.standards.limits import NEAR_ROOM_K

FARTHEST_M = 200.0


def water_text(network: Network) -> str:
    """Return the blocks about water and about the quality of the air."""
    site = network.layout.site
    title = f"WATER ({site.demand.working_day_s / 3600:.3g} h of work a day at the average demand; typical figures)"
    lines = [*_sentences(network), "", *columns(_rows(network)), *_other_drains(network), "", *_cooling(network)]
    air_title = (
        "AIR AT THE OUTLETS (classes of ISO 8573-1 for particles:water:oil, typical; dew point at the line's pressure, "
        "and let down to the atmosphere)"
    )
    return f"{block(title, lines)}\n\n{block(air_title, [*columns(_air(network)), NOT_TO_BREATHE])}"


NOT_TO_BREATHE = "None of it is air to breathe: breathing air has its own law, plant and tests."
"""Source: 29 CFR 1910.134(i), from memory."""


def _sentences(network: Network) -> Iterator[str]:
    site, units, water = network.layout.site, network.layout.site.units, network.water
    warm = water.warm
    by_size = sorted(warm.places, key=lambda place: -place.a_day_kg)
    worth = [place for place in by_size if place.a_day_kg >= LEAST_KG]
    shares = [f"{units.water(place.a_day_kg)} {_where(network, place.node)}" for place in worth]
    falls_out = units.water(sum(place.a_day_kg for place in warm.places))
    day = f"{units.temperature(warm.intake_k)}, {percent(site.compressor.intake_humidity)} humidity"
    yield f"On a warm day ({day}) {falls_out} of water falls out" + (f": {', '.join(shares)}." if shares else ".")
    gone = f"{units.water(warm.leaves_kg)} goes on as vapour to the outlets"
    if warm.given_off_kg >= LEAST_KG:
        gone += f", {units.water(warm.given_off_kg)} leaves with the dryer's purge air"
    yield f"{gone}; {units.water(warm.taken_in_kg)} came in with the air."
    rise = units.temperature_difference(site.compressor.air_warmer_by_k)
    near = units.temperature_difference(NEAR_ROOM_K.value)
    average, peak = (_metres(network, m) for m in (water.near_room_on_average_m, water.near_room_m))
    yield (
        f"The air leaves the tank {rise} warmer than its room; in a line of the main's size it comes within {near} of "
        f"the room's temperature after {average} at the average flow, {peak} at the peak."
    )
    yield from _first_filter(network)


def _first_filter(network: Network) -> Iterator[str]:
    """Where the first unit of the train that catches water stands, and whether the air has cooled there."""
    layout, water, units = network.layout, network.water, network.layout.site.units
    first = next((node for node in layout.nodes.values() if _catches(node)), None)
    if first is None:
        return
    above_k = water.warm.before[first.id].temperature_k - layout.site.rooms[first.room].warmest_k
    warmer = units.temperature_difference(max(0.0, above_k))
    stands = units.long_length(water.from_tank_m(first.id))
    said = f"{first.tag}, the first {first.what}, stands {stands} from the tank; the air there is at the peak {warmer} "
    if above_k <= NEAR_ROOM_K.value:
        yield said + "warmer than the room: it catches what falls out."
    elif layout.site.is_dried:
        yield said + "warmer than the room: the vapour that passes it is left to the dryer."
    else:
        yield said + "warmer than the room: too near, more falls out behind it."


def _catches(node: Node) -> bool:
    unit = component(node.what) if node.kind is NodeKind.TREATMENT else None
    return unit is not None and unit.drains and unit.dew_point_k is None and node.what != "aftercooler"


def _rows(network: Network) -> list[tuple[str, ...]]:
    """A row for each place that keeps water worth a word."""
    units, cold = network.layout.site.units, network.water.cold
    legs = {leg.node: leg for leg in network.water.legs}
    rows: list[tuple[str, ...]] = [("", "warm day", "cold day", "dew point after it", "leg holds", "open a day")]
    for place in network.water.warm.places:
        if network.layout.nodes[place.node].kind is NodeKind.COUPLING or _little(network, place):
            continue
        holds, opened = _leg(network, legs.get(place.node))
        rows.append((
            _where(network, place.node), units.water(place.a_day_kg), units.water(cold.at(place.node)),
            units.temperature(place.dew_point_k), holds, opened,
        ))  # fmt: skip
    carried = [_with_the_air(network, day) for day in (network.water.warm, cold)]
    if max(carried) >= LEAST_KG:
        rows.append(("with the air at the outlets", *map(units.water, carried), "", "", ""))
    return rows


def _little(network: Network, place: WaterPlace) -> bool:
    """Whether a drain or a bowl at an outlet gets next to nothing."""
    kind = network.layout.nodes[place.node].kind
    amount = max(place.a_day_kg, network.water.cold.at(place.node))
    return kind in (NodeKind.DRAIN, NodeKind.SERVICE) and amount < LEAST_KG


def _other_drains(network: Network) -> Iterator[str]:
    tags = [
        network.layout.nodes[place.node].tag
        for place in network.water.warm.places
        if _little(network, place) and network.layout.nodes[place.node].kind is NodeKind.DRAIN
    ]
    if tags:
        least = network.layout.site.units.water(LEAST_KG)
        by_hand = network.layout.site.main.drains == "manual"
        yield f"under {least} at {', '.join(tags)}" + (": open them weekly" if by_hand else "")


def _leg(network: Network, leg: DripLeg | None) -> tuple[str, str]:
    if leg is None:
        return "", ""
    automatic = network.layout.site.main.drains == "automatic"
    return network.layout.site.units.water(leg.holds_kg), "by itself" if automatic else f"{leg.times_a_day} x"


def _with_the_air(network: Network, day: WaterDay) -> float:
    couplings = {node.id for node in network.layout.couplings}
    return sum(place.a_day_kg for place in day.places if place.node in couplings)


def _where(network: Network, node_id: str) -> str:
    layout = network.layout
    node = layout.nodes[node_id]
    match node.kind:
        case NodeKind.TANK:
            return "at the tank"
        case NodeKind.TREATMENT:
            return f"at {node.tag} ({node.what})"
        case NodeKind.SERVICE:
            return f"at the {node.what} of {layout.outlet_at(node)}"
        case NodeKind.COUPLING:
            return f"with the air at {node.tag}"
    outlet = layout.outlet_at(node)
    return f"at {node.tag}" + (f" under {outlet}" if outlet else "")


def _cooling(network: Network) -> Iterator[str]:
    """What bare pipe would do in the place of a dryer."""
    units, water = network.layout.site.units, network.water
    room = units.temperature(water.warm.intake_k)
    yield f"Bare pipe of the main's size behind the tank, up and down with a drain at each foot, room at {room}:"
    rows = [("pipe", "takes out a day", "air leaves it, at the peak")]
    for line in water.cooling_lines:
        length = units.rough_length(line.length_m)
        rows.append((length, units.water(line.a_day_kg), units.temperature(line.air_k)))
    rows.append(("a refrigeration dryer in its place", units.water(water.dryer_kg), ""))
    yield from columns(rows)


def _air(network: Network) -> list[tuple[str, ...]]:
    units = network.layout.site.units
    rows: list[tuple[str, ...]] = [("tag", "air for", "dew point", "let down", "wanted", "reached", "add")]
    for air in outlet_air(network):
        add = "" if air.fits else ", ".join(air.to_add)
        dew_points = [units.temperature(kelvin) for kelvin in (air.dew_point_k, air.expanded_dew_point_k)]
        rows.append((air.tag, air.used_for, *dew_points, str(air.wanted), str(air.reached), add))
    return rows


def _metres(network: Network, length_m: float) -> str:
    said = network.layout.site.units.rough_length(length_m)
    return f"more than {said}" if length_m >= FARTHEST_M else said
