"""Sites made by chance for tests of the sheets: invented rooms of several shapes, papers, units and names."""

from __future__ import annotations

import random
from collections.abc import Callable

PAPERS = {False: ("A4", "A3", "A3", "A2", "A1", "A1"), True: ("Letter", "11x17", "11x17", "ARCH C", "ARCH D")}
COUNTS = (1, 1, 2, 3, 4, 5, 6, 8, 10, 12, 14)
MATERIALS = ("copper tube", "steel pipe", "aluminium tube", "stainless press tube", "polyamide tube")
NAMES = ("Gleiswerk", "Świetlica Łódź", "Société d'Économie Rurale d'Île-Verte", "Ærøskøbing Værksted")
ROOM_NAMES = ("r", "halle-süd-", "atelier-à-côté-", "dílna-")
PITCH_M = 0.45


def _metres(length_m: float) -> str:
    return f"{length_m:.2f} m"


def _feet(length_m: float) -> str:
    inches = round(length_m / 0.0254)
    return f"{inches // 12} ft {inches % 12} in"


def site_text(seed: int, outlets: int = 0) -> str:
    """Return a site file; with so many outlets, or as many as chance gives."""
    chance = random.Random(seed)
    imperial = chance.random() < 0.5
    said: Callable[[float], str] = _feet if imperial else _metres
    count = outlets or chance.choice(COUNTS)
    shape = chance.choice(("rect", "rect", "L", "U", "row", "row"))
    rooms = chance.choice((2, 3)) if shape == "row" else 1
    names = [f"{chance.choice(ROOM_NAMES)}{number}" for number in range(1, rooms + 1)]
    lines = [
        f"site: {chance.choice(NAMES)} {seed} (invented)",
        f"drawing: {{paper: {chance.choice(PAPERS[imperial])}}}",
        "rooms:",
    ]
    spots: list[tuple[str, str, float]] = []
    for number, name in enumerate(names):
        width_m = round(chance.uniform(6, 9) + 0.12 * count / rooms, 1)
        deep_m = round(chance.uniform(5, 8) + 0.08 * count / rooms, 1)
        walls, outline = _outline(shape, width_m, deep_m, said)
        lines += [f"  {name}:", outline, f"    ceiling: {said(chance.choice((2.9, 3.2, 3.6)))}"]
        if number:
            lines.append(f"    behind: {{room: {names[number - 1]}, wall: east, from left: {said(0.0)}}}")
        walls = [wall for wall in walls if rooms == 1 or wall[0] != "east" or number == rooms - 1]
        taken = dict[str, list[tuple[float, float]]]()
        if seed % 2:
            lines += _furniture(random.Random(1000 * seed + number), walls, taken, said)
        spots += [
            (name, wall, at_m)
            for wall, length_m in walls
            for at_m in (0.7 + PITCH_M * step for step in range(int((length_m - 1.4) / PITCH_M) + 1))
            if not any(first_m < at_m < last_m for first_m, last_m in taken.get(wall, ()))
        ]
    lines += [_compressor(names[0], {"L": "E-F", "U": "G-H"}.get(shape, "west"), imperial, said, count), "main:"]
    lines += [f"  material: {chance.choice(MATERIALS)}", f"  height: {said(2.6)}"]
    lines += ["  fall: 1/8 in per ft" if imperial else "  fall: 1 %", "outlets:"]
    prefix = chance.choice(("A", "Zapfst-", "Prép ", "Út"))
    for number, (room, wall, at_m) in enumerate(sorted(chance.sample(spots, min(count, len(spots)))), 1):
        where = f"room: {room}, wall: {wall}, from left: {said(at_m)}, height: {said(1.2)}"
        lines.append(f"  - {{tag: {prefix}{number}, {where}, tools: [blow gun]}}")
    return "\n".join(lines) + "\n"


