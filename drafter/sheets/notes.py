"""Numbered notes: how to read the drawing, the design's own data, and the usual cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.ring import HALF_WAY_VALVE, VALVE_WORDS
from drafter.lettering import wrapped
from drafter.sheets.paragraph import paragraph
from drafter.sheets.scene import Scene
from drafter.sizing.ratings import hot_ratings, weakest_pipe
from drafter.standards.rule_sets import rule_set, source_in
from drafter.supports.consoles import is_at_wall

TEXT_MM = 2.5
PITCH_MM = 3.7
INDENT_MM, BETWEEN_MM, HEAD_MM = 5.0, 1.0, 9.0
COLUMN_MM, COLUMN_GAP_MM = 70.0, 6.0
"""The narrowest column of notes where several stand side by side, and what is between them."""

BENT = (
    "Round corners are the tube itself, bent: the cutting list says from where to where on the piece, from its first "
    "end, and the radius; never bend tighter. Other turns are fittings."
)

WITH_AIR = "so that the air pushes its water on to the drains"

SAME_RATING = 0.01
"""Ratings that differ by less count as one."""

IN_SIGHT = (
    "All pipe lies in sight. Closed into a wall or laid in the ground it needs a drawing of its own: no joint may be "
    "hidden; it is tested and photographed beside a tape before it is covered, and guarded from nails; in the ground "
    "it lies in a sleeve and falls to a drain in reach at both ends, with a valve where it comes in (common practice)."
)

POLYMER = (
    "Plastic tube: keep it out of sunlight, sparks, solvents and the way of vehicles, and guard it where rodents come; "
    "where it must not sag at all, lay it in a tray or half shells between the brackets (common practice)."
)


def notes(scene: Scene) -> list[str]:
    """Return the notes of a set, in the order an installer needs them."""
    site, units, network = scene.site, scene.units, scene.design.network
    plant, family = site.compressor, network.material
    weakest, hot = weakest_pipe(network), min(hot_ratings(network), key=lambda pipe: pipe.gauge_pa)
    rated = f"{units.pressure(weakest.gauge_pa)} at {units.temperature(weakest.temperature_k)}"
    if hot.gauge_pa < weakest.gauge_pa * (1.0 - SAME_RATING):
        inside = units.temperature(hot.temperature_k)
        hot_rated = units.pressure(hot.gauge_pa) if hot.gauge_pa else "without a rating"
        rated += f" in the room, {hot_rated} with air of {inside} in it"
    written = "feet and inches" if site.imperial else "mm, levels in m"
    pipe = family.title if family.joint in family.title else f"{family.title}, {family.joint}"
    counts = (("ERRORS", scene.errors), ("WARNINGS", scene.warnings))
    left_open = ", ".join(f"{what} OPEN: {count}" for what, count in counts if count)
    return [
        *([f"{left_open}. See CHECK BEFORE BUILDING in the schedules."] if left_open else []),
        f"Dimensions in {written}. Facing a wall, measure from its left-hand corner. Heights are to pipe centres, "
        f"above the floor at the datum corner: floors are seldom level, so strike one level line "
        f"{units.length_with_unit(site.level_line_m)} above it round the rooms and mark heights from that. pc 7 is "
        "piece 7 of the cutting list.",
        *([BENT] if network.bends else []),
        f"{_falls(scene)} Drops leave from the top of the main. {_stand_offs(scene)}",
        "Close V-01 when leaving. Tighten, loosen and cut only when the line is bled to zero and locked out.",
        "Test as the local code says, first at low pressure with leak fluid, everyone clear of the pipe; wear eye "
        "protection. Use a safe ladder and keep off live electrical parts.",
        f"{_outlets(scene)} Each is held from the wall by its console; treatment units by brackets of their own, "
        "dryers and coolers by a stand or a console with two arms: the pipe carries none of them.",
        "Blow guns: below 30 psi (2.07 bar) when dead-ended, for cleaning "
        f"({source_in(site.rule_set, '29 CFR 1910.242(b)')}). Tools that need less than the line's pressure get a "
        "regulator of their own.",
        f"Pipe: {pipe}; weakest size rated {rated}. Pressures are gauge; free air is counted at "
        f"{units.free_air_state}, dry. Pressures at outlets: compressor at cut-in, the worst others running, behind "
        "the hose at the tool.",
        *([POLYMER] if family.polymer else []),
        f"Compressor: cut-in {units.pressure(plant.cut_in_pa)}, cut-out {units.pressure(plant.cut_out_pa)}, "
        f"relief valve {units.pressure(plant.relief_pa)}, tank rated {units.pressure(plant.rated_pa)}. "
        "Every part behind it must be rated for the relief valve's setting or more, where it stands, as warm as it "
        "gets there: pipe and tank were held against it, of hoses and units what the site file tells; the rest is NOT "
        "CHECKED, see RULES AND LABELS. The data plates govern. The tank stores "
        f"{units.energy(network.supply.stored_energy_j)} at cut-out.",
        IN_SIGHT,
        "The air is not for breathing. Electrical supply, fixing into the structure and fire stopping are by others.",
        "Symbols are based on ISO 1219-1, ISO 14617 and ISO 6412. Held against the "
        f"rule set '{site.rule_set}' ({rule_set(site.rule_set).title}); local codes, data plates and licensed practice "
        "decide.",
    ]


def _stand_offs(scene: Scene) -> str:
    """How far off the walls the pipes hang."""
    layout, units = scene.layout, scene.units
    first = next(iter(layout.take_offs.values()))
    off_m = scene.wall_of(first).measure(first.at.plan)[1]
    main, drops = units.length_with_unit(off_m), units.length_with_unit(scene.site.main.drop_off_wall_m)
    return f"The main hangs {main} off the walls, drops {drops}, to their centres."


def _outlets(scene: Scene) -> str:
    """Which way the outlets point."""
    reaches = dict[str, list[str]]()
    for node in scene.layout.couplings:
        if not is_at_wall(scene.layout, node):
            reach = scene.units.length_with_unit(scene.wall_of(node).measure(node.at.plan)[1])
            reaches.setdefault(reach, []).append(node.tag)
    usual = max(reaches, key=lambda reach: len(reaches[reach]), default="")
    others = [f", {' '.join(tags)} {reach}" for reach, tags in reaches.items() if reach != usual]
    into = f"Outlets point into the room, {usual} off the wall{''.join(others)}; elevations show them turned aside."
    into = into if reaches else ""
    beside = any(is_at_wall(scene.layout, node) for node in scene.layout.couplings)
    along = (
        "Units at outlets lead along the wall where there is room; elevations show them larger than true."
        if beside
        else ""
    )
    return f"{into} {along}".strip()


def _falls(scene: Scene) -> str:
    main, units = scene.site.main, scene.units
    if not main.fall:
        return "The main is level; every end has a drain."
    if main.falls_to == "riser":
        foot = "the drain below it" if scene.site.treatment else "the drain at its foot"
        return (
            f"The main falls {units.slope(main.fall)} back to the riser: its water runs to {foot}, against the air, so "
            "no outlet stands at a low end."
        )
    if any(run.kind is RunKind.RISE for run in scene.layout.runs):
        drains = "every low end and the foot of every rise have a drain"
        return f"The main falls {units.slope(main.fall)} away from the riser, {WITH_AIR}; {drains}."
    if main.arrangement == "dead end":
        return f"The main falls {units.slope(main.fall)} away from the riser, {WITH_AIR}; every low end has a drain."
    tags = {node.what: node.tag for node in scene.layout.nodes.values() if node.what in VALVE_WORDS.values()}
    lows = sum(scene.layout.is_low_point(node) for node in scene.layout.nodes.values() if node.kind is NodeKind.TEE)
    said = f"The ring falls both ways from the riser to one low point with a drain, {units.slope(main.fall)} or more."
    if lows > 1:
        said = f"The ring falls {units.slope(main.fall)} or more to its {lows} low points, each with a drain."
    if any(run.kind is RunKind.SLEEVE for run in scene.layout.runs):
        said += " Branches from it fall on to drains of their own."
    if tags:
        shut = " or ".join(sorted(tags.values()))
        said += f" With {shut} shut it is fed the other way round, still under pressure: shut V-01 and bleed"
        half_way = tags.get(VALVE_WORDS[HALF_WAY_VALVE])
        said += f", or to work on one half, {half_way} and the valve of its arm." if half_way and len(tags) > 1 else "."
    return said


def set_notes(scene: Scene, area: Box) -> tuple[list[Item], int]:
    """Set notes from the top of an area as far as they fit; return their items and how many were set."""
    items: list[Item] = [_head(scene, area.left, area.top, "NOTES")]
    y = area.top - HEAD_MM
    for number, note in enumerate(notes(scene), 1):
        lines = wrapped(note, area.width - INDENT_MM, TEXT_MM)
        if y - (len(lines) - 1) * PITCH_MM < area.bottom:
            return items, number - 1
        items += _set(scene, number, lines, Point(area.left, y))
        y -= len(lines) * PITCH_MM + BETWEEN_MM
    return items, len(notes(scene))


@dataclass(frozen=True)
class NoteColumns:
    """Notes in columns side by side below a head.

    Attributes:
        columns: for each the numbers of its notes.
        lines: those of each note.
        height_mm: of all, with the head.
    """

    columns: tuple[list[int], ...]
    lines: Mapping[int, Sequence[str]]
    column_mm: float
    height_mm: float

    def items(self, scene: Scene, at: Point) -> Iterator[Item]:
        """Yield them below and to the right of a corner."""
        yield _head(scene, at.x, at.y, "NOTES" if 1 in self.lines else "NOTES (continued)")
        for index, column in enumerate(self.columns):
            left, y = at.x + index * (self.column_mm + COLUMN_GAP_MM), at.y - HEAD_MM
            for number in column:
                yield from _set(scene, number, self.lines[number], Point(left, y))
                y -= len(self.lines[number]) * PITCH_MM + BETWEEN_MM


def in_columns(scene: Scene, done: int, width_mm: float) -> NoteColumns:
    """Lay the notes after the first ``done``, of which there are some, in columns as low as can be."""
    count = max(1, int((width_mm + COLUMN_GAP_MM) // (COLUMN_MM + COLUMN_GAP_MM)))
    column_mm = (width_mm + COLUMN_GAP_MM) / count - COLUMN_GAP_MM
    numbered = list(enumerate(notes(scene), 1))[done:]
    lines = {number: wrapped(note, column_mm - INDENT_MM, TEXT_MM) for number, note in numbered}
    high_mm = PITCH_MM * max(map(len, lines.values()))
    while len(columns := _columns(lines, high_mm)) > count:
        high_mm += PITCH_MM
    return NoteColumns(tuple(columns), lines, column_mm, high_mm + HEAD_MM)


def _columns(lines: Mapping[int, Sequence[str]], high_mm: float) -> list[list[int]]:
    """The numbers of notes that stand below each other, each note whole, in columns as high as the longest or more."""
    found, left_mm = list[list[int]](), 0.0
    for number, of_note in lines.items():
        needed_mm = len(of_note) * PITCH_MM
        if not found or needed_mm > left_mm:
            found.append([])
            left_mm = high_mm
        found[-1].append(number)
        left_mm -= needed_mm + BETWEEN_MM
    return found


def _head(scene: Scene, left: float, top: float, words: str) -> Text:
    return Text(scene.layers.note, Point(left, top - 3.5), words, 3.5, weight="bold")


def _set(scene: Scene, number: int, lines: Sequence[str], at: Point) -> Iterator[Item]:
    yield Text(scene.layers.note, at, f"{number}", TEXT_MM, weight="bold")
    yield from paragraph(scene.layers.note, Point(at.x + INDENT_MM, at.y), lines, TEXT_MM, PITCH_MM)
