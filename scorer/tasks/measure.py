"""Measure one pilot's result in one task."""

import math
from dataclasses import replace
from zoneinfo import ZoneInfo

from scorer.errors import ScorerError
from scorer.event import matters
from scorer.event.model import TaskState
from scorer.event.moments import Clock
from scorer.facts import Fact, fact, inner, parts, term
from scorer.tasks.base import Evidence, Measured, Quantity
from scorer.tasks.kinds import KINDS
from scorer.tasks.possible import check_order, impossible
from scorer.tasks.settings import read_settings
from scorer.tasks.work import NoResult, Work


def measure(evidence: Evidence) -> Measured:
    """Return what a pilot's evidence gives in a task.

    Never raises for bad evidence: an entry that cannot be used or a geometry that is
    impossible gives no result, a reason, and a matter where somebody can put it right.
    """
    kind = KINDS[evidence.task.kind]
    work = Work(evidence, {})
    if evidence.task.state is not TaskState.FLOWN:
        return work.measured(None, fact(f"task-{evidence.task.state}"))
    clock = Clock(evidence.day, ZoneInfo(evidence.time_zone), evidence.task.periods)
    try:
        work.settings = read_settings(evidence.task.settings, kind.settings, clock)
        work.say(
            fact(
                "task-measured",
                name=inner(kind.title),
                about=inner(kind.about),
                best=term(kind.best),
            )
        )
        quantity = kind.measure(work)
        check_order(work, kind.roles)
        return _finite(work, quantity)
    except NoResult as none:
        impossible(work, kind.roles)
        _ask(work, none.reason)
        return work.measured(None, none.reason)
    except ScorerError as error:
        _ask(work, error.says, always=True)
        return work.measured(None, error.says)


LACKING = frozenset(
    {
        "time-unknown",
        "launch-time-unknown",
        "launch-unknown",
        "launch-place-unknown",
        "launch-not-in-log",
        "landing-unknown",
        "no-stage-landed",
        "height-unknown",
        "way-unknown",
        "mark-without-bearing",
        "mark-without-numbers",
        "mark-without-log",
        "mark-outside-log",
        "log-without-marks",
        "log-ends-before-mark",
        "no-log-to-measure",
        "no-finite-number",
        "no-launch-period",
        "race-without-area",
        "area-never-valid",
    }
)
"""Reasons that are no act of the pilot: something was not entered, or not set."""


def _ask(work: Work, reason: Fact, *, always: bool = False) -> None:
    """Ask for what is lacking, so that nobody loses a result by it unseen."""
    if always or any(part.kind in LACKING for part in parts(reason)):
        work.matters = [m for m in work.matters if m.says != reason]
        work.warn(fact("result-lost", why=inner(reason)), matters.RESULT_LOST)


def _finite(work: Work, quantity: Quantity) -> Measured:
    """Refuse a value that no rank can be given to."""
    if not math.isfinite(quantity.value):
        reason = fact("no-finite-number")
        _ask(work, reason)
        return work.measured(None, reason)
    measured = work.measured(quantity)
    return measured if math.isfinite(quantity.sigma) else replace(measured, sigma=None)
