"""Coordinates as pilots write them."""

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scorer.errors import GeometryError
from scorer.geodesy.plane import Plane
from scorer.tasks.coordinates import FARTHEST_M, read_point
from tests.helpers import reference_rows, said
from tests.scorer.tasks.evidence import CORNER, CRS

PLANE = Plane(CRS)
NEAR = CORNER  # (440000, 4470000)


def read(text, near=NEAR, plane=PLANE):
    """Return the point a text is read as."""
    return read_point(text, plane, near).point


@pytest.mark.parametrize(
    ("text", "east", "north"),
    [
        ("4012 7034", 440_120, 4_470_340),  # 4+4: tens of metres
        ("4012/7034", 440_120, 4_470_340),
        ("4012-7034", 440_120, 4_470_340),
        ("40127034", 440_120, 4_470_340),
        ("E4012 N7034", 440_120, 4_470_340),
        ("40125 70346", 440_125, 4_470_346),  # 5+5: metres
        ("4012570346", 440_125, 4_470_346),
        ("440125 470346", 440_125, 4_470_346),  # 6+6: northing without its millions
        ("440125470346", 440_125, 4_470_346),
        ("440125 4470346", 440_125, 4_470_346),  # full grid
        ("440125, 4470346", 440_125, 4_470_346),
        ("4401254470346", 440_125, 4_470_346),
        ("440125.5 4470346.25", 440_125.5, 4_470_346.25),
        ("440125 mE 4470346 mN", 440_125, 4_470_346),
        ("30T 440125 4470346", 440_125, 4_470_346),
        ("30 4012 7034", 440_120, 4_470_340),
        ("  4012  7034 ", 440_120, 4_470_340),
    ],
)
def test_grid_figures_in_all_their_lengths(text, east, north):
    assert read(text) == (east, north)


@pytest.mark.parametrize(
    ("near", "expected"),
    [
        ((440_000, 4_470_000), (399_900, 4_500_100)),
        ((399_000, 4_401_000), (399_900, 4_400_100)),
        ((401_000, 4_399_000), (399_900, 4_400_100)),
        ((510_000, 4_510_000), (499_900, 4_500_100)),
    ],
)
def test_short_figures_mean_the_square_nearest_to_the_site(near, expected):
    assert read("9990 0010", near) == expected


