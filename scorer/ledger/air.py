"""The air of flights in the ledger: set down as results first go up, until renewed.

Each publication has a file that says with what air every log was read.  The first that
stands of a flight counts from then on: a log that comes later is read with it and changes
nobody else's heights.  An official renews it with a reason (`AirRenewed`); then it is
found from all logs again and set down by the next publication.
"""

import json
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from scorer.ledger.acts import Published, Sha256
from scorer.ledger.canonical import canonical
from scorer.ledger.entry import Entry

if TYPE_CHECKING:
    from scorer.scoring.results import Results

Airs = Mapping[str, Mapping[str, Any]]
"""By flight, as `KeptAir.tree` writes it."""


def air_file(results: "Results") -> bytes:
    """Write with what air the logs of each flight were read; empty where none was."""
    from scorer.tracks.air_kept import KeptAir  # noqa: PLC0415 - as in event_commands.py

    flights = {
        flight.id: KeptAir(
            whole=flight.air,
            logs={log.sha256: log.air for log in flight.logs if log.air is not None},
        ).tree()
        for flight in results.flights
        if flight.air is not None
    }
    return canonical(flights).encode() if flights else b""


def air_down(
    up: Iterable[tuple[Entry, Published]],
    renewed: Mapping[str, Entry],
    load: Callable[[Sha256], bytes],
) -> Airs:
    """Return the air that is set down, by flight.

    `up` are the publications that stand, in order, `renewed` the last renewals.
    """
    found: dict[str, Mapping[str, Any]] = {}
    for entry, act in up:
        if not act.air:
            continue
        for flight, air in _read(load(act.air[0])).items():
            if flight not in renewed or renewed[flight].order < entry.order:
                found.setdefault(flight, air)
    return found


def _read(data: bytes) -> Airs:
    try:
        tree = json.loads(data)
    except (ValueError, RecursionError):
        return {}
    return tree if isinstance(tree, dict) else {}
