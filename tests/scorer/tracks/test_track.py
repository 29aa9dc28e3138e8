import pickle

import numpy as np
import pytest

from scorer.tracks.igc import read_igc
from scorer.tracks.track import Track
from tests.scorer.tracks.logs import drift, igc


def track(**changes):
    given = {
        "name": "a.igc",
        "sha256": "",
        "format": "igc",
        "time_s": np.array([1.0, 2.0]),
        "lat_deg": np.array([41.0, 41.1]),
        "lon_deg": np.array([-3.0, -3.1]),
        "valid_3d": np.array([True, False]),
    }
    return Track(**(given | changes))


def test_a_track_keeps_copies_that_nobody_can_write():
    own = np.array([41.0, 41.1])

    kept = track(lat_deg=own)
    own[0] = 99

    assert kept.lat_deg[0] == 41
    with pytest.raises(ValueError, match="read-only"):
        kept.lat_deg[0] = 1


def test_channels_not_given_are_not_recorded():
    assert np.isnan(track().gnss_alt_m).tolist() == [True, True]


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"time_s": np.array([1.0, 1.0])}, "does not advance after fix 0"),
        ({"time_s": np.array([1.0, np.nan])}, "a time for each"),
        ({"lat_deg": np.array([1.0, np.nan])}, "no position"),
        ({"gnss_alt_m": np.array([1.0])}, r"gnss_alt_m is \(1,\)"),
        ({"time_s": np.array([])}, "lat_deg is"),
    ],
)
def test_a_reader_that_lets_faults_through_is_caught(changes, reason):
    with pytest.raises(ValueError, match=reason):
        track(**changes)


def test_a_track_travels_between_processes():
    sent = read_igc(igc(*drift(5), "E064114PEV x"))

    got = pickle.loads(pickle.dumps(sent))

    np.testing.assert_array_equal(got.time_s, sent.time_s)
    assert got.headers == sent.headers
    assert got.marks[0].label == "x"
