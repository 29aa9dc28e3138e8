"""Tracks and pictures, made ready in a worker when a page asks for them."""

import logging
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance, Slot

from gui.plots.compared import Compared, compared_of
from gui.plots.picture import Picture, picture_of, places_picture
from scorer.checks.mark_track import Aloft
from scorer.errors import ScorerError
from scorer.event.finding import Finding
from scorer.event.model import Event, Keying
from scorer.geodesy.plane import Plane
from scorer.geodesy.site import Site
from scorer.scoring.analysis import Tracks
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import Results
from scorer.scoring.typed import TypedBeside
from scorer.tracks.flown import Flown

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackReady:
    """What marks of a pilot are held against."""

    task: int
    pilot: int
    beside: TypedBeside


class Shelf(QObject):
    """Keeps the tracks of the results in force; asked and answered by signals."""

    pictured = Signal(object, object)  # what was asked for, Picture or None
    compared = Signal(object, object)  # what was asked for, Compared or None
    neared = Signal(object)  # TrackReady
    placed = Signal(object)  # Picture of the event's places
    problem = Signal(str)
    crashed = Signal(object)
    _made = Signal(object)  # what is to be done in the window's thread

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._executor = ThreadPoolExecutor(max_workers=1, thread_name_prefix="shelf")
        self._event: Event | None = None
        self._tracks: Tracks | None = None
        self._results: Results | None = None
        self._site: Site | None = None
        self._plane: Plane | None = None
        self._placing: dict[bool, object] = {}
        """What was asked for last, of a task's places and of all."""
        self._edition = 0
        self._wanted: dict[str, object] = {}
        """What each page asked for last: no page takes an answer from another."""
        self.near: dict[tuple[int, int], TypedBeside] = {}
        """Tracks to hold marks against by task and pilot, as far as asked for."""
        self.neared.connect(self._on_neared)
        self._made.connect(self._tell)

    def fill(self, event: Event, results: Results, keep: Keep = NOTHING_KEPT) -> None:
        """Take over new results; what was made of older ones is forgotten.

        `keep` has what logs told when they were scored.
        """
        self._edition += 1
        self.near.clear()
        self._submit(lambda: self._fill(event, results, keep))

    def empty(self) -> None:
        """Forget everything."""
        self._edition += 1
        self.near.clear()
        self._submit(lambda: self._fill(None, None, NOTHING_KEPT))

    def shutdown(self) -> None:
        """Stop the worker."""
        self._executor.shutdown(wait=True, cancel_futures=True)

    def ask_picture(
        self,
        by: str,
        flight: str,
        pilot: int,
        task: int | None,
        finding: Finding | None = None,
    ) -> None:
        """Ask for the map and profile of a pilot's flight; `pictured` answers.

        `by` names the page: of what one asks for, the last is answered alone.
        """
        self._wanted[by] = key = (flight, pilot, task, finding.id if finding else "")

        def work() -> None:
            if key == self._wanted[by]:  # else somebody went on meanwhile
                self._say(
                    self.pictured, key, self._picture(flight, pilot, task, finding)
                )

        self._submit(work)

    def ask_compared(
        self, by: str, key: object, keyings: Sequence[Keying], names: Sequence[str] = ()
    ) -> None:
        """Ask for the map of a mark's entries; `compared` answers, as for pictures.

        `names` of marks that do not fit the flight of the first one's pilot.
        """
        self._wanted[by] = key

        def work() -> None:
            if key == self._wanted[by]:
                self._say(self.compared, key, self._compared(keyings, names))

        self._submit(work)

    def ask_near(self, task: int, pilot: int) -> None:
        """Ask for the track that marks are held against; `neared` answers if it can."""
        if (task, pilot) in self.near:
            return
        edition = self._edition

        def work() -> None:
            beside = self._near(task, pilot)
            if beside is not None and edition == self._edition:
                self._say(
                    self.neared, TrackReady(task=task, pilot=pilot, beside=beside)
                )

        self._submit(work)

    def ask_places(self, event: Event, task: int | None = None) -> None:
        """Ask for the map of an event's places, or of a task's; `placed` answers.

        Of each of the two what is asked for last is answered alone.
        """
        asked = self._placing[task is None] = event, task

        def work() -> None:
            if self._placing[task is None] is not asked:
                return
            # Terrain is not needed for a map, and its content may not be there.
            flat = replace(
                event, terrain=None, ground_elevation_m=event.ground_elevation_m or 0.0
            )
            site = Site.of(flat)
            self._plane = site.plane
            self._say(self.placed, places_picture(flat, site, task))

        self._submit(work)

    def to_wgs84(self, east_m: float, north_m: float) -> tuple[float, float]:
        """Return latitude and longitude of a point of the map, degrees."""
        if self._plane is None:
            return 0.0, 0.0
        return self._plane.to_wgs84(east_m, north_m)

    @Slot(object)
    def _on_neared(self, near: TrackReady) -> None:
        self.near[near.task, near.pilot] = near.beside

    @Slot(object)
    def _tell(self, emit: Callable[[], None]) -> None:
        # In a turn of its own: without any time between, Qt shows an answer in the turn
        # in which the window draws what led to the question.
        QTimer.singleShot(1, self, emit)

    # In the worker's thread.

    def _say(self, signal: SignalInstance, *answer: object) -> None:
        """Emit a signal in the window's thread.

        A call that waits there is made though its listener has gone meanwhile; only
        our own slot, which stays, may wait.
        """
        self._made.emit(lambda: signal.emit(*answer))

    def _submit(self, work: Callable[[], None]) -> None:
        def guarded() -> None:
            try:
                work()
            except ScorerError as error:
                self._say(self.problem, str(error))
            except Exception as error:  # shown as a crash, in the window's thread
                log.exception("a picture could not be made")
                self._say(self.crashed, error)

        self._executor.submit(guarded)

    def _fill(self, event: Event | None, results: Results | None, keep: Keep) -> None:
        self._event, self._results = event, results
        self._site = Site.of(event) if event is not None else None
        self._tracks = (
            Tracks(event, results, keep)
            if event is not None and results is not None
            else None
        )

    def _flown(self, flight: str, pilot: int) -> Flown | None:
        if self._tracks is None:
            return None
        try:
            return self._tracks[flight, pilot]
        except (KeyError, ScorerError):
            return None

    def _picture(
        self, flight: str, pilot: int, task: int | None, finding: Finding | None
    ) -> Picture | None:
        if self._event is None or self._site is None or self._results is None:
            return None
        flown = self._flown(flight, pilot)
        own = next((t for t in self._event.tasks if t.number == task), None)
        about = None
        if flown is not None and own is not None and self._tracks is not None:
            about = self._tracks.circumstances((flight, pilot), own)
        return picture_of(
            self._event,
            self._site,
            self._results,
            flown,
            task=task,
            finding=finding,
            about=about,
        )

    def _compared(
        self, keyings: Sequence[Keying], names: Sequence[str]
    ) -> Compared | None:
        event, site = self._event, self._site
        if event is None or site is None or not keyings:
            return None
        own = next((t for t in event.tasks if t.number == keyings[0].task), None)
        flown = self._flown(own.flight, keyings[0].pilot) if own else None
        return compared_of(event, site, flown, keyings, names)

    def _near(self, task: int, pilot: int) -> TypedBeside | None:
        if self._event is None or self._site is None or self._results is None:
            return None
        own = next((t for t in self._event.tasks if t.number == task), None)
        flown = self._flown(own.flight, pilot) if own else None
        if own is None or flown is None:
            return None
        throws = {f.id: f.throw for f in self._results.flights}
        aloft = Aloft.of(flown)
        assert aloft.course is not None
        return TypedBeside(
            site=self._site,
            aloft=aloft,
            course=aloft.course,
            throw=throws.get(own.flight),
        )
