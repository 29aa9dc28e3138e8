"""From an event to its results: one pure function.

The order of work: marks → result → metre penalties the losing way → groups → rank →
points → task-point penalties → event-point penalties → standings.
"""

from collections import Counter
from collections.abc import Sequence
from concurrent.futures import Executor

from scorer.event.finding import Warning_, WarningKind
from scorer.event.model import (
    Decision,
    Event,
    Flight,
    PenaltyUnit,
    Task,
    TaskKind,
    TaskState,
)
from scorer.event.rulebook import Until, rules_of
from scorer.geodesy.site import Site
from scorer.progress import Control
from scorer.scoring.by_result import add_up, without_points
from scorer.scoring.flight import FlightScore, score_flight
from scorer.scoring.penalties import rule_on
from scorer.scoring.results import Charge, Results, TaskResult
from scorer.scoring.standings import class_standings, standings, team_standings


def score(
    event: Event, executor: Executor | None = None, *, control: Control | None = None
) -> Results:
    """Compute everything that follows from what officials set down.

    Parameters
    ----------
    event : Event
        Frozen data, logs included.
    executor : concurrent.futures.Executor, optional
        Reads the logs: threads or processes of this machine, or those of a cluster.
        None = here, one after the other.  The results do not depend on it.
    control : Control, optional
        Told of each batch of logs; may cancel between two.

    Returns
    -------
    Results
        The same event gives the same results, to the last bit.

    Raises
    ------
    ScorerError
        The site cannot be made ready (terrain, reference system).
    Cancelled
        The control asked to stop.
    """
    site = Site.of(event)
    watch = control or Control()
    parts = [
        score_flight(event, flight, site, executor, watch) for flight in event.flights
    ]
    tasks = tuple(task for part in parts for task in part.tasks)
    charges = tuple(c for flight in event.flights for c in _event_charges(flight))
    overall = standings(
        tasks, event.pilots, _event_penalties(tasks, charges), event.book.standings
    )
    return Results(
        event=event.name,
        book=event.book.name,
        tasks=tasks,
        findings=tuple(f for part in parts for f in part.findings),
        standings=overall,
        standings_rule=event.book.standings,
        event_charges=charges,
        class_standings=class_standings(overall, event.pilots)
        if event.book.standings.by_class
        else (),
        team_standings=team_standings(overall, event.pilots, event.book.standings),
        flights=tuple(part.summary for part in parts),
        warnings=_warnings(event, site, parts, charges),
    )


def _event_charges(flight: Flight) -> list[tuple[int, Charge]]:
    """Penalties imposed on the event as a whole: rulings without a task."""
    rulings = [r for r in flight.rulings if r.task is None]
    return [
        (ruling.pilot, charge)
        for ruling in rulings
        if ruling.decision is Decision.IMPOSE
        for charge in rule_on((), [ruling], flight.id)[1]
    ]


def _event_penalties(
    tasks: Sequence[TaskResult], charges: Sequence[tuple[int, Charge]]
) -> Counter[int]:
    penalties: Counter[int] = Counter()
    for task in tasks:
        for own in task.scores:
            penalties[own.pilot] += own.event_penalty
    for pilot, charge in charges:
        if charge.amount.unit is PenaltyUnit.EVENT_POINTS:
            penalties[pilot] += int(charge.amount.amount)
    return penalties


def _warnings(
    event: Event,
    site: Site,
    parts: Sequence[FlightScore],
    charges: Sequence[tuple[int, Charge]],
) -> tuple[Warning_, ...]:
    """All warnings, those that block first, then in the order of the event."""
    tasks = [task for part in parts for task in part.tasks]
    own = [
        Warning_(kind=WarningKind.RULES, text=text)
        for text in (*_unset(event), *_without_points(tasks, charges))
    ]
    own += [
        Warning_(kind=WarningKind.SET_ASIDE, text=one.text) for one in event.set_aside
    ]
    own += [warning for task in event.tasks for warning in _without_area(event, task)]
    found = [
        *site.cautions,
        *own,
        *(warning for part in parts for warning in part.warnings),
    ]
    unique = list(dict.fromkeys(found))
    return tuple(sorted(unique, key=lambda warning: not warning.blocks))


