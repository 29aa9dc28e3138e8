"""Season standings: what pilots have over several events, and who is who among them.

A pilot is the same in two events where number and name agree (or the name alone, if
asked for).  Everything that looks like one person and was not joined, or like two and
was, is told; nothing is guessed.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any
from unicodedata import normalize

from scorer.event.matter import Blocks
from scorer.event.model import Event, Pilot
from scorer.facts import Fact, count, fact, number, several, words
from scorer.scoring.ranking import competition_ranks
from scorer.scoring.results import Results
from scorer.tracks.names import one_name
from scorer.words.voice import Voice

Key = tuple[int | None, str]
"""Number, unless names alone join, and folded name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonRule:
    """How a season adds up."""

    best: int | None = None
    """Only the best this many events count; None = all."""
    places: tuple[int, ...] = ()
    """Points of the first, second, ... place of an event; empty = the event's totals."""
    by_name: bool = False
    """Names alone tell who is who: for seasons in which numbers change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonLine:
    """One pilot's season."""

    rank: int
    number: int
    """In the last event flown."""
    name: str
    class_name: str
    country: str
    total: int
    events: Mapping[int, int]
    """Points by event, counted from 0 in the order given; missing = not entered."""
    counted: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """Standings over several events."""

    events: tuple[str, ...]
    rule: SeasonRule
    lines: tuple[SeasonLine, ...]
    classes: Mapping[str, tuple[SeasonLine, ...]]
    notes: tuple[Fact, ...]
    """What to look at before these standings are put up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Came:
    """What a season takes of one event: who was entered, and what they came to."""

    name: str
    pilots: tuple[Pilot, ...]
    rows: tuple[tuple[int, int, int], ...]
    """Number, rank and total of each pilot in the standings."""
    flew: frozenset[int]
    by: str = "points"
    """As in `StandingsTable`."""
    is_open: bool = False
    """Something is open or not decided."""
    notes: tuple[Fact, ...] = ()
    """What else to look at."""

    @classmethod
    def of(cls, event: Event, results: Results) -> "Came":
        """Take what an event was just scored to."""
        table = results.standings
        return cls(
            name=event.name,
            pilots=event.pilots,
            rows=tuple((row.pilot, row.rank, row.total) for row in table.rows),
            flew=frozenset(
                score.pilot
                for task in results.tasks
                if task.state == "flown"
                for score in task.scores
                if score.group != "C"
            ),
            by=table.by,
            is_open=results.blocked,
        )

    @classmethod
    def published(
        cls, tree: Mapping[str, Any], roster: Iterable[Pilot], notes: Iterable[Fact]
    ) -> "Came":
        """Take what a results.json says; class and country are those of the roster."""
        known = {pilot.number: pilot for pilot in roster}
        pilots = (
            replace(
                known.get(one["number"], Pilot(number=one["number"], name="")),
                name=one["name"],
            )
            for one in tree["pilots"]
        )
        return cls(
            name=tree["event"]["name"],
            pilots=tuple(pilots),
            rows=tuple((r["pilot"], r["rank"], r["total"]) for r in tree["standings"]),
            flew=frozenset(
                score["pilot"]
                for task in tree["tasks"]
                if task["state"] == "flown"
                for score in task["scores"]
                if score["group"] != "C"
            ),
            by=tree["standings_by"]["measure"],
            is_open=any(one["blocks"] == Blocks.OFFICIAL for one in tree["matters"]),
            notes=tuple(notes),
        )

    def pilot(self, number: int) -> Pilot | None:
        """Find a pilot by competition number."""
        return next((p for p in self.pilots if p.number == number), None)


def season(scored: Sequence[tuple[Event, Results]], rule: SeasonRule) -> Season:
    """Add up events that were just scored, in the order given."""
    return season_of([Came.of(event, results) for event, results in scored], rule)


def season_of(events: Sequence[Came], rule: SeasonRule) -> Season:
    """Add up the events of a season, in the order given."""
    entries: dict[Key, dict[int, int]] = defaultdict(dict)
    people: dict[Key, list[tuple[int, int]]] = defaultdict(list)
    for index, event in enumerate(events):
        points = _points(event, rule)
        for pilot in event.pilots:
            key = (None if rule.by_name else pilot.number, _folded(pilot.name))
            entries[key][index] = points.get(pilot.number, 0)
            people[key].append((index, pilot.number))
    lines = [_line(key, own, people[key], events, rule) for key, own in entries.items()]
    ranked = _ranked(lines)
    names = sorted({line.class_name for line in lines if line.class_name})
    return Season(
        events=tuple(event.name for event in events),
        rule=rule,
        lines=ranked,
        classes={
            name: _ranked(line for line in ranked if line.class_name == name)
            for name in names
        },
        notes=tuple(_notes(events, people, rule)),
    )


def _points(event: Came, rule: SeasonRule) -> dict[int, int]:
    """Return each pilot's points of one event: its total, or points of the place."""
    if not rule.places:
        return {pilot: total for pilot, _, total in event.rows}
    return {
        pilot: rule.places[rank - 1]
        for pilot, rank, _ in event.rows
        if rank <= len(rule.places) and pilot in event.flew
    }


