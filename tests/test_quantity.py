"""Quantities against published factors, and a table of texts that are read and texts that are refused.

Sources: international yard and pound agreement of 1959 (1 in = 25.4 mm, 1 ft = 304.8 mm exactly); NIST
Special Publication 811, appendix B (1 psi = 6894.757 Pa, 1 ft3/min = 0.4719474 l/s, 1 US gal = 3.785411784 l
exactly, 1 hp of 550 ft lbf/s = 745.6999 W, 0 degC = 273.15 K, t/degC = (t/degF - 32) / 1.8).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.quantity import Kind, Quantity, QuantityError, Units, duration, feet_inches, parse

METRIC, IMPERIAL = Units(False), Units(True)


@pytest.mark.parametrize(
    "text, kind, value",
    [
        ("1 in", Kind.LENGTH, 0.0254),
        ("1 ft", Kind.LENGTH, 0.3048),
        ("1 psi", Kind.PRESSURE, 6894.757),
        ("1 cfm", Kind.FREE_AIR, 0.4719474e-3),
        ("1 gal", Kind.VOLUME, 3.785411784e-3),
        ("1 hp", Kind.POWER, 745.6999),
        ("41 degF", Kind.TEMPERATURE, 278.15),
        ("-40 degF", Kind.TEMPERATURE, 233.15),
    ],
)
def test_published_factors(text: str, kind: Kind, value: float) -> None:
    assert parse(text, kind).value == pytest.approx(value, rel=2e-7)
    assert parse(text, kind).imperial


@pytest.mark.parametrize(
    "text, inches",
    [
        ("8 ft 2 1/2 in", 98.5),
        ("8'-2 1/2\"", 98.5),
        ("8' 2 1/2\"", 98.5),
        ("8'-2-1/2\"", 98.5),
        ("8′ 2½″", 98.5),
        ("8' 2''", 98),
        ("8ft2in", 98),
        ("8 ft", 96),
        ("8'", 96),
        ("8.5 ft", 102),
        ("2 1/2 in", 2.5),
        ("1/2\"", 0.5),
        ("½ in", 0.5),
        ("0'-3\"", 3),
        ("-0'-3\"", -3),
        ("-1'-0 1/16\"", -12.0625),
        ("−2 in", -2),
        ("+2 in", 2),
        ("11 15/16 in", 11.9375),
        ("144 in", 144),
    ],
)  # fmt: skip
def test_feet_and_inches_lose_nothing(text: str, inches: float) -> None:
    assert parse(text, Kind.LENGTH) == Quantity(pytest.approx(inches * 0.0254, rel=1e-12), True)


@pytest.mark.parametrize(
    "text, kind, value",
    [
        ("2440 mm", Kind.LENGTH, 2.44),
        ("2.44m", Kind.LENGTH, 2.44),
        (".5 m", Kind.LENGTH, 0.5),
        ("  12   cm ", Kind.LENGTH, 0.12),
        ("7 bar", Kind.PRESSURE, 7e5),
        ("7 bar(g)", Kind.PRESSURE, 7e5),
        ("7 barg", Kind.PRESSURE, 7e5),
        ("0.7 MPa", Kind.PRESSURE, 7e5),
        ("300 mbar", Kind.PRESSURE, 3e4),
        ("4.3 l/s", Kind.FREE_AIR, 0.0043),
        ("258 L/min", Kind.FREE_AIR, 0.0043),
        ("15.48 m³/h", Kind.FREE_AIR, 0.0043),
        ("90 l", Kind.VOLUME, 0.09),
        ("2.2 kW", Kind.POWER, 2200),
        ("6 °C", Kind.TEMPERATURE, 279.15),
        ("15 K", Kind.TEMPERATURE_DIFFERENCE, 15.0),
        ("15 degC", Kind.TEMPERATURE_DIFFERENCE, 15.0),
        ("27 degF", Kind.TEMPERATURE_DIFFERENCE, 15.0),
        ("-5 degC", Kind.TEMPERATURE, 268.15),
        ("300 K", Kind.TEMPERATURE, 300),
        ("1 %", Kind.SLOPE, 0.01),
        ("0 %", Kind.SLOPE, 0),
        ("1:100", Kind.SLOPE, 0.01),
        ("1 in 80", Kind.SLOPE, 0.0125),
        ("10 mm per m", Kind.SLOPE, 0.01),
        ("1/8 in per ft", Kind.SLOPE, 1 / 96),
        ("1/4\" per ft", Kind.SLOPE, 1 / 48),
        ("30 %", Kind.SHARE, 0.3),
        ("90 s", Kind.TIME, 90),
        ("8 h", Kind.TIME, 28800),
    ],
)  # fmt: skip
def test_what_is_read(text: str, kind: Kind, value: float) -> None:
    assert parse(text, kind).value == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    "text, basis",
    [
        ("300 Nl/min", "0 degC, 1.01325 bar"),
        ("18 Nm3/h", "0 degC, 1.01325 bar"),
        ("10 scfm", "68 degF, 14.5 psi"),
        ("10 cfm", ""),
        ("5 l/s", ""),
    ],
)
def test_the_basis_that_a_flow_unit_names_is_kept(text: str, basis: str) -> None:
    assert parse(text, Kind.FREE_AIR).basis == basis


@pytest.mark.parametrize(
    "text, kind, says, fix",
    [
        ("8", Kind.LENGTH, "no unit", "'8 mm' or '8 m'"),
        ("2 1/2", Kind.LENGTH, "no unit", "2 1/2 in"),
        ("1,5 m", Kind.LENGTH, "comma", "decimal point: 1.5 m"),
        ("1,500 mm", Kind.LENGTH, "comma", "1500 mm without it, or 1.500 mm"),
        ("8 ft 2", Kind.LENGTH, "inches of '8 ft 2' have no unit", "8 ft 2 in"),
        ("8' 14\"", Kind.LENGTH, "12 inches or more", "carry whole feet"),
        ("8'--2\"", Kind.LENGTH, "is no length", "8 ft 2 1/2 in"),
        ("5' +3\"", Kind.LENGTH, "is no length", "8 ft 2 1/2 in"),
        ("8.5' 3\"", Kind.LENGTH, "is no length", "8 ft 2 1/2 in"),
        ("2 9/8 in", Kind.LENGTH, "no less than one", "carry it"),
        ("1/0 in", Kind.LENGTH, "divides by zero", "check the fraction"),
        ("2 m 40 cm", Kind.LENGTH, "more than one unit", "one number and one unit"),
        ("8 feet", Kind.LENGTH, "is written 'ft'", "write 8 ft"),
        ("8 MM", Kind.LENGTH, "is written 'mm'", "write 8 mm"),
        ("8 mm.", Kind.LENGTH, "is written 'mm'", "write 8 mm"),
        ("8 cubits", Kind.LENGTH, "no unit of length known", "mm, cm, m, in, ft"),
        ("7 bar", Kind.LENGTH, "is a unit of pressure", "2440 mm"),
        ("1e3 mm", Kind.LENGTH, "is no length", "2440 mm"),
        ("12 3 m", Kind.LENGTH, "is no length", "2440 mm"),
        ("3*4 m", Kind.LENGTH, "is no length", "2440 mm"),
        ("٣ m", Kind.LENGTH, "is no length", "2440 mm"),
        ("", Kind.LENGTH, "is no length", "2440 mm"),
        ("9" * 5000 + " m", Kind.LENGTH, "is no length", "2440 mm"),
        ("7 bar(a)", Kind.PRESSURE, "absolute", "about 5.99 bar"),
        ("100 psia", Kind.PRESSURE, "absolute", "about 85.3 psi"),
        ("800 kPa abs", Kind.PRESSURE, "absolute", "about 699 kPa"),
        ("7 BAR", Kind.PRESSURE, "is written 'bar'", "write 7 bar"),
        ("3 KW", Kind.POWER, "is written 'kW'", "write 3 kW"),
        ("5 lpm", Kind.FREE_AIR, "is written 'l/min'", "write 5 l/min"),
        ("60 gallons", Kind.VOLUME, "is written 'gal'", "write 60 gal"),
        ("5 deg C", Kind.TEMPERATURE, "is written 'degC'", "write 5 degC"),
        ("1", Kind.SLOPE, "no unit", "'1 %'"),
        ("1:0", Kind.SLOPE, "is no slope", "1 %"),
        ("30", Kind.SHARE, "no unit", "write '30 %'"),
        ("0.3", Kind.SHARE, "no unit", "write '30 %'"),
    ],
)  # fmt: skip
def test_what_is_refused_and_what_to_write_instead(text: str, kind: Kind, says: str, fix: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, kind)
    assert says in str(caught.value)
    assert fix in caught.value.fix
    assert len(str(caught.value)) < 150


def is_finite_or_refused(text: str, kind: Kind) -> bool:
    try:
        return math.isfinite(parse(text, kind).value)
    except QuantityError as error:
        return bool(str(error) and error.fix)


@settings(deadline=None)
@given(st.text(), st.sampled_from(Kind))
def test_any_text_is_a_finite_quantity_or_refused(text: str, kind: Kind) -> None:
    assert is_finite_or_refused(text, kind)


GRAMMAR = st.lists(
    st.sampled_from([*"0123456789", " ", "/", "'", '"', "-", "+", ".", ",", ":", "%", "ft", "in", "mm", "m", "per"]),
    max_size=12,
).map("".join)


@settings(deadline=None)
@given(GRAMMAR, st.sampled_from([Kind.LENGTH, Kind.SLOPE, Kind.SHARE]))
def test_any_jumble_of_the_grammar_is_a_finite_quantity_or_refused(text: str, kind: Kind) -> None:
    assert is_finite_or_refused(text, kind)


@pytest.mark.parametrize(
    "inches, text",
    [
        (0, "0'-0\""),
        (0.5, "0'-0 1/2\""),
        (3, "0'-3\""),
        (-3, "-0'-3\""),
        (98.5, "8'-2 1/2\""),
        (96, "8'-0\""),
        (95.99, "8'-0\""),
        (95.96, "7'-11 15/16\""),
        (11.97, "1'-0\""),
        (0.03, "0'-0\""),
        (-0.03, "0'-0\""),
        (1 / 16, "0'-0 1/16\""),
    ],
)
def test_feet_and_inches_are_rounded_reduced_and_carried(inches: float, text: str) -> None:
    assert feet_inches(inches * 0.0254) == text


LENGTHS_M = st.floats(-500, 500)


@settings(deadline=None)
@given(LENGTHS_M, st.sampled_from([METRIC, IMPERIAL]))
def test_a_written_length_reads_back_within_half_a_grid_step(length_m: float, units: Units) -> None:
    back_m = parse(units.length_with_unit(length_m), Kind.LENGTH).value
    assert abs(back_m - length_m) <= units.grid_m / 2 * (1 + 1e-6)


@settings(deadline=None)
@given(LENGTHS_M, st.sampled_from([METRIC, IMPERIAL]))
def test_a_length_on_the_grid_reads_back_as_it_is(length_m: float, units: Units) -> None:
    on_grid_m = units.snapped_m(length_m)
    assert parse(units.length_with_unit(on_grid_m), Kind.LENGTH).value == pytest.approx(on_grid_m, abs=1e-9)


@settings(deadline=None)
@given(st.lists(st.floats(0, 60), min_size=2, max_size=12), st.sampled_from([METRIC, IMPERIAL]))
def test_chains_on_the_grid_close(positions_m: list[float], units: Units) -> None:
    on_grid_m = sorted(units.snapped_m(position) for position in positions_m)
    links = [units.length_with_unit(after - before) for before, after in pairwise(on_grid_m)]
    whole = units.length_with_unit(on_grid_m[-1] - on_grid_m[0])
    total_m = sum(parse(link, Kind.LENGTH).value for link in links)
    assert total_m == pytest.approx(parse(whole, Kind.LENGTH).value, abs=1e-9)


@pytest.mark.parametrize(
    "metric, imperial, write",
    [
        ("2440", "8'-0 1/16\"", lambda units: units.length(2.44)),
        ("2440 mm", "8'-0 1/16\"", lambda units: units.length_with_unit(2.44)),
        ("12.35 m", "40.5 ft", lambda units: units.long_length(12.345678)),
        ("+2.440", "+8'-0 1/16\"", lambda units: units.level(2.44)),
        ("-0.100", "-0'-3 15/16\"", lambda units: units.level(-0.1)),
        ("±0.000", "±0'-0\"", lambda units: units.level(-0.0001)),
        ("7.00 bar", "102 psi", lambda units: units.pressure(7e5)),
        ("0.123 bar", "1.78 psi", lambda units: units.pressure_drop(12300)),
        ("4.3 l/s", "9.1 cfm", lambda units: units.free_air(0.0043)),
        ("0.019 l/min", "0.00067 cfm", lambda units: units.leak(0.019e-3 / 60)),
        ("119 l/min", "4.2 cfm", lambda units: units.leak(0.119 / 60)),
        ("0 l/min", "0 cfm", lambda units: units.leak(0.0)),
        ("0.096 l", "0.025 gal", lambda units: units.line_volume(0.0961e-3)),
        ("10 l", "2.6 gal", lambda units: units.line_volume(9.97e-3)),
        ("5.0 m/s", "16 ft/s", lambda units: units.velocity(5.0)),
        ("227 l", "60 gal", lambda units: units.volume(0.2271247)),
        ("2.2 kW", "3.0 hp", lambda units: units.power(2237.1)),
        ("0 °C", "32 °F", lambda units: units.temperature(273.0)),
        ("1 %", "1 %", lambda units: units.slope(0.01)),
        ("1.04 %", "1/8\" per ft", lambda units: units.slope(1 / 96)),
        ("8.33 %", "1\" per ft", lambda units: units.slope(1 / 12)),
        ("9.38 %", "1 1/8\" per ft", lambda units: units.slope(1.125 / 12)),
        ("0 %", "0\" per ft", lambda units: units.slope(0.0)),
    ],
)  # fmt: skip
def test_how_quantities_are_written(metric: str, imperial: str, write: Callable[[Units], str]) -> None:
    assert write(METRIC) == metric
    assert write(IMPERIAL) == imperial


@pytest.mark.parametrize(
    "time_s, nearest, down, up",
    [
        (0.0, "0 s", "0 s", "0 s"),
        (45.6, "46 s", "45 s", "46 s"),
        (119.0, "119 s", "119 s", "119 s"),
        (119.7, "2 min", "119 s", "2 min"),
        (140.0, "2.5 min", "2 min", "2.5 min"),
        (599.0, "10 min", "9.5 min", "10 min"),
        (1234.0, "21 min", "20 min", "21 min"),
        (10_799.0, "3 h", "179 min", "3 h"),
        (14_400.0, "4 h", "4 h", "4 h"),
        (17_000.0, "4.5 h", "4.5 h", "5 h"),
    ],
)
def test_durations_are_rounded_sensibly(time_s: float, nearest: str, down: str, up: str) -> None:
    assert (duration(time_s), duration(time_s, math.floor), duration(time_s, math.ceil)) == (nearest, down, up)


@pytest.mark.parametrize("energy_j", [500.0, 1355.0, 106e3, 691e3])
def test_energies_are_foot_pounds_as_pint_counts_them(energy_j: float) -> None:
    pounds = pint.UnitRegistry().Quantity(energy_j, "joule").to("foot * force_pound").magnitude
    said = Units(imperial=True).energy(energy_j)
    assert said.endswith(" ft lbf")
    number = float(said.removesuffix(" ft lbf").replace(",", ""))
    assert number == pytest.approx(pounds, abs=0.5 if pounds < 1000.0 else 500.0)
    assert Units().energy(energy_j) == f"{energy_j / 1000.0:.0f} kJ"


def test_small_things_are_written_in_the_units_of_the_job() -> None:
    """An avoirdupois ounce is 28.3495 g (NIST SP 811); 20 °C is 68 °F, 1 bar is 14.50 psi."""
    assert (METRIC.small_weight(0.19), IMPERIAL.small_weight(0.19)) == ("190 g", "7 oz")
    assert METRIC.free_air_state == "20 °C, 1 bar absolute"
    assert IMPERIAL.free_air_state == "68 °F, 14.5 psi absolute"
