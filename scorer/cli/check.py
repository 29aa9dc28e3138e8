"""`sandtail check`: report every fault of an event, and score nothing."""

import argparse
from typing import Any

from scorer.cli.screen import say
from scorer.cli.target import HELP, load


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "check",
        help="report every fault of an event at once",
        description="Report every fault of an event at once, and score nothing.",
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Load the event; the faults, if any, come as an error."""
    event = load(given.event)
    logs = sum(len(flight.logs) for flight in event.flights)
    marks = sum(len(flight.keyings) for flight in event.flights)
    say(
        f"{event.name}: no faults. {len(event.pilots)} pilots, {len(event.places)} places, "
        f"{len(event.flights)} flights, {len(event.tasks)} tasks, {marks} keyings, "
        f"{logs} logs."
    )
    return 0
