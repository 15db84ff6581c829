"""The air receiver: how long it lasts, how large it must be, how fast it fills, what energy it holds."""

from drafter.standards.air import FREE_AIR_PRESSURE_PA, FREE_AIR_TEMPERATURE_K, STANDARD_ATMOSPHERE_PA


def usable_free_air_m3(
    volume_m3: float,
    start_pa: float,
    end_pa: float,
    receiver_temperature_k: float = FREE_AIR_TEMPERATURE_K,
    free_air_pressure_pa: float = FREE_AIR_PRESSURE_PA,
) -> float:
    """Free air a receiver gives between two pressures, both gauge or both absolute [m3].

    Args:
        free_air_pressure_pa: absolute pressure the free air is counted at [Pa]; its temperature is 20 degC.

    Source:
        ideal gas law at constant temperature.
    """
    return volume_m3 * (start_pa - end_pa) / free_air_pressure_pa * FREE_AIR_TEMPERATURE_K / receiver_temperature_k


def draw_down_time_s(
    volume_m3: float,
    start_pa: float,
    end_pa: float,
    drawn_m3_s: float,
    supplied_m3_s: float,
    free_air_pressure_pa: float = FREE_AIR_PRESSURE_PA,
) -> float:
    """How long a receiver lasts from one pressure to a lower one [s]; infinite where the supply keeps up.

    Args:
        start_pa, end_pa: both gauge or both absolute [Pa].
        drawn_m3_s, supplied_m3_s: free air at 20 degC and `free_air_pressure_pa` [m3/s].

    Source:
        mass balance at constant temperature; printed in public receiver-sizing sheets.
    """
    if drawn_m3_s <= supplied_m3_s:
        return float("inf")
    free_air_m3 = usable_free_air_m3(volume_m3, start_pa, end_pa, free_air_pressure_pa=free_air_pressure_pa)
    return free_air_m3 / (drawn_m3_s - supplied_m3_s)


def draw_down_volume_m3(
    time_s: float,
    start_pa: float,
    end_pa: float,
    drawn_m3_s: float,
    supplied_m3_s: float,
    free_air_pressure_pa: float = FREE_AIR_PRESSURE_PA,
) -> float:
    """Volume a receiver needs to bridge a surge [m3]; zero where the supply keeps up.

    Source:
        the draw-down time solved for the volume.
    """
    short_m3_s = max(0.0, drawn_m3_s - supplied_m3_s)
    return time_s * free_air_pressure_pa * short_m3_s / (start_pa - end_pa)


def cycle_time_s(
    volume_m3: float,
    pressure_band_pa: float,
    compressor_m3_s: float,
    demand_m3_s: float,
    free_air_pressure_pa: float = FREE_AIR_PRESSURE_PA,
) -> float:
    """Time from one start of the compressor to the next [s]; infinite without demand or with full demand.

    Args:
        pressure_band_pa: cut-out less cut-in [Pa].

    Source:
        mass balance of the filling and the emptying at constant temperature.
    """
    if not 0.0 < demand_m3_s < compressor_m3_s:
        return float("inf")
    free_air_m3 = volume_m3 * pressure_band_pa / free_air_pressure_pa
    return free_air_m3 * (1.0 / demand_m3_s + 1.0 / (compressor_m3_s - demand_m3_s))


def minimum_volume_m3(
    compressor_m3_s: float,
    starts_per_hour: float,
    pressure_band_pa: float,
    free_air_pressure_pa: float = FREE_AIR_PRESSURE_PA,
) -> float:
    """Volume that keeps a start-stop compressor within its starts per hour whatever the demand [m3].

    The worst demand is half the compressor's flow.

    Source:
        the least cycle time over all demands, 4 V dp / (p Q); handbooks print the same factor 0.25.
    """
    return compressor_m3_s * free_air_pressure_pa * 3600.0 / (4.0 * starts_per_hour * pressure_band_pa)


def pump_up_free_air_m3_s(
    volume_m3: float,
    start_pa: float,
    end_pa: float,
    time_s: float,
    receiver_temperature_k: float = FREE_AIR_TEMPERATURE_K,
    free_air_pressure_pa: float = FREE_AIR_PRESSURE_PA,
) -> float:
    """Free air a compressor delivers, from the time it takes to fill a closed receiver [m3/s].

    Args:
        receiver_temperature_k: of the air in the receiver [K]; free air is counted at 20 degC.

    Source:
        mass balance; the pump-up test of handbooks.
    """
    filled_m3 = usable_free_air_m3(volume_m3, end_pa, start_pa, receiver_temperature_k, free_air_pressure_pa)
    return filled_m3 / time_s


def stored_energy_j(volume_m3: float, gauge_pressure_pa: float) -> float:
    """Energy a vessel full of air lets go when it bursts [J].

    Source:
        ASME PCC-2 appendix 501-II, 2.5 p V (1 - (101 kPa / p)^0.286), p absolute.
    """
    absolute_pa = gauge_pressure_pa + STANDARD_ATMOSPHERE_PA
    return float(2.5 * absolute_pa * volume_m3 * (1.0 - (101_000.0 / absolute_pa) ** 0.286))
