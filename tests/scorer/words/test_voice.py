"""Values as people read them: units, zone and language of the event."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from scorer import facts
from scorer.errors import Fault, ended_once
from scorer.event.model import Units
from scorer.event.rules_reader import book_names, load_book
from scorer.facts import (
    Measure,
    chance,
    distance,
    fact,
    height,
    inner,
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


@pytest.mark.parametrize("name", book_names())
def test_our_rule_books_have_their_titles_in_every_language(name):
    book = load_book(name)
    assert Voice().book(book) == book.title
    assert Voice(language="de").book(book) != book.title
    own = replace(book, title="Rules of Kestrel Week")
    assert Voice(language="de").book(own) == "Rules of Kestrel Week"


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


def test_a_moment_of_a_day_without_a_flight_is_said_with_its_date():
    """08:00 UTC is 10:00 in Madrid in summer; the flight is of the 24th alone."""
    voice = Voice(time_zone="Europe/Madrid", days=frozenset({date(2026, 8, 24)}))
    own, later = (datetime(2026, 8, d, 8, tzinfo=UTC).timestamp() for d in (24, 25))
    assert voice.moment(own) == "10:00:00"
    assert voice.moment(later) == "25 Aug 10:00:00"


def test_moments_of_several_days_in_one_sentence_all_have_their_dates():
    voice = Voice(
        days=frozenset({date(2026, 8, 24), date(2026, 8, 25)}), time_zone="UTC"
    )
    start, end = (datetime(2026, 8, d, 8, tzinfo=UTC).timestamp() for d in (24, 25))
    over = fact("stood-from-to", start=moment(start), end=moment(end))
    within = fact("stood-from-to", start=moment(start), end=moment(start + 60))
    several_within = fact(
        "explain-spread", give_or_take=several(map(inner, [within, over]))
    )
    assert voice.say(over) == "24 Aug 08:00:00 to 25 Aug 08:00:00"
    assert voice.say(within) == "08:00:00 to 08:01:00"
    assert voice.say(several_within).count("24 Aug") == 3


def test_hundreds_of_pilots_are_said_in_one_sentence():
    """The library that reads the catalogue places no more than 2,500 signs at once."""
    names = [f"Pilot of the number {n}" for n in range(400)]
    spoken = f"{', '.join(names[:-1])} and {names[-1]}"
    several = facts.several(facts.words(name) for name in names)

    assert Voice().value(several) == spoken
    assert spoken in Voice().say(fact("issued-at", version=several, at=facts.words("")))


@pytest.mark.parametrize(
    ("joined", "said"),
    [
        (
            'one of a, b. Did you mean "a"?. It is kept',
            'one of a, b. Did you mean "a"? It',
        ),
        ("What is it?. It is kept.", "What is it? It is kept."),
        (
            "format = 1. A newer version.. It is kept.",
            "format = 1. A newer version. It",
        ),
        ("signed by Ek jr..", "signed by Ek jr."),
        ("they wait ... and .. or ../a", "they wait ... and .. or ../a"),
    ],
)
def test_a_sentence_put_before_another_ends_once(joined, said):
    assert ended_once(joined).startswith(said)
    assert str(Fault(where="a", found="b", allowed="c?", remedy="D.")).endswith("c? D.")