def _without_points(
    tasks: Sequence[TaskResult], charges: Sequence[tuple[int, Charge]]
) -> list[str]:
    """Tell what does not fit together where the rule book gives no points."""
    if not without_points(tasks):
        return []
    where = [
        f"Task {task.task}: pilot {own.pilot}"
        for task in tasks
        for own in task.scores
        if own.task_penalty or own.event_penalty
    ]
    where += [f"The event: pilot {pilot}" for pilot, _ in charges]
    told = [
        f"{place} has a penalty in points, but the rule book gives none "
        "(points.method = none): it changes nothing. Rule metres of result, or no "
        "result, instead."
        for place in where
    ]
    if not add_up(tasks):
        kinds = ", ".join(f"{t.task} ({t.unit}, {t.best} is best)" for t in tasks)
        told.append(
            f"The rule book gives no points, and results of unlike tasks do not add up: "
            f"{kinds}. There are no standings over them; set points.method."
        )
    return told


def _without_area(event: Event, task: Task) -> list[Warning_]:
    """Tell where the floor ends at the scoring area, and the task has none."""
    floor = event.book_of(task).floor
    ends = floor.height_m is not None and floor.until is Until.SCORING_AREA
    if not ends or task.scoring_areas or task.state is not TaskState.FLOWN:
        return []
    text = (
        "floor.until = scoring-area, but the task names no scoring area: the floor is "
        "taken to hold until the landing, and nothing under it is certain. Give the task "
        'a scoring_area, or rules.floor.height = "none".'
    )
    return [
        Warning_(
            kind=WarningKind.RULES, flight=task.flight, task=task.number, text=text
        )
    ]


DECLARED = frozenset({TaskKind.PDG, TaskKind.FON})
"""Kinds in which pilots declare goals."""


def _unset(event: Event) -> list[str]:
    """Ask for what the rule book leaves to the event, where a task needs the answer."""
    return [
        f'The rule book "{event.book.name}" leaves {key} to the event, and event.toml '
        f"does not set it: {_unset_means(key)}. {_how_to_set(key)}"
        for key in event.book.unset
        if _matters(event, key)
    ]


def _matters(event: Event, key: str) -> bool:
    """Tell whether any task goes without an answer to this key, and needs one."""
    tasks = event.tasks
    if key.startswith("declarations."):
        return any(t.kind in DECLARED and key in event.book_of(t).unset for t in tasks)
    return not tasks or any(key in event.book_of(t).unset for t in tasks)


def _unset_means(key: str) -> str:
    section, name = key.split(".")
    if "penalty" in name:
        return "findings of it wait for a ruling with an amount of its own"
    if name == "within":
        return "it holds everywhere for now"
    if section == "publication":
        until = {"complaint_time": "official", "protest_time": "final"}
        return f"when results become {until.get(name, 'final')} is open"
    if name == "ties":
        return "equal results share the better rank for now"
    return "it is not checked"


def _how_to_set(key: str) -> str:
    """Say what to write, where and how."""
    section, name = key.split(".")
    _, how, default = rules_of(section)[name]
    none = ""
    if default in (None, ()):
        none = ', or "none" if there is no such rule'
    if name == "within":
        none = ', or "none" for everywhere'
    example = EXAMPLES.get(how.kind, " or ".join(f'"{c}"' for c in how.choices))
    return f"Write {name} = {example} under [rules.{section}]{none}."


EXAMPLES = {
    "penalties": '{ unit = "task points", base = 100 } (see the event\'s own rules)',
    "length": '"1 km" (say)',
    "duration": '"2 h" (say)',
    "name": '"name of a place"',
}
