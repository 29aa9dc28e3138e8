"""`sandtail verify`: recompute results, and look whether anything was altered."""

import argparse
import shlex
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from scorer.cli.compute import compute
from scorer.cli.screen import say
from scorer.cli.target import HELP, checked, is_event, load_raw, shown
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
        "piece of evidence, and compute every publication again. By itself a ledger cannot "
        "show that its end was cut off: hold it against what left the desk before.",
    )
    own.add_argument(
        "target", metavar="EVENT", help=f"{HELP}, or a results.json, or its folder"
    )
    own.add_argument(
        "--against",
        action="append",
        default=[],
        metavar="HEAD|FILE|FOLDER",
        help="hold the event, or a results.json, against what a sheet says under “Entries "
        "and results” or a published file; the event also against another copy, an "
        "archive or a folder",
    )
    own.add_argument(
        "--with",
        dest="event",
        metavar="EVENT",
        help="of a results.json: the event it was published from; all files beside it "
        "are compared with what went up, and its numbers with the marks as entered",
    )
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Verify; exit 1 when something does not hold."""
    path = Path(given.target)
    if (published := _results_at(path)) is not None:
        return _of_file(published, given.event, given.against)
    held = _ledger_only(given, is_folder=path.is_dir())
    if not path.is_dir():
        audit = api.verify_target(given.target, against=held)
        say(str(audit))
        if not audit.sound:
            return 1
    raw, faults = load_raw(given.target)
    if not raw.settings:
        raise InputError(faults)
    event = checked(raw, faults)
    text = to_json(compute(event, afresh=True))
    tree = read_results(text, given.target)
    return _told(verify(tree, marks_of(raw)), shown(given.target))


def _ledger_only(given: argparse.Namespace, *, is_folder: bool) -> list[str]:
    """Return what to hold the event against; refuse what goes with something else."""
    if given.event and is_event(given.target):
        raise InputError([_other_way_round(given.target, given.event)])
    if given.against and is_folder:
        found = f"--against, of the folder {given.target}"
        allowed = "an event file, archive or database: a folder keeps no entries"
        raise InputError([Fault(where="verify", found=found, allowed=allowed)])
    return list(given.against)


def _results_at(path: Path) -> Path | None:
    """Return the results.json that a path means: itself, or that of published files."""
    if path.is_dir() and not (path / "event.toml").exists():
        path = path / "results.json"
    return path if path.is_file() and path.suffix.casefold() == ".json" else None


def _other_way_round(target: str, given: str) -> Fault:
    """Say what to write instead of `verify EVENT --with …`."""
    published = _results_at(Path(given))
    event = "EVENT_FILE" if Path(target).is_dir() else shlex.quote(shown(target))
    both = f"{shlex.quote(str(published))} --with {event}"
    against = f"{event} --against {shlex.quote(shown(given))}"
    return Fault(
        where="verify",
        found=f"--with {shown(given)}, of {shown(target)}",
        allowed="--with beside a results.json, naming the event it was published from",
        remedy=f"Instead: sandtail verify {both if published else against}",
    )


def _of_file(path: Path, event: str | None, against: Sequence[str]) -> int:
    """Verify a results.json: with its event, also what lies beside it."""
    tree, wrong, marks = read_results(_text(path), str(path)), 0, []
    for problem in [own for one in against for own in api.of_results(path, one)]:
        say(str(problem))
        wrong = 1
    if event is not None:
        _refuse_folder(event)
        found = api.compare_published(path, event)
        for problem in found.problems:
            say(str(problem))
        wrong = 0 if found.sound else 1
        marks = marks_of(found.raw) if found.raw is not None else []
        if not wrong:
            counted = count(found.files)
            same = fact("published-same", files=counted, where=words(shown(event)))
            say(Voice().say(same))
    wrong = max(wrong, _told(verify(tree, marks), str(path)))
    if not wrong and not against and event is None:
        say(Voice().say(fact("recount-cannot-know")))
    return wrong


def _refuse_folder(event: str) -> None:
    """Raise InputError for a folder: nothing was ever published from one."""
    if Path(event).is_dir():
        found = f"the folder {event}"
        allowed = "the event file, archive or database that the results went up from"
        raise InputError([Fault(where="--with", found=found, allowed=allowed)])


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
