"""`sandtail rules`: print a rule book for the briefing."""

import argparse
from typing import Any

from scorer.cli.screen import say, screen, table
from scorer.event.rules_reader import book_names, describe, load_book


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "rules",
        help="print a rule book: every value, what it means, where it comes from",
        description="Print a rule book: every value, what it means, where it comes from.",
    )
    own.add_argument("book", nargs="?", metavar="BOOK", help=", ".join(book_names()))
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Print one book, or the list of books."""
    if given.book is None:
        for name in book_names():
            book = load_book(name)
            say(f"{name}: {book.title}. {book.about}")
        return 0
    book = load_book(given.book)
    say(f"{book.title}\n{book.about}\n")
    columns = (
        ("Rule", "left"),
        ("Value", "wrap"),
        ("Meaning", "wrap"),
        ("Source", "wrap"),
    )
    screen.print(table("", columns, describe(book)))
    if book.unset:
        say("The event must answer for itself: " + ", ".join(book.unset))
    return 0
