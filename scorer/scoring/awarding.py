"""Who gets which prize: the declared ones, with ties shared or counted back."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from scorer.event.model import Award, AwardFor, AwardTies, Event
from scorer.scoring.results import Results, StandingsTable, TaskResult

_NOWHERE = 10**9
_LAST = (_NOWHERE,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One prize with those who get it."""

    award: Award
    places: tuple[tuple[int, int], ...]
    """Place and pilot (of a team: its number in the table), the best first."""
    table: StandingsTable | None = None
    task: TaskResult | None = None
    """Narrowed to a class, where classes are scored by themselves."""
    day: date | None = None
    totals: Mapping[int, int] = field(default_factory=dict)
    """Points of a day."""


def given(event: Event, results: Results) -> Iterator[Given]:
    """Yield all declared prizes as results stand.

    Who has no result in a task, or no point in standings or on a day, gets none.
    """
    for award in event.awards:
        match award.given_for:
            case AwardFor.OVERALL:
                yield _of_table(award, results.standings, results)
            case AwardFor.CLASS:
                yield from _classes(award, event, results)
            case AwardFor.TEAM if results.team_standings is not None:
                yield _of_table(award, results.team_standings, results)
            case AwardFor.DAY:
                yield from _days(award, event, results)
            case AwardFor.TASK:
                yield from _tasks(award, event, results)


def _classes(award: Award, event: Event, results: Results) -> Iterator[Given]:
    """Yield class by class, whether or not the classes have standings of their own."""
    tables = {table.title: table for table in results.class_standings}
    names = sorted({pilot.class_name for pilot in event.pilots} - {""})
    for name in names:
        if award.class_name in {"", name}:
            among = _among(event, name)
            table = tables.get(name) or results.standings
            yield _of_table(award, table, results, among, name)


def _of_table(
    award: Award,
    table: StandingsTable,
    results: Results,
    among: set[int] | None = None,
    title: str = "",
) -> Given:
    keys = {
        row.pilot: (row.rank,)
        for row in table.rows
        if (among is None or row.pilot in among) and table.earns(row)
    }
    back = {} if table.teams else _ranks(results.tasks)
    named = replace(award, class_name=title or award.class_name)
    return Given(award=named, places=_placed(award, keys, back), table=table)


def _days(award: Award, event: Event, results: Results) -> Iterator[Given]:
    days = {flight.id: flight.date for flight in event.flights}
    flown = [task for task in results.tasks if task.state == "flown"]
    for day in sorted({days[task.flight] for task in flown}):
        if award.day not in {None, day}:
            continue
        own = [task for task in flown if days[task.flight] == day]
        among = _among(event, award.class_name)
        totals: dict[int, int] = {}
        for task in own:
            for score in task.scores:
                if score.pilot in among:
                    totals[score.pilot] = totals.get(score.pilot, 0) + score.score
        keys = {pilot: (-total,) for pilot, total in totals.items() if total > 0}
        places = _placed(award, keys, _ranks(own))
        yield Given(award=award, places=places, day=day, totals=totals)


def _tasks(award: Award, event: Event, results: Results) -> Iterator[Given]:
    back = {row.pilot: (row.rank,) for row in results.standings.rows}
    among = _among(event, award.class_name)
    tasks = [task for task in results.tasks if award.task in {None, task.task}]
    for part in (part for task in tasks for part in task.parts):
        others = part.field and award.class_name not in {"", part.field}
        if part.state == "flown" and not others:
            keys = {
                score.pilot: (score.rank,)
                for score in part.scores
                if score.result is not None and score.pilot in among
            }
            yield Given(award=award, places=_placed(award, keys, back), task=part)


def _among(event: Event, class_name: str) -> set[int]:
    """Return who may get a prize: a class, or everybody."""
    return {p.number for p in event.pilots if class_name in {"", p.class_name}}


def _ranks(tasks: Sequence[TaskResult]) -> dict[int, tuple[int, ...]]:
    """Return the pilots' places in tasks, the best first, to count back by."""
    flown = [
        {s.pilot: s.rank for s in task.scores if s.result is not None}
        for task in tasks
        if task.state == "flown"
    ]
    pilots = {pilot for ranks in flown for pilot in ranks}
    return {
        pilot: tuple(sorted(ranks.get(pilot, _NOWHERE) for ranks in flown))
        for pilot in pilots
    }


def _placed(
    award: Award,
    keys: Mapping[int, tuple[int, ...]],
    back: Mapping[int, tuple[int, ...]],
) -> tuple[tuple[int, int], ...]:
    """Return places among themselves; equal ones share a place, or are counted back."""
    counted = award.ties is AwardTies.COUNTED_BACK
    whole = {n: (key, back.get(n, _LAST) if counted else ()) for n, key in keys.items()}
    places = {
        n: 1 + sum(other < key for other in whole.values()) for n, key in whole.items()
    }
    best = sorted(places, key=lambda n: (places[n], n))
    return tuple((places[n], n) for n in best if places[n] <= award.places)
