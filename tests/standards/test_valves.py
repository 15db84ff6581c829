import pytest

from drafter.standards import air
from drafter.standards.components import restriction_flow_m3_s
from drafter.standards.valves import (
    KV_PER_CV,
    ORIFICE_CRITICAL_RATIO,
    orifice_conductance_m3_s_pa,
    restriction_of_kv,
)

PSI_PA, INCH_M, CFM_M3_S = 6894.757293168361, 0.0254, 0.3048**3 / 60.0


def iec_flow_m3_s(kv, inlet_pa, outlet_pa, factor):
    """IEC 60534-2-1 for compressible fluids with N6 = 31.6 (kg/h, bar, kg/m3), from memory."""
    share = min(1.0 - outlet_pa / inlet_pa, factor)
    expansion = 1.0 - share / (3.0 * factor)
    density = air.density_kg_m3(inlet_pa, air.FREE_AIR_TEMPERATURE_K)
    kg_h = 31.6 * kv * expansion * (share * inlet_pa / 1e5 * density) ** 0.5
    return kg_h / 3600.0 / air.FREE_AIR_DENSITY_KG_M3


@pytest.mark.parametrize("outlet_bar", [6.95, 6.5, 6.01325, 5.0, 3.0, 2.0, 1.0])
@pytest.mark.parametrize("factor", [0.6, 0.7, 0.8])
def test_a_kv_passes_what_the_valve_standard_says(outlet_bar, factor):
    found = restriction_flow_m3_s(*restriction_of_kv(1.0, factor), 7.01325e5, outlet_bar * 1e5)
    assert found == pytest.approx(iec_flow_m3_s(1.0, 7.01325e5, outlet_bar * 1e5, factor), rel=0.02)


def test_published_rule_of_thumb_for_kv():
    """C in dm3/(s bar) is about 4.5 Kv, or 3.9 Cv (common practice)."""
    assert restriction_of_kv(1.0)[0] * 1e8 == pytest.approx(4.5, rel=0.005)
    assert restriction_of_kv(KV_PER_CV)[0] * 1e8 == pytest.approx(3.9, rel=0.005)


@pytest.mark.parametrize(
    ("size_in", "psig", "cfm", "tolerance"),
    [
        (1 / 4, 1, 7.18, 0.01), (1 / 4, 5, 15.9, 0.01), (1 / 4, 12, 24.3, 0.01), (1 / 4, 15, 26.9, 0.006),
        (1 / 4, 20, 31.4, 0.005), (1 / 4, 30, 40.5, 0.005), (1 / 4, 50, 58.6, 0.005), (1 / 4, 90, 94.8, 0.005),
        (1 / 4, 125, 126, 0.008), (1 / 64, 100, 0.406, 0.005), (1 / 16, 100, 6.49, 0.005), (1 / 2, 100, 415, 0.005),
    ],
)  # fmt: skip
def test_table_of_discharge_through_an_orifice(size_in, psig, cfm, tolerance):
    """Published table, coefficient 1, free air at 14.7 psi absolute and 70 degF, read in two copies that agree.

    The first three rows are not choked, where ISO 6358 stands in for isentropic flow.
    """
    inlet_pa = (psig + 14.696) * PSI_PA
    temperature_k = 294.26
    found = restriction_flow_m3_s(
        orifice_conductance_m3_s_pa(size_in * INCH_M, 1.0), ORIFICE_CRITICAL_RATIO, inlet_pa, 14.696 * PSI_PA,
        temperature_k,
    )  # fmt: skip
    free_cfm = found * air.FREE_AIR_DENSITY_KG_M3 / air.density_kg_m3(14.696 * PSI_PA, temperature_k) / CFM_M3_S
    assert free_cfm == pytest.approx(cfm, rel=tolerance)


def test_ideal_nozzle_constant():
    """C = 0.156 d^2 with d in mm, C in dm3/(s bar): plain algebra of choked flow."""
    assert orifice_conductance_m3_s_pa(0.001, 1.0) * 1e8 == pytest.approx(0.1560, rel=1e-3)
