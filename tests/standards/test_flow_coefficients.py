"""Kv and Cv against the valve equations of IEC 60534, as the fluids library solves them."""

import math

import pytest
from fluids.control_valve import size_control_valve_g

from drafter.standards import flow_coefficients as coefficients
from drafter.standards.components import restriction_flow_m3_s

KV_FLOW_L_S = 19.88
CLASSIC_KV_FLOW_L_S = 19.56
"""Kv = 1 from 7.013 to 6.013 bar absolute: IEC 60534, and the older 514 Kv sqrt(dp p2 / (rho T)) of handbooks."""


def kv_for(flow_m3_s, upstream_pa, downstream_pa):
    """Kv that IEC 60534-2-1 asks for, in a valve of x_T = 0.7; it counts the flow at 0 degC, 1.01325 bar."""
    normal_m3_s = flow_m3_s * (1e5 / 101_325.0) * (273.15 / 293.15)
    return size_control_valve_g(
        T=293.15, MW=28.96, mu=1.8e-5, gamma=1.4, Z=1.0, P1=upstream_pa, P2=downstream_pa, Q=normal_m3_s, xT=0.7
    )


def test_kv_of_one_passes_what_iec_60534_says():
    assert kv_for(KV_FLOW_L_S / 1e3, 701_325.0, 601_325.0) == pytest.approx(1.0, rel=2e-3)
    flow = restriction_flow_m3_s(
        coefficients.conductance_of_kv_m3_s_pa(1.0), coefficients.KV_CRITICAL_RATIO, 701_325.0, 601_325.0
    )
    assert flow * 1e3 == pytest.approx(KV_FLOW_L_S, rel=0.07)
    assert flow * 1e3 == pytest.approx(CLASSIC_KV_FLOW_L_S, rel=0.07)


def test_choked_kv():
    conductance = coefficients.conductance_of_kv_m3_s_pa(2.5)
    flow = restriction_flow_m3_s(conductance, coefficients.KV_CRITICAL_RATIO, 801_325.0, 101_325.0)
    assert 4.2 * 2.5 < conductance * 1e8 < 4.8 * 2.5
    assert kv_for(flow, 801_325.0, 101_325.0) == pytest.approx(2.5, rel=0.03)


def test_the_older_formula_is_what_was_printed():
    density, drop_bar, downstream_bar = 1.2923, 1.0, 6.01325
    normal_m3_h = 514.0 * math.sqrt(drop_bar * downstream_bar / (density * 293.15))
    assert normal_m3_h / 3.6 * 1.08744 == pytest.approx(CLASSIC_KV_FLOW_L_S, abs=0.01)


def test_cv():
    """Water units: 1 US gal/min over sqrt(1 psi) in m3/h over sqrt(1 bar)."""
    exact = 3.785411784e-3 * 60.0 * math.sqrt(1e5 / 6894.757293168361)
    assert coefficients.kv_of_cv(1.0) == pytest.approx(exact, rel=5e-4)
