"""The enlarged plan of where the compressor and its treatment stand, where the plan's scale is too small for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from drafter.drawing import Insert, Item, Line, View
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind
from drafter.lettering import text_width_mm
from drafter.sheets.building import building, compressor_in_plan
from drafter.sheets.clipping import clipped
from drafter.sheets.cuts import UNCUT
from drafter.sheets.enlarged_dimensions import enlarged_dimensions
from drafter.sheets.enlarged_reference import ENLARGED
from drafter.sheets.enlarged_region import Region, crowded_region, roomy_scales
from drafter.sheets.item_boxes import box_of_view
from drafter.sheets.paper import scales
from drafter.sheets.placing import Label
from drafter.sheets.plan import Plan
from drafter.sheets.plan_labels import block_labels, keep_off_walls
from drafter.sheets.plan_north import plan_north
from drafter.sheets.revision_marks import marks_in_plan
from drafter.sheets.scene import Scene

ROOM_MM, NEXT_ROOM_MM = 3.0, 2.0
BETWEEN_MM = 3.0
"""Between the words of one unit and the next."""

LEAST_FLOOR_MM2 = 1.0


def enlarged_plans(scene: Scene, plan_scale: float, fits: Callable[[View], bool]) -> list[View]:
    """The enlarged plan at each standard scale at which it is worth drawing, the largest first; none without need.

    At these scales every unit has room for its tag. Where labels find no room at any of them, that which misses the
    fewest is taken.

    Args:
        fits: whether a view fits a sheet.
    """
    region = crowded_region(scene, plan_scale)
    if region is None:
        return []
    allowed = scales(scene.site.imperial)
    roomy = roomy_scales(scene, region, plan_scale)
    drawn = [_view(scene, region, n, allowed[n]) for n in roomy]
    fitting = [each for each in drawn if fits(each[0])] or drawn[-1:]
    best = min(lost for _, lost in fitting)
    return [view for view, lost in fitting if lost == best]


def _view(scene: Scene, region: Region, scale: int, scale_text: str) -> tuple[View, int]:
    """The view, and how many labels found no room."""
    drawing = _EnlargedPlan(scene, scale, region)
    items = drawing.draw(rooms_first=True)
    return View(ENLARGED, region.title, scale, scale_text, tuple(items), drawing.whole), len(drawing.ground.homeless)


class _EnlargedPlan(Plan):
    def __init__(self, scene: Scene, scale: int, region: Region) -> None:
        super().__init__(scene, scale, UNCUT)
        self.shown = region

    def draw(self, rooms_first: bool) -> list[Item]:
        """Draw what lies in the region; its names of rooms stand within them, or are left out."""
        site, layers, region = self.scene.site, self.layers, self.shown
        self._add(list(clipped(building(site, layers), region.box, layers.door)))
        keep_off_walls(self.ground, site)
        drawn = [*compressor_in_plan(site, layers), *self.pipes.pipes(), *self.pipes.signs()]
        self._add(list(clipped(drawn, region.box)))
        self._add(enlarged_dimensions(self.scene, region, self.ground))
        if rooms_first:
            self._room_names()
        self._tags()
        self._say_what_is_below_main()
        for room in site.rooms:
            self.labels += block_labels(layers, site, room)
        self.items += self.ground.set_all([label for label in self.labels if region.holds(label.anchor)])
        self.items += marks_in_plan(self.scene, self.ground, self.items, of_walls=False)
        self.whole = box_of_view(self.items, self.scale, self.scene.symbols).joined(region.box)
        self.items += plan_north(self.scene, self.ground, self.whole, [region.box.corners])
        return [_without_data(item) for item in self.items]

    def _tag(self, node: Node) -> None:
        """A unit with what it is, and each device with its level, those in upright pipe too."""
        if node.kind is NodeKind.TREATMENT:
            lines = node.tag, *([node.what] if self._says_what() else []), self.scene.units.level(node.at.z)
            self._label(node, self.pipes.at(node), lines, 2.5, along=self.scene.wall_of(node).along)
        elif self.scene.is_valve_of_line(node) or self.pipes.is_drain_of_main(node):
            self._label(node, self.pipes.at(node), (node.tag, self.scene.units.level(node.at.z)), 2.5)
        else:
            super()._tag(node)

    def _says_what(self) -> bool:
        """Whether there is room between the units to write what each is."""
        units = (node for node in self.layout.nodes.values() if node.kind is NodeKind.TREATMENT)
        widest_mm = max(text_width_mm(node.what, 2.5) for node in units)
        return widest_mm + BETWEEN_MM < self.shown.unit_m * 1000.0 / self.scale

    def _room_names(self) -> None:
        for room in self.floors:
            height_mm = ROOM_MM if room == self.shown.room else NEXT_ROOM_MM
            if (floor := self._floor(room)) is not None:
                label = Label(
                    self.layers.text, self.layers.text, Box.around(floor).centre, (room.upper(),), height_mm, True,
                    within=floor,
                )  # fmt: skip
                self.items += self.ground.set_within(label)

    def _floor(self, room: str) -> tuple[Point, ...] | None:
        """The corners of what is shown of a room's floor."""
        from shapely import Polygon, box

        frame = self.shown.box
        seen = Polygon(self.floors[room]).intersection(box(frame.left, frame.bottom, frame.right, frame.top))
        pieces: Sequence[Polygon] = [part for part in getattr(seen, "geoms", [seen]) if part.area > LEAST_FLOOR_MM2]
        if not pieces:
            return None
        return tuple(Point(*at) for at in max(pieces, key=lambda piece: piece.area).exterior.coords[:-1])


def _without_data(item: Item) -> Item:
    """A sign or pipe without the data of its thing, which is counted and measured on the plan alone."""
    if isinstance(item, Insert):
        return replace(item, attributes=())
    return replace(item, id="") if isinstance(item, Line) else item
