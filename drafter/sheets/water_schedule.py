"""The schedule of water: where it falls out, how much of it a day, and the dew point of the air that goes on."""

from __future__ import annotations

from drafter.layout.graph import NodeKind
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Column, Table
from drafter.sizing.water import LEAST_KG, WaterDay


def water_table(scene: Scene) -> Table:
    """Water of a working day on the warmest day, place by place; drains that get next to none share one row."""
    network, units = scene.design.network, scene.units
    warm = network.water.warm
    legs = {leg.node: leg for leg in network.water.legs}
    by_hand = scene.site.main.drains == "manual"
    tank = next(node.id for node in scene.layout.nodes.values() if node.kind is NodeKind.TANK)
    rows = []
    for place in warm.places:
        if place.a_day_kg >= LEAST_KG:
            opened = f"{legs[place.node].times_a_day} x" if by_hand and place.node in legs else ""
            if place.node == tank and scene.site.compressor.drain == "manual":
                opened = "1 x or more"
            dew_point = units.temperature(place.dew_point_k)
            rows.append((_name(scene, place.node), units.water(place.a_day_kg), dew_point, opened))
    if any(leg.a_day_kg < LEAST_KG for leg in legs.values()):
        rows.append(("each other drain", f"under {units.water(LEAST_KG)}", "", "weekly" if by_hand else ""))
    rows += _gone(scene, warm)
    columns = (Column("place"), Column("a day", True), Column("dew point after", True), Column("open a day", True))
    intake = units.temperature(warm.intake_k)
    humidity = f"{scene.site.compressor.intake_humidity * 100:.0f} %"
    return Table(f"WATER ON A WARM DAY ({intake}, {humidity} HUMIDITY)", columns, tuple(rows))


def cooling_table(scene: Scene) -> Table:
    """What bare pipe behind the tank would take out, held against a dryer."""
    water, units = scene.design.network.water, scene.units
    rows = [
        (units.rough_length(line.length_m), units.water(line.a_day_kg), units.temperature(line.air_k))
        for line in water.cooling_lines
    ]
    rows.append(("a refrigeration dryer", units.water(water.dryer_kg), ""))
    columns = (Column("pipe, or instead"), Column("takes out a day", True), Column("air leaves it, at the peak", True))
    return Table("COOLING BY BARE PIPE BEHIND THE TANK, up and down, a drain at each foot", columns, tuple(rows))


def _name(scene: Scene, node_id: str) -> str:
    node = scene.layout.nodes[node_id]
    if node.kind is NodeKind.TANK:
        return f"{node.tag} tank"
    if node.kind is NodeKind.SERVICE:
        return f"{node.what} at {scene.layout.outlet_at(node)}"
    return f"{node.tag} {node.what}" if node.kind is NodeKind.TREATMENT else node.tag


def _gone(scene: Scene, day: WaterDay) -> list[tuple[str, str, str, str]]:
    rows = [("as vapour, at the outlets", scene.units.water(day.leaves_kg), "", "")]
    if day.given_off_kg >= LEAST_KG:
        rows.append(("with the dryer's purge air", scene.units.water(day.given_off_kg), "", ""))
    return rows
