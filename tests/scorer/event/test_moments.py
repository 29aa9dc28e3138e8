"""Event time in thirty zones, against the standard library.

Expected instants come from `zoneinfo` run the other way: every UTC minute of a night is
turned into local time, and reading that local time must give the instant back.
"""

import itertools
from collections import defaultdict
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from scorer.event.moments import Clock, EventTime, at, read_moment, zone_told
from scorer.units import Unreadable

# IANA names chosen over the whole range of offsets, with half and quarter hours, zones
# without clock changes, a change of half an hour, and changes at midnight.
ZONES = [
    "Pacific/Pago_Pago",
    "Pacific/Honolulu",
    "Pacific/Marquesas",
    "America/Anchorage",
    "America/Los_Angeles",
    "America/Boise",
    "America/Chicago",
    "America/Caracas",
    "America/New_York",
    "America/Halifax",
    "America/St_Johns",
    "America/Sao_Paulo",
    "Atlantic/Azores",
    "Europe/London",
    "Europe/Madrid",
    "Europe/Athens",
    "Asia/Riyadh",
    "Asia/Tehran",
    "Asia/Dubai",
    "Asia/Kabul",
    "Asia/Karachi",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "Asia/Yangon",
    "Asia/Bangkok",
    "Asia/Tokyo",
    "Australia/Adelaide",
    "Australia/Lord_Howe",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Pacific/Kiritimati",
]
NEW_YEAR, LEAP_DAY = date(2026, 1, 1), date(2028, 2, 29)


def changes(zone, year=2026):
    """Return the local dates on which a zone's clocks change, by their offsets."""
    days = [date(year, 1, 1) + timedelta(days=n) for n in range(365)]
    offset = {
        d: datetime(d.year, d.month, d.day, tzinfo=zone).utcoffset() for d in days
    }
    return [d for d, e in itertools.pairwise(days) if offset[d] != offset[e]]


def readings(day, zone):
    """Return the instants at which the clocks show each minute of a local date."""
    shown = defaultdict(list)
    start = datetime(day.year, day.month, day.day, tzinfo=UTC) - timedelta(hours=15)
    for minute in range(0, 54 * 60, 5):
        instant = start + timedelta(minutes=minute)
        local = instant.astimezone(zone)
        if local.date() == day:
            shown[f"{local:%H:%M}"].append(instant.timestamp())
    return shown


@pytest.mark.parametrize("name", ZONES)
def test_every_clock_reading_of_hard_days_is_read_refused_or_asked_for(name):
    """Both clock changes, New Year and the leap day: one meaning, or a question."""
    zone = ZoneInfo(name)
    for day in (*changes(zone), NEW_YEAR, LEAP_DAY):
        clock, shown = Clock(day, zone), readings(day, zone)
        for minute in range(0, 24 * 60, 5):
            text = f"{minute // 60:02d}:{minute % 60:02d}"
            instants = shown.get(text, [])
            if len(instants) == 1:
                assert clock.read(text) == instants[0], (name, day, text)
                continue
            with pytest.raises(Unreadable) as refused:
                clock.read(text)
            ways = refused.value.remedy
            assert ways.startswith("Write "), ways
            if instants:
                assert clock.read(f"{text} first") == instants[0]
                assert clock.read(f"{text} second") == instants[1]
            # what the remedy offers can be read
            offered = [word.strip("().") for word in ways.split() if "+" in word]
            offered += [w.strip("().") for w in ways.split() if ":" in w and "-" in w]
            for word in offered:
                assert clock.read(word.split(",")[0])


