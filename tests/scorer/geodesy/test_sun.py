"""Sunrise and sunset against published tables."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from astral import Observer
from astral import sun as astral_sun

from scorer.errors import GeometryError
from scorer.geodesy.sun import Daylight, sun_at, sun_elevation_deg, sun_times
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


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Regina", "UTC"])
def test_sunrise_falls_on_the_date_of_the_time_zone(zone):
    places = {"Pacific/Auckland": 174.8, "America/Regina": -104.6, "UTC": 0.0}
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


@pytest.mark.parametrize("lat_deg", [-50.0, -33.9, 0.0, 40.4, 52.0])
@pytest.mark.parametrize(
    "day", [date(2026, 3, 20), date(2028, 2, 29), date(2026, 12, 31)]
)
def test_the_sun_about_a_moment_is_that_of_astral(lat_deg, day):
    """Sunrise and sunset by astral's own routine, which goes by the calendar date."""
    observer = Observer(lat_deg, 18.0, 0.0)
    rise = astral_sun.sunrise(observer, day).timestamp()
    fall = astral_sun.sunset(observer, day).timestamp()

    for moment, up, edges in (
        (rise - 60.0, False, (None, rise)),
        (rise + 60.0, True, (rise, fall)),
        (fall - 60.0, True, (rise, fall)),
        (fall + 60.0, False, (fall, None)),
    ):
        sun = sun_at(moment, lat_deg, 18.0)
        assert sun.up is up
        for found, wanted in zip((sun.since, sun.until), edges, strict=True):
            if wanted is not None:
                assert found.time_s == pytest.approx(wanted, abs=30.0)


def test_a_summer_night_belongs_to_the_moment_not_to_the_date():
    """68 N in late May: the sun sets after local midnight (elevations by astral)."""
    zone = ZoneInfo("Europe/Oslo")
    noon = datetime(2026, 5, 24, 12, tzinfo=zone).timestamp()
    sun = sun_at(noon, 68.0, 17.0)
    assert sun.up
    assert datetime.fromtimestamp(sun.until.time_s, zone).date() == date(2026, 5, 25)
    for time_s in (sun.since.time_s, sun.until.time_s):
        moment = datetime.fromtimestamp(time_s, UTC)
        seen = astral_sun.elevation(Observer(68.0, 17.0), moment, with_refraction=False)
        assert seen == pytest.approx(-0.833, abs=0.01)


@pytest.mark.parametrize(
    ("lat_deg", "month", "daylight"),
    [
        (78.2, 6, Daylight.POLAR_DAY),  # Svalbard: midnight sun April to August
        (78.2, 12, Daylight.POLAR_NIGHT),
        (-78.0, 12, Daylight.POLAR_DAY),
        (78.2, 3, Daylight.ORDINARY),
    ],
)
def test_polar_day_and_night_are_told(lat_deg, month, daylight):
    """Facts of geography; common knowledge, no table."""
    moment = datetime(2026, month, 21, 3, tzinfo=UTC).timestamp()
    assert sun_at(moment, lat_deg, 15.6).daylight is daylight
