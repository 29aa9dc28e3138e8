"""From an event to its results: one pure function.

The order of work: marks → result → metre penalties the losing way → groups → rank →
points → task-point penalties → event-point penalties → standings.
"""

from collections import Counter, defaultdict, deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor

from scorer.event import matters
from scorer.event.matter import Matter, in_order, with_acceptances
from scorer.event.model import (
    Event,
    Flight,
    PenaltyUnit,
    Task,
    TaskState,
)
from scorer.event.rulebook import COMPLAINT_TIME, RuleBook, Until
from scorer.event.task_kinds import TASK_KINDS
from scorer.facts import Fact, fact, inner, words
from scorer.geodesy.site import Site
from scorer.progress import Control, undisturbed
from scorer.scoring.amounts import unusual
from scorer.scoring.by_result import add_up, without_points
from scorer.scoring.check_in import of_roster
from scorer.scoring.decided import with_decisions
from scorer.scoring.entered import Entered
from scorer.scoring.flight import FlightScore
from scorer.scoring.helpers import Helpers
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.penalties import ADDED, rule_on
from scorer.scoring.results import Charge, Results, TaskResult
from scorer.scoring.safety import unsafe
from scorer.scoring.slipped import stacked
from scorer.scoring.standings import class_standings, standings, team_standings
from scorer.scoring.turn import FlightTurn, key_of_event
from scorer.words.voice import Voice