def test_an_offset_behind_a_time_decides_a_doubled_hour():
    """Clocks of Madrid go back on 25 October 2026 at 03:00 (Directive 2000/84/EC)."""
    clock = Clock(date(2026, 10, 25), ZoneInfo("Europe/Madrid"))
    first = datetime(2026, 10, 25, 0, 30, tzinfo=UTC).timestamp()
    assert clock.read("02:30+02:00") == clock.read("02:30 first") == first
    assert clock.read("02:30+01:00") == clock.read("02:30 second") == first + 3600
    assert clock.read("2026-10-25T00:30:00Z") == first


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("07:00 second", "once"),
        ("02:30+02:00 first", "either"),
        ("2026-10-25 07:00+1", "without a date"),
        ("25:00", "HH:MM"),
        ("seven", "HH:MM"),
        ("-1:00", "HH:MM"),
        ("::", "HH:MM"),
        ("07:00+", "HH:MM"),
    ],
)
def test_what_cannot_be_a_time_says_what_can(text, word):
    """Every refusal names what is allowed."""
    with pytest.raises(Unreadable) as refused:
        Clock(date(2026, 10, 25), ZoneInfo("Europe/Madrid")).read(text)
    assert word in refused.value.allowed


def test_a_period_may_run_past_midnight_and_over_clock_changes():
    """Its length is a difference of instants."""
    madrid = ZoneInfo("Europe/Madrid")
    over = Clock(date(2026, 6, 1), madrid).period("23:30", "00:30")
    assert over.end_s - over.start_s == 3600
    spring = Clock(date(2026, 3, 28), madrid).period("23:30", "04:30")
    assert spring.end_s - spring.start_s == 4 * 3600
    autumn = Clock(date(2026, 10, 24), madrid).period("23:30", "04:30")
    assert autumn.end_s - autumn.start_s == 6 * 3600
    twice = Clock(date(2026, 10, 25), madrid).period("02:50 first", "02:10 second")
    assert twice.end_s - twice.start_s == 20 * 60
    days = Clock(date(2026, 10, 25), madrid).period("06:00", "06:00+2")
    assert days.end_s - days.start_s == 48 * 3600


@pytest.mark.parametrize(
    ("start", "end"), [("07:30", "06:45"), ("07:00", "07:00"), ("07:00+1", "08:00+0")]
)
def test_a_period_with_swapped_times_is_refused(start, end):
    """Times written in the wrong order are no period of nearly a day."""
    with pytest.raises(Unreadable):
        Clock(date(2026, 6, 1), ZoneInfo("UTC")).period(start, end)


def test_the_periods_of_a_task_tell_the_side_of_midnight():
    """A time after midnight is of the night that the periods run into."""
    zone = ZoneInfo("Asia/Kathmandu")
    evening = Clock(date(2026, 12, 31), zone)
    clock = evening.with_periods([evening.period("22:00", "23:30")])
    assert clock.moment("00:15").dated() == "2027-01-01 00:15:00"
    assert clock.moment("23:50").dated() == "2026-12-31 23:50:00"
    assert clock.moment("18:10").dated() == "2026-12-31 18:10:00"
    assert clock.moment("00:15+1").dated() == "2027-01-01 00:15:00"
    late = evening.period("00:10", "01:00", after_s=clock.periods[0].start_s)
    assert at(late.start_s, zone).dated() == "2027-01-01 00:10:00"
    morning = evening.with_periods([evening.period("06:00", "08:00")])
    assert morning.moment("00:15").dated() == "2026-12-31 00:15:00"


def test_a_time_that_a_race_of_days_holds_twice_is_asked_for():
    """No day is guessed."""
    clock = Clock(date(2026, 6, 1), ZoneInfo("Europe/Madrid"))
    race = clock.with_periods([clock.period("18:00", "18:00+2")])
    with pytest.raises(Unreadable, match="two days"):
        race.read("19:00")
    assert race.moment("19:00+1").day == date(2026, 6, 2)
    assert race.moment("09:00").day == date(2026, 6, 2)


