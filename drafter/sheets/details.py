"""Typical details, drawn from the design's own sizes: only those that the job has, in frames side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from drafter.drawing import Circle, Item, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.sheets.detail_picture import Picture, Place
from drafter.sheets.details_compressor import compressor_connection, connection_runs
from drafter.sheets.details_drop import drip_leg, drops, leg_words, outlet_at_wall, outlet_words, take_off
from drafter.sheets.details_support import (
    bracket,
    bracket_on_board,
    drop_bracket_words,
    hanger,
    span_words,
    usual_bracket,
)
from drafter.sheets.paragraph import paragraph
from drafter.sheets.scene import Scene
from drafter.supports.boards import BOARD_TALL_M, BOARD_THICK_M
from drafter.supports.hose_end import at_hose
from drafter.takeoff.assembling import flexible_length_m

DETAILS_TITLE = "Typical details"
TEXT_MM, PITCH_MM, TITLE_MM = 2.5, 3.7, 3.5
HEAD_MM, TOP_MM = 13.0, 11.0
NARROWEST_MM, LOWEST_MM, HIGHEST_MM = 70.0, 83.0, 165.0
GAP_MM, BUBBLE_MM = 4.0, 4.0
LEAST_IN_ROW_MM, OTHERS_SHARE = 66.0, 0.88
"""In one row of details the last, the connection at the compressor, takes some of the width of the others."""

SLACKS_MM, SMALLER = (0.0, 2.0, 4.0, 6.0, 8.0), 6.0
"""How much smaller a picture is tried, so that its labels find room; what that counts, in millimetres of leaders."""


@dataclass(frozen=True)
class Detail:
    """A detail before it is drawn: its title, what draws it in a frame, and the words below it."""

    title: str
    draw: Callable[[Place], Picture]
    words: tuple[str, ...]


def typical_details(scene: Scene) -> list[Detail]:
    """The details that a job needs."""
    found, hanging = list[Detail](), drops(scene)
    if hanging:
        first = hanging[0]
        others = "Others: see OUTLETS and the elevations." if len(scene.site.outlets) > 1 else ""
        found += [
            Detail(
                "TAKE-OFF FROM THE MAIN", lambda place: take_off(first, place),
                ("From the top of the main only: from its side or bottom, water would run to the tools.",),
            ),
            Detail(
                f"OUTLET AT THE WALL, {first.outlet.tag}", lambda place: outlet_at_wall(first, place),
                (
                    f"{outlet_words(first)} {others}".strip(),
                    "Hold it from the wall. Bleed before the hose is taken off: a loose hose whips.",
                ),
            ),
            Detail(
                "DRIP LEG WITH DRAIN", lambda place: drip_leg(first, place),
                (*leg_words(scene), "Open slowly, face and hands away from the jet."),
            ),
        ]  # fmt: skip
    if (held := usual_bracket(scene, hangs=False)) is not None:
        found.append(
            Detail(
                f"BRACKET OF THE MAIN, AS {held.tag}", lambda place: bracket(scene, held, place),
                (span_words(scene, held) + drop_bracket_words(scene), "Look for cables and pipes before drilling."),
            )
        )  # fmt: skip
    if (hung := usual_bracket(scene, hangs=True)) is not None:
        found.append(
            Detail(
                f"HANGER, AS {hung.tag}", lambda place: hanger(scene, hung, place),
                (span_words(scene, hung), "Rods into what carries; fixing into the structure is by others."),
            )
        )  # fmt: skip
    if (boarded := bracket_on_board(scene)) is not None and boarded is not held:
        tall, thick = (scene.units.length_with_unit(each) for each in (BOARD_TALL_M, BOARD_THICK_M))
        words = f"Board {tall} high, {thick} thick, screwed to what is behind both its ends: see the mark-out."
        found.append(
            Detail(f"BRACKET ON A BOARD, AS {boarded.tag}", lambda place: bracket(scene, boarded, place), (words,))
        )
    return [*found, _connection(scene)]


def _connection(scene: Scene) -> Detail:
    units, layout = scene.units, scene.layout
    flexible, riser, _ = connection_runs(scene)
    reach = units.length_with_unit(layout.length_m(flexible))
    onward = "T-01" if scene.site.treatment else "the main"
    bought = units.length_with_unit(flexible_length_m(layout))
    held = at_hose(layout, scene.design.brackets)
    shake = f"; {held.tag} is fixed" if held else ""
    return Detail(
        "CONNECTION AT THE COMPRESSOR",
        lambda place: compressor_connection(scene, place),
        (
            f"From the middle of V-01 to where the pipe begins: {reach}, less two elbows. Between them the flexible "
            f"connection of {bought}, rated for the discharge, hangs slack, no tighter than its maker allows{shake}. "
            f"The riser, {scene.size_of(riser)}, leads to {onward}.",
            "No valve between tank and relief valve. Lock V-01 shut before work. Bring the tank's drain to hand and "
            "bucket.",
        ),
    )


def detail_pages(scene: Scene, area: Box) -> list[tuple[list[Item], tuple[Box, ...]]]:
    """Set the details on as few sheets as can be; return what stands on each, and what it leaves free.

    Args:
        area: room on each sheet [mm on paper].
    """
    details = typical_details(scene)
    room = Box(area.left, area.bottom, area.right, area.top - HEAD_MM)
    across, down = _grid(room, len(details))
    pages, per_page = list[tuple[list[Item], tuple[Box, ...]]](), across * down
    for first in range(0, len(details), per_page):
        here = details[first : first + per_page]
        items = [*_head(scene, area), *_frames(scene, here, first, room, across, down)]
        pages.append((items, _free(room, len(here), across, down)))
    return pages


def _grid(room: Box, count: int) -> tuple[int, int]:
    """How many frames stand across and down on a sheet: as few sheets as can be, then frames as large as can be."""
    most = max(1, int((room.height + GAP_MM) // (LOWEST_MM + GAP_MM)))
    found = []
    for across in range(1, _across(room.width, count) + 1):
        down = min(most, -(-count // across))
        width = (room.width - (across - 1) * GAP_MM) / across
        height = min(HIGHEST_MM, (room.height - (down - 1) * GAP_MM) / down)
        sheets = -(-count // (across * down))
        found.append((sheets, -min(width, height), across, down))
    return min(found)[2:]


def row_of_details(scene: Scene, area: Box) -> list[Item] | None:
    """Set all details in one row at the top of an area; None where it is too small for that."""
    details = typical_details(scene)
    if _across(area.width, len(details)) < len(details) or area.height < HEAD_MM + LOWEST_MM:
        return None
    room = Box(area.left, area.bottom, area.right, area.top - HEAD_MM)
    left, frames = room.left, list(_head(scene, area))
    width, height = _frame_size(room, len(details), 1)
    others = max(LEAST_IN_ROW_MM, OTHERS_SHARE * width)
    widths = [others] * (len(details) - 1) + [width + (len(details) - 1) * (width - others)]
    for number, (detail, wide) in enumerate(zip(details, widths, strict=True), 1):
        frames += _framed(scene, detail, number, Box(left, room.top - height, left + wide, room.top))
        left += wide + GAP_MM
    return frames


def row_height(scene: Scene, width: float) -> float:
    """Height that one row of all details needs; nothing where they need more than one."""
    count = len(typical_details(scene))
    return HEAD_MM + LOWEST_MM if _across(width, count) >= count else 0.0


def _across(width: float, count: int) -> int:
    return max(1, min(count, int((width + GAP_MM) // (NARROWEST_MM + GAP_MM))))


def _head(scene: Scene, area: Box) -> Iterator[Item]:
    layer = scene.layers.note
    yield Text(layer, Point(area.left, area.top - 4.5), "TYPICAL DETAILS", 4.5, weight="bold")
    unit = "feet and inches" if scene.site.imperial else "mm"
    words = f"NOT TO SCALE. Numbers are this job's, in {unit}, to pipe centres, heights above floor."
    yield Text(layer, Point(area.left, area.top - 9.0), words, TEXT_MM)


def _free(room: Box, count: int, across: int, rows: int) -> tuple[Box, ...]:
    """What some frames leave free of a sheet: beside the last one, and below all."""
    width, height = _frame_size(room, across, rows)
    full, rest = divmod(count, across)
    top = room.top - full * (height + GAP_MM)
    beside = Box(room.left + rest * (width + GAP_MM) + GAP_MM, top - height, room.right, top)
    low = top - (height + GAP_MM if rest else 0.0)
    return (*((beside,) if rest else ()), Box(room.left, room.bottom, room.right, low - GAP_MM))


def _frame_size(room: Box, across: int, rows: int) -> tuple[float, float]:
    width = (room.width - (across - 1) * GAP_MM) / across
    return width, min(HIGHEST_MM, (room.height - (rows - 1) * GAP_MM) / rows)


def _frames(
    scene: Scene, details: Sequence[Detail], first: int, room: Box, across: int, rows: int
) -> Iterator[Item]:  # fmt: skip
    """The frames of a sheet's details, row by row from the top."""
    width, height = _frame_size(room, across, rows)
    for number, detail in enumerate(details):
        left = room.left + number % across * (width + GAP_MM)
        top = room.top - number // across * (height + GAP_MM)
        yield from _framed(scene, detail, first + number + 1, Box(left, top - height, left + width, top))


