"""What the energy of compressed air means if it is let go at once: an explosive of equal energy, a distance to keep."""

_TNT_J_KG = 4_266_920.0
_STAND_OFF_M = 20.0
_LEAST_STAND_OFF_M = 30.0


def tnt_equivalent_kg(energy_j: float) -> float:
    """Explosive that lets as much energy go [kg of TNT].

    Source:
        ASME PCC-2 appendix 501-II, 4 266 920 J/kg.
    """
    return energy_j / _TNT_J_KG


def stand_off_m(energy_j: float) -> float:
    """Least distance of people from a pneumatic pressure test [m], 30 m or more.

    Source:
        ASME PCC-2 appendix 501 (distance of its part III, number from memory): 20 (2 TNT)^(1/3) with TNT in kg, at
        least 30 m up to 135.5 MJ.
    """
    return float(max(_LEAST_STAND_OFF_M, _STAND_OFF_M * (2.0 * tnt_equivalent_kg(energy_j)) ** (1.0 / 3.0)))
