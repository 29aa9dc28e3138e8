from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scorer.tracks.local import from_local
from scorer.tracks.times import iso_seconds

FIRST = datetime.fromisoformat("0001-01-02")
LAST = datetime.fromisoformat("9999-12-30")


@given(st.lists(st.datetimes(min_value=FIRST, max_value=LAST)))
def test_agrees_with_the_standard_library(moments):
    """On RFC 3339 texts with and without parts of a second."""
    texts = [m.isoformat() + "Z" for m in moments]

    time_s, zoneless = iso_seconds(texts)

    expected = [m.replace(tzinfo=UTC).timestamp() for m in moments]
    np.testing.assert_allclose(time_s, expected, rtol=0, atol=4e-5)
    assert not zoneless.any()


@given(st.datetimes(timezones=st.timezones()), st.sampled_from([None, "minutes"]))
def test_zones_are_taken_into_account(moment, spec):
    text = moment.isoformat(timespec=spec or "auto")
    expected = datetime.fromisoformat(text)

    time_s, _ = iso_seconds([text])

    assert time_s[0] == pytest.approx(expected.timestamp(), abs=4e-5)


@pytest.mark.parametrize(
    "text",
    [
        *(
            "",
            "x",
            "2026-13-01T00:00:00Z",
            "2026-02-29T00:00:00Z",
            "2026-00-10T00:00:00Z",
        ),
        *("2026-09-31T00:00:00Z", "2026-09-12T24:00:01Z", "2026-09-12T06:60:00Z"),
        *("2026-09-12T06:41:61Z", "2026-09-12T06:41:12.Z5", "0000-01-01T00:00:00Z"),
        *("2026-09-12T06:41:1²Z", "9" * 100, "2026-09-12X06:41:12.5.5Z", "\x00" * 20),
    ],
)
def test_what_is_no_moment_is_nan(text):
    assert np.isnan(iso_seconds([text])[0][0])


def test_leap_days_exist_where_they_do():
    time_s, _ = iso_seconds(
        ["2024-02-29T00:00:00Z", "2000-02-29T00:00:00Z", "1900-02-29T00:00:00Z"]
    )

    assert np.isnan(time_s).tolist() == [False, False, True]


def test_texts_of_all_lengths_keep_their_order():
    texts = [
        "2026-09-12T06:41:12Z",
        "",
        "2026-09-12T06:41:12.25Z",
        "2026-09-12T06:41:12",
    ]

    time_s, zoneless = iso_seconds(texts)

    np.testing.assert_array_equal(time_s - time_s[0], [0, np.nan, 0.25, 0])
    assert zoneless.tolist() == [False, False, False, True]


def test_local_clocks_become_utc():
    """Madrid is UTC+1 in winter and UTC+2 in summer (EU directive 2000/84)."""
    zone = ZoneInfo("Europe/Madrid")
    local = [datetime(2026, m, 12, 8, tzinfo=UTC).timestamp() for m in (1, 9)]

    np.testing.assert_array_equal(
        from_local(np.array(local), zone).time_s, np.array(local) - [3600, 7200]
    )
    assert np.isnan(from_local(np.array([np.nan, 1e18]), zone).time_s).all()
