"""The drawings of pilots' pages and slips, taken from before where nothing changed.

Each is drawn of no more than its key holds: the event without other pilots' entries, a
task without its scores, the pilot's own marks and infringements, and the track by the key
of its logs.  So a track whose drawings are known is not even read.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Generic, TypeVar

from scorer.event.finding import Finding
from scorer.event.model import Event
from scorer.scoring.results import (
    Formula,
    Results,
    RuledFinding,
    RulingState,
    Score,
    StandingsTable,
    TaskResult,
)
from scorer.sheets.breakdown import TaskPart
from scorer.sheets.flights import Tracks, keep_of, key_of
from scorer.sheets.pictures import (
    Size,
    finding_pictures,
    flight_map,
    part_map,
)
from scorer.sheets.profiles import flight_profile
from scorer.sheets.scene import Scene
from scorer.sheets.sheet import Sheet
from scorer.sheets.stamp import Stamp

T = TypeVar("T")
Form = Callable[[Scene | None], T]
"""Puts a drawing into the form that a sheet takes."""
BYTES = 30_000
"""About as much a drawing takes."""
_NO_FORMULA = Formula(method="", P=0, A=0, M=0, W=None, RM=None, SM=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A drawing of a pilot that is wanted: drawn of this, and by any process."""

    what: str
    pilot: int
    track: tuple[str, int] | None
    """Flight and pilot of the track that it shows; None = it shows none."""
    of: tuple[object, ...]


def marks_wish(part: TaskPart, size: Size) -> Wish:
    """Wish for the map of a pilot's marks in a task."""
    return Wish(
        what="marks", pilot=part.score.pilot, track=None, of=(_bare(part), size)
    )


def finding_wish(finding: Finding) -> Wish:
    """Wish for the pictures of an infringement."""
    key = (finding.flight, finding.pilot)
    return Wish(what="finding", pilot=finding.pilot, track=key, of=(finding,))


def flight_wish(
    key: tuple[str, int], parts: Sequence[TaskPart], sizes: tuple[Size, Size]
) -> Wish:
    """Wish for the map and the heights of a whole flight."""
    bare = tuple(map(_bare, parts))
    return Wish(what="flight", pilot=key[1], track=key, of=(key, bare, sizes))


class Drawings(Generic[T]):
    """What is drawn for one kind of sheet, in its form."""

    def __init__(self, sheet: Sheet, tracks: Tracks, form: Form[T]) -> None:
        self._tracks, self._form = tracks, form
        self._keep = keep_of(tracks)
        self._event = sheet.event
        self._plain = plain_sheet(sheet, without_entries(sheet.event))
        name = f"{form.__module__}.{form.__qualname__}"
        about = (self._plain.event, self._plain.voice, name)
        self._about = self._keep.key("drawn", about)
        self._own: dict[int, tuple[Sheet, str]] = {}

    def marks(self, part: TaskPart, size: Size) -> T:
        """Return the map of a pilot's marks in a task."""
        drawn: T = self.get(marks_wish(part, size))
        return drawn

    def finding(self, finding: Finding) -> tuple[T, ...]:
        """Return the pictures of an infringement."""
        drawn: tuple[T, ...] = self.get(finding_wish(finding))
        return drawn

    def flight(
        self, key: tuple[str, int], parts: Sequence[TaskPart], sizes: tuple[Size, Size]
    ) -> tuple[str, str, T, T]:
        """Return name and hash of the log, the map and the heights of a whole flight."""
        drawn: tuple[str, str, T, T] = self.get(flight_wish(key, parts, sizes))
        return drawn

    def get(self, wish: Wish) -> Any:
        """Return what is drawn for a wish, from before if it is known."""
        if not self._keep.holds:
            return self.draw(wish)
        key = self._key(wish)
        known = self._known(key)
        if known is None:
            known = (self.draw(wish),)
            self.put(key, known[0])
        return known[0]

    def lacking(self, wishes: Iterable[Wish]) -> list[tuple[str, Wish]]:
        """Return those that nobody drew yet, each with its key; none if nothing is kept."""
        keyed = [(self._key(wish), wish) for wish in wishes if self._keep.holds]
        return [(key, wish) for key, wish in keyed if self._known(key) is None]

    def put(self, key: str, drawn: object) -> None:
        """Keep what was drawn for a wish, wherever."""
        self._keep.put(key, (drawn,), size=BYTES)

    def draw(self, wish: Wish) -> Any:
        """Draw."""
        sheet, _ = self._of(wish.pilot)
        return _DRAWN[wish.what](self, sheet, *wish.of)

    def _known(self, key: str) -> tuple[Any] | None:
        return self._keep.get(key, lambda _: BYTES)

    def _key(self, wish: Wish) -> str:
        _, about = self._of(wish.pilot)
        track = key_of(self._tracks, wish.track) if wish.track else ""
        return self._keep.key("drawing", wish.what, about, wish.of, track)

    def _marks(self, sheet: Sheet, bare: TaskPart, size: Size) -> T:
        return self._form(part_map(sheet, bare, size))

    def _finding(self, sheet: Sheet, finding: Finding) -> tuple[T, ...]:
        pictures = finding_pictures(sheet, finding, self._tracks)
        return tuple(self._form(one) for one in pictures)

    def _flight(
        self,
        sheet: Sheet,
        key: tuple[str, int],
        bare: tuple[TaskPart, ...],
        sizes: tuple[Size, Size],
    ) -> tuple[str, str, T, T]:
        flown = self._tracks[key]
        found = tuple(r.finding for part in bare for r in part.findings)
        tall = (sizes[1].width, sizes[1].height)
        heights = flight_profile(sheet, flown, found, *tall)
        way = flight_map(sheet, flown, bare, sizes[0])
        return flown.log, flown.sha256, self._form(way), self._form(heights)

    def _of(self, pilot: int) -> tuple[Sheet, str]:
        """Return the sheet that a pilot's drawings are made of, and its key."""
        if pilot not in self._own:
            plain = self._plain
            event = with_entries(plain.event, self._event, {pilot})
            rows = [(own.keyings, own.declarations) for own in event.flights]
            key = self._keep.key("of", self._about, rows)
            self._own[pilot] = replace(plain, event=event), key
        return self._own[pilot]


