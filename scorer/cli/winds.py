"""`sandtail winds`: the winds that flights met, from the drift of all logs."""

import argparse
from typing import Any

from scorer.cli.columns import show_table
from scorer.cli.compute import compute
from scorer.cli.screen import say
from scorer.cli.target import HELP, load
from scorer.event.model import Units
from scorer.facts import bearing, day, fact, flight, height, inner, words
from scorer.scoring.results import FlightResult, WindLayer
from scorer.words.catalogue import message
from scorer.words.voice import Voice

SPEEDS = {Units.METRIC: ("m/s", 1.0), Units.IMPERIAL: ("kt", 1852 / 3600)}
"""What a speed is read in, and that in metres a second."""


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
    title = fact("title-winds", flight=flight(own.id), day=day(own.date))
    if not own.winds:
        say("\n" + voice.say(fact("no-winds", flight=inner(title))))
        return
    unit = words(SPEEDS[voice.units][0])
    columns = (
        (voice.word("head-height"), "right"),
        (voice.word("head-wind-from"), "right"),
        (voice.say(fact("head-wind-speed", unit=unit)), "right"),
        (voice.say(fact("head-wind-spread", unit=unit)), "right"),
        (voice.word("head-wind-minutes"), "right"),
    )
    rows = [_row(layer, voice) for layer in own.winds]
    show_table("\n" + voice.say(title), columns, rows)


def _row(layer: WindLayer, voice: Voice) -> tuple[str, ...]:
    one_m_s = SPEEDS[voice.units][1]
    return (
        voice.value(height(layer.height_m)),
        voice.value(bearing(layer.from_deg)),
        voice.number(layer.speed_m_s / one_m_s, 1),
        voice.number(layer.spread_m_s / one_m_s, 1),
        voice.number(layer.seconds / 60, 0),
    )
