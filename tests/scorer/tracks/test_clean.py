import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.errors import InputError
from scorer.tracks.clean import MAX_EXCURSION, clean
from scorer.tracks.igc import read_igc
from scorer.tracks.track import Track
from tests.helpers import SHARED, said
from tests.scorer.tracks.logs import START_S, kinds, shared_blob

N = 600


def flight(n=N, **channels):
    """Return a quiet invented flight: 5 m/s north-east, climbing and sinking."""
    i = np.arange(n)
    given = {
        "time_s": START_S + i,
        "lat_deg": 41.5 + i * 3e-5,
        "lon_deg": -3.2 + i * 4e-5,
        "gnss_alt_m": 700 + 100 * np.sin(i / 60),
        "pressure_alt_m": 650 + 100 * np.sin(i / 60),
    }
    return Track(
        name="012.igc",
        sha256="",
        format="igc",
        valid_3d=np.ones(n, bool),
        **(given | channels),
    )


def changed(name, which, value):
    values = getattr(flight(), name).copy()
    values[which] = value
    return flight(**{name: values})


def test_a_sound_flight_stays_as_it_is():
    track = flight()

    assert clean(track) is track


def test_positions_at_zero_are_left_out_and_recorded():
    track = flight()
    lat, lon = track.lat_deg.copy(), track.lon_deg.copy()
    lat[10:13], lon[10:13] = 0, 0

    cleaned = clean(flight(lat_deg=lat, lon_deg=lon))

    assert len(cleaned) == N - 3
    assert kinds(cleaned) == {"null-position": 3}
    assert cleaned.repairs[0].says.get("start") == track.time_s[10]
    assert said(cleaned.repairs[0]) == (
        "3 fixes at latitude and longitude 0 left out, from 06:41:22 on"
    )


@pytest.mark.parametrize("which", [[300], [300, 301, 302], [0], [0, 1, 2], [N - 1]])
def test_a_jump_aside_is_left_out(which):
    cleaned = clean(changed("lat_deg", which, 42.5))

    assert len(cleaned) == N - len(which)
    assert not np.isin(cleaned.time_s, flight().time_s[which]).any()
    assert kinds(cleaned) == {"position-spike": len(which)}


def test_several_jumps_aside_each_to_another_place_are_left_out():
    track = flight()
    lat = track.lat_deg.copy()
    lat[[300, 301, 302, 400, 402]] = [50, 20, 35, 10, 10]

    cleaned = clean(flight(lat_deg=lat))

    assert len(cleaned) == N - 5
    assert kinds(cleaned) == {"position-spike": 5}


def test_a_jump_that_does_not_lead_back_stays_and_is_recorded():
    cleaned = clean(changed("lat_deg", slice(300, None), 42.5))

    assert len(cleaned) == N
    assert kinds(cleaned) == {"jump": 1}
    assert "06:46:12" in said(cleaned.repairs[0])


def test_a_long_stay_elsewhere_is_not_called_a_spike():
    cleaned = clean(changed("lat_deg", slice(200, 200 + MAX_EXCURSION + 1), 42.5))

    assert len(cleaned) == N
    assert kinds(cleaned) == {"jump": 2}


def test_a_gap_lets_a_balloon_travel():
    track = flight()
    time, lat = track.time_s.copy(), track.lat_deg.copy()
    time[300:] += 3600
    lat[300:] += 0.5

    assert clean(flight(time_s=time, lat_deg=lat)).repairs == ()


@pytest.mark.parametrize("name", ["gnss_alt_m", "pressure_alt_m"])
@pytest.mark.parametrize("value", [0, 5000, -400])
def test_an_altitude_spike_is_removed_and_its_fix_stays(name, value):
    cleaned = clean(changed(name, [300, 301], value))

    assert len(cleaned) == N
    assert np.flatnonzero(np.isnan(getattr(cleaned, name))).tolist() == [300, 301]
    (repair,) = cleaned.repairs
    assert repair.kind.endswith("altitude-spike")
    assert repair.count == 2


