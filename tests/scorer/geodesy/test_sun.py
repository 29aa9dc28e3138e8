"""Sunrise and sunset against published tables."""

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from astral import Observer
from astral import sun as astral_sun

from scorer.errors import GeometryError
from scorer.geodesy.sun import Daylight, sun_at, sun_elevation_deg
from tests.helpers import reference_rows, shared_rows


def about_noon(day, lat_deg, lon_deg, time_zone="UTC"):
    """Return the sun at local noon of a date."""
    noon = datetime.combine(day, time(12), tzinfo=ZoneInfo(time_zone))
    return sun_at(noon.timestamp(), lat_deg, lon_deg)


@pytest.mark.parametrize(
    "row", reference_rows("sun_times"), ids=lambda r: f"{r['place']}-{r['date']}"
)
def test_sunrise_and_sunset_match_the_tables(row):
    got = about_noon(
        date.fromisoformat(row["date"]),
        float(row["lat_deg"]),
        float(row["lon_deg"]),
        time_zone=row["time_zone"],
    )

    assert got.up
    for crossing, event in ((got.since, "sunrise"), (got.until, "sunset")):
        if row[event]:
            wanted = datetime.fromisoformat(row[event]).replace(tzinfo=UTC)
            assert crossing.time_s == pytest.approx(wanted.timestamp(), abs=60)


def test_the_shared_rows_for_london_match():
    rows = [
        row
        for row in shared_rows("sun/sun_reference_times.csv")
        if row["event"] in {"sunrise", "sunset"} and row["site"] == "London"
    ]
    if not rows:
        pytest.skip("needs the shared data beside the checkout")
    for row in rows:
        day = date.fromisoformat(row["date"])
        got = about_noon(day, float(row["lat"]), float(row["lon"]))
        crossing = got.since if row["event"] == "sunrise" else got.until
        wanted = datetime.fromisoformat(f"{day}T{row['time'][:5]}").replace(tzinfo=UTC)
        assert crossing.time_s == pytest.approx(wanted.timestamp(), abs=120)


@pytest.mark.parametrize(
    ("day", "kind"),
    [(date(2019, 6, 5), Daylight.POLAR_DAY), (date(2019, 12, 5), Daylight.POLAR_NIGHT)],
)
def test_the_midnight_sun_and_the_polar_night_have_no_sunrise(day, kind):
    """Tromso, from the tests of astral."""
    got = about_noon(day, 69.6, 18.95, time_zone="Europe/Oslo")

    assert got.daylight is kind
    assert got.since is None
    assert got.until is None


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Regina", "UTC"])
def test_sunrise_falls_on_the_date_of_the_time_zone(zone):
    places = {"Pacific/Auckland": 174.8, "America/Regina": -104.6, "UTC": 0.0}
    for month in range(1, 13):
        day = date(2026, month, 15)
        got = about_noon(day, 44.0, places[zone], time_zone=zone)

        for crossing in (got.since, got.until):
            moment = datetime.fromtimestamp(crossing.time_s, tz=ZoneInfo(zone))
            assert moment.date() == day
        assert got.since.time_s < got.until.time_s


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
    got = about_noon(date(2026, 9, 12), 42.0, -1.5)

    for crossing in (got.since, got.until):
        at = sun_elevation_deg(crossing.time_s, 42.0, -1.5)
        assert at == pytest.approx(-50 / 60, abs=0.1)


def test_the_noon_height_follows_from_latitude_and_declination():
    """At an equinox the sun culminates at 90 degrees minus the latitude."""
    noon = datetime(2026, 3, 20, 12, 7, 30, tzinfo=UTC).timestamp()

    around = (noon + seconds for seconds in range(-1800, 1801, 60))
    assert max(
        sun_elevation_deg(moment, 42.0, 0.0) for moment in around
    ) == pytest.approx(48.0, abs=0.1)


def test_places_off_the_earth_are_refused():
    with pytest.raises(GeometryError, match=r"no place on earth lat 95\.0"):
        sun_at(0.0, 95.0, 0.0)


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
