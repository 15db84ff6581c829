"""Details of what holds the pipe: a bracket on its wall, a hanger below the ceiling."""

from __future__ import annotations

from collections import Counter

from drafter.geometry import Box, Point
from drafter.layout.graph import RunKind
from drafter.sheets.detail_picture import Picture, Place
from drafter.sheets.scene import Scene
from drafter.supports.boards import BOARD_TALL_M, BOARD_THICK_M
from drafter.supports.design import Bracket
from drafter.supports.framing import STUD_WIDTH_M
from drafter.supports.hose_end import at_hose
from drafter.supports.lines import BEYOND_M, near_fitting_words

RING_M, PLATE_M, ROD_M = 0.004, 0.005, 0.008
"""As clips, plates and rods are drawn; the make bought has its own."""


def usual_bracket(scene: Scene, hangs: bool) -> Bracket | None:
    """The bracket of the main that most are like; None where there is none."""
    runs = scene.layout.run_by_id
    by_hose = at_hose(scene.layout, scene.design.brackets)
    of_main = [b for b in scene.design.brackets if runs[b.run].kind in (RunKind.MAIN, RunKind.RISER)]
    found = [b for b in of_main if b.hangs is hangs and b is not by_hose]
    counts = Counter((scene.units.length(b.stand_off_m), bool(b.board), bool(b.stud)) for b in found)
    key = max(counts, key=lambda each: counts[each], default=None)
    return next(
        (b for b in found if (scene.units.length(b.stand_off_m), bool(b.board), bool(b.stud)) == key), None
    )  # fmt: skip


def bracket_on_board(scene: Scene) -> Bracket | None:
    """The first bracket that is screwed to a backing board; None where there is none."""
    return next((each for each in scene.design.brackets if each.board), None)


def bracket(scene: Scene, held: Bracket, place: Place) -> Picture:
    """A bracket across the pipe: wall, stud or board, stand-off."""
    units, layers, off_m = scene.units, scene.layers, held.stand_off_m
    radius_m = held.size.outside_m / 2
    board_m = BOARD_THICK_M if held.board else 0.0
    tall_m = max(0.12, BOARD_TALL_M + 0.04 if held.board else 0.0)
    true = Box(-board_m, -tall_m / 2, off_m + radius_m + 0.02, tall_m / 2)
    picture = Picture.fitted(scene, place, true, (26.0, 16.0, 8.0, 8.0))
    picture.hatched((-board_m, true.bottom), (-board_m, true.top), Point(-1.0, 0.0))
    if held.board:
        picture.block(layers.board, -board_m, -BOARD_TALL_M / 2, 0.0, BOARD_TALL_M / 2)
        picture.label(-board_m / 2, BOARD_TALL_M / 2, f"board {held.board}, {units.length(BOARD_THICK_M)}")
    _clip(picture, off_m, 0.0, radius_m)
    picture.line(layers.bracket, (PLATE_M, 0.0), (off_m - radius_m - RING_M, 0.0))
    picture.block(layers.bracket, 0.0, -0.02, PLATE_M, 0.02)
    picture.across(0.0, off_m, -tall_m / 2, -7.0, units.length(off_m))
    run = scene.layout.run_by_id[held.run]
    picture.label(off_m, radius_m, f"{'drop' if run.outlet else 'main'} {scene.size_of(run)}")
    if not held.board:
        stud = (f"stud {held.stud},", f"{units.length(STUD_WIDTH_M)} wide")
        where = ("column",) if held.on_column else stud if held.stud else ("wall",)
        picture.label(0.0, -0.3 * tall_m, *where)
    return picture


def hanger(scene: Scene, held: Bracket, place: Place) -> Picture:
    """A hanger along the pipe's end: rod from the ceiling."""
    units, layers, off_m = scene.units, scene.layers, held.stand_off_m
    radius_m = held.size.outside_m / 2
    shown_m = min(off_m, 0.35)
    true = Box(-0.1, -radius_m - 0.03, 0.1, shown_m)
    picture = Picture.fitted(scene, place, true, (10.0, 4.0, 20.0, 8.0))
    picture.hatched((true.left, true.top), (true.right, true.top), Point(0.0, 1.0))
    _clip(picture, 0.0, 0.0, radius_m)
    for side in (-ROD_M / 2, ROD_M / 2):
        picture.line(layers.bracket, (side, radius_m + RING_M), (side, true.top))
    picture.block(layers.bracket, -0.03, true.top - PLATE_M, 0.03, true.top)
    picture.up(0.0, true.top, 0.0, 0.09 * picture.scale, units.length(off_m))
    picture.label(radius_m, 0.0, f"main {_size(scene, held)}")
    picture.label(-ROD_M / 2, true.top / 2, "rod")
    return picture


def _clip(picture: Picture, x_m: float, y_m: float, radius_m: float) -> None:
    layers = picture.scene.layers
    picture.ring(layers.main, x_m, y_m, radius_m)
    picture.ring(layers.bracket, x_m, y_m, radius_m + RING_M)
    reach = radius_m + 0.012
    picture.line(layers.axis, (x_m - reach, y_m), (x_m + reach, y_m))
    picture.line(layers.axis, (x_m, y_m - reach), (x_m, y_m + reach))


def _size(scene: Scene, held: Bracket) -> str:
    return scene.size_of(scene.layout.run_by_id[held.run])


def span_words(scene: Scene, held: Bracket) -> str:
    """How far apart brackets may stand, level and upright, and how far off the others hold their pipes."""
    units, size = scene.units, held.size
    level, upright = units.length_with_unit(size.bracket_span_m), units.length_with_unit(size.vertical_span_m)
    fixed = any(each.fixed for each in scene.design.brackets)
    slides = " Fixed points grip the pipe, all others let it slide." if fixed else ""
    braced = any(each.fixed and each.hangs for each in scene.design.brackets)
    slides += " The rod of a fixed one is braced along the pipe." if held.hangs and braced else ""
    slides += " Loose ones: sideways too." if any(each.gives_m for each in scene.design.brackets) else ""
    beyond = (
        f", up to {units.length_with_unit(units.set_out_m(BEYOND_M))} more to a stud" if scene.design.boards else ""
    )
    near = f"{near_fitting_words(scene.design.network)}{beyond}, short pieces on one"
    apart = f"At most {level} apart on level pipe {size.name}, {upright} on upright, round corners too"
    return f"{apart}; {near}; places: bracket strip.{slides}"


def drop_bracket_words(scene: Scene) -> str:
    """How far apart the brackets of the drops may stand, for each size, and how far off the wall they hold them."""
    runs, units = scene.layout.run_by_id, scene.units
    of_drops = [bracket for bracket in scene.design.brackets if runs[bracket.run].outlet]
    if not of_drops:
        return ""
    spans = sorted({(each.size.name, units.length_with_unit(each.size.vertical_span_m)) for each in of_drops})
    counts = Counter((units.length_with_unit(each.stand_off_m), bool(each.board)) for each in of_drops)
    (off, on_board), _ = counts.most_common(1)[0]
    apart = ", ".join(f"{size} at most {span} apart" for size, span in spans)
    others = ", others by the mark-out" if len(counts) > 1 else ""
    return f" Drops: {apart}, {off} off {'their boards' if on_board else 'the wall'}{others}."