@given(st.integers(-39_000, 39_000), st.integers(-39_000, 39_000))
def test_short_figures_of_a_point_near_the_site_give_it_back(east, north):
    point = (NEAR[0] + east, NEAR[1] + north)
    tens = tuple(int(v) // 10 * 10 for v in point)

    assert read(f"{int(point[0]) % 100_000:05d} {int(point[1]) % 100_000:05d}") == point
    assert read(f"{tens[0] // 10 % 10_000:04d} {tens[1] // 10 % 10_000:04d}") == tens
    assert read(f"{int(point[0]):06d} {int(point[1]) % 1_000_000:06d}") == point


def test_short_figures_half_a_square_away_are_in_doubt():
    fix = read_point("8800 7000", PLANE, NEAR)  # 48 km east; 52 km west would be next

    assert fix.point == (488_000, 4_470_000)
    assert fix.doubt.kind == "figures-doubtful"
    assert (fix.doubt.get("off"), fix.doubt.get("side")) == (48_000, 100_000)
    assert not read_point("4800 7000", PLANE, NEAR).doubt


LAT, LON = PLANE.to_wgs84(440_125.0, 4_470_346.0)


def _dms(value, plus, minus):
    seconds = round(abs(value) * 3600, 3)
    d, rest = divmod(seconds, 3600)
    m, s = divmod(rest, 60)
    return f"{d:.0f}°{m:.0f}'{s:.3f}\"{plus if value >= 0 else minus}"


@pytest.mark.parametrize(
    "text",
    [
        f"{LAT:.7f}, {LON:.7f}",
        f"{LAT:.7f} {LON:.7f}",
        f"{LAT:.7f}; {LON:.7f}",
        f"{LAT:.7f}/{LON:.7f}",
        f"N{LAT:.7f} W{-LON:.7f}",
        f"{LAT:.7f}N {-LON:.7f}W",
        f"W{-LON:.7f} N{LAT:.7f}",
        f"{_dms(LAT, 'N', 'S')} {_dms(LON, 'E', 'W')}",
        f"{_dms(LAT, 'N', 'S')}, {_dms(LON, 'E', 'W')}",
    ],
)
def test_latitude_and_longitude_in_common_spellings(text):
    """To 1e-7 degrees (1 cm) or a thousandth of a second (3 cm)."""
    assert read(text) == pytest.approx((440_125.0, 4_470_346.0), abs=0.03)


@pytest.mark.parametrize(
    ("text", "lat", "lon"),
    [
        ("4022500N00342300W", 40 + 22.5 / 60, -(3 + 42.3 / 60)),  # as in flight logs
        ("402230N 0034218W", 40 + 22 / 60 + 30 / 3600, -(3 + 42 / 60 + 18 / 3600)),
        ("N40 22.5 W003 42.3", 40 + 22.5 / 60, -(3 + 42.3 / 60)),
        ("40 22 30 N 3 42 18 W", 40 + 22 / 60 + 30 / 3600, -(3 + 42 / 60 + 18 / 3600)),
    ],
)
def test_degrees_minutes_seconds_run_together_or_apart(text, lat, lon):
    assert read(text) == pytest.approx(PLANE.to_plane(lat, lon), abs=1e-6)


@pytest.mark.parametrize("row", reference_rows("grid_squares"), ids=lambda r: r["text"])
def test_grid_squares_are_those_of_the_standard(row):
    """The EPSG number of zone 38 north is 32638; the site is 10 km away."""
    expected = (float(row["east"]), float(row["north"]))
    plane = Plane(f"EPSG:326{row['zone']}")

    got = read(row["text"], (450_000.0, 3_690_000.0), plane)

    assert got == pytest.approx(expected, abs=0.01)


def test_another_zone_is_put_into_the_events_plane():
    """The zones meet at 6° W: a point there has coordinates in both."""
    lat, lon = 40.4, -6.02
    zone29 = Plane("EPSG:32629").to_plane(lat, lon)
    near = PLANE.to_plane(lat, -5.8)

    got = read(f"29T {zone29[0]:.0f} {zone29[1]:.0f}", near)

    # ETRS89 and WGS84 are one within PROJ; figures are whole metres
    assert got == pytest.approx(PLANE.to_plane(lat, lon), abs=0.75)


def test_south_of_the_equator_a_zone_is_the_southern_one():
    plane = Plane("EPSG:32733")
    near = plane.to_plane(-23.0, 15.2)
    zone34 = Plane("EPSG:32734").to_plane(-23.0, 17.9)

    got = read(
        f"34 {zone34[0]:.0f} {zone34[1]:.0f}", plane.to_plane(-23.0, 17.5), plane
    )

    assert near[1] > 7_000_000  # false northing of the south
    assert got == pytest.approx(plane.to_plane(-23.0, 17.9), abs=0.75)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "nowhere",
        "12",
        "123 456",
        "1234 56789",  # unequal
        "123456789",  # nine figures
        "1234567 12345",
        "91.0, 3.0",
        "40.1, 181.0",
        "40 61 00 N 3 00 00 W",
        "N40.1 S3.2",
        "30TVK 1234 567",
        "30IVK 1234 5678",  # no such band
        "30TVX 1234 5678",  # no row X
        "30TAK 1234 5678",  # no column A in this zone
        "61 440125 4470346",  # no such zone
        "1234.5 5678.5",  # decimals and left-out figures
        "4012 7034 1234",
        "x" * 200,
        "40.4, -3.7, 5",
        "\N{ARABIC-INDIC DIGIT ONE}234 5678",
    ],
)
def test_what_is_no_coordinates_is_refused_and_says_why(text):
    with pytest.raises(GeometryError) as refused:
        read(text)

    says = refused.value.says
    assert says.kind in {
        "coordinates-unreadable",
        "figures-unequal",
        "no-such-square",
        "no-such-zone",
        "latitude-beyond-90",
    }
    assert said(refused.value)


def test_a_point_far_from_the_event_is_a_slip_of_the_pen():
    with pytest.raises(GeometryError) as slipped:
        read("440125 7470346")
    assert slipped.value.says.kind == "coordinates-too-far"
    assert slipped.value.says.get("away") == pytest.approx(3_000_346, abs=1)
    with pytest.raises(GeometryError) as slipped:
        read("-40.4, 3.7")
    assert slipped.value.says.kind == "coordinates-too-far"
    just = (NEAR[0], NEAR[1] + FARTHEST_M - 1)
    assert read(f"{just[0]:.0f} {just[1]:.0f}") == just


@given(st.text(max_size=40))
def test_no_text_whatever_crashes_the_reader(text):
    with contextlib.suppress(GeometryError):
        assert all(math.isfinite(v) for v in read(text))


@given(st.from_regex(r"[0-9NSEWnsew .,;/°'\"+-]{1,30}", fullmatch=True))
def test_no_text_of_figures_crashes_the_reader(text):
    with contextlib.suppress(GeometryError):
        assert all(math.isfinite(v) for v in read(text))


def test_a_point_no_plane_can_show_is_refused():
    with pytest.raises(GeometryError, match="cannot show"):
        read("0.0, 86.3")  # 89.3 degrees of longitude off the central meridian
