"""Numbered notes: how to read the drawing, the design's own data, and the usual cautions."""

from __future__ import annotations

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.sheets.scene import Scene
from drafter.standards.materials import rating_pa

TEXT_MM = 2.5
PITCH_MM = 3.7


def notes(scene: Scene) -> list[str]:
    """Return the notes of a set, in the order an installer needs them."""
    site, units, network = scene.site, scene.units, scene.design.network
    plant, main, family = site.compressor, site.main, network.material
    warmest = max(room.warmest_k for room in site.rooms.values())
    weakest = min(rating_pa(family, size, warmest) for size in network.sizes.values())
    written = "feet and inches" if site.imperial else "mm, levels in m"
    falls = (
        f"The main falls {units.slope(main.fall)} away from the riser; every low end has a drain."
        if main.fall
        else "The main is level; every end has a drain."
    )
    return [
        f"Dimensions in {written}. Facing a wall, measure from its left-hand corner. Heights are to pipe centres, "
        "above finished floor: check the floor with a level and set out from one level line.",
        falls + " Drops leave from the top of the main.",
        f"Pipe: {family.title}, {family.joint}; weakest size rated {units.pressure(weakest)} at "
        f"{units.temperature(warmest)}. Pressures are gauge; free air is counted at 20 °C, 1 bar absolute, dry. "
        "Pressure left at outlets: before the coupling, compressor at cut-in.",
        f"Compressor: cut-in {units.pressure(plant.cut_in_pa)}, cut-out {units.pressure(plant.cut_out_pa)}, "
        f"relief valve {units.pressure(plant.relief_pa)}, tank rated {units.pressure(plant.rated_pa)}. "
        "The data plates govern.",
        "Close V-01 when leaving. Tighten, loosen and cut only when the line is bled to zero and locked out.",
        "Test as the local code says, first at low pressure with leak fluid, everyone clear of the pipe; wear eye "
        "protection. Use a safe ladder and keep off live electrical parts.",
        "Electrical supply, fixing into the structure and fire stopping are by others.",
        "Symbols are based on ISO 1219-1, ISO 14617 and ISO 6412. Local codes, data plates and licensed "
        "practice decide.",
    ]


def set_notes(scene: Scene, area: Box) -> tuple[list[Item], float]:
    """Set the notes from the top of an area; return their items and where they end."""
    layer = scene.layers.note
    items: list[Item] = [Text(layer, Point(area.left, area.top - 3.5), "NOTES", 3.5, weight="bold")]
    y = area.top - 9.0
    for number, note in enumerate(notes(scene), 1):
        items.append(Text(layer, Point(area.left, y), f"{number}", TEXT_MM, weight="bold"))
        for line in wrapped(note, area.width - 5.0, TEXT_MM):
            items.append(Text(layer, Point(area.left + 5.0, y), line, TEXT_MM))
            y -= PITCH_MM
        y -= 1.0
    return items, y
