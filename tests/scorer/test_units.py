"""Lengths, times, bearings and angles as people write them.

The factors are checked against outside values: NIST Special Publication 811 (2008),
appendix B.8, prints 1 ft = 0.3048 m, 1 in = 0.0254 m, 1 mi = 1609.344 m, 1 yd = 0.9144 m,
1 nautical mile = 1852 m, 1 knot = 0.514 444 m/s, 1 mph = 0.447 04 m/s.
"""

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scorer.units import (
    Unreadable,
    angle_deg,
    bearing,
    duration_s,
    in_unit,
    length_m,
    number,
    show_length,
    speed_m_s,
)


@pytest.mark.parametrize(
    ("text", "bare", "metres"),
    [
        ("12.34", "m", 12.34),
        ("12,34", "m", 12.34),
        ("12.34 m", "ft", 12.34),
        ("12.34m", None, 12.34),
        (".5 m", None, 0.5),
        ("40", "ft", 12.192),
        ("40 ft 3.5 in", None, 12.2809),  # 40·0.3048 + 3.5·0.0254
        ("40' 3 1/2\"", None, 12.2809),
        ("40′ 3 ½″", None, 12.2809),
        ("40’3.5”", None, 12.2809),
        ("40 FEET 3.5 Inches", "m", 12.2809),
        ("40 ft 3.5", None, 12.2809),
        ("3 1/2 in", None, 0.0889),
        ("1 mi", None, 1609.344),
        ("1 mile", None, 1609.344),
        ("1 nm", None, 1852.0),
        ("2.5 km", None, 2500.0),
        ("250 cm", None, 2.5),
        ("75 ft", None, 22.86),
        ("1 yd", None, 0.9144),
        ("0", "m", 0.0),
    ],
)
def test_a_length_is_read_as_written(text, bare, metres):
    assert length_m(text, bare) == pytest.approx(metres, abs=1e-12)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "-3",
        "−3 m",
        "nan",
        "inf",
        "12.3.4",
        "twelve",
        "12 parsec",
        "1,234 m",  # could be thousands
        "40 ft 12 in",  # inches run to under 12
        "40.5 ft 3 in",  # feet with inches are whole
        "3 in 40 ft",
        "40 ft 3 in 2 in",
        "1/0 m",
        "12 m 34",
        "1e3",
        "9" * 5000,
    ],
)
def test_what_is_no_length_is_refused_with_a_hint(text):
    with pytest.raises(Unreadable) as caught:
        length_m(text, "m")

    assert caught.value.allowed
    assert len(caught.value.found) < 70


def test_a_bare_number_needs_a_unit_where_none_is_agreed():
    with pytest.raises(Unreadable, match="unit must be written"):
        length_m("75")


@given(st.integers(0, 2000), st.integers(0, 95))
def test_feet_and_eighths_survive_exactly(feet, eighths):
    text = f"{feet}' {eighths // 8} {eighths % 8}/8\""

    metres = length_m(text)

    assert Fraction(feet * 12 * 8 + eighths, 8) * Fraction("0.0254") == pytest.approx(
        Fraction(metres), abs=1e-12
    )


@given(st.integers(0, 5_000_00))
def test_a_shown_metric_length_reads_back(centimetres):
    metres = centimetres / 100

    assert length_m(show_length(metres, "metric")) == pytest.approx(metres, abs=1e-9)


@given(st.integers(0, 50_000))
def test_a_shown_imperial_length_reads_back(tenths):
    metres = tenths * 0.00254

    assert length_m(show_length(metres, "imperial")) == pytest.approx(metres, abs=1e-9)


def test_inches_that_round_to_twelve_become_a_foot():
    assert show_length(0.30479, "imperial") == "1 ft 0.0 in"


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("3 s", 3), ("10 min", 600), ("1 h 30 min", 5400), ("1.5 h", 5400)],
)
def test_a_duration_is_read_as_written(text, seconds):
    assert duration_s(text) == seconds


@pytest.mark.parametrize("text", ["3", "3 m", "", "fast"])
def test_what_is_no_duration_is_refused(text):
    with pytest.raises(Unreadable):
        duration_s(text)


@pytest.mark.parametrize(
    ("text", "m_s"),
    [("1 kt", 0.514444), ("1 mph", 0.44704), ("3.6 km/h", 1.0), ("2 m/s", 2.0)],
)
def test_a_speed_is_read_as_written(text, m_s):
    assert speed_m_s(text) == pytest.approx(m_s, abs=5e-7)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("123", (123.0, "")),
        ("123.5 T", (123.5, "T")),
        ("007m", (7.0, "M")),
        ("360", (0.0, "")),
        ("12°", (12.0, "")),
    ],
)
def test_a_bearing_is_read_with_its_north(text, read):
    assert bearing(text) == read


@pytest.mark.parametrize("text", ["361", "-5", "N", "12 Q", ""])
def test_what_is_no_bearing_is_refused(text):
    with pytest.raises(Unreadable):
        bearing(text)


@pytest.mark.parametrize(
    ("text", "axis", "degrees"),
    [
        ("40.1234", "latitude", 40.1234),
        ("-3.5", "longitude", -3.5),
        ("3.5 W", "longitude", -3.5),
        ("N 40 30", "latitude", 40.5),
        ("40°30'36\"S", "latitude", -40.51),
        ("179 59.4 E", "longitude", 179.99),
    ],
)
def test_an_angle_is_read_in_degrees_minutes_and_seconds(text, axis, degrees):
    assert angle_deg(text, axis) == pytest.approx(degrees, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "axis"),
    [
        ("91", "latitude"),
        ("40 61", "latitude"),
        ("3 N", "longitude"),
        ("x", "latitude"),
    ],
)
def test_what_is_no_angle_is_refused(text, axis):
    with pytest.raises(Unreadable):
        angle_deg(text, axis)


@pytest.mark.parametrize("text", ["nan", "inf", "1e5", "", "1.2.3", "0x10"])
def test_what_is_no_number_is_refused(text):
    with pytest.raises(Unreadable):
        number(text)


def test_a_length_in_another_unit_is_exact():
    assert in_unit(22.86, "ft") == pytest.approx(75, abs=1e-12)


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(text):
    for reader in (length_m, duration_s, speed_m_s, number, bearing):
        with suppress(Unreadable):
            assert reader(text) is not None


@pytest.mark.parametrize("text", ["9" * 30, "9" * 30 + " m", "9" * 70, "1e30 m"])
def test_no_length_is_greater_than_a_billion(text):
    with pytest.raises(Unreadable):
        length_m(text, "m")


@pytest.mark.parametrize("text", ["1" * 60 + "x", "1" * 61, "2000000000", "٣", "1_0"])
def test_a_number_that_no_one_means_is_refused(text):
    with pytest.raises(Unreadable):
        number(text)
