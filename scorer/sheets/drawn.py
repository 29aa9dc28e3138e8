"""The drawings of pilots' pages and slips, taken from before where nothing changed.

Each is drawn of no more than its key holds: the event without other pilots' entries, a
task without its scores, the pilot's own marks and infringements, and the track by the key
of its logs.  So a track whose drawings are known is not even read.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Generic, TypeVar

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
from scorer.tracks.flown import Flown

T = TypeVar("T")
U = TypeVar("U")
Form = Callable[[Scene | None], T]
"""Puts a drawing into the form that a sheet takes."""
BYTES = 30_000
"""About as much a drawing takes."""
_NO_FORMULA = Formula(method="", P=0, A=0, M=0, W=None, RM=None, SM=0)


class Drawings(Generic[T]):
    """What is drawn for one kind of sheet, in its form."""

    def __init__(self, sheet: Sheet, tracks: Tracks, form: Form[T]) -> None:
        self._tracks, self._form = tracks, form
        self._keep = keep_of(tracks)
        self._event = sheet.event
        self._plain = Sheet(
            results=_plain_results(sheet.results),
            event=without_entries(sheet.event),
            stamp=Stamp(results_sha256=""),
            language=sheet.language,
        )
        name = f"{form.__module__}.{form.__qualname__}"
        about = (self._plain.event, self._plain.voice, name)
        self._about = self._keep.key("drawn", about)
        self._own: dict[int, tuple[Sheet, str]] = {}

    def marks(self, part: TaskPart, size: Size) -> T:
        """Return the map of a pilot's marks in a task."""
        sheet, about = self._of(part.score.pilot)
        bare = _bare(part)
        return self._once(
            ("marks", about, bare, size),
            lambda: self._form(part_map(sheet, bare, size)),
        )

    def finding(self, finding: Finding) -> tuple[T, ...]:
        """Return the pictures of an infringement."""
        sheet, about = self._of(finding.pilot)
        key = (finding.flight, finding.pilot)
        return self._once(
            ("finding", about, finding, key_of(self._tracks, key)),
            lambda: tuple(
                self._form(one)
                for one in finding_pictures(sheet, finding, self._tracks)
            ),
        )

    def flight(
        self, key: tuple[str, int], parts: Sequence[TaskPart], sizes: tuple[Size, Size]
    ) -> tuple[str, str, T, T]:
        """Return name and hash of the log, the map and the heights of a whole flight."""
        sheet, about = self._of(key[1])
        bare = tuple(map(_bare, parts))

        def draw() -> tuple[str, str, T, T]:
            flown: Flown = self._tracks[key]
            found = tuple(r.finding for part in bare for r in part.findings)
            tall = (sizes[1].width, sizes[1].height)
            heights = flight_profile(sheet, flown, found, *tall)
            way = flight_map(sheet, flown, bare, sizes[0])
            return flown.log, flown.sha256, self._form(way), self._form(heights)

        return self._once(
            ("flight", about, bare, sizes, key_of(self._tracks, key)), draw
        )

    def _of(self, pilot: int) -> tuple[Sheet, str]:
        """Return the sheet that a pilot's drawings are made of, and its key."""
        if pilot not in self._own:
            plain = self._plain
            event = _with_entries(plain.event, self._event, pilot)
            rows = [(own.keyings, own.declarations) for own in event.flights]
            key = self._keep.key("of", self._about, rows)
            self._own[pilot] = replace(plain, event=event), key
        return self._own[pilot]

    def _once(self, depends: object, draw: Callable[[], U]) -> U:
        if not self._keep.holds:
            return draw()
        key = self._keep.key("drawing", depends)
        known: tuple[U] | None = self._keep.get(key, lambda _: BYTES)
        if known is None:
            known = (draw(),)
            self._keep.put(key, known, size=BYTES)
        return known[0]


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


def _with_entries(bare: Event, whole: Event, pilot: int) -> Event:
    """Return an event with what one pilot declared and where his marks were taken from."""
    flights = tuple(
        replace(
            flight,
            keyings=tuple(k for k in own.keyings if k.pilot == pilot),
            declarations=tuple(d for d in own.declarations if d.pilot == pilot),
        )
        for flight, own in zip(bare.flights, whole.flights, strict=True)
    )
    return replace(bare, flights=flights)


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
