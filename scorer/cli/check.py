"""`sandtail check`: report every fault of an event and doubts about its roster."""

import argparse
from typing import Any

from scorer.cli.screen import say
from scorer.cli.target import HELP, load_with_state
from scorer.event.matter import marked
from scorer.facts import count, fact, words
from scorer.ledger.convert import to_drafts
from scorer.scoring.check_in import of_roster
from scorer.scoring.safety import titled, unsafe
from scorer.words.voice import Voice


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "check",
        description="Report every fault of an event at once, and score nothing.",
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Load the event; the faults, if any, come as an error.

    Of a folder also what an event file would not take: `import` says the same.
    """
    event, state, raw = load_with_state(given.event)
    if state is None:
        to_drafts(raw)
    logs = sum(len(flight.logs) for flight in event.flights)
    marks = sum(len(flight.keyings) for flight in event.flights)
    no_faults = fact(
        "no-faults",
        event=words(event.name),
        pilots=count(len(event.pilots)),
        places=count(len(event.places)),
        flights=count(len(event.flights)),
        tasks=count(len(event.tasks)),
        marks=count(marks),
        logs=count(logs),
    )
    voice = Voice.of(event)
    say(voice.say(no_faults))
    for matter in marked(of_roster(event.pilots), event.acceptances):
        say(voice.sentence(matter.stated))
    found = unsafe(event)
    for matter in found:
        say(voice.sentence(titled(matter)))
    if any(matter.is_open for matter in found):
        say(voice.word("safety-to-acknowledge"))
    say(voice.word("safety-defers"))
    return 0
