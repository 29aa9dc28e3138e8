"""`sandtail verify`: recompute results, and look whether anything was altered."""

import argparse
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from scorer.cli.compute import compute
from scorer.cli.screen import say
from scorer.cli.target import HELP, checked, load_raw, shown
from scorer.errors import Fault, InputError
from scorer.event.raw import RawEvent
from scorer.facts import count, fact, words
from scorer.ledger import api
from scorer.recount.numbers import Difference
from scorer.scoring.document import to_json
from scorer.verify import read_results, verify
from scorer.words.voice import Voice


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "verify",
        description="Recompute results with a second verifier of its own arithmetic. Of an "
        "event file or database also walk the chains of entries, check the hash of every "
        "piece of evidence, and compute every publication again.",
    )
    own.add_argument("target", metavar="EVENT", help=f"{HELP}, or a results.json")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Verify; exit 1 when something does not hold."""
    path = Path(given.target)
    if path.is_file() and path.suffix.casefold() == ".json":
        return _told(verify(read_results(_text(path), str(path))), str(path))
    if not path.is_dir():
        audit = api.verify_target(given.target)
        say(str(audit))
        if not audit.sound:
            return 1
    raw, faults = load_raw(given.target)
    if not raw.settings:
        raise InputError(faults)
    event = checked(raw, faults)
    text = to_json(compute(event))
    tree = read_results(text, given.target)
    return _told(verify(tree, marks_of(raw)), shown(given.target))


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        allowed = "a results.json, UTF-8"
        fault = Fault(where=str(path), found=f"{error}", allowed=allowed)
        raise InputError([fault]) from None


def marks_of(raw: RawEvent) -> list[Mapping[str, str]]:
    """Return the keyed marks as entered, each with the unit of a bare number."""
    settings = raw.settings.get("event", {})
    bare = "ft" if settings.get("units") == "imperial" else "m"
    return [
        {"bare": bare, **row.fields} for flight in raw.flights for row in flight.marks
    ]


def _told(differences: Sequence[Difference], where: str) -> int:
    for difference in differences:
        say(str(difference))
    if differences:
        wrong = count(len(differences))
        say(Voice().say(fact("recount-differs", where=words(where), numbers=wrong)))
        return 1
    say(Voice().say(fact("recount-follows", where=words(where))))
    return 0
