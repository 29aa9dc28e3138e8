"""Standings where a rule book gives no points: by the sum of results.

A long-distance race flown in stages, say.  Results add up only where all tasks have one
unit and one best direction; a task without a result adds nothing where the greatest is
best, and stands behind all complete ones where the smallest is.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from scorer.event.model import Pilot
from scorer.event.rulebook import StandingsRule
from scorer.rounding import Exact, exact
from scorer.scoring.ranking import competition_ranks
from scorer.scoring.results import Standing, StandingsTable, TaskResult

GREATEST = "greatest"


def without_points(tasks: Sequence[TaskResult]) -> bool:
    """Tell whether there are flown tasks, and none of them gives points."""
    flown = [task for task in tasks if task.state == "flown"]
    return bool(flown) and all(task.formula.method == "none" for task in flown)


def add_up(tasks: Sequence[TaskResult]) -> bool:
    """Tell whether the results of these tasks may be added up."""
    return len({(t.unit, t.best) for t in tasks if t.state == "flown"}) == 1


@dataclass(frozen=True, slots=True, kw_only=True)
class ResultSum:
    """Results of one pilot or team that count, added up."""

    value: Fraction
    missing: int
    """Results that should be there and are not."""
    none: bool
    """There is not one result."""

    def key(self, best: str) -> tuple[Fraction, ...]:
        """Return what to sort by, best first."""
        if best == GREATEST:
            return Fraction(self.none), -self.value
        return Fraction(self.none), Fraction(self.missing), self.value


def sum_of(
    results: Iterable[Fraction], wanted: int, best: str
) -> tuple[ResultSum, int]:
    """Add up the best so many results; also return how many those were."""
    ordered = sorted(results, reverse=best == GREATEST)[:wanted]
    value = sum(ordered, Fraction(0))
    found = len(ordered)
    return ResultSum(value=value, missing=wanted - found, none=not ordered), found


def standings_by_result(
    tasks: Sequence[TaskResult],
    pilots: Sequence[Pilot],
    event_penalties: Mapping[int, int],
    rule: StandingsRule,
) -> StandingsTable:
    """Rank pilots by their results added up; `add_up` must hold of the tasks."""
    flown = [task for task in tasks if task.state == "flown"]
    best, unit = flown[0].best, flown[0].unit
    wanted = min(rule.best_of or len(flown), len(flown))
    entries = []
    for pilot in pilots:
        results = {
            task.task: exact(score.result)
            for task in flown
            if (score := task.score_of(pilot.number)) and score.result is not None
        }
        own, count = sum_of(results.values(), wanted, best)
        sign = -1 if best == GREATEST else 1
        order = sorted(results, key=lambda task: (sign * results[task], task))
        row = Standing(
            rank=1,
            pilot=pilot.number,
            total=0,
            tasks=dict.fromkeys((task.task for task in flown), 0),
            event_penalty=event_penalties.get(pilot.number, 0),
            counted=tuple(sorted(order[:count])),
            result=None if own.none else Exact(own.value),
            results={task: Exact(value) for task, value in results.items()},
        )
        entries.append((own.key(best), row))
    entries.sort(key=lambda entry: (entry[0], entry[1].pilot))
    ranks = competition_ranks([key for key, _ in entries])
    return StandingsTable(
        title="Overall",
        by="result",
        unit=unit,
        best=best,
        rows=tuple(row.at(rank) for rank, (_, row) in zip(ranks, entries, strict=True)),
    )


def team_sum(
    rows: Sequence[Standing], rule: StandingsRule
) -> tuple[ResultSum, list[Standing]]:
    """Add up the results of a team's best pilots; return the pilots that count.

    Best is who stands first: where the smallest is best, a pilot with all results goes
    before one who lacks some, whose sum is smaller for it.
    """
    having = [row for row in rows if row.result is not None]
    counted = sorted(having, key=lambda row: (row.rank, row.pilot))[: rule.team_size]
    flown = len(rows[0].tasks)
    wanted = min(rule.best_of or flown, flown)
    members = rule.team_size or len(rows)
    own = ResultSum(
        value=sum((exact(row.result or 0) for row in counted), Fraction(0)),
        missing=members * wanted - sum(len(row.counted) for row in counted),
        none=not counted,
    )
    return own, counted
