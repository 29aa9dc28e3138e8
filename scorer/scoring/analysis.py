"""Tracks with heights, for maps and profiles: the log that counted for each pilot."""

from collections import OrderedDict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from scorer.checks.base import Circumstances
from scorer.event.model import Event, LogFile, Task
from scorer.geodesy.site import Site
from scorer.scoring.evidence import FlightEvidence, take
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.log_keep import LogKeep
from scorer.scoring.results import LogSummary, Results
from scorer.scoring.shared import shared_work, unpacked
from scorer.scoring.work import (
    FirstLook,
    FlightWork,
    circumstances,
    fly_again,
    leading_task,
)
from scorer.tracks.air import Air
from scorer.tracks.flown import Flown
from scorer.tracks.prepare import Ready

KEPT = 30
"""So many tracks are held ready (half a megabyte each); others are made again."""

NOTHING_ENTERED = FlightEvidence(by_pilot={}, own={}, placed=())


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeOf:
    """What a track is made of, in any process; the leading log first."""

    readies: tuple[Ready, ...]
    airs: tuple[Air | None, ...]
    pilot: int

    def flown(self) -> Flown:
        """Make the track."""
        return fly_again(self.readies, self.airs, self.pilot)


class Tracks(Mapping[tuple[str, int], Flown]):
    """The track that counted, by flight and pilot; each is made when first asked for.

    What a score with the same `keep` found of the logs is not found again.  Not for
    several threads at once: make one for each.
    """

    def __init__(
        self, event: Event, results: Results, keep: Keep = NOTHING_KEPT
    ) -> None:
        self.keep = keep
        self._flights = {flight.id: flight for flight in event.flights}
        self._event = event
        self._logs: dict[tuple[str, int], list[LogSummary]] = {}
        for flight in results.flights:
            for log in flight.logs:
                if log.counts and log.pilot is not None:
                    self._logs.setdefault((flight.id, log.pilot), []).append(log)
        self._kept: dict[str, LogKeep] = {}
        self._with_entries: dict[str, FlightWork] = {}
        self._keys: dict[tuple[str, int], str] = {}
        self._files: dict[str, dict[tuple[str, str], LogFile]] = {}
        self._ready: OrderedDict[tuple[str, int], Flown] = OrderedDict()

    def __iter__(self) -> Iterator[tuple[str, int]]:
        return iter(self._logs)

    def __len__(self) -> int:
        return len(self._logs)

    def __contains__(self, key: object) -> bool:
        return key in self._logs

    def __getitem__(self, key: tuple[str, int]) -> Flown:
        """Return a track; KeyError for a pilot without a log that counts."""
        if key not in self._ready:
            self._ready[key] = self.made_of(key).flown()
            if len(self._ready) > KEPT:
                self._ready.popitem(last=False)
        return self._ready[key]

    def key(self, key: tuple[str, int]) -> str:
        """Return the key of all that a track depends on; empty where nothing is kept."""
        if not self.keep.holds:
            return ""
        if key not in self._keys:
            logs, kept = self._logs[key], self._kept_of(key[0])
            looks = [kept.key(self._file(key[0], log), log.clock_s) for log in logs]
            airs = [log.air for log in logs]
            self._keys[key] = self.keep.key("track", looks, airs, key[1])
        return self._keys[key]

    def circumstances(self, key: tuple[str, int], task: Task) -> Circumstances:
        """Return what the checks of a task knew beside the track of a pilot."""
        shared = self._entered(key[0])
        return circumstances(shared, task, key[1], leads=task == leading_task(shared))

    def made_of(self, key: tuple[str, int]) -> MadeOf:
        """Return what a track is made of, for whoever makes it."""
        logs = self._logs[key]
        looks = [self._look(key[0], log) for log in logs]
        return MadeOf(
            readies=tuple(look.ready for look in looks if look.ready is not None),
            airs=tuple(log.air for log in logs),
            pilot=logs[0].pilot or 0,
        )

    def _look(self, flight: str, log: LogSummary) -> FirstLook:
        """Look at a log, its times moved as they were when it was scored."""
        return self._kept_of(flight).look(self._file(flight, log), log.clock_s)

    def _file(self, flight: str, log: LogSummary) -> LogFile:
        """Return a flight's log by name and hash, zips opened once."""
        if flight not in self._files:
            logs = unpacked(self._flights[flight])[0]
            self._files[flight] = {(f.blob.name, f.blob.sha256): f for f in logs}
        return self._files[flight][log.name, log.sha256]

    def _kept_of(self, name: str) -> LogKeep:
        """Return what is kept of a flight's logs: no look asks what officials entered."""
        if name not in self._kept:
            shared = self._shared(name, NOTHING_ENTERED)
            self._kept[name] = LogKeep(shared, self.keep)
        return self._kept[name]

    def _entered(self, name: str) -> FlightWork:
        """Return what a flight's logs share, with what officials entered."""
        if name not in self._with_entries:
            taken = take(self._event, self._flights[name], self._own_site, self.keep)
            self._with_entries[name] = self._shared(name, taken)
        return self._with_entries[name]

    def _shared(self, name: str, taken: FlightEvidence) -> FlightWork:
        return shared_work(self._event, self._flights[name], self._own_site, taken)

    @cached_property
    def _own_site(self) -> Site:
        return Site.of(self._event)
