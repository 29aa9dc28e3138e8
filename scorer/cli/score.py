"""`sandtail score`: results, standings and findings of an event."""

import argparse
from pathlib import Path
from typing import Any

from scorer.cli import show
from scorer.cli.compute import compute
from scorer.cli.output import write_file, write_out
from scorer.cli.screen import say, write_plainly
from scorer.cli.target import HELP, load, refuse_unknown
from scorer.facts import fact, words
from scorer.scoring.document import to_json


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "score",
        description="Score an event and print its results.",
        epilog="Exit status: 0 the results are computed (`sandtail open-matters` says "
        "what keeps them from becoming official), 2 the input cannot be used.",
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument(
        "--json", metavar="FILE", help="write results.json here; - = output"
    )
    own.add_argument(
        "--out", metavar="DIR", help="write results.json and a workbook here"
    )
    own.add_argument("--task", type=int, metavar="N", help="print only this task")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Score, print, write."""
    event = load(given.event)
    asked = [] if given.task is None else [given.task]
    refuse_unknown("--task", asked, [task.number for task in event.tasks])
    results = compute(event)
    written: list[Path] = []
    if given.json == "-":
        write_plainly(to_json(results))
    else:
        show.results(event, results, given.task)
    if given.json and given.json != "-":
        written.append(write_file(Path(given.json), to_json(results).encode()))
    if given.out:
        written += write_out(event, results, Path(given.out))
    if written and given.json != "-":
        files = words(", ".join(map(str, written)))
        say(results.voice.say(fact("written", files=files)))
    return 0
