"""Valve flow coefficients of data sheets as what the program works with."""

_KV_OF_CV = 0.865
_CONDUCTANCE_OF_KV = 4.5e-8

KV_CRITICAL_RATIO = 0.3
"""Critical ratio that goes with a conductance made from Kv, 1 - x_T with x_T = 0.7 [1].
Source: IEC 60534-2-1 choked at the pressure drop ratio x_T, 0.6 to 0.8 for small valves (from memory)."""


def kv_of_cv(cv: float) -> float:
    """Kv in m3/h of water at 1 bar from Cv in US gal/min of water at 1 psi.

    Source:
        IEC 60534-1, 0.865 (from memory; the units' own ratio to three digits).
    """
    return _KV_OF_CV * cv


def conductance_of_kv_m3_s_pa(kv: float) -> float:
    """Sonic conductance C of ISO 6358 from a Kv [m3/(s Pa)]; true within about 7 %.

    Source:
        IEC 60534-2-1 at choked flow of air with x_T = 0.7: C = 4.5 Kv in l/(s bar), 4.2 to 4.8 for x_T 0.6 to 0.8.
    """
    return _CONDUCTANCE_OF_KV * kv
