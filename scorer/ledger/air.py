"""The air of flights in the ledger: set down as results first go up, until renewed.

Each publication has a file that says with what air every log was read.  The first that
stands of a flight counts from then on: a log that comes later is read with it and changes
nobody else's heights.  An official renews it with a reason (`AirRenewed`); then it is
found from all logs again and set down by the next publication.  A folder takes it along
(`air.json` of each flight), and a ledger that is made from the folder keeps it (`AirSet`).
"""

import json
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from scorer.event.raw import RawFlight
from scorer.ledger.acts import AirSet, Published, Sha256
from scorer.ledger.canonical import canonical
from scorer.ledger.entry import Draft, Entry
from scorer.ledger.files import address_of

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


def air_draft(flight: RawFlight, why: str) -> Draft:
    """Set down the air that came with the folder of a flight."""
    data = canonical({flight.id: flight.air}).encode()
    act = AirSet(flight=flight.id, air=address_of(data))
    return Draft(act=act, why=why, files={act.air: data})


def air_down(
    down: Iterable[tuple[Entry, Published | AirSet]],
    renewed: Mapping[str, Entry],
    load: Callable[[Sha256], bytes],
) -> Airs:
    """Return the air that is set down, by flight.

    `down` are the publications that stand and what came with folders, `renewed` the last
    renewals.
    """
    found: dict[str, Mapping[str, Any]] = {}
    for entry, act in sorted(down, key=lambda one: one[0].order):
        for sha256 in act.air if isinstance(act, Published) else (act.air,):
            for flight, air in _read(load(sha256)).items():
                if flight not in renewed or renewed[flight].order < entry.order:
                    found.setdefault(flight, air)
    return found


@lru_cache(maxsize=16)
def _read(data: bytes) -> Airs:
    """Read a file, once: its trees are then the same objects in every state."""
    try:
        tree = json.loads(data)
    except (ValueError, RecursionError):
        return {}
    return tree if isinstance(tree, dict) else {}
