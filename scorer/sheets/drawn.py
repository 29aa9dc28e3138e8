"""The drawings of pilots' pages and slips, taken from before where nothing changed.

Each is drawn of no more than its key holds: the flight's tasks without other pilots'
entries, the areas of the event and the points that these name, a task without its scores,
the pilot's own marks and infringements, and the track by the key of its logs.  So a track
whose drawings are known is not even read, and a flight or place more changes none.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Generic, TypeVar

from scorer.event.finding import Finding
from scorer.event.model import Declaration, Event, Flight, Keying, Place
from scorer.scoring.keep import Keep
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
Scenes = Scene | None | tuple[str | Scene | None, ...]
"""What is drawn for a wish, with what is said of it."""
BYTES = 30_000
"""About as much a drawing takes."""
_NO_FORMULA = Formula(method="", P=0, A=0, M=0, W=None, RM=None, SM=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A drawing of a pilot that is wanted: drawn of this, and by any process."""

    what: str
    flight: str
    pilot: int
    parts: tuple[TaskPart, ...] = ()
    found: Finding | None = None
    sizes: tuple[Size, ...] = ()

    @property
    def track(self) -> tuple[str, int] | None:
        """Flight and pilot of the track that it shows; None = it shows none."""
        return None if self.what == "marks" else (self.flight, self.pilot)

    @property
    def bare(self) -> "Wish":
        """The wish without what follows from the marks of others."""
        return replace(self, parts=tuple(map(_bare, self.parts)))

    def key(self, keep: Keep) -> str:
        """Return the key of all it is drawn of but track, places and rules."""
        found = self.found and self.found.id
        tasks = tuple(part.task.task for part in self.parts)
        place = (self.what, self.flight, self.pilot, tasks, found, self.sizes)
        told = (*_told(self.parts), self.found)
        return keep.same(("wish", *place), told, lambda: keep.key("wish", place, told))


def marks_wish(part: TaskPart, size: Size) -> Wish:
    """Wish for the map of a pilot's marks in a task."""
    flight, pilot = part.task.flight, part.score.pilot
    return Wish(what="marks", flight=flight, pilot=pilot, parts=(part,), sizes=(size,))


def finding_wish(found: Finding) -> Wish:
    """Wish for the pictures of an infringement."""
    return Wish(what="finding", flight=found.flight, pilot=found.pilot, found=found)


def flight_wish(
    key: tuple[str, int], parts: Sequence[TaskPart], sizes: tuple[Size, Size]
) -> Wish:
    """Wish for the map and the heights of a whole flight."""
    flight, pilot = key
    own = tuple(parts)
    return Wish(what="flight", flight=flight, pilot=pilot, parts=own, sizes=sizes)


class Drawings(Generic[T]):
    """What is drawn for one kind of sheet, in its form."""

    def __init__(self, sheet: Sheet, tracks: Tracks, form: Form[T]) -> None:
        self._tracks, self._form = tracks, form
        self._keep = keep_of(tracks)
        self._sheet = plain_sheet(sheet)
        self._flights = {own.id: bare_flight(own) for own in sheet.event.flights}
        self._entries = entries_of(sheet.event)
        event = replace(self._sheet.event, flights=(), places=_areas(sheet.event))
        voice = replace(self._sheet.voice, days=frozenset())
        self._about = self._keep.key("drawn", event, voice)
        self._name = f"{form.__module__}.{form.__qualname__}"
        self._keys: dict[tuple[str, int | None], str] = {}
        self._of = lru_cache(maxsize=1)(self._sheet_of)
        """A pilot's drawings of a flight are made one after another."""

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
        return self.formed(self.scenes(wish))

    def scenes(self, wish: Wish) -> Scenes:
        """Draw, in no form yet."""
        sheet = self._of(wish.flight, wish.pilot)
        scenes: Scenes = _DRAWN[wish.what](self, sheet, wish.bare)
        return scenes

    def formed(self, scenes: Scenes) -> Any:
        """Put what was drawn into the form of the sheet."""
        if not isinstance(scenes, tuple):
            return self._form(scenes)
        return tuple(one if isinstance(one, str) else self._form(one) for one in scenes)

    def _known(self, key: str) -> tuple[Any] | None:
        return self._keep.get(key, lambda _: BYTES)

    def _key(self, wish: Wish) -> str:
        about = self.key(wish.flight, wish.pilot)
        track = key_of(self._tracks, wish.track) if wish.track else ""
        return self._keep.key("drawing", self._name, about, wish.key(self._keep), track)

    def _marks(self, sheet: Sheet, wish: Wish) -> Scenes:
        return part_map(sheet, wish.parts[0], wish.sizes[0])

    def _finding(self, sheet: Sheet, wish: Wish) -> Scenes:
        assert wish.found is not None
        return finding_pictures(sheet, wish.found, self._tracks)

    def _flight(self, sheet: Sheet, wish: Wish) -> Scenes:
        flown = self._tracks[wish.flight, wish.pilot]
        found = tuple(r.finding for part in wish.parts for r in part.findings)
        of_map, of_heights = wish.sizes
        tall = (of_heights.width, of_heights.height)
        heights = flight_profile(sheet, flown, found, *tall)
        way = flight_map(sheet, flown, wish.parts, of_map)
        return flown.log, flown.sha256, way, heights

    def key(self, flight: str, pilot: int | None) -> str:
        """Return the key of what a pilot's drawings of a flight are made of.

        It is that of what all pilots share (None), and of what the pilot has beside it.
        """
        if (flight, pilot) not in self._keys:
            event = self._event(flight, pilot)
            own, points = event.flights[0], [p for p in event.places if p.is_point]
            parts = (
                (self._about, own, points)
                if pilot is None
                else (self.key(flight, None), own.keyings, own.declarations, points)
            )
            self._keys[flight, pilot] = self._keep.key("of", *parts)
        return self._keys[flight, pilot]

    def _sheet_of(self, flight: str, pilot: int) -> Sheet:
        """Return the sheet that a pilot's drawings of a flight are made of."""
        event, results = self._event(flight, pilot), self._sheet.results
        voice = replace(results.voice, days=frozenset([event.flights[0].date]))
        return replace(self._sheet, event=event, results=replace(results, voice=voice))

    def _event(self, flight: str, pilot: int | None) -> Event:
        """Return the event as one flight of a pilot shows it, or that of everybody."""
        entries = self._entries.get((flight, pilot or 0), ())
        own = replace(
            self._flights[flight],
            keyings=tuple(one for one in entries if isinstance(one, Keying)),
            declarations=tuple(one for one in entries if isinstance(one, Declaration)),
        )
        whole = self._sheet.event
        return replace(whole, flights=(own,), places=_places(whole, own))


