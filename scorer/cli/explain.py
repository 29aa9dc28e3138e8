"""`sandtail explain`: every step to a pilot's points, with the numbers put in."""

import argparse
from typing import Any

from scorer.cli.compute import compute
from scorer.cli.screen import say
from scorer.cli.target import HELP, load, refuse_unknown
from scorer.scoring.explain import explain


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "explain",
        help="show a pilot every step to the points",
        description="Show every step to a pilot's points, with the numbers put in.",
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument("--pilot", type=int, required=True, metavar="N")
    own.add_argument("--task", type=int, metavar="N", help="only this task")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Score the event and print one pilot's breakdown."""
    event = load(given.event)
    refuse_unknown("--pilot", [given.pilot], [p.number for p in event.pilots])
    asked = [] if given.task is None else [given.task]
    refuse_unknown("--task", asked, [t.number for t in event.tasks])
    results = compute(event)
    for line in explain(event, results, given.pilot, given.task):
        say(line)
    return 0
