"""Sleeves leave room round the pipe, and their core drill round the sleeve."""

import pytest

from drafter.standards.materials import material, material_names
from drafter.standards.sleeves import sleeve_for

SIZES = [size for name in material_names() for size in material(name).sizes]


@pytest.mark.parametrize("imperial", [False, True])
@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.name)
def test_every_tube_finds_a_sleeve(size, imperial):
    sleeve = sleeve_for(size.outside_m, imperial)
    assert 0.01 - 1e-9 <= sleeve.bore_m - size.outside_m < 0.03
    assert sleeve.core_m > sleeve.bore_m + 0.005


def test_by_hand():
    """35 + 10 = 45 mm asks for 50 mm, cored 65 mm; a tube of just 40 mm for that of 50 mm too."""
    assert (sleeve_for(0.035, False).name, sleeve_for(0.035, False).core) == ("50 mm", "65 mm")
    assert sleeve_for(0.040, False).name == "50 mm"
    assert sleeve_for(0.0401, False).name == "65 mm"
    assert (sleeve_for(0.875 * 0.0254, True).name, sleeve_for(0.875 * 0.0254, True).core) == ("1-1/4 in", "2 in")


def test_a_pipe_too_wide_for_any():
    with pytest.raises(ValueError, match="no sleeve is wide enough for a pipe of 210 mm"):
        sleeve_for(0.21, False)


@pytest.mark.parametrize("imperial", [False, True])
def test_the_widest_tube_a_site_may_give_finds_one(imperial):
    assert sleeve_for(0.170, imperial).bore_m >= 0.18
