"""`sandtail winds`: the winds that flights met, from the drift of all logs."""

import argparse
from typing import Any

from scorer.checks.winds import CAUTION
from scorer.cli.columns import show_table
from scorer.cli.compute import compute
from scorer.cli.screen import say
from scorer.cli.target import HELP, load
from scorer.event.model import Units
from scorer.rounding import half_up
from scorer.scoring.results import FlightResult, WindLayer
from scorer.units import show_height

MPS_PER_KNOT = 1852 / 3600


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "winds",
        help="show the winds that the flights met, layer by layer",
        description=f"Show the winds that the flights met, layer by layer. {CAUTION}",
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument("--flight", metavar="ID", help="only this flight")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Score the event for its drifts, and print them with the caution."""
    event = load(given.event)
    for flight in compute(event).flights:
        if given.flight in {None, flight.id}:
            _flight(flight, event.units)
    say(CAUTION)
    return 0


def _flight(flight: FlightResult, units: Units) -> None:
    title = f"\nFlight {flight.id} of {flight.date}"
    if not flight.winds:
        say(f"{title}: no log shows the wind")
        return
    columns = (
        ("Height above the ground", "right"),
        ("From, true", "right"),
        ("m/s", "right"),
        ("kt", "right"),
        ("Spread m/s", "right"),
        ("Balloon minutes", "right"),
    )
    show_table(title, columns, [_row(layer, units) for layer in flight.winds])


def _row(layer: WindLayer, units: Units) -> tuple[str, ...]:
    return (
        show_height(layer.height_m, units),
        f"{half_up(layer.from_deg) % 360:03.0f}°",
        f"{half_up(layer.speed_m_s, 1)}",
        f"{half_up(layer.speed_m_s / MPS_PER_KNOT)}",
        f"{half_up(layer.spread_m_s, 1)}",
        f"{half_up(layer.seconds / 60)}",
    )
