"""The cutting list and the cutting plan as tables."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.sheets.scene import Scene
from drafter.sheets.tables import Column, Table
from drafter.takeoff.cutting import REUSABLE_M, Bar, cut_allowance_m
from drafter.takeoff.cutting_words import bound_words, purchase_words, rest_words


def cutting_table(scene: Scene) -> Table:
    """Pieces of tube, centre to centre and as cut."""
    units = scene.units
    rows = tuple(
        (
            str(p.number), p.size, p.start, p.end, units.length(p.centre_to_centre_m), units.length(p.cut_m),
            "on site" if p.make_up else "",
        )
        for p in scene.takeoff.pieces
    )  # fmt: skip
    columns = (
        Column("piece", True), Column("size"), Column("from"), Column("to"), Column("centres", True),
        Column("cut", True), Column("last"),
    )  # fmt: skip
    return Table("CUTTING LIST, measure a fitting first", columns, rows)


def bars_tables(scene: Scene) -> Iterator[Table]:
    """For each stock length the pieces cut from it and what is left, then what each size comes to."""
    if not scene.takeoff.bars:
        return
    site, family = scene.site, scene.design.network.material
    coil, units = family.coil, scene.units
    allowed = units.length_with_unit(cut_allowance_m(family, site.main.kerf_m))
    rows = tuple(_row(scene, bar) for bar in scene.takeoff.bars)
    columns = (
        Column("length", True), Column("size"), Column("stock"),
        Column("piece at metre mark" if coil else "pieces"), Column("offcut", True), Column(""),
    )  # fmt: skip
    title = f"CUTTING PLAN, {allowed} allowed for each {'recut' if coil else 'cut'}, long pieces first"
    yield Table(title, columns, rows)
    totals = tuple(
        (plan.size, purchase_words(plan, units), bound_words(plan, units), rest_words(plan, units))
        for plan in scene.takeoff.cutting
    )
    yield Table("TUBE TO BUY", (Column("size"), Column("buy"), Column("and less"), Column("rest")), totals)


def _row(scene: Scene, bar: Bar) -> tuple[str, ...]:
    units = scene.units
    lengths = {piece.number: piece.cut_m for piece in scene.takeoff.pieces}
    if scene.design.network.material.coil:
        held = ", ".join(f"{n}: {units.long_length(start)}" for n, start in zip(bar.pieces, bar.starts_m, strict=True))
    else:
        held = ", ".join(f"{n}: {units.length(lengths[n])}" for n in bar.pieces)
    keep = "keep" if bar.offcut_m >= REUSABLE_M else ""
    return str(bar.number), bar.size, units.long_length(bar.stock_m), held, units.length(bar.offcut_m), keep
