"""Air tools as a workshop names them: the free air they take while running, at what pressure, how often."""

from dataclasses import dataclass
from functools import lru_cache

from drafter.standards.data_file import read_data_file
from drafter.standards.entry_names import find_entry


@dataclass(frozen=True, slots=True)
class Tool:
    """One kind of tool, with typical figures that the data plate replaces.

    Attributes:
        name: as a site file names it.
        also_called: other spellings a site file may use.
        free_air_m3_s: taken while running, at 20 degC and 1 bar absolute, dry [m3/s].
        least_free_air_m3_s, most_free_air_m3_s: the range such tools span [m3/s].
        gauge_pressure_pa: asked for at the tool while it runs [Pa].
        use_factor: share of the working time it runs [1].
        source: where the figures come from, and that they are typical.
        note: what to mind with it; often empty.
        air_for: what the air is used for, as `drafter.standards.purity` names it.
    """

    name: str
    also_called: tuple[str, ...]
    free_air_m3_s: float
    least_free_air_m3_s: float
    most_free_air_m3_s: float
    gauge_pressure_pa: float
    use_factor: float
    source: str
    note: str = ""
    air_for: str = "tools"


def tool_names() -> tuple[str, ...]:
    """Names of the tools a site file may use, without the other spellings.

    Source:
        `tools.yaml`.
    """
    return tuple(tool.name for tool in _tools())


FOR_CLEANING = ("blow gun", "dust blow-off")
"""Tools whose air is held below the pressure that the rules allow for cleaning."""


def find_tool(name: str) -> Tool | None:
    """The tool of that name or spelling, whatever the case; None where there is none.

    Source:
        `tools.yaml`; every figure is typical and to be replaced by the data plate.
    """
    return find_entry(_tools(), name)


@lru_cache(maxsize=1)
def _tools() -> tuple[Tool, ...]:
    content = read_data_file("tools.yaml")
    return tuple(
        Tool(
            name=row["name"],
            also_called=tuple(row.get("also_called", ())),
            free_air_m3_s=row["free_air_m3_s"],
            least_free_air_m3_s=row["range_m3_s"][0],
            most_free_air_m3_s=row["range_m3_s"][1],
            gauge_pressure_pa=row["gauge_pressure_pa"],
            use_factor=row["use_factor"],
            source=content["sources"][row["source"]],
            note=row.get("note", ""),
            air_for=row.get("air_for", "tools"),
        )
        for row in content["tools"]
    )