_DRAWN: Mapping[str, Callable[..., Any]] = {
    "marks": Drawings._marks,  # noqa: SLF001 - of this module
    "finding": Drawings._finding,  # noqa: SLF001 - of this module
    "flight": Drawings._flight,  # noqa: SLF001 - of this module
}


def without_entries(event: Event) -> Event:
    """Return an event with its rules, tasks and places, and where targets were moved to."""
    flights = tuple(
        replace(
            flight,
            keyings=(),
            declarations=(),
            reports=(),
            rulings=(),
            targets=tuple(line for line in flight.targets if line.says_where),
            logs=(),
            air=None,
        )
        for flight in event.flights
    )
    return replace(event, flights=flights, matters=(), acceptances=(), awards=())


def with_entries(bare: Event, whole: Event, pilots: Collection[int]) -> Event:
    """Return an event with what pilots declared and where their marks were taken from."""
    flights = tuple(
        replace(
            flight,
            keyings=tuple(k for k in own.keyings if k.pilot in pilots),
            declarations=tuple(d for d in own.declarations if d.pilot in pilots),
        )
        for flight, own in zip(bare.flights, whole.flights, strict=True)
    )
    return replace(bare, flights=flights)


def plain_sheet(sheet: Sheet, event: Event) -> Sheet:
    """Return a sheet of an event that says no more of results than who they are of."""
    return Sheet(
        results=_plain_results(sheet.results),
        event=event,
        stamp=Stamp(results_sha256=""),
        language=sheet.language,
    )


def _plain_results(results: Results) -> Results:
    """Return no more of results than who they are of."""
    return Results(
        event=results.event,
        book=results.book,
        tasks=(),
        findings=(),
        standings=StandingsTable(title="", rows=()),
        voice=results.voice,
    )


def _bare(part: TaskPart) -> TaskPart:
    """Return a pilot's task without what follows from the marks of others."""
    task, score = part.task, part.score
    return TaskPart(
        task=TaskResult(
            flight=task.flight,
            task=task.task,
            kind=task.kind,
            unit=task.unit,
            best=task.best,
            state=task.state,
            formula=_NO_FORMULA,
            scores=(),
        ),
        score=Score(
            pilot=score.pilot,
            group=score.group,
            measured=None,
            sigma=None,
            result=None,
            rank=0,
            formula_points=0,
            task_penalty=0,
            event_penalty=0,
            score=0,
            settled=True,
            marks=score.marks,
        ),
        findings=tuple(
            RuledFinding(
                finding=one.finding, state=RulingState.UNRULED, ruling=None, charges=()
            )
            for one in part.findings
        ),
    )
