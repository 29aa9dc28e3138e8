"""The air of flights in the ledger: set down as results first go up, until renewed.

Each publication has a file that says with what air every log was read.  The first that
stands of a flight counts from then on: a log that comes later is read with it and changes
nobody else's heights.  An official renews it with a reason (`AirRenewed`); then it is
found from all logs again and set down by the next publication.
"""

import json
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, Protocol

from scorer.ledger.acts import Published, Sha256
from scorer.ledger.canonical import canonical
from scorer.ledger.entry import Entry

if TYPE_CHECKING:
    from scorer.scoring.results import Results

Airs = Mapping[str, Mapping[str, Any]]
"""By flight, as `KeptAir.tree` writes it."""


class Up(Protocol):
    """A publication, as replay makes it."""

    @property
    def entry(self) -> Entry: ...  # noqa: D102
    @property
    def act(self) -> Published: ...  # noqa: D102
    @property
    def withdrawn(self) -> bool: ...  # noqa: D102


def air_file(results: "Results") -> bytes:
    """Write with what air the logs of each flight were read; empty where none was."""
    from scorer.tracks.air_kept import KeptAir  # noqa: PLC0415 - as in whole.py

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
    publications: Iterable[Up],
    renewed: Mapping[str, Entry],
    load: Callable[[Sha256], bytes],
) -> Airs:
    """Return the air that is set down, by flight; `renewed` are the last renewals."""
    found: dict[str, Mapping[str, Any]] = {}
    for publication in publications:
        if publication.withdrawn or not publication.act.air:
            continue
        order = publication.entry.order
        for flight, air in _read(load(publication.act.air[0])).items():
            if flight not in renewed or renewed[flight].order < order:
                found.setdefault(flight, air)
    return found


def _read(data: bytes) -> Airs:
    try:
        tree = json.loads(data)
    except (ValueError, RecursionError):
        return {}
    return tree if isinstance(tree, dict) else {}
