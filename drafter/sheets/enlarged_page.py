"""Where the enlarged plan stands: in room that the sheet of the plan or another one leaves free, else on its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from drafter.drawing import Area, Item, Link, Placement, Record, View
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.bars import scale_bar
from drafter.sheets.enlarged_reference import ENLARGED
from drafter.sheets.free_room import holds_a_table
from drafter.sheets.item_boxes import boxes_of
from drafter.sheets.page import TITLE_SIGNS, Page
from drafter.sheets.pages import TITLE_MM, VIEW_TITLE_MM, view_title
from drafter.sheets.scene import Scene, mm
from drafter.sheets.view_parts import key_of

LARGE_SCALE_SERIES = 4
"""Kind of sheet for views at large scales (US National CAD Standard, from memory)."""

SERIES_WITH_VIEWS = (1, 2)
BAR_MM, CLEAR_MM, STEP_MM = 14.0, 6.0, 2.0
"""Room for the scale bar below the title; kept between the view and all else; how finely room is looked for."""

EDGE_MM = 2.5
"""Round the view within its window, for the ends of dimension lines."""

PLAN_KEY, REACH = key_of("plan", 1), "reach"
BAR_ABOVE_MM = 4.0


def with_enlarged(
    scene: Scene, pages: Sequence[Page], enlarged: Sequence[View], views: Mapping[str, View], area: Box
) -> list[Page]:
    """The pages with the enlarged plan at one of its scales; as they were where there is none.

    Args:
        enlarged: the view at each scale that will do, the largest first; each fits a sheet.
        views: those that the pages show, by name.
        area: room for drawing on a sheet.
    """
    if not enlarged:
        return list(pages)
    order = [number for number, page in enumerate(pages) if page.series in SERIES_WITH_VIEWS]
    order.sort(key=lambda number: PLAN_KEY not in pages[number].parts)
    for number in order:
        taken = _Taken(scene, pages[number], views, area)
        for keeps_free, view in product((True, False), enlarged):
            width, height = _size_mm(scene, view)
            if (corner := taken.corner_of(width, height, keeps_free)) is not None:
                room = Box(corner.x, corner.y - height, corner.x + width, corner.y)
                more = _shown_on(scene, pages[number], view, room)
                return [*pages[:number], more, *pages[number + 1 :]]
    after = max(order) + 1
    return [*pages[:after], _own_page(scene, enlarged, area), *pages[after:]]


def _own_page(scene: Scene, enlarged: Sequence[View], area: Box) -> Page:
    """A sheet for the enlarged plan at its largest scale, in its upper left corner."""
    view = enlarged[0]
    width, height = _size_mm(scene, view)
    room = Box(area.left, area.top - height + BAR_MM, area.left + width, area.top)
    items = view_title(scene.layers, view, room.left, room.bottom)
    window = replace(room, bottom=room.bottom + TITLE_MM)
    placement = Placement(view.name, view.box.centre, window.centre, window)
    free = tuple(_without(area, room.grown(CLEAR_MM)))
    return Page(
        LARGE_SCALE_SERIES, view.title.capitalize(), tuple(items), (placement,), view.scale, view.scale_text, free,
        (_key(view),),
    )  # fmt: skip


def shown_of(enlarged: Sequence[View], pages: Sequence[Page], numbers: Sequence[str]) -> tuple[View, str] | None:
    """The enlarged plan at the scale at which it stands on some pages, and the number of its sheet."""
    for view, (page, number) in product(enlarged, zip(pages, numbers, strict=True)):
        if _key(view) in page.parts:
            return view, number
    return None


def _key(view: View) -> str:
    return key_of(ENLARGED, int(view.scale))


def _size_mm(scene: Scene, view: View) -> tuple[float, float]:
    """Width and height on paper with title and scale bar."""
    title_mm = text_width_mm(view.title, VIEW_TITLE_MM, "bold")
    bar_mm = max(box.right for box in boxes_of_all(_bar(scene, view, Point(0.0, 0.0)), 1.0, scene))
    wide = max(view.box.width / view.scale, title_mm, bar_mm)
    return wide + 2 * EDGE_MM, view.box.height / view.scale + 2 * EDGE_MM + TITLE_MM + BAR_MM


def fits_sheet(scene: Scene, area: Box, view: View) -> bool:
    """Whether the enlarged plan fits a sheet of its own with its title."""
    width, height = _size_mm(scene, view)
    return width <= area.width and height - BAR_MM <= area.height


def _shown_on(scene: Scene, page: Page, view: View, room: Box) -> Page:
    """A page with the view in a room that was free on it."""
    items, placement = _set(scene, view, room)
    title = f"{page.title}, enlarged plan"
    return replace(
        page,
        title=title if len(title) <= TITLE_SIGNS else page.title,
        contents=f"{page.contents or page.title}, {view.title.lower()}",
        items=(*page.items, *items),
        placements=(*page.placements, placement),
        scale_text=page.scale_text if page.scale_text == view.scale_text else "as shown",
        parts=(*page.parts, _key(view)),
        free=tuple(left for free in page.free for left in _without(free, room.grown(CLEAR_MM))),
    )


def _set(scene: Scene, view: View, room: Box) -> tuple[list[Item], Placement]:
    """The title with its scale bar at the foot of a room, and the view above them."""
    items = view_title(scene.layers, view, room.left, room.bottom + BAR_MM)
    items += _bar(scene, view, Point(room.left, room.bottom + BAR_ABOVE_MM))
    window = replace(room, bottom=room.bottom + TITLE_MM + BAR_MM)
    return items, Placement(view.name, view.box.centre, window.centre, window)


def _bar(scene: Scene, view: View, at: Point) -> list[Item]:
    return scale_bar(scene.site, view.scale, at, scene.layers)


def _without(free: Box, taken: Box) -> Iterator[Box]:
    """What of a free room lies left, right, above and below what was taken, where it holds a table."""
    if not free.overlaps(taken):
        yield free
        return
    beside = (
        replace(free, right=taken.left), replace(free, left=taken.right),
        replace(free, left=max(free.left, taken.left), right=min(free.right, taken.right), bottom=taken.top),
        replace(free, left=max(free.left, taken.left), right=min(free.right, taken.right), top=taken.bottom),
    )  # fmt: skip
    yield from filter(holds_a_table, beside)


class _Taken:
    """What is taken on a page, on a grid over the room for drawing."""

    def __init__(self, scene: Scene, page: Page, views: Mapping[str, View], area: Box) -> None:
        self.area = area
        shape = int(area.height / STEP_MM), int(area.width / STEP_MM)
        self.grid: NDArray[np.bool_] = np.zeros(shape, dtype=bool)
        self._take_all(boxes_of_all(page.items, 1.0, scene))
        for placement in page.placements:
            self._take_all(_ink(scene, placement, views[placement.view]))
        self.kept = self.grid.copy()
        for free in page.free:
            self._take(free.grown(CLEAR_MM), self.kept)

    def corner_of(self, width: float, height: float, keeps_free: bool) -> Point | None:
        """The upper left corner of a place of some size, the highest, then the leftmost; None where there is none.

        Args:
            keeps_free: whether room that tables may take is left to them.
        """
        grid = self.kept if keeps_free else self.grid
        rows, columns = int(np.ceil(height / STEP_MM)), int(np.ceil(width / STEP_MM))
        if rows > grid.shape[0] or columns > grid.shape[1]:
            return None
        sums = np.pad(grid.cumsum(0).cumsum(1), ((1, 0), (1, 0)))
        taken = sums[rows:, columns:] - sums[:-rows, columns:] - sums[rows:, :-columns] + sums[:-rows, :-columns]
        free = np.argwhere(taken == 0)
        if not len(free):
            return None
        row, column = (int(at) for at in free[0])
        return Point(self.area.left + column * STEP_MM, self.area.top - row * STEP_MM)

    def _take_all(self, boxes: Iterable[Box]) -> None:
        for box in boxes:
            self._take(box.grown(CLEAR_MM), self.grid)

    def _take(self, box: Box, grid: NDArray[np.bool_]) -> None:
        top, bottom = self.area.top - box.top, self.area.top - box.bottom
        left, right = box.left - self.area.left, box.right - self.area.left
        rows = slice(max(0, int(top // STEP_MM)), max(0, int(-(-bottom // STEP_MM))))
        grid[rows, max(0, int(left // STEP_MM)) : max(0, int(-(-right // STEP_MM)))] = True


def boxes_of_all(items: Iterable[Item], scale: float, scene: Scene) -> Iterator[Box]:
    for item in items:
        if not isinstance(item, (Area, Record, Link)):
            yield from boxes_of(item, scale, scene.symbols)


def _ink(scene: Scene, placement: Placement, view: View) -> Iterator[Box]:
    """What a view takes of a page: a plan with its rooms what is drawn of it, any other the whole of its box."""
    scale = view.scale
    off = placement.at.minus(Point(placement.origin.x / scale, placement.origin.y / scale))

    def moved(box: Box) -> Box:
        return Box(box.left + off.x, box.bottom + off.y, box.right + off.x, box.top + off.y)

    whole = Box(*(side / scale for side in (view.box.left, view.box.bottom, view.box.right, view.box.top)))
    if view.name not in ("plan", REACH) or placement.origin != view.box.centre:
        yield placement.window if view.name in ("plan", REACH) else moved(whole)
        return
    for walls in scene.site.walls.values():
        corners = [mm(wall.left) for wall in walls]
        yield moved(Box.around([Point(corner.x / scale, corner.y / scale) for corner in corners]))
    yield from map(moved, boxes_of_all(view.items, scale, scene))
