"""Pipe and tube families an air line is built from: sizes, ratings, spans and lengths to cut by."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from drafter.standards.data_file import read_data_file
from drafter.standards.entry_names import find_entry

_FILES = (
    "copper_tube_type_l.yaml",
    "steel_pipe_schedule_40.yaml",
    "aluminium_tube.yaml",
    "stainless_press_tube.yaml",
    "polyamide_tube.yaml",
    "multilayer_tube.yaml",
)


SQUARED_M = 0.01
"""What the ends of a length as sold lose to be square: common practice."""


@dataclass(frozen=True, slots=True)
class TubeSize:
    """One size of a family, with the fittings that belong to it.

    A cut length is: centre to centre, less the centre-to-face of the fitting at either end, plus the
    insertion at either end. A coupling, union or valve takes its own face-to-face length out of the line, and
    the tube enters each of its faces by the insertion.

    Attributes:
        name: as the trade writes it, `1/2` or `15 x 1.5`.
        outside_m: outside diameter [m].
        bore_m: inside diameter [m].
        rating_pa: gauge pressure the tube *with its joints* carries at the family's reference temperature
            [Pa].
        bracket_span_m: largest distance between brackets of a horizontal line with a fall [m].
        vertical_span_m: largest distance between brackets of a drop or riser [m].
        centre_to_face_m: centre to face of an elbow and of a tee, run and branch alike [m].
        insertion_m: how far the tube goes into a fitting, or the thread into it [m].
        coupling_length_m: face to face of a straight coupling [m]; a reducer has that of its larger end.
        union_length_m: face to face of a union, or of the joint that comes apart in its place [m].
        valve_length_m: face to face of a full-bore ball valve with ends of this size [m]; these are unions where the
            family's joints are neither threaded nor undone by hand.
    """

    name: str
    outside_m: float
    bore_m: float
    rating_pa: float
    bracket_span_m: float
    vertical_span_m: float
    centre_to_face_m: float
    insertion_m: float
    coupling_length_m: float
    union_length_m: float
    valve_length_m: float


@dataclass(frozen=True, slots=True)
class Material:
    """A family of pipe or tube joined in one way.

    Attributes:
        name: as a site file names it.
        title: as a parts schedule names it.
        also_called: other spellings a site file may use.
        joint: how it is joined, in words.
        joins_by: `socket` (the tube enters the fitting) or `thread`.
        comes_apart: true where a joint is undone and made again by hand, as push-in ones are.
        inch_sized: true where sizes are nominal inches.
        roughness_m: of the bore, new [m].
        expansion_1_k: linear expansion [1/K].
        free_leg_factor: free leg over the root of outside diameter times movement [1]; 0 where none is known.
        conductivity_w_m_k: thermal conductivity of the wall [W/(m K)].
        emissivity: of the outside, for radiation [1].
        density_kg_m3: of the wall [kg/m3].
        max_temperature_k: above it the family has no rating [K].
        derating: (temperature [K], share of the rating [1]), rising in temperature; the first pair is the
            reference temperature.
        polymer: true where the pressure is carried by plastic.
        stock_lengths_m: lengths sold, straight or coiled [m].
        kerf_m: lost at each cut [m].
        trim_m: cut off the first end of each length before anything else [m].
        coil: true where the stock is coiled.
        reducing_tees: true where a tee with a smaller branch is a usual part.
        reducing_run_tees: true where tees of two sizes along the run, and with a branch larger than the run, are too.
        least_drop: the smallest size that is taken for drops of itself; the site file may give a smaller one.
        largest_drop: the largest size of drop the swan neck lengths below are good for.
        take_off_rise_m: centre of the main to centre of the swan neck's top [m].
        take_off_offset_m: centre of the rising leg to centre of the falling leg [m].
        bend_radius_factor: smallest centreline radius over outside diameter; 0 where every turn is an
            elbow.
        insert_bore_ratio: bore of the joint over bore of the tube; below 1 where the joint sits inside the
            tube.
        notes: what the fitter and the checker should know.
        sources: (what, where from) of every value.
        sizes: rising in outside diameter.
    """

    name: str
    title: str
    also_called: tuple[str, ...]
    joint: str
    joins_by: str
    comes_apart: bool
    inch_sized: bool
    roughness_m: float
    expansion_1_k: float
    free_leg_factor: float
    conductivity_w_m_k: float
    emissivity: float
    density_kg_m3: float
    max_temperature_k: float
    derating: tuple[tuple[float, float], ...]
    polymer: bool
    stock_lengths_m: tuple[float, ...]
    kerf_m: float
    coil: bool
    reducing_tees: bool
    reducing_run_tees: bool
    least_drop: str
    largest_drop: str
    take_off_rise_m: float
    take_off_offset_m: float
    bend_radius_factor: float
    insert_bore_ratio: float
    notes: tuple[str, ...]
    sources: tuple[tuple[str, str], ...]
    sizes: tuple[TubeSize, ...]
    trim_m: float = 0.0

    @property
    def longest_piece_m(self) -> float:
        """What the longest length sold gives in one piece with both its ends squared [m].

        Source:
            arithmetic; what squaring takes is common practice.
        """
        return max(self.stock_lengths_m) - self.trim_m - SQUARED_M

    @property
    def source(self) -> str:
        return "; ".join(f"{what}: {where}" for what, where in self.sources)

    def weight_kg_m(self, size: TubeSize) -> float:
        """Weight of a metre of empty tube [kg/m].

        Source:
            the ring between outside and bore, times the density.
        """
        return math.pi / 4.0 * (size.outside_m**2 - size.bore_m**2) * self.density_kg_m3

    def find_size(self, name: str) -> TubeSize | None:
        return next((size for size in self.sizes if size.name == name), None)


@dataclass(frozen=True, slots=True)
class RefusedMaterial:
    """A material that must not carry compressed air, with the reason and where it is written."""

    name: str
    also_called: tuple[str, ...]
    reason: str
    source: str


def material_names() -> tuple[str, ...]:
    """Names of the families a site file may use.

    Source:
        the files in `drafter/standards/materials`, each with its own sources.
    """
    return tuple(family.name for family in _families())


def find_material(name: str) -> Material | None:
    """The family of that name, whatever the case and spacing; None where there is none.

    Source:
        the files in `drafter/standards/materials`, each with its own sources.
    """
    return find_entry(_families(), name)


def material(name: str) -> Material:
    """The family of that name.

    Raises:
        ValueError: no family has it; the message lists those there are.

    Source:
        the files in `drafter/standards/materials`, each with its own sources.
    """
    found = find_material(name)
    if found is None:
        raise ValueError(f"no material is called {name!r}; known: {', '.join(material_names())}")
    return found


def find_refused_material(name: str) -> RefusedMaterial | None:
    """The refused material of that name, whatever the case and spacing; None where it is not refused.

    Source:
        `refused_materials.yaml`, each entry with its own source.
    """
    return find_entry(_refused(), name)


def rating_pa(family: Material, size: TubeSize, temperature_k: float) -> float:
    """Gauge pressure the size carries at a temperature [Pa].

    Linear between the steps of the family's derating table, the full rating below its first step, the factor
    of the last step up to the family's highest temperature and nothing (0.0) above that.

    Args:
        temperature_k: of the tube wall [K].

    Source:
        the derating table of the family; straight lines between its steps are common practice.
    """
    if temperature_k > family.max_temperature_k:
        return 0.0
    (lower_k, lower), *steps = family.derating
    if temperature_k <= lower_k:
        return size.rating_pa * lower
    for upper_k, upper in steps:
        if temperature_k <= upper_k:
            share = (temperature_k - lower_k) / (upper_k - lower_k)
            return size.rating_pa * (lower + (upper - lower) * share)
        lower_k, lower = upper_k, upper
    return size.rating_pa * lower


@lru_cache(maxsize=1)
def _families() -> tuple[Material, ...]:
    return tuple(_family(read_data_file("materials", file)) for file in _FILES)


@lru_cache(maxsize=1)
def _refused() -> tuple[RefusedMaterial, ...]:
    rows = read_data_file("refused_materials.yaml")
    return tuple(RefusedMaterial(**row | {"also_called": tuple(row["also_called"])}) for row in rows)


def _family(content: dict[str, Any]) -> Material:
    return Material(
        **content
        | {
            "also_called": tuple(content["also_called"]),
            "derating": tuple((step["temperature_k"], step["factor"]) for step in content["derating"]),
            "stock_lengths_m": tuple(content["stock_lengths_m"]),
            "notes": tuple(content["notes"]),
            "sources": tuple(content["sources"].items()),
            "sizes": tuple(TubeSize(**row) for row in content["sizes"]),
        }
    )
