"""Reading the tables that ship with the package: units stand in the keys of the file and become SI."""

from importlib.resources import files
from typing import Any

import yaml

_FACTORS = {
    "_l_s_bar": ("_m3_s_pa", 1e-8),
    "_l_s": ("_m3_s", 1e-3),
    "_mm": ("_m", 1e-3),
    "_in": ("_m", 0.0254),
    "_ft": ("_m", 0.3048),
    "_bar": ("_pa", 1e5),
    "_min": ("_s", 60.0),
    "_psi": ("_pa", 6894.757293168361),
}
_DEG_C = "_deg_c"


def read_data_file(*path: str) -> Any:
    """Read one YAML table of this package and convert every value whose key ends in a unit.

    Args:
        path: parts of the path below `drafter/standards`, for example `"materials", "polyamide_tube.yaml"`.

    Returns:
        The content of the file; `bore_mm: 12` has become `bore_m: 0.012`, `rating_psi` has become
        `rating_pa`, `temperature_deg_c` has become `temperature_k`. Lists of numbers under such a key are
        converted too.

    Source:
        Conversions are the exact definitions: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 bar = 100 kPa,
        1 lbf/in2 = 6894.757 Pa, 0 degC = 273.15 K.
    """
    text = files("drafter.standards").joinpath(*path).read_text(encoding="utf-8")
    return _in_si(yaml.safe_load(text))


def _in_si(value: Any) -> Any:
    if isinstance(value, dict):
        return dict(_entry_in_si(key, content) for key, content in value.items())
    if isinstance(value, list):
        return [_in_si(item) for item in value]
    return value


def _entry_in_si(key: str, value: Any) -> tuple[str, Any]:
    if key.endswith(_DEG_C):
        return key.removesuffix(_DEG_C) + "_k", _each(value, 1.0, 273.15)
    for unit, (si_unit, factor) in _FACTORS.items():
        if key.endswith(unit):
            return key.removesuffix(unit) + si_unit, _each(value, factor, 0.0)
    return key, _in_si(value)


def _each(value: Any, factor: float, offset: float) -> Any:
    if isinstance(value, list):
        return [_each(item, factor, offset) for item in value]
    return None if value is None else float(value) * factor + offset
