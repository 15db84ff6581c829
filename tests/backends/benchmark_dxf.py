"""How long the DXF takes to write, against the library writing the same entities from a ready list.

Prints for each example and each file: entities, both times and their ratio; then for a made-up site of 1,000 outlets
the time and the most memory that each file takes.
"""

from __future__ import annotations

import statistics
import time
import tracemalloc
from collections.abc import Callable
from io import StringIO
from pathlib import Path
from typing import Any

import ezdxf
from generated_site import site_text

from drafter.backends.dxf_written import fixed_metadata
from drafter.files import DxfChoice, dxf_makers
from drafter.pipeline import compose_drawing, design

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
CHOICE = DxfChoice("R2010", "plan and elevations")
TURNS = 3
Call = tuple[str, dict[str, Any], Any]
_MADE_WITH_A_LAYOUT = {"MTEXT": "text", "DIMENSION": "geometry"}


def ready_list(document: Any) -> dict[str, list[Call]]:
    """Return all entities of a document as plain data, by the names of the blocks that hold them."""
    return {
        block.name: [(entity.dxftype(), attributes_of(entity), content_of(entity)) for entity in block]
        for block in document.blocks
        if not block.name.startswith("_")
    }


def attributes_of(entity: Any) -> dict[str, Any]:
    return {name: value for name, value in entity.dxfattribs().items() if name not in ("handle", "owner")}


def content_of(entity: Any) -> Any:
    """Return what an entity holds beside its attributes."""
    match entity.dxftype():
        case "LWPOLYLINE":
            return list(entity.get_points("xyseb")), entity.closed
        case "MTEXT":
            return entity.text
        case "HATCH":
            lines = [[line.angle, tuple(line.base_point), tuple(line.offset), list(line.dash_length_items)]
                     for line in entity.pattern.lines] if entity.pattern else None  # fmt: skip
            return [(path.vertices, path.path_type_flags) for path in entity.paths], lines
        case "INSERT":
            return [(a.dxf.tag, a.dxf.text, tuple(a.dxf.insert), attributes_of(a)) for a in entity.attribs]
        case "POLYLINE":
            return [attributes_of(vertex) for vertex in entity.vertices]
        case "LINE" if entity.has_xdata("DRAFTER"):
            return list(entity.get_xdata("DRAFTER"))
    return None


def write_list(document: Any, spaces: dict[str, list[Call]]) -> bytes:
    """Write the entities with the library alone, into the document with its layers, styles and sheets."""
    for name, calls in spaces.items():
        block = document.blocks.get(name) if name in document.blocks else document.blocks.new(name)
        for kind, attributes, content in calls:
            write_one(block, kind, attributes, content)
    stream = StringIO(newline="\n")
    document.write(stream)
    encoded: bytes = document.encode(stream.getvalue())
    return encoded


def write_one(block: Any, kind: str, attributes: dict[str, Any], content: Any) -> None:
    match kind:
        case "LWPOLYLINE":
            block.add_lwpolyline(content[0], "xyseb", close=content[1], dxfattribs=attributes)
        case "MTEXT":
            block.add_mtext(content, dxfattribs=attributes)
        case "HATCH":
            hatch = block.add_hatch(dxfattribs=attributes)
            if content[1]:
                hatch.set_pattern_definition(content[1])
            for points, flags in content[0]:
                hatch.paths.add_polyline_path(points, flags=flags)
        case "INSERT":
            insert = block.new_entity(kind, attributes)
            for tag, text, at, look in content:
                insert.add_attrib(tag, text, at, dxfattribs=look)
        case "POLYLINE":
            polyline = block.new_entity(kind, attributes)
            for vertex in content:
                polyline._append_vertex(polyline._new_compound_entity("VERTEX", vertex))
        case _:
            entity = block.new_entity(kind, attributes)
            if content:
                entity.set_xdata("DRAFTER", content)


def emptied(data: bytes) -> tuple[Any, dict[str, list[Call]]]:
    """Return the document of a file with its tables and sheets but no entities, and those as a list."""
    document: Any = ezdxf.read(StringIO(data.decode()))
    spaces = ready_list(document)
    for name in spaces:
        block = document.blocks.get(name)
        block.delete_all_entities()
    return document, spaces


def seconds(work: Callable[[], object], before: Callable[[], object] | None = None) -> float:
    """Return the middle of some times that the work takes."""
    times = []
    for _ in range(TURNS):
        if before:
            before()
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def compare(name: str, make: Callable[[], bytes]) -> tuple[float, float]:
    data = make()
    stock: list[tuple[Any, dict[str, list[Call]]]] = []
    ours_s = seconds(make)
    with fixed_metadata():
        theirs_s = seconds(lambda: write_list(*stock[0]), lambda: stock.__setitem__(slice(None), [emptied(data)]))
    count = sum(map(len, stock[0][1].values()))
    print(f"{name:32} {count:6d} entities {ours_s:6.3f} s against {theirs_s:6.3f} s: {ours_s / theirs_s:4.2f}")
    return ours_s, theirs_s


def report_large_site() -> None:
    text = site_text(1000, 16, seed=1).replace("0.5 %", "0.02 %")
    start = time.perf_counter()
    designed = design(text, "made.yaml")
    drawing = compose_drawing(designed)
    print(f"1,000 outlets: designed and composed in {time.perf_counter() - start:.0f} s")
    for name, make in dxf_makers(drawing, CHOICE).items():
        taken_s = seconds_once(make)
        tracemalloc.start()
        size = len(make())
        _, peak = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        print(f"{name:16} {taken_s:6.2f} s, {size / 1e6:6.1f} MB, at most {peak / 1e6:6.0f} MB of memory")


def seconds_once(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main() -> None:
    sums = [0.0, 0.0]
    for path in EXAMPLES:
        drawing = compose_drawing(design(path.read_bytes(), path.name))
        for name, make in dxf_makers(drawing, CHOICE).items():
            for place, taken_s in enumerate(compare(f"{path.stem} {name}", make)):
                sums[place] += taken_s
    print(f"{'all':32} {sums[0]:24.3f} s against {sums[1]:6.3f} s: {sums[0] / sums[1]:4.2f}")
    report_large_site()


if __name__ == "__main__":
    main()
