"""The files of a set: which there are, and what makes each."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from drafter.drawing import PLAIN, Drawing, Scheme
from drafter.pipeline import Designed, compose_drawing

Makers = dict[str, Callable[[], bytes]]
"""What makes each file, by its name."""

FLAT = "R12"
"""The release of DXF that is written flat: strokes, fills and texts only, in the model alone."""

ELEVATION = "elevation"
"""What the names of the elevations begin with."""

_PLOT_STYLE_FILES = {"none": "", "black": "monochrome.ctb", "grey": "grayscale.ctb"}
"""Tables of pens that come with CAD programs, under the same name in every language (from memory)."""

_VIEW_FILES = re.compile(r"(drawing|plan|reach|enlarged-plan|elevations|elevation-.+|isometric(-.+)?)\.(dxf|svg)")


@dataclass(frozen=True, slots=True)
class DxfChoice:
    """How drawings for CAD are written: release, which views a file holds, how layers are called, in which inks."""

    version: str
    files: str
    scheme: Scheme = PLAIN
    plot_style: str = "none"


def file_makers(designed: Designed, data: bytes, dxf: DxfChoice) -> Makers:
    """Return what makes each file of a set, in the order in which they are made.

    Args:
        designed: a design; where it has errors every file is stamped.
        data: the site file, from which lines are shown in the report.
    """
    from drafter.backends.pdf import to_pdf
    from drafter.report import report_text
    from drafter.sheets.label_sheets import labels_drawing
    from drafter.takeoff.csv_text import cutting_csv, mark_out_csv, parts_csv, tools_csv
    from drafter.takeoff.job_tools import job_tools
    from drafter.takeoff.pipe_threads import short_pieces

    assert designed.site is not None
    assert designed.takeoff is not None
    assert designed.design is not None
    site, takeoff, units, network = designed.site, designed.takeoff, designed.site.units, designed.design.network
    tools = job_tools(designed.design, takeoff)
    short = short_pieces(network, takeoff.pieces)
    drawing = compose_drawing(designed)
    head = f"{drawing.stamp}\r\n" if drawing.stamp else ""
    return {
        **dxf_makers(drawing, dxf),
        "sheets.pdf": lambda: to_pdf(drawing),
        "labels.pdf": lambda: to_pdf(labels_drawing(network, drawing.stamp)),
        **svg_makers(drawing),
        "parts.csv": lambda: (head + parts_csv(takeoff, units)).encode(),
        "cutting.csv": lambda: (head + cutting_csv(takeoff, units, short)).encode(),
        "tools.csv": lambda: (head + tools_csv(tools, units)).encode(),
        "mark-out.csv": lambda: (head + mark_out_csv(takeoff, units, site.level_line_m)).encode(),
        "report.txt": lambda: report_text(designed.findings, data, designed.design, takeoff).encode(errors="replace"),
    }


def of_other_choices(name: str) -> bool:
    """Whether a file of that name holds views of a set; beside a set that has no such file it is an older drawing."""
    return bool(_VIEW_FILES.fullmatch(name))


def svg_makers(drawing: Drawing) -> Makers:
    """Return what makes a picture of each view for a screen."""
    from drafter.backends.svg import to_svg
    from drafter.sheets.stamp import stamped_below

    every = [view.name for view in drawing.views]
    return {f"{name}.svg": partial(to_svg, stamped_below(drawing, name), name) for name in every}


def dxf_makers(drawing: Drawing, dxf: DxfChoice) -> Makers:
    """Return what makes the drawings for CAD: views with their sheets, all views without, and the whole in space."""
    from drafter.backends.dxf_space import to_space_dxf

    every = [view.name for view in drawing.views]
    elevations = [name for name in every if name.startswith(ELEVATION)]
    others = [name for name in every if name not in elevations]
    beside = [sheet.number for sheet in drawing.sheets if not {p.view for p in sheet.placements} & set(elevations)]
    of_elevations = [sheet.number for sheet in drawing.sheets if sheet.number not in beside]
    made: Makers = {}
    if dxf.files == "one":
        made["drawing.dxf"] = _maker(drawing, every, [sheet.number for sheet in drawing.sheets], dxf)
    elif dxf.files == "each view":
        made |= {f"{name}.dxf": _maker(drawing, [name], [], dxf) for name in every}
    else:
        made["plan.dxf"] = _maker(drawing, others, beside, dxf)
        made["elevations.dxf"] = _maker(drawing, elevations, of_elevations, dxf)
    made["model.dxf"] = _maker(drawing, every, [], dxf, True)
    made["space.dxf"] = lambda: to_space_dxf(drawing, dxf.version, dxf.scheme)
    return made


def _maker(
    drawing: Drawing, views: list[str], sheets: list[str], dxf: DxfChoice, plain: bool = False
) -> Callable[[], bytes]:
    """What makes a file; a plain one has its running dimensions as lines and texts, which every reader shows."""
    from drafter.backends.dxf import to_dxf
    from drafter.backends.dxf_flat import to_flat_dxf

    if dxf.version == FLAT:
        return lambda: to_flat_dxf(drawing, views, dxf.scheme)
    return lambda: to_dxf(drawing, views, sheets, dxf.version, plain, dxf.scheme, _PLOT_STYLE_FILES[dxf.plot_style])