def test_moments_are_told_with_their_offset_where_clocks_change():
    """On other days the offset says nothing."""
    zone = ZoneInfo("Europe/Madrid")
    first = read_moment("2026-10-25 02:30 first", zone)
    second = read_moment("2026-10-25 02:30 second", zone)
    assert first.clock() == "02:30:00 (UTC+02:00)"
    assert second.clock(seconds=False) == "02:30 (UTC+01:00)"
    assert (first.fold, second.fold) == (0, 1)
    assert read_moment("2026-10-26 02:30", zone).clock() == "02:30:00"
    lost = EventTime.of(datetime(2026, 3, 29, 1, 30, tzinfo=UTC), zone)
    assert lost.clock() == "03:30:00 (UTC+02:00)"


def test_a_day_that_the_date_line_swallowed_is_refused():
    """Samoa had no 30 December 2011 (IANA time zone database, file australasia)."""
    with pytest.raises(Unreadable, match="go forward"):
        Clock(date(2011, 12, 30), ZoneInfo("Pacific/Apia")).read("12:00")


def test_periods_are_refused_across_the_lost_hour():
    """02:50 does not exist on that morning; the refusal says what to write."""
    with pytest.raises(Unreadable) as refused:
        Clock(date(2026, 3, 29), ZoneInfo("Europe/Madrid")).period("02:50", "03:10")
    assert "03:50" in refused.value.remedy


@pytest.mark.parametrize("name", ZONES)
def test_what_is_written_or_printed_is_read_as_the_same_moment(name):
    """On days on which the clocks change: every five minutes of the day."""
    zone = ZoneInfo(name)
    for day in (*changes(zone), NEW_YEAR):
        start = datetime(day.year, day.month, day.day, tzinfo=zone).timestamp()
        for minute in range(0, 23 * 60, 5):
            told = at(start + 60 * minute, name)
            assert read_moment(told.written(), zone) == told
            assert read_moment(told.dated(), zone).time_s == told.time_s


def test_only_a_reading_that_comes_twice_is_written_with_its_offset():
    zone = ZoneInfo("Europe/Madrid")
    for hour, text in ((0, "02:30+02:00"), (1, "02:30+01:00"), (3, "04:30")):
        moment = datetime(2026, 10, 25, hour, 30, tzinfo=UTC)
        assert EventTime.of(moment, zone).written() == f"2026-10-25 {text}"


def test_a_zone_is_told_with_each_offset_of_the_days_asked_for():
    """Madrid's summer time of 2026 ends on 25 October; half an hour at Lord Howe."""
    days = [date(2026, 10, 26), date(2026, 10, 24)]
    told = zone_told("Europe/Madrid", days)
    assert told == "Europe/Madrid (UTC+02:00, UTC+01:00)"
    lord_howe = zone_told("Australia/Lord_Howe", [date(2026, 1, 1), date(2026, 1, 2)])
    assert lord_howe == "Australia/Lord_Howe (UTC+11:00)"
    assert zone_told("Europe/Madrid", [date(2026, 10, 25)]) == told
    assert zone_told("Europe/Madrid", []) == "Europe/Madrid"
    assert zone_told("UTC", days) == "UTC"


@pytest.mark.parametrize(
    ("after", "start", "end", "opens", "hours"),
    [
        ("23:30", "23:30", "01:30", "2026-12-31 23:30", 2),
        ("23:30", "00:10", "01:30", "2027-01-01 00:10", 4 / 3),
        ("22:00", "23:30", "00:30", "2026-12-31 23:30", 1),
        ("23:30", "05:00", "10:00", "2027-01-01 05:00", 5),
        ("06:00", "06:00", "08:00", "2026-12-31 06:00", 2),
    ],
)
def test_a_scoring_period_is_the_first_that_ends_after_the_task_begins(
    after, start, end, opens, hours
):
    """Over New Year at the date line, where no clocks change."""
    zone = ZoneInfo("Pacific/Fiji")
    clock = Clock(date(2026, 12, 31), zone)
    found = clock.period(start, end, after_s=clock.read(after))
    assert found.start_s == read_moment(opens, zone).time_s
    assert found.end_s - found.start_s == pytest.approx(hours * 3600)
