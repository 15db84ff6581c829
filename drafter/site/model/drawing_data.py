"""What the title block says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from drafter.reader import DateForm, Entry, EntryForm, ListForm, TextForm, WordForm, key
from drafter.site.model.forms import NAME, PRACTICE

PAPERS = ("A4", "A3", "A2", "A1", "Letter", "11x17", "ARCH C", "ARCH D")

DXF_VERSIONS = ("R12", "R2000", "R2007", "R2010", "R2013", "R2018")
DXF_FILES = ("plan and elevations", "one", "each view")
PLOT_STYLES = ("none", "black", "grey")
DISCIPLINES = ("M", "MP", "P", "PP", "D", "DG", "DP")
"""Mechanical, plumbing, process, each by itself or of piping, and process gases: designators of the US National CAD
Standard (from memory)."""


@dataclass(frozen=True, kw_only=True)
class DxfData(Entry):
    """How the drawings for CAD are written."""

    version: str = key("version", WordForm(DXF_VERSIONS), "R2010", "R12 is flat: strokes and texts, for simple readers")
    files: str = key("files", WordForm(DXF_FILES), "plan and elevations", "what stands together in a file")
    layers: str = key("layers", TextForm("our-layers.yaml", 200), "", "a file beside this one that renames layers")
    plot_style: str = key("plot style", WordForm(PLOT_STYLES), "none", "of the layouts: in colours, or all in one ink")


@dataclass(frozen=True, kw_only=True)
class ConcernedName(Entry):
    """Something that a revision concerns."""

    ALONE: ClassVar[str] = "name"

    name: str = key(
        "name", TextForm("O3", 80), meaning="a tag, a wall such as 'east wall' or 'A-B wall of shop', a room"
    )


@dataclass(frozen=True, kw_only=True)
class Revision(Entry):
    """One issue of the drawings, and what it changed."""

    revision: str = key("revision", TextForm("B", 4), meaning="revision index")
    date: str = key("date", DateForm(), "", "date of issue")
    what: str = key("what", TextForm("outlet A3 moved to the east wall", 120), meaning="what changed")
    by: str = key("by", NAME, "", "who changed it")
    concerns: tuple[ConcernedName, ...] = key(
        "concerns",
        ListForm(EntryForm(ConcernedName), 1, 60),
        (),
        "what is marked, of the last revision",
    )


@dataclass(frozen=True, kw_only=True)
class DrawingData(Entry):
    """What the title block says."""

    number: str = key("number", TextForm("WS-01", 16), "", "drawing number")
    revision: str = key("revision", TextForm("A", 4), "", "revision index", "the last of the revisions, or A")
    date: str = key("date", DateForm(), "", "date of issue", "that of the last of the revisions")
    revisions: tuple[Revision, ...] = key("revisions", ListForm(EntryForm(Revision), 0, 20), (), "the oldest first")
    paper: str = key("paper", WordForm(PAPERS), "", "sheet size", "A3, or 11x17 where lengths are in feet")
    units: str = key("units", WordForm(("metric", "imperial")), "", "units drawn", "as most lengths of the file")
    discipline: str = key("discipline", WordForm(DISCIPLINES), "M", "letters before sheet numbers", PRACTICE)
    dxf: DxfData = key("dxf", EntryForm(DxfData), DxfData(), "drawings for CAD")
    client: str = key("client", NAME, "", "who it is for")
    address: str = key("address", TextForm("1 Mill Lane, Oxbow", 90), "", "where it is")
    drawn_by: str = key("drawn by", NAME, "", "who drew it")
    checked_by: str = key("checked by", NAME, "", "who checked it")
    approved_by: str = key("approved by", NAME, "", "who approved it")
    installer: str = key("installer", NAME, "", "who fits it, with licence number")
