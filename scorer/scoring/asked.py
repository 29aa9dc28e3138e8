"""The questions about an event's rules, answered: what each says, costs and warns of.

Everything comes from the rule book and the engine's own penalty functions, so that what
is shown before an answer is what will be charged after it.
"""

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from scorer.checks.charge import GUARD, charge
from scorer.event.model import Units
from scorer.event.questions import (
    QUESTIONS,
    BreachMeasure,
    Question,
    QuestionPart,
    variable,
)
from scorer.event.rulebook import UNITS_SI, Penalties, RuleBook
from scorer.facts import Fact, Value, fact, height, inner, several, span
from scorer.facts import distance as far
from scorer.scoring.safety import doubts_of
from scorer.words.catalogue import has

FT = UNITS_SI["ft"]
SHARES = (0.9, 2 / 3, 0.5)
"""Of a limit, by which cases are worked (our choice)."""
DEPTHS = {
    Units.METRIC: (10.0, 50.0, 200.0),
    Units.IMPERIAL: (30 * FT, 150 * FT, 600 * FT),
}
"""Metres inside, round numbers to whoever reads them."""
STEP_M = {Units.METRIC: 0.1, Units.IMPERIAL: FT}
"""Heights of cases are whole numbers of it, but for half the minimum."""
LATE_S = (60.0, 5 * 60.0, 20 * 60.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One worked case: what is found, by how much it is beyond, what it costs."""

    found: Value | None
    over: Value | None
    costs: Fact
    remark: Fact | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One question as it stands in a book."""

    question: Question
    waits: bool
    """Whether nothing becomes official before it is answered."""
    left: bool
    """Whether it is not answered: one that no task asks for holds nothing up."""
    answer: Fact
    """The answer in few words."""

    @property
    def part(self) -> str:
        """Message of the heading it stands under."""
        return "questions-asked" if self.waits else f"questions-{self.question.part}"

    @property
    def title(self) -> str:
        """Message of the question."""
        return f"question-{self.question.name}"


def asked(book: RuleBook, needed: Collection[str] | None = None) -> tuple[Asked, ...]:
    """Return every question with its answer, those that wait for the event first.

    `needed` are the rules that tasks wait for; None = all that the book leaves open.
    """
    order, rules = list(QuestionPart), set(book.asked if needed is None else needed)
    found = (
        Asked(
            question=q,
            waits=bool(rules & set(q.rules)),
            left=q.waits(book),
            answer=answer_of(q, book),
        )
        for q in QUESTIONS
    )
    return tuple(
        sorted(found, key=lambda a: (not a.waits, order.index(a.question.part)))
    )


def answer_of(question: Question, book: RuleBook) -> Fact:
    """State the answer to a question in few words."""
    if question.waits(book):
        return fact("answer-waits")
    kind = f"answer-{question.name}"
    if question.keys and book.held(question.keys[0])[0] in (None, ()):
        kind = f"{kind}-none" if has(f"{kind}-none") else kind
    values = {variable(key): book.answer(key) for key in question.keys}
    for key in question.keys[1:]:
        without = f"{kind}-without-{variable(key)}"
        if book.held(key)[0] in (None, ()) and has(without):
            kind = without
    if question.penalty:
        values["cost"] = _cost(penalties_of(question, book))
    return Fact(kind, tuple(values.items()))


def penalties_of(question: Question, book: RuleBook) -> Penalties:
    """Return what a breach costs by the book; none = officials decide."""
    held: Penalties = book.held(question.penalty)[0] if question.penalty else ()
    return held


def _cost(penalties: Penalties) -> Value:
    if not penalties:
        return inner(fact("officials-decide"))
    return several(inner(one.says) for one in penalties)


def worked(
    question: Question, book: RuleBook, units: Units = Units.METRIC
) -> tuple[Case, ...]:
    """Return cases with what each costs, by the functions that charge infringements."""
    penalties = penalties_of(question, book)
    if not question.penalty:
        return ()
    if question.worked is BreachMeasure.NONE:
        return (Case(found=None, over=None, costs=_charged(penalties, 0.0)),)
    return tuple(_cases(question, book, penalties, units))


def _cases(
    question: Question, book: RuleBook, penalties: Penalties, units: Units
) -> Iterator[Case]:
    if question.worked is BreachMeasure.LATE:
        yield from (_case(penalties, s, None, span(s)) for s in LATE_S)
    elif question.worked is BreachMeasure.DEEP:
        yield from (_case(penalties, m, None, height(m)) for m in DEPTHS[units])
    elif limit := book.held(question.keys[0])[0]:
        low = question.worked is BreachMeasure.UNDER
        cases = _low(limit, penalties, units) if low else _short(limit, penalties)
        yield from cases


def _low(limit_m: float, penalties: Penalties, units: Units) -> Iterator[Case]:
    step = STEP_M[units]
    for share in SHARES:
        half = share == SHARES[-1]
        found = (
            limit_m * share
            if half
            else math.floor(limit_m * share / step + GUARD) * step
        )
        remark = fact("worked-half") if half else None
        over = limit_m - found
        yield _case(penalties, over, height(found), height(over), remark)


def _short(limit_m: float, penalties: Penalties) -> Iterator[Case]:
    for share in SHARES:
        over = limit_m * (1 - share)
        yield _case(penalties, over, far(limit_m * share), far(over))


def _case(
    penalties: Penalties,
    excess: float,
    found: Value | None,
    over: Value,
    remark: Fact | None = None,
) -> Case:
    return Case(
        found=found, over=over, costs=_charged(penalties, excess), remark=remark
    )


def _charged(penalties: Penalties, excess: float) -> Fact:
    if not penalties:
        return fact("officials-decide")
    amounts = charge(penalties, excess)
    if not amounts:
        return fact("worked-nothing")
    return fact("all-of", parts=several(inner(amount.says) for amount in amounts))


def warnings(question: Question, book: RuleBook) -> tuple[Fact, ...]:
    """Return what to look at before the answer is recorded."""
    if question.name == "floor":
        return tuple(doubts_of(book))
    return ()
