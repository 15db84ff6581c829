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


def stored_energy_j(volume_m3: float, gauge_pressure_pa: float) -> float:
    """Energy a vessel full of air lets go when it bursts [J].

    Source:
        ASME PCC-2 appendix 501-II, 2.5 p V (1 - (101 kPa / p)^0.286), p absolute.
    """
    absolute_pa = gauge_pressure_pa + STANDARD_ATMOSPHERE_PA
    return float(2.5 * absolute_pa * volume_m3 * (1.0 - (101_000.0 / absolute_pa) ** 0.286))
