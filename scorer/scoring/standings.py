"""Standings over tasks: totals, best-of-N, ties, classes and teams."""

from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from scorer.event.model import Pilot
from scorer.event.rulebook import StandingsRule
from scorer.rounding import Exact
from scorer.scoring.by_result import (
    add_up,
    standings_by_result,
    team_sum,
    without_points,
)
from scorer.scoring.ranking import competition_ranks
from scorer.scoring.results import Standing, StandingsTable, TaskResult


def standings(
    tasks: Sequence[TaskResult],
    pilots: Sequence[Pilot],
    event_penalties: Mapping[int, int],
    rule: StandingsRule,
) -> StandingsTable:
    """Add up the scores of all flown tasks, less event penalties; rank the totals.

    Where no task gives points, results add up instead, if they are of one kind.
    """
    if without_points(tasks) and add_up(tasks):
        return standings_by_result(tasks, pilots, event_penalties, rule)
    flown = [task for task in tasks if task.state == "flown"]
    by_task = {t.task: {s.pilot: s.score for s in t.scores} for t in flown}
    entries = []
    for pilot in pilots:
        scores = {task: own.get(pilot.number, 0) for task, own in by_task.items()}
        own = {task for task in scores if pilot.number in by_task[task]}
        counted = _counted(scores, own, rule.best_of)
        penalty = event_penalties.get(pilot.number, 0)
        total = sum(scores[task] for task in counted) - penalty
        entries.append((pilot.number, total, scores, penalty, counted, own))
    wins = Counter(s.pilot for t in flown for s in t.scores if s.rank == 1 and s.score)
    breaker = _breaker(rule, wins, [t.task for t in flown])
    keys = {number: (-total, *breaker(number, sc)) for number, total, sc, *_ in entries}
    entries.sort(key=lambda entry: (keys[entry[0]], entry[0]))
    ranks = competition_ranks([keys[entry[0]] for entry in entries])
    rows = tuple(
        Standing(
            rank=rank,
            pilot=number,
            total=total,
            tasks={task: score for task, score in scores.items() if task in own},
            event_penalty=penalty,
            counted=tuple(task for task in counted if task in own),
        )
        for rank, (number, total, scores, penalty, counted, own) in zip(
            ranks, entries, strict=True
        )
    )
    return StandingsTable(title="Overall", rows=rows)


def _counted(
    scores: Mapping[int, int], own: Collection[int], best_of: int | None
) -> tuple[int, ...]:
    """Return the tasks that count: all, or the best so many, earlier ones first.

    Of equal scores those of tasks that the pilot was entered in (`own`) come first.
    """
    if best_of is None or len(scores) <= best_of:
        return tuple(scores)
    best = sorted(scores, key=lambda t: (-scores[t], t not in own, t))[:best_of]
    return tuple(sorted(best))


Breaker = Callable[[int, Mapping[int, int]], tuple[int, ...]]


def _breaker(rule: StandingsRule, wins: Counter[int], tasks: list[int]) -> Breaker:
    """Return what parts equal totals, as a key to sort by."""
    if rule.ties == "best-scores":
        return lambda _, scores: tuple(sorted(-s for s in scores.values()))
    if rule.ties == "most-wins":
        return lambda pilot, _: (-wins[pilot],)
    if rule.ties == "last-task":
        return lambda _, scores: tuple(-scores[task] for task in reversed(tasks))
    return lambda _pilot, _scores: ()


def class_standings(
    overall: StandingsTable, pilots: Sequence[Pilot]
) -> tuple[StandingsTable, ...]:
    """Part the standings by class; ranks are within the class, totals stay."""
    groups = defaultdict(set)
    for pilot in pilots:
        if pilot.class_name:
            groups[pilot.class_name].add(pilot.number)
    return tuple(
        StandingsTable(
            title=name,
            rows=_reranked(row for row in overall.rows if row.pilot in members),
            by=overall.by,
            unit=overall.unit,
            best=overall.best,
        )
        for name, members in sorted(groups.items())
    )


def _reranked(rows: Iterable[Standing]) -> tuple[Standing, ...]:
    kept = list(rows)
    ranks = competition_ranks([row.rank for row in kept])
    return tuple(row.at(rank) for rank, row in zip(ranks, kept, strict=True))


def team_standings(
    overall: StandingsTable, pilots: Sequence[Pilot], rule: StandingsRule
) -> StandingsTable | None:
    """Add up the best totals of each team; None where the rules name no team column.

    A row's `pilot` is then the team's number in `teams`, 1 first.
    """
    if rule.team_column is None:
        return None
    team_of = {p.number: p.team(rule.team_column) for p in pilots}
    members: dict[str, list[Standing]] = defaultdict(list)
    for row in overall.rows:
        if team_of.get(row.pilot):
            members[team_of[row.pilot]].append(row)
    teams = [_team_line(name, rows, rule, overall) for name, rows in members.items()]
    teams.sort(key=lambda team: (team.key, team.name))
    ranks = competition_ranks([team.key for team in teams])
    return StandingsTable(
        title="Teams",
        rows=tuple(
            replace(team.row, rank=rank, pilot=index)
            for index, (rank, team) in enumerate(
                zip(ranks, teams, strict=True), start=1
            )
        ),
        by=overall.by,
        unit=overall.unit,
        best=overall.best,
        teams={team.name: team.pilots for team in teams},
        members={name: len(rows) for name, rows in members.items()},
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _TeamLine:
    """One team with what counts for it."""

    name: str
    key: tuple[Fraction, ...]
    """To sort by, best first."""
    row: Standing
    pilots: tuple[int, ...]


def _team_line(
    name: str, rows: Sequence[Standing], rule: StandingsRule, overall: StandingsTable
) -> _TeamLine:
    result, by_task = None, dict[int, int]()
    if overall.by == "result":
        own, best = team_sum(rows, rule)
        key, total = own.key(overall.best), 0
        result = None if own.none else Exact(own.value)
    else:
        best = sorted(rows, key=lambda r: -r.total)[: rule.team_size]
        total = sum(row.total for row in best)
        key = (Fraction(-total),)
        for row in best:
            for task, score in row.tasks.items():
                by_task[task] = by_task.get(task, 0) + score
    return _TeamLine(
        name=name,
        key=key,
        row=Standing(rank=1, pilot=0, total=total, tasks=by_task, result=result),
        pilots=tuple(row.pilot for row in best),
    )
