"""A network put into pandapipes, an independent open library, which leaves the kinetic term out."""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
import pandapipes
from networks import Piping

from drafter.standards import air

ATMOSPHERE_BAR = 1.01325


def pandapipes_network(network: Piping) -> Any:
    """The same pipes, supply and draws; loss coefficients count once a section, so each pipe is one section."""
    gas_constant = air.GAS_CONSTANT_J_KG_K
    other = pandapipes.create_empty_network()
    other.fluid = pandapipes.create_constant_fluid(
        "air",
        "gas",
        density=air.STANDARD_ATMOSPHERE_PA / (gas_constant * 273.15),
        viscosity=air.viscosity_pa_s(network.temperature_k),
        heat_capacity=1005.0,
        molar_mass=8314.462618 / gas_constant,
        compressibility=1.0,
        der_compressibility=0.0,
    )
    pandapipes.create_junctions(other, network.node_count, pn_bar=7.0, tfluid_k=network.temperature_k)
    for node, pressure_pa in zip(network.supply_nodes, network.supply_absolute_pa, strict=True):
        gauge_bar = pressure_pa / 1e5 - ATMOSPHERE_BAR
        pandapipes.create_ext_grid(other, node, p_bar=gauge_bar, t_k=network.temperature_k)
    pandapipes.create_pipes_from_parameters(
        other,
        network.start,
        network.end,
        network.length_m / 1e3,
        inner_diameter_mm=network.bore_m * 1e3,
        k_mm=network.roughness_m * 1e3,
        loss_coefficient=network.loss_coefficient,
        sections=1,
        text_k=network.temperature_k,
    )
    drawing = np.flatnonzero(network.outflow_kg_s)
    pandapipes.create_sinks(other, drawing, network.outflow_kg_s[drawing])
    return other


def colebrook_pressures_pa(other: Any) -> np.ndarray:
    """Absolute pressures of the nodes after a run with Colebrook's formula [Pa]."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pandapipes.pipeflow(
            other, friction_model="colebrook", mode="hydraulics", max_iter_hyd=100, max_iter_colebrook=100,
            tol_p=1e-8, tol_m=1e-8,
        )  # fmt: skip
    return (other.res_junction.p_bar.to_numpy() + ATMOSPHERE_BAR) * 1e5
