"""`sandtail winds`: the winds that flights met, from the drift of all logs."""

import argparse
from typing import Any

from scorer.cli.columns import show_table
from scorer.cli.compute import compute
from scorer.cli.screen import say
from scorer.cli.target import HELP, load
from scorer.facts import fact, words
from scorer.scoring.results import FlightResult
from scorer.sheets.winds import wind_heads, wind_row, wind_title
from scorer.words.catalogue import message
from scorer.words.voice import Voice


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "winds",
        description="Show the winds that the flights met, layer by layer. "
        + message("caution-winds", {}),
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument("--flight", metavar="ID", help="only this flight")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Score the event for its drifts, and print them with the caution."""
    event = load(given.event)
    results = compute(event)
    for own in results.flights:
        if given.flight in {None, own.id}:
            _flight(own, results.voice)
    say()
    say(results.voice.word("caution-winds"))
    return 0


def _flight(own: FlightResult, voice: Voice) -> None:
    title = wind_title(own, voice)
    if not own.winds:
        say("\n" + voice.say(fact("no-winds", flight=words(title))))
        return
    columns = tuple((head, "right") for head in wind_heads(voice))
    rows = [wind_row(layer, voice) for layer in own.winds]
    show_table("\n" + title, columns, rows)
