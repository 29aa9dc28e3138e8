"""`sandtail explain`: every step to a pilot's points, with the numbers put in."""

import argparse
import json
import unicodedata
from collections.abc import Iterable
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

from scorer.cli.compute import compute
from scorer.cli.output import language_option
from scorer.cli.screen import say
from scorer.cli.target import HELP, checked, load, refuse_unknown
from scorer.errors import Fault, InputError, nearest
from scorer.event.model import Event, Pilot
from scorer.event.moments import EventTime
from scorer.facts import fact, words
from scorer.ledger.changes import changes
from scorer.ledger.event_commands import as_published
from scorer.scoring.document import compared, to_json
from scorer.scoring.explain import explain
from scorer.scoring.results import Results
from scorer.words.voice import Voice

MOST_SHOWN = 20
"""Pilots that a message lists at most."""


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "explain",
        description="Show every step to a pilot's points, with the numbers put in; with "
        "--version as the paper of that publication has it.",
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument(
        "--pilot", required=True, metavar="N|NAME", help="number, name, or part of it"
    )
    own.add_argument("--task", type=int, metavar="N", help="only this task")
    own.add_argument(
        "--version", type=int, metavar="N", help="as this version was published"
    )
    language_option(own, "of the breakdown")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Score the event and print one pilot's breakdown."""
    if given.version is not None:
        return _published(given)
    event = load(given.event)
    pilot, results = _asked(event, given), compute(event)
    _print(explain(event, _spoken(results, event, given), pilot, given.task))
    return 0


def _spoken(results: Results, event: Event, given: argparse.Namespace) -> Results:
    """Return results that speak the language asked for."""
    return replace(results, voice=Voice.of(event, given.language))


def _published(given: argparse.Namespace) -> int:
    """Print the breakdown as a publication had it, computed from what it rested on."""
    raw, publication, paper = as_published(given.event, given.version, given.task)
    event = checked(raw, [])
    pilot, results = _asked(event, given), compute(event)
    act, entry = publication.act, publication.entry
    when = EventTime.of(entry.when, ZoneInfo(event.time_zone)).stated()
    withdrawn = ", taken down since" if publication.withdrawn else ""
    say(
        f"as published: version {act.version}, {act.stage}, {when} "
        f"by {entry.who}{withdrawn}"
    )
    spoken = _spoken(results, event, given)
    for task in (given.task,) if given.task else act.tasks or (None,):
        _print(explain(event, spoken, pilot, task))
    if to_json(results).encode() != paper:
        _print(_otherwise(paper, results, pilot, act.program))
    return 0


def _otherwise(
    paper: bytes, results: Results, pilot: int, program: str
) -> Iterable[str]:
    """Tell where the paper has other numbers: another version of the program made it."""
    differing = [
        c
        for c in changes(json.loads(paper), compared(results))
        if c.pilot == pilot and c.values
    ]
    if differing:
        made_by = fact("paper-of-another-version", program=words(program))
        yield f"\n{results.voice.say(made_by)}"
    for change in differing:
        yield f"  {results.voice.say(change.numbers)}"


def _print(lines: Iterable[str]) -> None:
    for line in lines:
        say(line)


def _asked(event: Event, given: argparse.Namespace) -> int:
    """Return the pilot asked for; refuse a task that the event does not have."""
    asked = [] if given.task is None else [given.task]
    refuse_unknown("--task", asked, [t.number for t in event.tasks])
    return pilot_of(event, given.pilot)


def pilot_of(event: Event, text: str) -> int:
    """Find a pilot by number, name, or part of it; raise InputError with who it may be.

    Accents and capitals do not matter; several words may stand in any order.
    """
    plain = text.strip()
    if plain.isascii() and plain.isdigit():
        refuse_unknown("--pilot", [int(plain)], [p.number for p in event.pilots])
        return int(plain)
    exact = [p for p in event.pilots if _folded(p.name) == _folded(plain)]
    words = _folded(plain).split()
    partly = [p for p in event.pilots if all(w in _folded(p.name) for w in words)]
    found = exact or (partly if words else [])
    if len(found) == 1:
        return found[0].number
    names = [pilot.name for pilot in event.pilots]
    fault = Fault(
        where="--pilot",
        found=f'"{text}"' + (f", which {len(found)} pilots may be" if found else ""),
        allowed=f"one of {_listed(found or event.pilots)}",
        remedy="" if found else nearest(plain, names),
    )
    raise InputError([fault])


def _listed(pilots: Iterable[Pilot]) -> str:
    named = [f"{pilot.number} {pilot.name}" for pilot in pilots]
    more = " …" if len(named) > MOST_SHOWN else ""
    return ", ".join(named[:MOST_SHOWN]) + more


def _folded(text: str) -> str:
    """Return a text without accents and capitals."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    kept = "".join(c for c in apart if not unicodedata.combining(c))
    return " ".join(kept.split())