def score(
    event: Event,
    executor: Executor | None = None,
    *,
    control: Control | None = None,
    keep: Keep = NOTHING_KEPT,
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
    keep : Keep, optional
        What was found before, by content; takes up what is found now.  The results do
        not depend on it.

    Returns
    -------
    Results
        The same event gives the same results, to the last bit.

    Raises
    ------
    ScorerError
        The site cannot be made ready (terrain, reference system), or the executor does
        nothing for ten minutes.
    Cancelled
        The control asked to stop.
    """
    with undisturbed():
        helpers = None if executor is None else Helpers(executor)
        return _score(event, helpers, control or Control(), keep)


def _score(
    event: Event, executor: Helpers | None, control: Control, keep: Keep
) -> Results:
    site = Site.of(event)
    given = key_of_event(event, keep)
    turns = (FlightTurn(event, f, site, keep=keep, given=given) for f in event.flights)
    parts = _in_turn(deque(turns), executor, control, keep)
    tasks = with_decisions([t for part in parts for t in part.tasks], event)
    charges = tuple(
        c for flight in event.flights for c in _event_charges(flight, event.book)
    )
    ranked = [pilot for pilot in event.pilots if pilot.competes]
    overall = standings(
        tasks, ranked, _event_penalties(tasks, charges), event.book.standings
    )
    return Results(
        event=event.name,
        book=event.book.name,
        tasks=tasks,
        findings=tuple(f for part in parts for f in part.findings),
        standings=overall,
        standings_rule=event.book.standings,
        event_charges=charges,
        class_standings=class_standings(overall, ranked)
        if event.book.standings.by_class or event.book.points.by_class
        else (),
        team_standings=team_standings(overall, ranked, event.book.standings),
        voice=Voice.of(event),
        flights=tuple(part.summary for part in parts),
        matters=_found(event, site, parts, charges, keep, given),
        entered=Entered.of(event),
    )


AHEAD = 2
"""So many flights more have their logs looked at while one is put together: enough that
nobody who works on logs waits."""


def _in_turn(
    waiting: deque[FlightTurn],
    executor: Helpers | None,
    control: Control,
    keep: Keep,
) -> list[FlightScore]:
    """Score flight after flight, the logs of those to come looked at meanwhile."""

    def meanwhile() -> None:
        unknown = [] if executor is None else [t for t in waiting if t.known is None]
        for turn in unknown[:AHEAD]:
            turn.begin(executor)
        keep.settle()  # others work meanwhile, and no more than one flight waits here

    parts: list[FlightScore] = []
    while waiting:
        turn = waiting.popleft()
        try:
            turn.begin(executor)
            parts.append(turn.score(control, meanwhile))
        except BaseException:
            for own in (turn, *waiting):
                own.drop()
            raise
    keep.settle()
    return parts


def _event_charges(flight: Flight, book: RuleBook) -> list[tuple[int, Charge]]:
    """Penalties imposed on the event as a whole: rulings without a task."""
    rulings = [r for r in flight.rulings if r.task is None]
    return [
        (ruling.pilot, charge)
        for ruling in rulings
        if ruling.decision in ADDED
        for charge in rule_on((), [ruling], flight.id, book)[1]
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


def _found(  # noqa: PLR0917 - what was set down, what came of it, what is kept
    event: Event,
    site: Site,
    parts: Sequence[FlightScore],
    charges: Sequence[tuple[int, Charge]],
    keep: Keep,
    given: str,
) -> tuple[Matter, ...]:
    """All matters, those that block first, then in the order of the event.

    `given` is the key of all of the event but its flights.
    """
    tasks = [task for part in parts for task in part.tasks]
    own = [*_unset(event), *_without_points(tasks, charges)]
    own += event.matters
    own += keep.once("roster", event.pilots, lambda: [*of_roster(event.pilots)])
    own += unusual(event)
    own += stacked(event)
    own += [matter for task in event.tasks for matter in _without_area(event, task)]
    own += _classes(event)
    found = [
        *site.cautions,
        *_unsafe(event, site, keep, given),
        *own,
        *(warning for part in parts for warning in part.matters),
    ]
    return in_order(with_acceptances(dict.fromkeys(found), event.acceptances))


def _unsafe(event: Event, site: Site, keep: Keep, given: str) -> tuple[Matter, ...]:
    """Tell what to look at before flying: where the sun stands takes a while."""
    if not given:
        return unsafe(event, site)
    parts = given, event.tasks
    return keep.newest("unsafe", event.name, parts, lambda: unsafe(event, site))


def _without_points(
    tasks: Sequence[TaskResult], charges: Sequence[tuple[int, Charge]]
) -> list[Matter]:
    """Tell what does not fit together where the event gives no points."""
    if not without_points(tasks):
        return []
    says = fact("points-penalty-without-points")
    told = [
        Matter(
            kind=matters.RULES,
            flight=task.flight,
            task=task.task,
            pilots=(own.pilot,),
            says=says,
        )
        for task in tasks
        for own in task.scores
        if own.task_penalty or own.event_penalty
    ]
    told += [Matter(kind=matters.RULES, pilots=(p,), says=says) for p, _ in charges]
    if not add_up(tasks):
        told.append(Matter(kind=matters.RULES, says=fact("results-do-not-add-up")))
    return told


def _classes(event: Event) -> Iterator[Matter]:
    """Tell who is ranked alone where classes are scored by themselves: often a slip."""
    if not any(event.book_of(task).points.by_class for task in event.tasks):
        return
    members = defaultdict(list)
    for pilot in event.pilots:
        members[pilot.class_name].append(pilot.number)
    for name, own in members.items():
        says = fact("class-of-one", name=words(name)) if name else fact("without-class")
        if not name or len(own) == 1:
            yield Matter(kind=matters.CLASS, pilots=tuple(own), says=says)


def _without_area(event: Event, task: Task) -> list[Matter]:
    """Tell where the floor ends at the scoring area, and the task has none."""
    floor = event.book_of(task).floor
    ends = floor.height_m is not None and floor.until is Until.SCORING_AREA
    if not ends or task.scoring_areas or task.state is not TaskState.FLOWN:
        return []
    says = fact("no-scoring-area")
    return [Matter(kind=matters.RULES, flight=task.flight, task=task.number, says=says)]


def _unset(event: Event) -> list[Matter]:
    """Ask for what the rule book leaves to the event, where a task needs the answer."""
    return [
        Matter(
            kind=matters.RULES,
            says=fact(
                "rule-unanswered", rule=event.book.named(key), means=inner(_means(key))
            ),
        )
        for key in unanswered(event)
    ]


def unanswered(event: Event) -> tuple[str, ...]:
    """Return the rules that wait for an answer and matter to some task."""
    return tuple(key for key in event.book.asked if _matters(event, key))


def _matters(event: Event, key: str) -> bool:
    """Tell whether any task goes without an answer to this key, and needs one."""
    tasks = event.tasks
    if key == COMPLAINT_TIME:  # of the event, whatever its tasks say
        return True
    if key.startswith("declarations."):
        return any(
            TASK_KINDS[t.kind].declared and key in event.book_of(t).unset for t in tasks
        )
    if key.startswith("floor."):  # without a minimum height nothing is asked about it
        books = [event.book_of(t) for t in tasks] or [event.book]
        return any(b.floor.height_m is not None and key in b.unset for b in books)
    return not tasks or any(key in event.book_of(t).unset for t in tasks)


UNANSWERED = {
    "within": fact("unanswered-within"),
    "complaint_time": fact("unanswered-complaint-time"),
    "protest_time": fact("unanswered-protest-time"),
    "ties": fact("unanswered-ties"),
}
"""What holds while a rule is not answered, by the name of its key."""


def _means(key: str) -> Fact:
    name = key.split(".")[1]
    if "penalty" in name:
        return fact("unanswered-penalty")
    return UNANSWERED.get(name, fact("unanswered-other"))
