import math

import pytest
from fluids.control_valve import size_control_valve_g

from drafter.standards import air
from drafter.standards.components import restriction_flow_m3_s
from drafter.standards.valves import KV_PER_CV, restriction_of_kv


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


def test_the_fluids_library_asks_for_that_kv():
    """Its IEC 60534 sizing of a valve with x_T 0.7, which counts the flow at 0 degC, 1.01325 bar."""
    for outlet_pa in (6.01325e5, 4.0e5, 1.01325e5):
        flow_m3_s = restriction_flow_m3_s(*restriction_of_kv(2.5), 7.01325e5, outlet_pa)
        normal_m3_s = flow_m3_s * (1e5 / 101_325.0) * (273.15 / 293.15)
        kv = size_control_valve_g(
            T=293.15, MW=28.96, mu=1.8e-5, gamma=1.4, Z=1.0, P1=7.01325e5, P2=outlet_pa, Q=normal_m3_s, xT=0.7
        )
        assert kv == pytest.approx(2.5, rel=0.02)


def test_kv_per_cv():
    """Water units: 1 US gal/min over sqrt(1 psi) in m3/h over sqrt(1 bar)."""
    exact = 3.785411784e-3 * 60.0 * math.sqrt(1e5 / 6894.757293168361)
    assert pytest.approx(exact, rel=5e-4) == KV_PER_CV
