"""What tests look for in a DXF that was read back: all entities, their numbers, lines of pipe by name."""

from __future__ import annotations

from typing import Any

from ezdxf.entities import DXFEntity

from drafter.backends.dxf_document import APPID


def spaces(document: Any) -> list[Any]:
    """The model, the layouts and all blocks but the library's own arrows."""
    blocks = [block for block in document.blocks if not block.name.startswith(("_", "*Model", "*Paper"))]
    return [*document.layouts, *blocks]


def entities(document: Any) -> list[DXFEntity]:
    found = [entity for space in spaces(document) for entity in space]
    return found + [attribute for entity in found if entity.dxftype() == "INSERT" for attribute in entity.attribs]


def numbers(entity: DXFEntity) -> list[float]:
    values: list[float] = []
    for value in entity.dxfattribs().values():
        if isinstance(value, float | int):
            values.append(float(value))
        elif hasattr(value, "xyz"):
            values.extend(value.xyz)
    return values


def pipe_lines(document: Any) -> list[tuple[str, Any]]:
    """The lines of the model that bear the name of a pipe, each with that."""
    lines = [line for line in document.modelspace().query("LINE") if line.has_xdata(APPID)]
    return [(line.get_xdata(APPID)[0].value, line) for line in lines]
