"""Design limits and allowances for small compressed-air lines, each with where it comes from."""

from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class Limit:
    """A number a design is held against, and its source; the unit stands in the constant's name."""

    value: float
    source: str


_AIR_CHALLENGE = "Best Practices for Compressed Air Systems (Compressed Air Challenge), synopsis"
_PRACTICE = "common practice"
_SOURCEBOOK = "US DOE compressed air sourcebook, from memory"

MAIN_VELOCITY_PREFERRED_M_S = Limit(6.0, f"{_AIR_CHALLENGE}: header in the compressor room 20 ft/s")
MAIN_VELOCITY_MAX_M_S = Limit(9.0, f"{_AIR_CHALLENGE}: distribution header 30 ft/s")
BRANCH_VELOCITY_PREFERRED_M_S = Limit(10.0, f"{_PRACTICE}, handbooks from memory")
BRANCH_VELOCITY_MAX_M_S = Limit(15.0, f"{_PRACTICE}, handbooks from memory")

TOTAL_DROP_WARNING_PA = Limit(0.3e5, f"{_PRACTICE}, 0.3 to 0.5 bar from receiver to the worst outlet")
TOTAL_DROP_SHARE_OF_DISCHARGE = Limit(0.10, f"below 10 % of discharge pressure, {_SOURCEBOOK}")

BELOW_CEILING_M = Limit(0.05, f"{_PRACTICE}: centre of the main to the ceiling, for its brackets")
HAND_HEIGHT_M = Limit(1.8, f"{_PRACTICE}: a hand works there without a step")
HEADROOM_M = Limit(2.1, f"{_PRACTICE} for walkways, 2.1 m clear")

OUTLET_MARGIN_PA = Limit(0.5e5, f"{_PRACTICE}, 0.5 to 1 bar above what the tool asks for")
REGULATOR_MARGIN_PA = Limit(1.0e5, f"{_PRACTICE}: a regulator needs 1 bar above its setting")

AFTERCOOLER_APPROACH_K = Limit(10.0, f"{_PRACTICE}, 8 to 15 K above the cooling air, from memory")
NEAR_ROOM_K = Limit(3.0, f"{_PRACTICE}: a filter catches liquid only, so the air must have cooled before it")
DRYER_INLET_MAX_K = Limit(308.15, "35 degC: rating conditions of dryers, ISO 7183 option A1, from memory")
WET_FROST_K = Limit(278.15, f"{_PRACTICE}: +5 degC, since pipes on outside walls are colder than the room's air")
FREEZING_K = Limit(273.15, "freezing point of water")

COMPRESSOR_DUTY_MAX = Limit(0.8, f"{_PRACTICE}, 70 to 80 % of the running time")
PISTON_COMPRESSOR_DUTY_MAX = Limit(0.6, f"{_PRACTICE}, 50 to 60 % of the running time")
LOADS_MAX_PER_S = Limit(60.0 / 3600.0, f"{_PRACTICE}, from memory: a minute or more from load to load")
STARTS_MAX_PER_S = Limit(10.0 / 3600.0, f"{_PRACTICE}, 10 to 15 for motors to 4 kW; the motor's plate governs")

CUT_OUT_SHARE_OF_RELIEF = Limit(0.9, f"{_PRACTICE}: cut-out at most 0.9 of the relief valve's setting")
DESIGN_PRESSURE_MAX_PA = Limit(1.034e6, "ASME B31.9, 150 psi, from memory; above it ASME B31.1 applies")
DESIGN_TEMPERATURE_MAX_K = Limit(
    366.48, "ASME B31.9, 200 degF (93 degC) for air and gases, value from a trade summary; above it ASME B31.1 applies"
)
STORED_ENERGY_HAZARD_J = Limit(100e3, "UC Berkeley EHS: highly hazardous above 100 kJ")

_SIMULTANEITY = (
    (1, 1.0),
    (2, 0.94),
    (3, 0.89),
    (4, 0.86),
    (5, 0.83),
    (6, 0.80),
    (8, 0.75),
    (10, 0.71),
    (15, 0.64),
    (20, 0.60),
)


def simultaneity(outlets: int) -> float:
    """Share of the summed flow of identical outlets that is drawn at once [1].

    Linear between the steps of the table, 0.6 from 20 outlets on. Never take less than the largest user.

    Args:
        outlets: how many identical outlets the pipe feeds, 1 or more.

    Raises:
        ValueError: fewer than one outlet.

    Source:
        common practice, handbook curves from memory.
    """
    if outlets < 1:
        raise ValueError(f"simultaneity is for one outlet or more, not {outlets}")
    for (lower, share), (upper, upper_share) in pairwise(_SIMULTANEITY):
        if outlets <= upper:
            return share + (upper_share - share) * (outlets - lower) / (upper - lower)
    return _SIMULTANEITY[-1][1]