def _framed(scene: Scene, detail: Detail, number: int, box: Box) -> Iterator[Item]:
    layers = scene.layers
    yield Polyline(layers.table, box.corners, True)
    bubble = Point(box.left + 6.5, box.top - 6.0)
    yield Circle(layers.tag, bubble, BUBBLE_MM)
    yield Text(layers.tag, bubble, str(number), TITLE_MM, "centre", weight="bold")
    title = wrapped(detail.title, box.width - 16.0, 2.5, "bold")
    beside = Point(box.left + 13.0, bubble.y + (len(title) - 1) * PITCH_MM / 2)
    yield from paragraph(layers.note, beside, title, TEXT_MM, PITCH_MM, "left", "bold")
    lines = [line for words in detail.words if words for line in wrapped(words, box.width - 5.0, TEXT_MM)]
    y = box.bottom + 2.0 + (len(lines) - 1) * PITCH_MM
    frame = Box(box.left + 1.5, y + TEXT_MM + 2.0, box.right - 1.5, box.top - TOP_MM)
    yield from paragraph(layers.note, Point(box.left + 2.5, y), lines, TEXT_MM, PITCH_MM)
    found = []
    for slack in SLACKS_MM:
        items, homeless, led_mm = detail.draw(Place(frame, slack)).finished()
        found.append((len(homeless), led_mm + SMALLER * slack, slack, items))
        if not homeless and led_mm <= SMALLER * slack:
            break
    yield from min(found)[3]
