"""The schedules of a set as tables: outlets, parts, valves and drains, cutting, mark-out, findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.finding import Finding, Severity
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.sheets.cutting import bars_tables, cutting_table
from drafter.sheets.leak_test import leak_table
from drafter.sheets.notes import notes
from drafter.sheets.purposes import purpose
from drafter.sheets.rule_set import must_bear, rule_set_rows
from drafter.sheets.scene import Scene, hold_words
from drafter.sheets.spare_tees import spare_table
from drafter.sheets.tables import Column, Table
from drafter.sheets.water_schedule import cooling_table, water_table
from drafter.sheets.work import order_table, tools_table
from drafter.site.defaults import defaults_taken
from drafter.site.wall import CROSSING, in_words, with_article
from drafter.sizing.arm_shut import arm_shut_words
from drafter.sizing.explaining import neighbour_words
from drafter.takeoff.bend_words import turns_words
from drafter.takeoff.hoses import not_in_it
from drafter.takeoff.rows import Row

GOT_MM = 9.0
"""Least width of the column that is ticked while buying."""


def schedules(scene: Scene, findings: Sequence[Finding]) -> list[Table]:
    """Return all tables of a set, in the order they are printed."""
    pressing, told = _findings_tables(findings)
    tables = [*pressing, parts_table(scene), outlets_table(scene), design_table(scene), sizes_table(scene)]
    tables += [ladder_table(scene), valves_table(scene)]
    tables += [spare_table(scene)] if scene.design.network.spare_tees else []
    tables.append(leak_table(scene))
    tables += told
    if own := [f for f in findings if f.rule == "LIMIT005"]:
        rows = tuple((f.subject, f.measured, f.limit, f.message) for f in own)
        columns = (Column("rule"), Column("here"), Column("usual"), Column("why"))
        tables.append(Table("LIMITS SET FOR THIS SITE", columns, rows))
    tables.append(water_table(scene))
    tables += [] if scene.site.is_dried else [cooling_table(scene)]
    tables += [order_table(scene), tools_table(scene), rules_table(scene)]
    return [*tables, cutting_table(scene), *bars_tables(scene), *mark_tables(scene), defaults_table(scene)]


def _findings_tables(findings: Sequence[Finding]) -> tuple[list[Table], list[Table]]:
    """What is to be settled, errors before warnings; and the notes, those that guard people first."""
    settle, know = list[Table](), list[Table]()
    if pressing := [f for severity in (Severity.ERROR, Severity.WARNING) for f in findings if f.severity is severity]:
        rows = tuple((f.severity.word, f.subject, f.message, f.fix) for f in pressing)
        columns = (Column(""), Column("at"), Column("found"), Column("do"))
        settle.append(Table("CHECK BEFORE BUILDING", columns, rows))
    if told := [f for f in findings if f.severity is Severity.NOTE and f.rule != "LIMIT005"]:
        noted = tuple((f.subject, f.message, f.fix) for f in told)
        know.append(Table("GOOD TO KNOW", (Column("at"), Column("found"), Column("do")), noted))
    return settle, know


def rules_table(scene: Scene) -> Table:
    """The set of rules the drawing was held against, and what it comes to here."""
    columns = (Column("what"), Column("here"), Column("source"))
    return Table("RULES AND LABELS", columns, tuple(rule_set_rows(scene.design.network)))


def notes_table(scene: Scene, done: int) -> Table:
    """The notes after the first ``done``, which stand beside the plan."""
    rows = tuple((str(number), note) for number, note in enumerate(notes(scene), 1) if number > done)
    return Table("NOTES (continued)" if done else "NOTES", (Column("no.", True), Column("note")), rows)


def parts_table(scene: Scene) -> Table:
    """What to buy, counted from the drawing."""
    rows = [
        (
            str(number),
            part.item,
            _size_told(scene, part),
            _amount(scene, part.quantity, part.unit),
            _amount(scene, part.order, part.unit),
            ", ".join(part.tags),
            "",
        )
        for number, part in enumerate(scene.takeoff.parts, 1)
    ]
    columns = (
        Column("no.", True),
        Column("item"),
        Column("size"),
        Column("net", True),
        Column("buy", True),
        Column("tags"),
        Column("got", least_mm=GOT_MM),
    )
    title = f"PARTS SCHEDULE, all that holds air {must_bear(scene.design.network)}{hold_words(scene)}"
    bill = scene.takeoff.bill
    left = ("", not_in_it(scene.site), *("",) * (len(columns) - 2))
    if bill is None:
        return Table(title, columns, (*rows, left))
    priced = [
        (*cells[:-1], *price_cells(price, part.order), cells[-1])
        for cells, price, part in zip(rows, bill.prices, scene.takeoff.parts, strict=True)
    ]
    left_out = f", {len(bill.without)} items without a price" if bill.without else ""
    total = ("", f"total{left_out}", "", "", "", "", "", f"{bill.total:.2f}", "")
    heads = (*columns[:-1], Column("each or a metre", True), Column("cost", True), columns[-1])
    return Table(title, heads, (*priced, total, (*left, "", "")))


def _size_told(scene: Scene, part: Row) -> str:
    """The size of a part; of tube sold by a nominal size the outside diameter as well, which clips are bought by."""
    named = (size for size in scene.design.network.material.sizes if part.unit == "m" and size.name == part.size)
    size = next(named, None)
    if size is None or " x " in size.name:
        return part.size
    return f"{part.size} ({scene.units.of_kind(Kind.LENGTH, size.outside_m)} outside)"


def price_cells(price: float | None, order: float) -> tuple[str, str]:
    """A price and what all of it costs, empty where there is none."""
    return ("", "") if price is None else (f"{price:.2f}", f"{price * order:.2f}")


def _amount(scene: Scene, quantity: float, unit: str) -> str:
    """A quantity with its unit: lengths as the drawing writes them."""
    return scene.units.long_length(quantity) if unit == "m" else f"{quantity:.0f} {unit}"


def outlets_table(scene: Scene) -> Table:
    """Each outlet: where, for what, how much air, which pressure is left."""
    units, several = scene.units, len(scene.site.rooms) > 1
    stands_at = {node.tag: units.length(scene.layout.from_left_m(node)) for node in scene.layout.couplings}
    flows = {outlet.tag: outlet for outlet in scene.design.network.outlets}
    rows = []
    for outlet in scene.site.outlets:
        flow = flows[outlet.tag]
        place = f"{outlet.room}, {outlet.wall}" if several else outlet.wall
        tools = ", ".join(use.tool for use in outlet.tools) or "not said"
        needed = units.pressure(flow.needed_pa) if flow.needed_pa else ""
        revised = f" rev {scene.revised.revision}" if outlet.tag in scene.revised.tags else ""
        rows.append((
            f"{outlet.tag}{revised}", place, units.length(outlet.from_left_m), stands_at[outlet.tag],
            units.length(outlet.height_m), tools,
            units.free_air(flow.free_air_m3_s), units.pressure(flow.gauge_pressure_pa),
            units.pressure(flow.tool_pressure_pa), needed,
        ))  # fmt: skip
    columns = (
        Column("tag"), Column("wall"), Column("drop from left", True), Column("outlet from left", True),
        Column("height", True), Column("tools"), Column("free air", True), Column("at coupling", True),
        Column("at tool", True), Column("needed", True),
    )  # fmt: skip
    regulated = any("regulator" in outlet.units for outlet in scene.site.outlets)
    return Table("OUTLETS, their regulators fully open" if regulated else "OUTLETS", columns, tuple(rows))


def design_table(scene: Scene) -> Table:
    """Demand against supply, and why the main goes as it does."""
    units, network = scene.units, scene.design.network
    supply = network.supply
    rows = [
        ("compressor delivers", units.free_air(supply.delivered_m3_s)),
        ("tools on average over the day", units.free_air(supply.tools_average_m3_s)),
        ("the same with leakage and growth", units.free_air(supply.average_m3_s)),
        (f"peak, {supply.at_once} outlets at once", units.free_air(supply.peak_m3_s)),
        ("pressure into the main at cut-in", units.pressure(supply.supply_gauge_pa)),
        ("energy stored in the tank at cut-out", units.energy(supply.stored_energy_j)),
        *(("route", reason) for reason in scene.layout.reasons),
        *((("turns of the tube", turns_words(network)),) if scene.site.main.turns == "bent" else ()),
        *((f"ring with {shut.valve} shut", arm_shut_words(shut, units)) for shut in network.arms_shut),
    ]
    return Table("DESIGN DATA", (Column("what"), Column("value")), tuple(rows))


def sizes_table(scene: Scene) -> Table:
    """Each stretch of pipe: its size, what decided it, and what the sizes next to it would do."""
    units, network = scene.units, scene.design.network
    rows = tuple(
        (
            choice.where,
            choice.size,
            units.velocity(choice.velocity_m_s),
            choice.decided_by,
            neighbour_words(network, choice, choice.smaller),
            neighbour_words(network, choice, choice.larger),
        )
        for choice in network.choices
    )
    columns = (
        Column("stretch"), Column("size"), Column("air", True), Column("decided by"), Column("one size smaller"),
        Column("one size larger"),
    )  # fmt: skip
    return Table("SIZES", columns, rows)


def ladder_table(scene: Scene) -> Table:
    """Where the pressure goes on the way to each tool in its worst case."""
    units, network = scene.units, scene.design.network
    names = network.step_names
    rows = []
    for flow in network.outlets:
        taken = {step.what: units.pressure_drop(step.drop_pa).split(" ")[0] for step in flow.ladder}
        needed = units.pressure(flow.needed_pa) if flow.needed_pa else ""
        drops = (taken.get(name, "") for name in names)
        rows.append((flow.tag, *drops, units.pressure(flow.tool_pressure_pa), needed))
    columns = (Column("tag"), *(Column(name, True) for name in names), Column("at tool", True), Column("needed", True))
    unit, cut_in = "psi" if units.imperial else "bar", units.pressure(scene.site.compressor.cut_in_pa)
    return Table(f"WHERE THE PRESSURE GOES, {unit} lost from {cut_in} at cut-in", columns, tuple(rows))


def valves_table(scene: Scene) -> Table:
    """Every valve, drain and treatment unit, where to find it and what it is for."""
    units, rows = scene.units, []
    for node in scene.layout.nodes.values():
        if node.kind in (NodeKind.VALVE, NodeKind.DRAIN, NodeKind.TREATMENT):
            place = f"{node.room}, {node.wall}" if len(scene.site.rooms) > 1 else node.wall
            from_left = units.length(scene.layout.from_left_m(node))
            rows.append((node.tag, purpose(scene.layout, node.id), place, from_left, units.length(node.at.z)))
    rows += _union_rows(scene)
    columns = (Column("tag"), Column("what"), Column("wall"), Column("from left", True), Column("height", True))
    title = "VALVES, DRAINS, TREATMENT, UNIONS" if scene.takeoff.unions else "VALVES, DRAINS AND TREATMENT"
    return Table(title, columns, tuple(rows))


def _union_rows(scene: Scene) -> Iterator[tuple[str, str, str, str, str]]:
    """Where the unions stand, and what each is for."""
    units, layout = scene.units, scene.layout
    for union in scene.takeoff.unions:
        run = layout.run_by_id[union.run]
        place = f"{run.room}, {run.wall}" if len(scene.site.rooms) > 1 else run.wall
        from_left = scene.site.wall(run.room, run.wall).measure(union.at.plan)[0]
        yield "union", union.why, place, units.length(from_left), units.length(union.at.z)


def mark_tables(scene: Scene) -> Iterator[Table]:
    """For each wall what to mark: from its left-hand corner, above the floor, and from the level line."""
    units, several, line_m = scene.units, len(scene.site.rooms) > 1, scene.site.level_line_m
    walls = dict.fromkeys((mark.room, mark.wall) for mark in scene.takeoff.marks)
    for room, wall in walls:
        here = [mark for mark in scene.takeoff.marks if (mark.room, mark.wall) == (room, wall)]
        off = [units.signed_length(mark.height_m - line_m) for mark in here]
        rows = tuple(
            (mark.tag, mark.what, units.length(mark.from_left_m), units.length(mark.height_m), from_line)
            for mark, from_line in zip(here, off, strict=True)
        )
        rows = (*_where_from(scene, room, wall), *rows)
        number = scene.marks.get((room, wall), "")
        name = f"{number} - {in_words(wall).upper()}" + (f" OF {room.upper()}" if several else "")
        columns = (
            Column("tag"), Column("what"), Column("from left", True), Column("height", True), Column("from line", True),
        )  # fmt: skip
        yield Table(f"MARK-OUT {name}", columns, rows, in_order=True)


def _where_from(scene: Scene, room: str, wall: str) -> Iterator[tuple[str, str, str, str, str]]:
    """Where a crossing begins, which is measured like a wall from there."""
    if wall.startswith(CROSSING):
        line = scene.site.wall(room, wall)
        entry = scene.site.rooms[room].crossings[int(wall.removeprefix(CROSSING)) - 1]
        start = scene.site.wall(room, entry.wall)
        from_left = scene.units.length(start.measure(line.left)[0])
        yield "", f"begins at {with_article(entry.wall)}, {from_left} from its left", scene.units.length(0.0), "", ""


def defaults_table(scene: Scene) -> Table:
    """What the site file left open and was taken from practice."""
    rows = tuple(tuple(cell.replace(" degC", " °C") for cell in row) for row in defaults_taken(scene.site))
    return Table("TAKEN AS USUAL, NOT GIVEN IN THE SITE FILE", (Column("what"), Column("taken"), Column("from")), rows)
