"""How long the DXF takes to write, against the library writing the same entities from a ready list.

Prints for each example and each file: entities, both times and their ratio; then for a made-up site of 1,000 outlets
the time and the most memory that each file takes.
"""

from __future__ import annotations

import resource
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import dataclass
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
TURNS = 5
Call = tuple[str, dict[str, Any], Any]
TABLES = ("layers", "styles", "dimstyles")
LINE_TYPES_OF_ALL = ("BYLAYER", "BYBLOCK", "CONTINUOUS")


@dataclass(frozen=True)
class Ready:
    """All that stands in a file, as plain data: its tables, and the entities of model, layouts and blocks."""

    tables: dict[str, list[dict[str, Any]]]
    patterns: dict[str, list[float]]
    layouts: dict[str, list[Call]]
    blocks: dict[str, list[Call]]


def ready_list(document: Any) -> Ready:
    line_types = [entry for entry in document.linetypes if entry.dxf.name.upper() not in LINE_TYPES_OF_ALL]
    return Ready(
        {name: [attributes_of(entry) for entry in getattr(document, name)] for name in TABLES},
        {
            entry.dxf.name: [tag.value for tag in entry.pattern_tags.tags if tag.code in (40, 49)]
            for entry in line_types
        },
        {layout.name: list(map(call_of, layout)) for layout in document.layouts},
        {block.name: list(map(call_of, block)) for block in document.blocks if not block.is_any_layout},
    )


def call_of(entity: Any) -> Call:
    return entity.dxftype(), attributes_of(entity), content_of(entity)


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


def write_list(ready: Ready) -> bytes:
    """Write what is ready with the library alone."""
    document: Any = ezdxf.new("R2010", setup=False)
    document.appids.add("DRAFTER")
    for name, pattern in ready.patterns.items():
        document.linetypes.add(name, pattern)
    for name, entries in ready.tables.items():
        table = getattr(document, name)
        for attributes in entries:
            if attributes["name"] not in table:
                table.new(attributes["name"], dxfattribs=attributes)
    for name, calls in ready.blocks.items():
        write_all(document.blocks.new(name), calls)
    for name, calls in ready.layouts.items():
        write_all(document.layouts.get(name) if name in document.layouts else document.layouts.new(name), calls)
    stream = StringIO(newline="\n")
    document.write(stream)
    encoded: bytes = document.encode(stream.getvalue())
    return encoded


def write_all(space: Any, calls: list[Call]) -> None:
    for kind, attributes, content in calls:
        write_one(space, kind, attributes, content)


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


def seconds(work: Callable[[], object]) -> float:
    """Return the least of some times that the work takes, not counting what other programs take."""
    times = []
    for _ in range(TURNS):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def compare(name: str, make: Callable[[], bytes]) -> tuple[float, float]:
    ready = ready_list(ezdxf.read(StringIO(make().decode())))
    ours_s = seconds(make)
    with fixed_metadata():
        theirs_s = seconds(lambda: write_list(ready))
    count = sum(map(len, (*ready.layouts.values(), *ready.blocks.values())))
    print(f"{name:32} {count:6d} entities {ours_s:6.3f} s against {theirs_s:6.3f} s: {ours_s / theirs_s:4.2f}")
    return ours_s, theirs_s


def report_large_site() -> None:
    text = site_text(1000, 16, seed=1).replace("0.5 %", "0.02 %")
    start = time.perf_counter()
    designed = design(text, "made.yaml")
    drawing = compose_drawing(designed)
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"1,000 outlets: designed and composed in {time.perf_counter() - start:.0f} s, at most {most_mb:.0f} MB")
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