def test_what_a_barometer_shows_between_jumps_is_told_with_the_times():
    shifted = flight().pressure_alt_m.copy()
    shifted[200:260] += 60.0

    track = clean(flight(pressure_alt_m=shifted))

    assert np.flatnonzero(np.isnan(track.pressure_alt_m)).tolist() == list(
        range(200, 260)
    )
    (repair,) = track.repairs
    assert (repair.kind, repair.count) == ("pressure-altitude-jump", 60)
    (told,) = [one.amount for one in dict(repair.values)["whiles"].amount]
    times = [told.get(name) for name in ("start", "end")]
    assert times == [START_S + 200, START_S + 259]


def test_pressure_altitudes_aside_for_a_moment_are_told():
    bumped = flight().pressure_alt_m.copy()
    bumped[300:302] += 25.0

    track = clean(flight(pressure_alt_m=bumped))

    assert np.isnan(track.pressure_alt_m[300:302]).all()
    assert kinds(track) == {"pressure-altitude-aside": 2}


def test_a_barometer_that_does_not_follow_the_flight_is_told():
    track = clean(flight(pressure_alt_m=np.full(N, 650.0)))

    assert np.isnan(track.pressure_alt_m).all()
    assert kinds(track) == {"pressure-altitude-dead": N}


def test_absent_altitudes_are_no_spikes():
    track = changed("gnss_alt_m", slice(100, 200), np.nan)

    assert clean(track) is track


def test_a_fast_descent_of_a_balloon_is_believed():
    """A burst envelope falls at some 20 m/s; common practice, no source."""
    alt = np.maximum(3000 - 20.0 * np.arange(N).clip(100) + 2000, 640)

    assert clean(flight(gnss_alt_m=alt, pressure_alt_m=alt)).repairs == ()


def test_fixes_under_a_wrong_clock_are_left_out():
    time = flight().time_s.copy()
    time[:3] -= 26 * 365 * 86_400

    cleaned = clean(flight(time_s=time))

    assert len(cleaned) == N - 3
    assert kinds(cleaned) == {"clock-jump": 3}


def test_a_second_flight_of_the_day_is_no_wrong_clock():
    time = flight().time_s.copy()
    time[400:] += 11 * 3600

    assert clean(flight(time_s=time)).repairs == ()


def test_nothing_left_is_refused():
    nowhere = np.zeros(N)

    with pytest.raises(InputError, match="600 fixes, none of them usable"):
        clean(flight(lat_deg=nowhere, lon_deg=nowhere))


def test_one_fix_alone_is_left_alone():
    track = flight(1)

    assert clean(track) is track


@given(
    st.lists(st.tuples(st.integers(0, 199), st.integers(-80, 80)), max_size=30),
    st.lists(st.tuples(st.integers(0, 199), st.floats(-500, 9000)), max_size=30),
)
@settings(max_examples=60)
def test_cleaning_never_alters_a_value_and_settles_at_once(places, heights):
    track = flight(200)
    lat, alt = track.lat_deg.copy(), track.gnss_alt_m.copy()
    for i, value in places:
        lat[i] = value
    for i, value in heights:
        alt[i] = value
    dirty = flight(200, lat_deg=lat, gnss_alt_m=alt)

    cleaned = clean(dirty)

    kept = np.isin(dirty.time_s, cleaned.time_s)
    np.testing.assert_array_equal(cleaned.lat_deg, dirty.lat_deg[kept])
    same = np.isnan(cleaned.gnss_alt_m) | (cleaned.gnss_alt_m == dirty.gnss_alt_m[kept])
    assert same.all()
    assert len(cleaned) + kinds(cleaned).get("position-spike", 0) == 200


@pytest.mark.parametrize(
    "path", sorted((SHARED / "igc").glob("*/*.igc")), ids=lambda path: path.name
)
def test_real_logs_lose_next_to_nothing(path):
    """One is an example of the format whose second fix lies 10 km off."""
    track = read_igc(shared_blob(path))

    assert len(clean(track)) >= 0.99 * len(track) - 1
