import pytest

from drafter.standards.tools import find_tool, tool_names

ASKED_FOR = """blow gun, tyre inflator, tire inflator, ratchet wrench, impact wrench 1/2 in, impact wrench 3/4 in,
drill, die grinder, angle grinder, orbital sander, brad nailer, finish nailer, framing nailer, spray gun,
HVLP spray gun, needle scaler, air hammer, blast cabinet, tyre changer, tire changer, air clamp, press cylinder,
dust blow-off, cut-off saw, grease gun, caulking gun, stapler"""


@pytest.mark.parametrize("name", [name.strip() for name in ASKED_FOR.replace("\n", " ").split(",")])
def test_workshop_tools_are_known(name):
    assert find_tool(name) is not None


@pytest.mark.parametrize("name", tool_names())
def test_a_tool_is_plausible(name):
    tool = find_tool(name)
    assert tool.name == name
    assert tool.least_free_air_m3_s <= tool.free_air_m3_s <= tool.most_free_air_m3_s
    assert 1e5 <= tool.gauge_pressure_pa <= 10e5
    assert 0.0 < tool.use_factor < 1.0
    assert tool.source.startswith("typical, replace by the data plate")


def test_no_name_or_spelling_means_two_tools():
    spellings = [
        spelling.lower().replace("-", " ") for name in tool_names() for spelling in (name, *find_tool(name).also_called)
    ]
    assert len(spellings) == len(set(spellings))


def test_names_are_found_whatever_the_case_and_hyphens():
    assert find_tool("Cut off  SAW") == find_tool("cut-off saw")
    assert find_tool("tyre blower") is None
    assert find_tool("") is None
