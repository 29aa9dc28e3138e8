"""What the Rules page works on: an answer being given, read before it is recorded."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from gui.refusal import plainly
from gui.snapshot import Snapshot
from scorer.errors import Fault, ScorerError, ended_once
from scorer.event.answering import (
    LEFT,
    Costs,
    costs_of,
    plain_costs,
    plain_of,
    typed,
    with_answers,
)
from scorer.event.build import build
from scorer.event.model import Event
from scorer.event.questions import Question
from scorer.event.rulebook import COMPLAINT_TIME, RuleBook, rule_of
from scorer.event.rules_reader import NONE, override
from scorer.ledger.api import Draft
from scorer.ledger.corrections import settings_with
from scorer.scoring.asked import penalties_of
from scorer.units import Unreadable
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer as typed, read: what would stand in the event, or what is wrong."""

    plain: Mapping[str, Any]
    """By `section.key`; only what differs from today, and what waits for an answer."""
    paragraph: str
    changed: bool
    faults: Mapping[str, str]
    """By `section.key`, in words."""


def shown(question: Question, event: Event) -> dict[str, str]:
    """Return what stands in the gaps of a question."""
    return {key: typed(key, event.book, event.units) for key in question.keys}


def paragraph_of(question: Question, book: RuleBook) -> str:
    """Return the event's own paragraph of a question: that of its first rule."""
    return next(
        (book.paragraphs[k] for k in question.rules if k in book.paragraphs), ""
    )


def read_answer(
    question: Question,
    event: Event,
    texts: Mapping[str, str],
    costs: Costs,
    *,
    bare: str,
    paragraph: str,
) -> Answer:
    """Read what was typed; what is wrong is told at its gap."""
    book, before = event.book, shown(question, event)
    plain: dict[str, Any] = {}
    faults: dict[str, str] = {}
    for key in question.keys:
        text = texts.get(key, "").strip()
        if text in {before[key], "" if before[key] == NONE else None} and (
            key not in book.asked
        ):
            continue
        try:
            plain[key] = _read(key, text, event)
        except Unreadable as fault:
            faults[key] = plainly(fault)
    if question.penalty:
        same = costs == costs_of(penalties_of(question, book))
        if not same or question.penalty in book.asked:
            try:
                plain[question.penalty] = plain_costs(costs, bare)
            except Unreadable as fault:
                faults[question.penalty] = plainly(fault)
    own = paragraph.strip()
    changed = bool(plain or faults) or own != paragraph_of(question, book)
    return Answer(plain=plain, paragraph=own, changed=changed, faults=faults)


def _read(key: str, text: str, event: Event) -> Any:
    plain = plain_of(key, text, event.units)
    if plain is not LEFT:
        if key == COMPLAINT_TIME and plain == NONE:
            raise Unreadable(text, Voice().word("answer-needed"))
        return plain
    _, how, default = rule_of(key)
    if key == COMPLAINT_TIME or (
        how.choices and default is None and _waits(key, event)
    ):
        raise Unreadable("", Voice().word("answer-needed"))
    return NONE if default in (None, ()) else LEFT


def _waits(key: str, event: Event) -> bool:
    return key in event.book.asked


def book_with(answer: Answer, book: RuleBook) -> RuleBook:
    """Return the book that an answer would make, to work cases by."""
    return override(book, with_answers({}, answer.plain), "", lambda *_: None)


def draft_of(
    question: Question, answer: Answer, snapshot: Snapshot
) -> tuple[Draft, list[str]]:
    """Return what records an answer, and the faults it would bring into the event."""
    state = snapshot.state
    named = dict.fromkeys(question.rules, answer.paragraph)
    before = paragraph_of(question, snapshot.event.book)
    paragraphs = named if answer.paragraph != before else {}
    rules = with_answers(state.settings.get("rules", {}), answer.plain, paragraphs)
    draft = settings_with(state, "rules", rules)
    return draft, new_faults(snapshot, {**state.settings, "rules": rules})


def new_faults(snapshot: Snapshot, settings: Mapping[str, Any]) -> list[str]:
    """List the faults that other settings would bring into the event."""
    raw = replace(snapshot.state.raw(lambda _: b""), settings=settings)
    before = {_bare(fault) for fault in snapshot.faults}
    try:
        faults = build(raw)[1]
    except ScorerError as error:
        return [str(error)]
    return [_bare(fault) for fault in faults if _bare(fault) not in before]


def _bare(fault: Fault) -> str:
    told = f"“{fault.found}” does not fit. It has to be {fault.allowed}. {fault.remedy}"
    return ended_once(told)
