"""All limits of a task with what a breach costs, from the rules as they are declared."""

from collections.abc import Iterator, Sequence
from zoneinfo import ZoneInfo

from scorer.event.model import Event, Flight, Period, Task
from scorer.event.moments import Clock, at
from scorer.event.place_kinds import PROHIBITED
from scorer.event.rulebook import SECTIONS, RuleBook, rules_of
from scorer.facts import fact, height, words
from scorer.geodesy.sun import Sun, sun_at
from scorer.sheets.sheet import clean
from scorer.words.catalogue import has
from scorer.words.voice import Voice

NO_LIMITS = {
    "findings",
    "tracks",
    "points",
    "results",
    "keying",
    "standings",
    "publication",
}
"""Sections of the rules that limit nobody in flight; any other section is printed."""
GOVERNS = {"floor": "height", "contact": "within", "boundary": "within"}
"""The rule without which the others of its section limit nothing."""
Row = tuple[str, str]
"""What it is, and its value."""
Section = tuple[str, tuple[Row, ...]]


def limits_of(event: Event, flight: Flight, task: Task, voice: Voice) -> list[Section]:
    """Return the limits of a task by section: title, then label and value.

    Whatever the task's rules declare is here: a section counts as set where the event or
    its rule book says anything in it; a penalty that none sets is up to the officials.
    """
    book = event.book_of(task)
    found = []
    for section in SECTIONS:
        more = tuple(_FROM_EVENT.get(section, _nothing)(event, flight, task, voice))
        if section not in NO_LIMITS and (more or _is_set(book, section)):
            rows = (*more, *_rows(book, section, voice))
            found.append((_title(section, voice), rows))
    return found


def _title(section: str, voice: Voice) -> str:
    name = f"limit-{section}"
    return voice.word(name) if has(name) else section


def _is_set(book: RuleBook, section: str) -> bool:
    """Tell whether event or book set a value of a section other than what is usual."""
    own = getattr(book, section)
    return any(
        getattr(own, attribute) not in {None, (), usual}
        for attribute, how, usual in rules_of(section).values()
        if how.kind != "penalties"
    ) or any(
        bool(getattr(own, attribute))
        for attribute, how, _ in rules_of(section).values()
        if how.kind == "penalties"
    )


def _rows(book: RuleBook, section: str, voice: Voice) -> Iterator[Row]:
    governing = f"{section}.{GOVERNS.get(section, '')}"
    if section in GOVERNS and book.held(governing)[0] is None:
        yield _label(book, governing, voice), voice.value(book.answer(governing))
        return
    own = getattr(book, section)
    for key, (attribute, how, _) in rules_of(section).items():
        held = getattr(own, attribute)
        label = _label(book, f"{section}.{key}", voice)
        if held not in (None, ()):
            yield label, clean(voice.value(book.answer(f"{section}.{key}")))
        elif how.kind == "penalties":
            yield label, voice.word("officials-decide")


def _label(book: RuleBook, key: str, voice: Voice) -> str:
    title = voice.value(book.named(key))
    return clean(f"{title[:1].upper()}{title[1:]}")


def _nothing(*_: object) -> Sequence[Row]:
    return ()


def _areas(_: Event, __: Flight, task: Task, voice: Voice) -> Iterator[Row]:
    """Name the scoring areas where the rule on ground contact speaks of them."""
    if task.scoring_areas and task.book is not None and task.book.contact.within:
        areas = ", ".join(task.scoring_areas)
        yield voice.word("fact-scoring-areas"), clean(areas)


def _airspace(event: Event, _: Flight, __: Task, voice: Voice) -> Iterator[Row]:
    """Name each prohibited airspace with its heights."""
    for place in event.places:
        if place.kind is not PROHIBITED:
            continue
        low, high = place.lower_m, place.upper_m
        bottom = fact("airspace-ground") if low is None else None
        top = fact("airspace-unlimited") if high is None else None
        said = fact(
            "airspace-between",
            bottom=words(
                voice.say(bottom or fact("above-sea", height=height(low or 0)))
            ),
            top=words(voice.say(top or fact("above-sea", height=height(high or 0)))),
        )
        yield clean(place.name), voice.say(said)


def _periods(event: Event, _: Flight, task: Task, voice: Voice) -> Iterator[Row]:
    if task.scoring_period is not None:
        between = between_minutes(event, task.scoring_period, voice)
        yield voice.word("fact-scoring-period"), between


def _launch(event: Event, _: Flight, task: Task, voice: Voice) -> Iterator[Row]:
    if task.launch_period is not None:
        between = between_minutes(event, task.launch_period, voice)
        yield voice.word("fact-launch-period"), between


def _night(event: Event, flight: Flight, task: Task, voice: Voice) -> Iterator[Row]:
    """Give the clock times that daylight leaves."""
    night, sun = event.book_of(task).night, sun_of(event, flight)
    edges = () if sun is None else edges_of(sun)
    if len(edges) != 2:
        return
    rise_s, fall_s = edges
    if night.before_sunrise_s is not None:
        yield (
            voice.word("earliest-launch"),
            minute(event, rise_s - night.before_sunrise_s),
        )
    if night.after_sunset_s is not None:
        yield (
            voice.word("latest-landing"),
            minute(event, fall_s + night.after_sunset_s),
        )


_FROM_EVENT = {
    "contact": _areas,
    "airspace": _airspace,
    "scoring": _periods,
    "launch": _launch,
    "night": _night,
}
"""What the event itself sets in a section beyond its rules."""


def sun_of(event: Event, flight: Flight) -> Sun | None:
    """Return the sun at noon of a flight's day, at the event's first point."""
    point = next((p for p in event.places if p.is_point), None)
    if point is None:
        return None
    lon, lat = point.rings[0][0]
    noon = Clock(flight.date, ZoneInfo(event.time_zone)).read("12:00")
    return sun_at(noon, lat, lon)


def edges_of(sun: Sun) -> tuple[float, ...]:
    """Return sunrise and sunset nearest to a moment, POSIX seconds, where there are any."""
    edges = (sun.since, sun.until) if sun.up else (sun.until, sun.since)
    return tuple(edge.time_s for edge in edges if edge is not None)


def minute(event: Event, time_s: float) -> str:
    """Print a moment by the event's clocks, to the minute."""
    return at(time_s, event.time_zone).clock(seconds=False)


def between_minutes(event: Event, period: Period, voice: Voice) -> str:
    """Print a period by the event's clocks, to the minute."""
    start, end = (words(minute(event, t)) for t in (period.start_s, period.end_s))
    return voice.say(fact("explain-from-to", start=start, end=end))