def _furniture(
    chance: random.Random,
    walls: list[tuple[str, float]],
    taken: dict[str, list[tuple[float, float]]],
    said: Callable[[float], str],
) -> list[str]:
    """Studs, openings, a column, benches: lines of a room's entry; where outlets are not to be is taken."""
    openings, benches = list[str](), list[str]()
    for wall, length_m in walls:
        kind, width_m, more = chance.choice((
            ("door", 0.9, f"height: {said(2.05)}"),
            ("window", 1.2, f"height: {said(1.9)}"),
            ("overhead door", 2.4, f"height: {said(2.0)}, headroom: {said(0.3)}"),
        ))  # fmt: skip
        if length_m > width_m + 2.0:
            first_m = round(chance.uniform(0.8, length_m - width_m - 0.8), 1)
            openings.append(
                f"      - {{kind: {kind}, wall: {wall}, from left: {said(first_m)}, width: {said(width_m)}, {more}}}"
            )
            taken.setdefault(wall, []).append((first_m - 0.3, first_m + width_m + 0.3))
            if first_m > 2.0 and chance.random() < 0.6:
                taken[wall].append((1.9, 2.7))
                benches.append(
                    f"      - {{kind: bench, wall: {wall}, from left: {said(0.4)}, width: {said(1.5)}, "
                    f"depth: {said(0.6)}, height: {said(0.85)}}}"
                )
    wall, length_m = walls[-1]
    free = [at_m for at_m in (1.0, length_m / 2, length_m - 1.2) if _is_free(at_m, taken.get(wall, []))]
    column_m = round(free[0], 1) if free and chance.random() < 0.6 else None
    if column_m is not None:
        taken.setdefault(wall, []).append((column_m - 0.5, column_m + 0.7))
    columns = f"      - {{wall: {wall}, from left: {said(column_m or 0.0)}, width: {said(0.2)}, depth: {said(0.15)}}}"
    studs = f"    studs: {{spacing: {said(chance.choice((0.4064, 0.6)))}, first: {said(0.1)}}}"
    return [
        *([studs] if chance.random() < 0.5 else []),
        *(["    openings:", *openings] if openings else []),
        *(["    equipment:", *benches] if benches else []),
        *(["    columns:", columns] if column_m is not None else []),
    ]


def _is_free(at_m: float, taken: list[tuple[float, float]]) -> bool:
    return all(last_m < at_m or at_m + 0.2 < first_m for first_m, last_m in taken)


def _outline(
    shape: str, width_m: float, deep_m: float, said: Callable[[float], str]
) -> tuple[list[tuple[str, float]], str]:
    """The walls that outlets may stand on with their lengths [m], and the room's outline in words of the file."""
    w, d = width_m, deep_m
    corners = {
        "L": ((0, 0), (0, d), (w / 2, d), (w / 2, d * 0.7), (w, d * 0.7), (w, 0)),
        "U": ((0, 0), (0, d), (w * 0.3, d), (w * 0.3, d * 0.6), (w * 0.7, d * 0.6), (w * 0.7, d), (w, d), (w, 0)),
    }.get(shape)
    if corners is None:
        return [("north", w), ("east", d), ("south", w)], f"    size: [{said(w)}, {said(d)}]"
    words = ", ".join(f"{letter}: [{said(x)}, {said(y)}]" for letter, (x, y) in zip("ABCDEFGH", corners, strict=False))
    walls = {"L": [("A-B", d), ("B-C", w / 2), ("F-A", w)], "U": [("A-B", d), ("B-C", w * 0.3), ("H-A", w)]}[shape]
    return walls, f"    corners: {{{words}}}"


def _compressor(room: str, wall: str, imperial: bool, said: Callable[[float], str], count: int) -> str:
    """A set that keeps up with so many outlets."""
    sets = max(1.0, count / 14)
    plant = (
        f"power: {7.5 * sets:.1f} hp, free air: {20 * sets:.1f} cfm, cut in: 115 psi, cut out: 130 psi, tank: 80 gal, "
        "rated: 200 psi"
        if imperial
        else f"power: {5.5 * sets:.1f} kW, free air: {12 * sets:.1f} l/s, cut in: 8 bar, cut out: 9 bar, tank: 300 l, "
        "rated: 12 bar"
    )
    relief = "145 psi" if imperial else "10 bar"
    return f"compressor: {{room: {room}, wall: {wall}, from left: {said(1.2)}, {plant}, relief: {relief}}}"
