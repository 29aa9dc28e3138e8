"""Values as people read them: units, zone and language of the event."""

import pytest

from scorer import facts
from scorer.event.model import Units
from scorer.facts import (
    Measure,
    chance,
    distance,
    fact,
    height,
    length,
    log,
    moment,
    number,
    pilot,
    several,
    span,
    speed,
    words,
)
from scorer.words.voice import Voice

METRIC = Voice(time_zone="Europe/Madrid", pilots={7: "Ann Iso"})
IMPERIAL = Voice(units=Units.IMPERIAL)


@pytest.mark.parametrize(
    ("value", "metric", "imperial"),
    [
        (length(12.345), "12.35 m", "40 ft 6.0 in"),
        (height(20.42), "20.4 m", "67 ft"),
        (distance(412.4), "412 m", "1,353 ft"),
        (distance(5240), "5.24 km", "3.26 mi"),
        (chance(1.0), "over 99 %", "over 99 %"),
        (chance(0.97), "97 %", "97 %"),
        (chance(0.0), "under 1 %", "under 1 %"),
        (chance(0.004), "under 1 %", "under 1 %"),
        (chance(0.5), "50 %", "50 %"),
        (chance(0.994), "99 %", "99 %"),
        (chance(0.9999), "over 99 %", "over 99 %"),
        (speed(2.4), "2.4 m/s", "7.9 ft/s"),
        (log("logs/012.igc"), "012.igc", "012.igc"),
        (span(32400), "9 h", "9 h"),
        (span(125), "2 min 5 s", "2 min 5 s"),
        (span(0), "0 s", "0 s"),
        (number(-2.5), "−2.5", "−2.5"),
        (words("Ann"), "Ann", "Ann"),
        (several([length(1), length(2), length(3)]), "1.00 m, 2.00 m and 3.00 m", None),
    ],
)
def test_values_are_said_in_the_events_units(value, metric, imperial):
    assert METRIC.value(value) == metric
    if imperial is not None:
        assert IMPERIAL.value(value) == imperial


def test_moments_are_said_by_the_events_clocks():
    assert METRIC.value(moment(1789195272)) == "08:41:12"  # 2026-09-12T06:41:12Z


def test_pilots_are_said_with_their_names():
    assert METRIC.value(pilot(7)) == "7 Ann Iso"
    assert METRIC.value(pilot(8)) == "8"


def test_numbers_follow_the_language():
    assert Voice(language="de").number(1234.5) == "1.234,5"


def test_numbers_that_are_equal_keep_their_own_decimals():
    said = [METRIC.number(2, n) for n in (1, 2, 0)]
    assert said == ["2.0", "2.00", "2"]


@pytest.mark.parametrize(
    ("seconds", "decimals", "told"),
    [
        (58.4, 0, "58 s"),
        (0.0, 0, "0 s"),
        (59.5, 0, "1 min"),
        (125.4, 0, "2 min 5 s"),
        (125.4, 2, "2 min 5.40 s"),
        (4205.0, 0, "1 h 10 min 5 s"),
        (3600.0, 0, "1 h"),
        (3605.0, 0, "1 h 0 min 5 s"),
        (87400.0, 0, "24 h 16 min 40 s"),
        (-61.0, 0, "−1 min 1 s"),
    ],
)
def test_the_time_of_a_race_is_read_in_hours_minutes_and_seconds(
    seconds, decimals, told
):
    assert Voice().result(seconds, Measure.TAKEN, decimals) == told


def test_a_sentence_begins_with_a_capital_unless_a_name_stands_first():
    voice = Voice()
    task = fact("where-task", task=facts.task(3))
    placed = fact(
        "matter-placed",
        where=facts.listed([task]),
        text=facts.inner(fact("no-mark-entered")),
    )
    assert voice.sentence(placed) == "Task 3: no mark is entered"
    why = facts.words("kestrel.igc, line 2: found nothing")
    assert voice.sentence(fact("log-broken", why=why)).startswith("kestrel.igc")
    clock = fact("clock-no-launch", log=facts.log("old.igc"), at=facts.moment(0))
    assert voice.sentence(clock).startswith("old.igc")
