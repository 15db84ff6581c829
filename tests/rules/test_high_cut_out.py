from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import high_cut_out as rule


@pytest.mark.parametrize("cut_out_bar, found", [(8.0, []), (9.0, []), (9.01, ["warning"])])
def test_a_relief_setting_of_10_bar(changed: Any, severities: Any, cut_out_bar: float, found: list[str]) -> None:
    design = changed(compressor={"cut_out_pa": cut_out_bar * 1e5, "relief_pa": 10e5})
    assert severities(rule, design) == found
