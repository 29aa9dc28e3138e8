"""`sandtail rules`: print a rule book, or an event's own rules, for the briefing."""

import argparse
from pathlib import Path
from typing import Any

from scorer.cli.screen import say, screen, table
from scorer.cli.target import HELP, load
from scorer.event.model import Task
from scorer.event.rulebook import RuleBook
from scorer.event.rules_reader import book_names, describe, load_book
from scorer.ledger.engine import is_url


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "rules",
        help="print a rule book: every value, what it means, where it comes from",
        description="Print a shipped rule book, or the rules that an event is scored by "
        "with its own values put in: every value, what it means, where it comes from.",
    )
    names = ", ".join(book_names())
    own.add_argument("book", nargs="?", metavar="BOOK", help=f"{names}; or an {HELP}")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Print one book, or the list of books."""
    if given.book is None:
        for name in book_names():
            book = load_book(name)
            say(f"{name}: {book.title}. {book.about}")
        return 0
    if given.book in book_names() or not _is_event(given.book):
        _print(load_book(given.book))
        return 0
    event = load(given.book)
    say(f"{event.name}: the rules it is scored by\n")
    _print(event.book)
    for task in event.tasks:
        if task.book is not None and task.book != event.book:
            _print_differences(task, event.book)
    return 0


def _is_event(target: str) -> bool:
    return is_url(target) or Path(target).exists()


COLUMNS = (
    ("Rule", "left"),
    ("Value", "wrap"),
    ("Meaning", "wrap"),
    ("Source", "wrap"),
)


def _print(book: RuleBook) -> None:
    say(f"{book.title}\n{book.about}\n")
    screen.print(table("", COLUMNS, describe(book)))
    if book.unset:
        say("The event must answer for itself: " + ", ".join(book.unset))


def _print_differences(task: Task, book: RuleBook) -> None:
    """Print the rules that a task has of its own."""
    rows = [row for row in describe(task.book or book) if row not in describe(book)]
    say(f"\nTask {task.number} ({task.kind}) has rules of its own:")
    screen.print(table("", COLUMNS, rows))
