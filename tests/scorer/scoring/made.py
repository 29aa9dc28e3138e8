"""Small made fields of pilots for the scoring tests."""

from scorer.event.finding import Amount
from scorer.event.model import PenaltyUnit, Task
from scorer.event.task_kinds import TaskKind
from scorer.facts import fact, words
from scorer.scoring.assemble import ScoreBasis
from scorer.scoring.results import Charge, RulingState
from scorer.tasks.base import Measured

TASK = Task(number=1, flight="f1", kind="FIN")


def kind(best="smallest", unit="m"):
    return TaskKind(
        code="FIN",
        unit=unit,
        best=best,
        measure=lambda _: Measured(value=None),
        example="",
    )


def charge(amount, unit, *, counts=True):
    return Charge(
        finding="",
        amount=Amount(amount=amount, unit=PenaltyUnit(unit)),
        counts=counts,
        ruling=RulingState.IMPOSE,
        rule=fact("rule-in-words", text=words("r")),
    )


def entry(pilot, value, *charges, flew=True, sigma=0.02, settled=True):
    return ScoreBasis(
        pilot=pilot,
        flew=flew,
        measured=Measured(value=value, sigma=sigma),
        settled=settled,
        findings=(),
        charges=charges,
        marks=(),
    )
