"""The layers of all drawings.

Names follow the discipline-major-minor pattern of the US National CAD Standard (from memory); minor
groups past CMPA-PIPE are our own, which that pattern allows. Widths: pipes are the heaviest lines on
a sheet, walls quiet, after ISO 128 (values from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from drafter.drawing import Layer, LineKind


def before_number(discipline: str) -> str:
    """What goes before the number of a sheet: a designator of one letter is filled up with a hyphen to two signs."""
    return f"{discipline:-<2}"


@dataclass(frozen=True)
class Layers:
    """Layer names for the letters of a discipline, such as ``M`` or ``MP``."""

    letter: str

    def __getattr__(self, name: str) -> str:
        return self._names[name]

    @cached_property
    def _names(self) -> dict[str, str]:
        return {
            short: full.replace("M-", f"{self.letter}-", 1) if full.startswith("M-") else full
            for short, (full, *_) in _LAYERS.items()
        }

    def definitions(self) -> tuple[Layer, ...]:
        """All layers, in the order of their names."""
        names = self._names
        made = [
            Layer(
                names[short],
                meaning,
                width,
                kind,
                colour,
                grey,
                short not in _UNPRINTED,
                short not in _UNSEEN,
                _FLAT_COLOURS.get(short, 0),
            )
            for short, (_, meaning, width, kind, colour, grey) in _LAYERS.items()
        ]
        return tuple(sorted(made, key=lambda layer: layer.name))


_UNSEEN = ("part",)
"""Layers that are neither printed nor shown: data for programs."""

_UNPRINTED = (*_UNSEEN, "window_frame")

_C, _H, _P = LineKind.CONTINUOUS, LineKind.HIDDEN, LineKind.PHANTOM
_LAYERS: dict[str, tuple[str, str, float, LineKind, int, float]] = {
    "main": ("M-CMPA-PIPE-MAIN", "main line", 0.7, _C, 5, 0.0),
    "drop": ("M-CMPA-PIPE-DROP", "drops, branches and drip legs", 0.5, _C, 5, 0.0),
    "behind": ("M-CMPA-PIPE-HIDN", "pipes behind columns", 0.5, _H, 5, 0.0),
    "hose": ("M-CMPA-PIPE-FLEX", "flexible connections", 0.5, _C, 5, 0.0),
    "valve": ("M-CMPA-VALV", "valves", 0.35, _C, 5, 0.0),
    "outlet": ("M-CMPA-OUTL", "outlets and units at outlets", 0.35, _C, 6, 0.0),
    "equipment": ("M-CMPA-EQPM", "compressor, tank and treatment", 0.35, _C, 7, 0.0),
    "bracket": ("M-CMPA-SUPP", "brackets", 0.25, _C, 30, 0.0),
    "board": ("M-CMPA-SUPP-BACK", "backing boards of brackets", 0.18, _C, 30, 0.2),
    "drain": ("M-CMPA-DRAN", "drain points", 0.35, _C, 3, 0.0),
    "body": ("M-CMPA-BODY-3DIM", "pipes as bodies of their outside diameter, in space", 0.13, _C, 5, 0.0),
    "part": ("M-CMPA-PART", "a record of every part to buy, for extraction", 0.13, _C, 9, 0.0),
    "sign": ("M-CMPA-SYMB", "flow arrows, falls, levels, datum", 0.25, _C, 7, 0.0),
    "axis": ("M-CMPA-CNTR", "centre lines of pipes in details", 0.18, LineKind.CENTER, 8, 0.2),
    "keep": ("M-CMPA-KEEP", "keep-clear spaces", 0.18, _P, 1, 0.25),
    "reach": ("M-CMPA-RECH", "ends of hoses", 0.25, LineKind.CENTER, 4, 0.0),
    "unreached": ("M-CMPA-RECH-NONE", "floor that no hose gets to", 0.13, _C, 9, 0.45),
    "reach_place": ("M-CMPA-RECH-PLCE", "places that a hose is to reach", 0.5, _C, 6, 0.0),
    "dims": ("M-ANNO-DIMS", "dimensions", 0.18, _C, 1, 0.0),
    "text": ("M-ANNO-TEXT", "sizes and texts", 0.25, _C, 7, 0.0),
    "tag": ("M-ANNO-IDEN", "tags and leaders", 0.18, _C, 7, 0.0),
    "note": ("M-ANNO-NOTE", "notes", 0.25, _C, 7, 0.0),
    "legend": ("M-ANNO-LEGN", "legend", 0.25, _C, 7, 0.0),
    "table": ("M-ANNO-SCHD", "schedules", 0.18, _C, 7, 0.0),
    "chart": ("M-ANNO-CHRT", "charts: axes, bars", 0.25, _C, 7, 0.0),
    "chart_grid": ("M-ANNO-CHRT-GRID", "charts: grid", 0.13, _C, 9, 0.45),
    "chart_curve": ("M-ANNO-CHRT-CURV", "charts: what is computed", 0.5, _C, 7, 0.0),
    "chart_step": ("M-ANNO-CHRT-STEP", "charts: what is needed", 0.35, LineKind.DASHED, 7, 0.0),
    "chart_limit": ("M-ANNO-CHRT-LIMT", "charts: limits", 0.25, _P, 7, 0.0),
    "title": ("M-ANNO-TTLB", "frame and title block", 0.35, _C, 7, 0.0),
    "frame": ("M-ANNO-TTLB-FRAM", "heavy frame lines", 0.7, _C, 7, 0.0),
    "match": ("M-ANNO-MTCH", "match lines, where a view goes on on another sheet", 0.5, LineKind.CENTER, 7, 0.0),
    "revised": ("M-ANNO-REVS", "marks of what the latest revision changed", 0.25, _C, 7, 0.0),
    "refer": ("M-ANNO-REFR", "frames round what another view shows larger", 0.18, LineKind.DASHED, 7, 0.0),
    "model_title": ("G-ANNO-MODL", "titles of views, in the model only", 0.25, _C, 7, 0.0),
    "window_frame": ("G-ANNO-VPRT", "frames of viewports", 0.13, _C, 9, 0.0),
    "wall": ("A-WALL", "walls", 0.35, _C, 8, 0.2),
    "wall_hatch": ("A-WALL-PATT", "hatching of walls", 0.13, _C, 9, 0.45),
    "stud": ("A-WALL-STUD", "studs in elevations", 0.13, _C, 9, 0.6),
    "door": ("A-DOOR", "doors and openings", 0.18, _C, 8, 0.2),
    "above": ("A-DOOR-OVHD", "overhead doors, tracks and decks above", 0.18, _H, 8, 0.3),
    "window": ("A-GLAZ", "windows", 0.18, _C, 8, 0.2),
    "furniture": ("A-FURN", "equipment and benches", 0.18, _C, 9, 0.35),
    "outline": ("A-FLOR-OTLN", "outlines of rooms and decks in the isometric", 0.18, _C, 9, 0.45),
    "column": ("S-COLS", "columns", 0.25, _C, 8, 0.2),
    "floor": ("A-FLOR-LEVL", "floor line in elevations", 0.5, _C, 8, 0.0),
    "ceiling": ("A-CLNG", "ceiling line in elevations", 0.25, _C, 8, 0.2),
}

_FLAT_COLOURS = {
    "drop": 150,
    "behind": 160,
    "hose": 140,
    "valve": 170,
    "body": 164,
    "part": 254,
    "sign": 200,
    "board": 32,
    "axis": 253,
    "keep": 12,
    "unreached": 65,
    "reach_place": 220,
    "text": 144,
    "tag": 154,
    "note": 124,
    "legend": 114,
    "table": 104,
    "chart": 84,
    "chart_grid": 85,
    "chart_curve": 74,
    "chart_step": 64,
    "chart_limit": 54,
    "title": 244,
    "frame": 234,
    "match": 224,
    "refer": 214,
    "revised": 204,
    "model_title": 184,
    "window_frame": 195,
    "stud": 95,
    "door": 35,
    "above": 25,
    "window": 145,
    "furniture": 45,
    "outline": 55,
    "column": 252,
    "floor": 15,
    "ceiling": 175,
}
"""Where several layers have one colour, what all but one of them have instead in a file that knows no widths.

Pipework is told apart by clear colours, lettering by dark ones, the building by dull ones.
"""
