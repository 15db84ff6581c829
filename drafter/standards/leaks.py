"""Leaks: measured by the fall of a closed volume or by the compressor's running time, and what they cost."""

from drafter.standards.air import FREE_AIR_PRESSURE_PA, FREE_AIR_TEMPERATURE_K


def decay_leak_m3_s(
    volume_m3: float,
    start_absolute_pa: float,
    end_absolute_pa: float,
    time_s: float,
    start_temperature_k: float = FREE_AIR_TEMPERATURE_K,
    end_temperature_k: float = FREE_AIR_TEMPERATURE_K,
    free_air_pressure_pa: float = FREE_AIR_PRESSURE_PA,
) -> float:
    """Mean leak of a closed volume whose pressure falls, as free air at 20 degC [m3/s]; below zero where it gains air.

    Args:
        start_temperature_k, end_temperature_k: of the air in the volume at both readings [K].
        free_air_pressure_pa: absolute pressure the free air is counted at [Pa].

    Source:
        V (p1 - p2) / (t p_a) of trade handbooks and NAVFAC MO-209, corrected for temperature by mass:
        V (p1 - p2 T1/T2) / (t p_a), counted at 20 degC.
    """
    lost = start_absolute_pa / start_temperature_k - end_absolute_pa / end_temperature_k
    return volume_m3 * lost * FREE_AIR_TEMPERATURE_K / (time_s * free_air_pressure_pa)


def temperature_swing_pa(absolute_pressure_pa: float, temperature_k: float, change_k: float) -> float:
    """Change of pressure in a closed, tight volume when its air warms or cools [Pa].

    Source:
        ideal gas law at constant volume, p dT / T.
    """
    return absolute_pressure_pa * change_k / temperature_k


def load_unload_leak_share(loaded_s: float, unloaded_s: float) -> float:
    """Share of the compressor's capacity that leaks, from its times loaded and unloaded without any use [1].

    Source:
        T / (T + t), US DOE compressed air tip sheets and trade training pages.
    """
    return loaded_s / (loaded_s + unloaded_s)


def specific_energy_j_m3(power_w: float, delivered_m3_s: float) -> float:
    """Work a compressor does for each cubic metre of free air, from its plate [J/m3].

    Source:
        power over free air delivered, the specific power of ISO 1217; the motor's own loss is not in it.
    """
    return power_w / delivered_m3_s


def leak_energy_j(leak_m3_s: float, power_w: float, delivered_m3_s: float, time_s: float) -> float:
    """Work a compressor does to make up a leak for so long [J]; at most what it does running all the time.

    Source:
        `specific_energy_j_m3` times the air lost; a compressor that stands still or unloads between costs nothing
        here, which is low for one that idles.
    """
    made_up_m3_s = min(leak_m3_s, delivered_m3_s)
    return specific_energy_j_m3(power_w, delivered_m3_s) * made_up_m3_s * time_s
