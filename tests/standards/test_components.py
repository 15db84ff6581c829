import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import components

REFERENCE = json.loads((Path(__file__).parents[1] / "data" / "restrictions.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("row", REFERENCE["rows"])
def test_flow_of_a_restriction(row):
    flow = components.restriction_flow_m3_s(
        row["c_l_s_bar"] * 1e-8, row["b"], REFERENCE["upstream_bar_abs"] * 1e5, row["downstream_bar_abs"] * 1e5
    )
    assert flow == pytest.approx(row["l_s"] / 1e3, abs=5e-7)


@given(
    st.floats(min_value=0.1, max_value=0.6),
    st.floats(min_value=0.61, max_value=0.999),
    st.floats(min_value=250.0, max_value=330.0),
)
def test_outlet_pressure_undoes_the_flow(critical_ratio, ratio, temperature_k):
    flow = components.restriction_flow_m3_s(3e-8, critical_ratio, 7e5, ratio * 7e5, temperature_k)
    outlet_pa = components.restriction_outlet_pa(3e-8, critical_ratio, 7e5, flow, temperature_k)
    assert outlet_pa == pytest.approx(ratio * 7e5)


def test_a_restriction_cannot_pass_more_than_choked_flow():
    choked = components.restriction_flow_m3_s(3e-8, 0.3, 7e5, 1e5)
    assert components.restriction_outlet_pa(3e-8, 0.3, 7e5, choked) == pytest.approx(0.3 * 7e5)
    assert components.restriction_outlet_pa(3e-8, 0.3, 7e5, choked * 1.001) is None


def test_no_flow_against_the_pressure():
    assert components.restriction_flow_m3_s(3e-8, 0.3, 7e5, 7e5) == 0.0
    assert components.restriction_flow_m3_s(3e-8, 0.3, 7e5, 8e5) == 0.0


def test_the_small_coupling_loses_what_practice_expects():
    """8 l/s from 7.013 bar absolute through C = 3 l/(s bar), b = 0.3 loses about 0.37 bar."""
    coupling = components.find_coupling("quick coupling 1/4")
    outlet_pa = components.restriction_outlet_pa(
        coupling.sonic_conductance_m3_s_pa, coupling.critical_ratio, 701_325.0, 0.008
    )
    assert 701_325.0 - outlet_pa == pytest.approx(0.37e5, abs=0.01e5)


def test_larger_couplings_pass_more():
    conductances = [
        components.find_coupling(f"quick coupling {size}").sonic_conductance_m3_s_pa for size in ("1/4", "3/8", "1/2")
    ]
    assert conductances == sorted(set(conductances))


def test_every_component_is_complete():
    for name in components.component_names():
        component = components.find_component(name)
        assert component.name == name
        assert 0.0 < component.pressure_drop_pa < 1e5
        assert component.change_at_pa is None or component.change_at_pa > component.pressure_drop_pa
        assert 0.0 <= component.purge_share < 0.25
        assert 0.0 < component.length_m < 1.0
        assert "typical" in component.source
    for name in components.coupling_names():
        coupling = components.find_coupling(name)
        assert coupling.name == name
        assert 0.2 <= coupling.critical_ratio <= 0.5
        assert "typical" in coupling.source


def test_other_spellings_and_unknown_names():
    assert components.find_component("Refrigerated dryer").name == "refrigeration dryer"
    assert components.find_component("flux capacitor") is None
    assert components.find_coupling("quick coupling").name == "quick coupling 1/4"
    assert components.find_coupling("hook") is None
