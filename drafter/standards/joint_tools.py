"""What it takes to make the joints of a family of tube: tools, how a joint is made, what joints use up."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from drafter.standards.data_file import read_data_file

CONDITIONS = (
    "wood",
    "masonry",
    "unknown",
    "boards",
    "hangers",
    "cores",
    "holes",
    "decks",
    "platform",
    "short",
    "stands",
)
"""What some tools are needed for: what is drilled into and built, how high, and pieces too short for the threader."""


@dataclass(frozen=True, slots=True)
class JobTool:
    """A tool by its generic name, and what it is for.

    Attributes:
        when: what the job must have for it to be needed, a word of `CONDITIONS`; empty where every job needs it.
    """

    tool: str
    use: str
    when: str = ""


@dataclass(frozen=True, slots=True)
class Consumable:
    """Something that joints use up.

    Attributes:
        per: what it is counted by: `joint` (of any kind), `end` (of a piece of tube), `thread` (male), or `outside`
            (metres of outside diameter, all ends of pieces together).
        amount: used for one of them, in `unit`.
    """

    item: str
    per: str
    amount: float
    unit: str
    use: str


@dataclass(frozen=True, slots=True)
class JointTools:
    """All that the joints of one family ask for, with what every job asks for.

    Attributes:
        making: how a joint is made, in words.
        care: what to mind while making it.
        bending, bending_care: how the tube is bent, in words, and what to mind; empty where it is not.
        bending_tools: what that takes.
        source: where tools and amounts come from.
    """

    family: str
    making: str
    care: str
    tools: tuple[JobTool, ...]
    consumables: tuple[Consumable, ...]
    source: str
    bending: str = ""
    bending_care: str = ""
    bending_tools: tuple[JobTool, ...] = ()


def joint_tools(family: str) -> JointTools:
    """What the joints of a family ask for, by the family's name.

    Source:
        `joint_tools.yaml`: common practice, amounts from memory.
    """
    return next(found for found in _all() if found.family == family)


@lru_cache(maxsize=1)
def _all() -> tuple[JointTools, ...]:
    content: dict[str, Any] = read_data_file("joint_tools.yaml")
    common = content["every_job"]
    return tuple(
        JointTools(
            row["family"],
            row["making"],
            row["care"],
            tuple(JobTool(**tool) for tool in (*row["tools"], *common["tools"])),
            tuple(Consumable(**item) for item in (*row["consumables"], *common["consumables"])),
            content["source"],
            *_bending(row.get("bending")),
        )
        for row in content["families"]
    )


def _bending(row: dict[str, Any] | None) -> tuple[str, str, tuple[JobTool, ...]]:
    return (row["making"], row["care"], tuple(JobTool(**tool) for tool in row["tools"])) if row else ("", "", ())
