"""Sunrise and sunset against published tables."""

from datetime import UTC, date, datetime

import numpy as np
import pytest

from scorer.errors import GeometryError
from scorer.geodesy.sun import Daylight, sun_elevation_deg, sun_times
from tests.helpers import reference_rows, shared_rows

EVENTS = ("civil_dawn", "sunrise", "sunset", "civil_dusk")


@pytest.mark.parametrize(
    "row", reference_rows("sun_times"), ids=lambda r: f"{r['place']}-{r['date']}"
)
def test_sunrise_sunset_and_twilight_match_the_tables(row):
    got = sun_times(
        date.fromisoformat(row["date"]),
        float(row["lat_deg"]),
        float(row["lon_deg"]),
        time_zone=row["time_zone"],
    )

    assert got.daylight is Daylight.ORDINARY
    for event in EVENTS:
        if row[event]:
            wanted = datetime.fromisoformat(row[event]).replace(tzinfo=UTC)
            seconds = getattr(got, f"{event}_s")
            assert seconds == pytest.approx(wanted.timestamp(), abs=60)


def test_the_shared_rows_for_london_match():
    rows = [
        row
        for row in shared_rows("sun/sun_reference_times.csv")
        if row["event"] in EVENTS and row["site"] == "London"
    ]
    if not rows:
        pytest.skip("needs the shared data beside the checkout")
    for row in rows:
        day = date.fromisoformat(row["date"])
        got = sun_times(day, float(row["lat"]), float(row["lon"]))
        wanted = datetime.fromisoformat(f"{day}T{row['time'][:5]}").replace(tzinfo=UTC)
        seconds = getattr(got, f"{row['event']}_s")
        assert seconds == pytest.approx(wanted.timestamp(), abs=120)


def test_the_midnight_sun_is_a_day_without_sunrise():
    """Tromso in June, from the tests of astral."""
    got = sun_times(date(2019, 6, 5), 69.6, 18.95, time_zone="Europe/Oslo")

    assert got.daylight is Daylight.POLAR_DAY
    assert got.sunrise_s is None
    assert got.sunset_s is None


def test_the_polar_night_keeps_its_twilight():
    got = sun_times(date(2019, 12, 5), 69.6, 18.95, time_zone="Europe/Oslo")

    assert got.daylight is Daylight.POLAR_NIGHT
    assert got.sunrise_s is None
    assert got.civil_dawn_s is not None
    assert got.civil_dawn_s < got.civil_dusk_s


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Denver", "UTC"])
def test_sunrise_falls_on_the_date_of_the_time_zone(zone):
    places = {"Pacific/Auckland": 174.8, "America/Denver": -106.6, "UTC": 0.0}
    for month in range(1, 13):
        day = date(2026, month, 15)
        got = sun_times(day, 35.1, places[zone], time_zone=zone)
        from zoneinfo import ZoneInfo

        for seconds in (got.sunrise_s, got.sunset_s):
            assert datetime.fromtimestamp(seconds, tz=ZoneInfo(zone)).date() == day
        assert got.sunrise_s < got.sunset_s


@pytest.mark.parametrize(
    "row",
    [r for r in shared_rows("sun/sun_angles.csv") if r["quantity"] == "elevation"],
    ids=lambda r: r["utc"],
)
def test_elevations_match_the_shared_values(row):
    moment = datetime.fromisoformat(row["utc"]).replace(tzinfo=UTC).timestamp()

    got = sun_elevation_deg(moment, float(row["lat"]), float(row["lon"]))

    if got > 0:  # the values are as seen, with refraction: Bennett (1982), degrees
        got += 1 / np.tan(np.radians(got + 7.31 / (got + 4.4))) / 60
    assert got == pytest.approx(float(row["degrees"]), abs=float(row["tolerance"]))


def test_the_sun_stands_at_the_horizon_at_sunrise():
    """Centre 50 minutes of arc below it: refraction 34, half diameter 16."""
    got = sun_times(date(2026, 9, 12), 42.0, -1.5)

    at = sun_elevation_deg([got.sunrise_s, got.sunset_s, np.nan], 42.0, -1.5)

    np.testing.assert_allclose(at[:2], -50 / 60, atol=0.1)
    assert np.isnan(at[2])


def test_the_noon_height_follows_from_latitude_and_declination():
    """At an equinox the sun culminates at 90 degrees minus the latitude."""
    noon = datetime(2026, 3, 20, 12, 7, 30, tzinfo=UTC).timestamp()

    got = sun_elevation_deg(noon + np.arange(-1800.0, 1800.0), 42.0, 0.0).max()

    assert got == pytest.approx(48.0, abs=0.1)


def test_places_off_the_earth_are_refused():
    with pytest.raises(GeometryError, match=r"no place on earth lat 95\.0"):
        sun_times(date(2026, 1, 1), 95.0, 0.0)
    with pytest.raises(GeometryError, match="no one flight") as caught:
        sun_elevation_deg([0.0, 1e8], 42.0, 0.0)
    assert caught.value.says.get("apart") == pytest.approx(1e8, rel=1e-3)
