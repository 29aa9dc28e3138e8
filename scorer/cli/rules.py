"""`sandtail rules`: print a rule book, or an event's own rules, for the briefing."""

import argparse
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from scorer.cli.screen import say, screen, table
from scorer.event.model import Event, Task
from scorer.event.moments import EventTime
from scorer.event.rulebook import RuleBook
from scorer.event.rules_reader import book_names, load_book
from scorer.facts import fact, words
from scorer.words.rules import Row, describe
from scorer.words.voice import Voice

if TYPE_CHECKING:
    from scorer.ledger.replay import State


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "rules",
        description="Print a shipped rule book, or the rules that an event is scored by "
        "with its own values put in: every value, what it means, where it comes from.",
    )
    names = ", ".join(book_names())
    own.add_argument("book", nargs="?", metavar="BOOK", help=f"{names}; or an event")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Print one book, or the list of books."""
    if given.book is None:
        for name in book_names():
            book = load_book(name)
            say(f"{name}: {book.title}. {book.about}")
        return 0
    if given.book in book_names():
        _print(load_book(given.book), Voice())
        _caution(Voice())
    else:
        _caution(_print_event(given.book))
    return 0


def _caution(voice: Voice) -> None:
    say("\n" + voice.word("caution-rules") + "\n" + voice.word("caution-low"))


def _print_event(target: str) -> Voice:
    """Print an event's own rules; what reads events is loaded for this alone."""
    from scorer.cli.target import is_event, load_with_state  # noqa: PLC0415

    if not is_event(target):
        load_book(target)  # refuses, and names the books there are
    event, state, _ = load_with_state(target)
    voice = Voice.of(event)
    say(voice.say(fact("rules-scored-by", event=words(event.name))) + "\n")
    answers = {} if state is None else _answers(state, event, voice)
    _print(event.book, voice, answers)
    for task in event.tasks:
        if task.book is not None and task.book != event.book:
            _print_differences(task, event.book, voice)
    return voice


def _answers(state: "State", event: Event, voice: Voice) -> dict[str, str]:
    """Return by rule who answered it, when and why, in words."""
    from scorer.ledger.answers import answered_by  # noqa: PLC0415

    zone = ZoneInfo(event.time_zone)
    return {
        key: voice.say(
            fact(
                "rule-answered-because" if entry.why else "rule-answered",
                by=words(entry.who),
                at=words(EventTime.of(entry.when, zone).stated()),
                **({"why": words(entry.why)} if entry.why else {}),
            )
        )
        for key, entry in answered_by(state).items()
    }


def _print(
    book: RuleBook, voice: Voice, answers: Mapping[str, str] = MappingProxyType({})
) -> None:
    say(f"{book.title}\n{book.about}\n")
    rows = [
        (key, value, title, f"{source}: {answers[key]}" if key in answers else source)
        for key, value, title, source in describe(book, voice)
    ]
    _table(rows, voice)


def _table(rows: Sequence[Row], voice: Voice) -> None:
    columns = (
        (voice.word("head-rule"), "wrap"),
        (voice.word("head-value"), "wrap"),
        (voice.word("head-source"), "wrap"),
        (voice.word("head-key"), "left"),
    )
    cells = [(title, value, source, key) for key, value, title, source in rows]
    screen.print(table("", columns, cells))


def _print_differences(task: Task, book: RuleBook, voice: Voice) -> None:
    """Print the rules that a task has of its own."""
    from scorer.scoring.told import title_of  # noqa: PLC0415 - loads what scores

    general = describe(book, voice)
    rows = [row for row in describe(task.book or book, voice) if row not in general]
    title = words(title_of(voice, task.number, task.kind))
    say("\n" + voice.say(fact("rules-of-task", title=title)))
    _table(rows, voice)