_DRAWN: Mapping[str, Callable[..., Any]] = {
    "marks": Drawings._marks,  # noqa: SLF001 - of this module
    "finding": Drawings._finding,  # noqa: SLF001 - of this module
    "flight": Drawings._flight,  # noqa: SLF001 - of this module
}


def bare_flight(flight: Flight) -> Flight:
    """Return a flight with its rules, tasks and where targets were moved to."""
    return replace(
        flight,
        keyings=(),
        declarations=(),
        reports=(),
        rulings=(),
        targets=tuple(line for line in flight.targets if line.says_where),
        logs=(),
        air=None,
    )


def entries_of(event: Event) -> dict[tuple[str, int], list[Keying | Declaration]]:
    """Return what was measured and declared, by flight and pilot."""
    found: dict[tuple[str, int], list[Keying | Declaration]] = {}
    for flight in event.flights:
        own: tuple[Keying | Declaration, ...] = (*flight.keyings, *flight.declarations)
        for one in own:
            found.setdefault((flight.id, one.pilot), []).append(one)
    return found


def without_entries(event: Event) -> Event:
    """Return an event with its rules, tasks and places, and where targets were moved to."""
    flights = tuple(map(bare_flight, event.flights))
    return replace(event, flights=flights, matters=(), acceptances=(), awards=())


def _areas(event: Event) -> tuple[Place, ...]:
    return tuple(place for place in event.places if not place.is_point)


def _places(event: Event, flight: Flight) -> tuple[Place, ...]:
    """Return all areas, and the points that a flight names."""
    named = {line.target for line in flight.targets}
    for task in flight.tasks:
        named |= {*task.targets, *task.roles.values()}
    named |= {said.goal for said in flight.declarations}
    named |= {
        name for k in flight.keyings for name in (k.from_place, k.from2_place) if name
    }
    return tuple(p for p in event.places if not p.is_point or p.name in named)


def plain_sheet(sheet: Sheet) -> Sheet:
    """Return a sheet that says no more of results than who they are of."""
    event = replace(sheet.event, matters=(), acceptances=(), awards=())
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


OF_TASK = ("flight", "task", "kind", "unit", "best", "state")
OF_SCORE = ("pilot", "group", "marks")
"""All that a drawing shows of a task and of a score."""


def _told(parts: Iterable[TaskPart]) -> Iterator[object]:
    """Yield what a drawing is made of: of a pilot's tasks what it shows."""
    for part in parts:
        yield from (getattr(part.task, name) for name in OF_TASK)
        yield from (getattr(part.score, name) for name in OF_SCORE)
        yield from (one.finding for one in part.findings)


def _bare(part: TaskPart) -> TaskPart:
    """Return a pilot's task without what follows from the marks of others."""
    shown = {name: getattr(part.task, name) for name in OF_TASK}
    own = {name: getattr(part.score, name) for name in OF_SCORE}
    return TaskPart(
        task=TaskResult(**shown, formula=_NO_FORMULA, scores=()),
        score=Score(
            **own,
            measured=None,
            sigma=None,
            result=None,
            rank=0,
            formula_points=0,
            task_penalty=0,
            event_penalty=0,
            score=0,
            settled=True,
        ),
        findings=tuple(
            RuledFinding(
                finding=one.finding, state=RulingState.UNRULED, ruling=None, charges=()
            )
            for one in part.findings
        ),
    )
