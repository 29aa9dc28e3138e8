"""Tracks with heights, for maps and profiles: the log that counted for each pilot."""

from collections import OrderedDict
from collections.abc import Iterator, Mapping, Sequence

from scorer.checks.base import Circumstances
from scorer.event.model import Event, Flight, LogFile, Task
from scorer.geodesy.site import Site
from scorer.scoring.evidence import take
from scorer.scoring.flight import shared_work, unpacked
from scorer.scoring.results import LogSummary, Results
from scorer.scoring.work import (
    FlightWork,
    circumstances,
    fly,
    leading_task,
    read,
    ready_of,
)
from scorer.tracks.flown import Flown

KEPT = 600
"""So many tracks are held ready (half a megabyte each); others are made again."""


class Tracks(Mapping[tuple[str, int], Flown]):
    """The track that counted, by flight and pilot; each is made when first asked for.

    Not for several threads at once: make one for each.
    """

    def __init__(self, event: Event, results: Results) -> None:
        self._flights = {flight.id: flight for flight in event.flights}
        self._event = event
        self._logs: dict[tuple[str, int], list[LogSummary]] = {}
        for flight in results.flights:
            for log in flight.logs:
                if log.counts and log.pilot is not None:
                    self._logs.setdefault((flight.id, log.pilot), []).append(log)
        self._site: Site | None = None
        self._shared: dict[str, FlightWork] = {}
        self._files: dict[str, dict[tuple[str, str], LogFile]] = {}
        self._ready: OrderedDict[tuple[str, int], Flown] = OrderedDict()

    def __iter__(self) -> Iterator[tuple[str, int]]:
        return iter(self._logs)

    def __len__(self) -> int:
        return len(self._logs)

    def __getitem__(self, key: tuple[str, int]) -> Flown:
        """Return a track; KeyError for a pilot without a log that counts."""
        if key not in self._ready:
            self._ready[key] = self._make(key[0], self._logs[key])
            if len(self._ready) > KEPT:
                self._ready.popitem(last=False)
        return self._ready[key]

    def circumstances(self, key: tuple[str, int], task: Task) -> Circumstances:
        """Return what the checks of a task knew beside the track of a pilot."""
        shared = self._work(self._flights[key[0]])
        return circumstances(shared, task, key[1], leads=task == leading_task(shared))

    def _make(self, flight: str, logs: Sequence[LogSummary]) -> Flown:
        """Make the track of one log or several, the leading one first."""
        shared = self._work(self._flights[flight])
        held = self._held(flight)
        readies = [
            ready_of(shared, read(shared, held[log.name, log.sha256], log.clock_s))
            for log in logs
        ]
        return fly(readies, [log.air for log in logs], logs[0].pilot or 0)[0]

    def _held(self, flight: str) -> dict[tuple[str, str], LogFile]:
        """Return a flight's logs by name and hash, zips opened once."""
        if flight not in self._files:
            logs = unpacked(self._flights[flight])[0]
            self._files[flight] = {(f.blob.name, f.blob.sha256): f for f in logs}
        return self._files[flight]

    def _work(self, flight: Flight) -> FlightWork:
        if self._site is None:
            self._site = Site.of(self._event)
        if flight.id not in self._shared:
            taken = take(self._event, flight, self._site)
            self._shared[flight.id] = shared_work(
                self._event, flight, self._site, taken
            )
        return self._shared[flight.id]