def _line(
    key: Key,
    own: Mapping[int, int],
    entered: Sequence[tuple[int, int]],
    events: Sequence[Came],
    rule: SeasonRule,
) -> SeasonLine:
    order = sorted(own, key=lambda index: (-own[index], index))
    counted = tuple(sorted(order[: rule.best]))
    index, last = entered[-1]
    pilot = events[index].pilot(last)
    return SeasonLine(
        rank=1,
        number=last,
        name=pilot.name if pilot else key[1],
        class_name=pilot.class_name if pilot else "",
        country=pilot.country if pilot else "",
        total=sum(own[i] for i in counted),
        events=dict(own),
        counted=counted,
    )


def _ranked(lines: Iterable[SeasonLine]) -> tuple[SeasonLine, ...]:
    ordered = sorted(lines, key=lambda line: (-line.total, line.number, line.name))
    ranks = competition_ranks([line.total for line in ordered])
    return tuple(
        replace(line, rank=rank) for rank, line in zip(ranks, ordered, strict=True)
    )


def _folded(name: str) -> str:
    return " ".join(normalize("NFKC", name).split()).casefold()


def _notes(
    events: Sequence[Came],
    people: Mapping[Key, Sequence[tuple[int, int]]],
    rule: SeasonRule,
) -> Iterable[Fact]:
    for event in events:
        name = words(event.name)
        yield from event.notes
        if event.is_open:
            yield fact("season-still-open", event=name)
        if event.by == "result" and not rule.places:
            yield fact("season-without-points", event=name)
    repeated = [n for n, c in Counter(e.name for e in events).items() if c > 1]
    yield from (fact("season-twice", event=words(name)) for name in repeated)
    yield from _twice_in_an_event(events, people)
    written = {_folded(p.name): p.name for event in events for p in event.pilots}
    yield from _suspects(list(people), written)


def _twice_in_an_event(
    events: Sequence[Came], people: Mapping[Key, Sequence[tuple[int, int]]]
) -> Iterable[Fact]:
    for entered in people.values():
        for index, times in Counter(index for index, _ in entered).items():
            if times > 1:
                numbers = [n for i, n in entered if i == index]
                pilot = events[index].pilot(numbers[0])
                yield fact(
                    "season-entered-twice",
                    pilot=words(pilot.name if pilot else ""),
                    times=count(times),
                    event=words(events[index].name),
                    numbers=several(map(number, numbers)),
                )


def _suspects(keys: Sequence[Key], written: Mapping[str, str]) -> Iterable[Fact]:
    """Name pairs that look like one person and were kept apart.

    `written` gives names as they stand in a roster, by folded name.
    """
    by_name: dict[str, list[int]] = defaultdict(list)
    by_number: dict[int, list[str]] = defaultdict(list)
    for own, name in keys:
        if own is not None:
            by_name[name].append(own)
            by_number[own].append(name)
    for name, numbers in by_name.items():
        if len(numbers) > 1:
            yield fact(
                "season-several-numbers",
                pilot=words(written[name]),
                numbers=several(map(number, sorted(numbers))),
            )
    for own, names in by_number.items():
        for at, one in enumerate(names):
            for other in names[at + 1 :]:
                if one_name(one, other):
                    yield fact(
                        "season-several-names",
                        number=number(own),
                        one=words(written[one]),
                        other=words(written[other]),
                    )


def season_document(found: Season) -> dict[str, Any]:
    """Return a season as a tree of plain types, for JSON."""

    def lines(rows: Iterable[SeasonLine]) -> list[dict[str, Any]]:
        return [
            {
                "rank": line.rank,
                "number": line.number,
                "name": line.name,
                "class": line.class_name,
                "country": line.country,
                "total": line.total,
                "events": {str(i + 1): points for i, points in line.events.items()},
                "counted": [i + 1 for i in line.counted],
            }
            for line in rows
        ]

    return {
        "format": 1,
        "events": list(found.events),
        "best": found.rule.best,
        "places": list(found.rule.places),
        "standings": lines(found.lines),
        "classes": {name: lines(rows) for name, rows in found.classes.items()},
        "notes": [Voice().say(note) for note in found.notes],
    }
