"""One pass over the tracks: what files, pages and slips have of each, made by many hands.

A track is made once and stays where it was made; what is written and drawn of it comes
back.  The same bytes whoever does the work.
"""

import pickle
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import islice
from typing import Any

from scorer.scoring.analysis import MadeOf, Tracks
from scorer.sheets.breakdown import Breakdown, breakdowns
from scorer.sheets.drawn import Drawings, Form, Wish, plain_sheet
from scorer.sheets.sheet import Sheet
from scorer.sheets.site import page_wishes, shown
from scorer.sheets.slips import slip_wishes
from scorer.sheets.typeset import picture
from scorer.sheets.ways import Written, names_of, written
from scorer.tracks.flown import Flown

BATCH = 8
"""Tracks in one piece of work."""
IN_FLIGHT = 16
"""Pieces sent and not yet taken back, at most."""
FORMS: tuple[Form[Any], ...] = (shown, picture)
"""Of pages and of slips."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wished:
    """A drawing that is lacking."""

    wish: Wish
    forms: tuple[tuple[Form[Any], str], ...]
    """In which it is wanted, each with the key under which it is kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """A track to be made, and what is wanted of it."""

    flight: str
    pilot: int
    name: str
    made_of: MadeOf
    wished: tuple[Wished, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """What came of it."""

    written: Written | None
    drawn: tuple[tuple[object, ...], ...]
    """What was wished for, in that order, each in its forms."""


@dataclass(frozen=True, slots=True)
class Shared:
    """What all tracks are drawn with, packed once for all pieces of work."""

    data: bytes

    @classmethod
    def of(cls, sheet: Sheet) -> "Shared":
        """Pack it, without logs and results."""
        flights = tuple(
            replace(own, logs=(), reports=(), rulings=(), air=None)
            for own in sheet.event.flights
        )
        bare = plain_sheet(replace(sheet, event=replace(sheet.event, flights=flights)))
        return cls(pickle.dumps(bare, pickle.HIGHEST_PROTOCOL))


def trace(shared: Shared, traces: Sequence[Trace]) -> list[Traced]:
    """Make tracks, and what is wanted of each, in any process."""
    tracks, forms = _drawings(shared)
    return [_traced(one, tracks, forms) for one in traces]


def _traced(
    one: Trace,
    tracks: dict[tuple[str, int], Flown],
    forms: Mapping[Form[Any], Drawings[Any]],
) -> Traced:
    flown = one.made_of.flown()
    tracks[one.flight, one.pilot] = flown
    drawn = tuple(_drawn(own, forms) for own in one.wished)
    tracks.clear()
    return Traced(written=written(one.flight, one.name, flown), drawn=drawn)


def _drawn(own: Wished, forms: Mapping[Form[Any], Drawings[Any]]) -> tuple[object, ...]:
    """Draw once what pages and slips both want."""
    scenes = forms[own.forms[0][0]].scenes(own.wish)
    return tuple(forms[form].formed(scenes) for form, _ in own.forms)


@lru_cache(maxsize=1)
def _drawings(
    shared: Shared,
) -> tuple[dict[tuple[str, int], Flown], Mapping[Form[Any], Drawings[Any]]]:
    """Unpack once in each process: the tracks to be drawn, still none, and who draws."""
    sheet: Sheet = pickle.loads(shared.data)  # noqa: S301 - our own
    tracks: dict[tuple[str, int], Flown] = {}
    return tracks, {form: Drawings(sheet, tracks, form) for form in FORMS}


def traced(
    shared: Shared, traces: Iterator[Trace], executor: Executor | None
) -> Iterator[tuple[Trace, Traced]]:
    """Yield each track with what came of it, in their order, whoever did the work.

    What a process leaves undone that the system ended is done here.
    """
    sent: deque[tuple[Sequence[Trace], Future[list[Traced]] | None]] = deque()
    try:
        while piece := tuple(islice(traces, BATCH)):
            sent.append((piece, _sent(shared, piece, executor)))
            if executor is None or len(sent) > IN_FLIGHT:
                yield from _back(shared, *sent.popleft())
        while sent:
            yield from _back(shared, *sent.popleft())
    finally:
        for _, future in sent:
            if future is not None:
                future.cancel()


def _sent(
    shared: Shared, piece: Sequence[Trace], executor: Executor | None
) -> Future[list[Traced]] | None:
    try:
        return None if executor is None else executor.submit(trace, shared, piece)
    except BrokenExecutor:
        return None


def _back(
    shared: Shared, piece: Sequence[Trace], future: Future[list[Traced]] | None
) -> Iterator[tuple[Trace, Traced]]:
    try:
        found = trace(shared, piece) if future is None else future.result()
    except BrokenExecutor:
        found = trace(shared, piece)
    yield from zip(piece, found, strict=True)


class Pass:
    """Writes tracks; what pages and slips draw of them is kept until these are made."""

    def __init__(
        self, sheet: Sheet, tracks: Tracks, executor: Executor | None, *, draws: bool
    ) -> None:
        self._sheet, self._tracks, self._executor = sheet, tracks, executor
        self._draws = draws
        self._names = names_of(sheet.event)

    def __call__(self, keys: Sequence[tuple[str, int]]) -> Iterator[Written | None]:
        """Write tracks, given by flight and pilot, in their order."""
        traces = map(self._trace, keys)
        for one, came in traced(self._shared, traces, self._executor):
            for own, drawn in zip(one.wished, came.drawn, strict=True):
                for (form, name), formed in zip(own.forms, drawn, strict=True):
                    self._drawings[form].put(name, formed)
            yield came.written
        self._tracks.keep.settle()  # what memory has no room for is found there

    @cached_property
    def _shared(self) -> Shared:
        return Shared.of(self._sheet)

    @cached_property
    def _drawings(self) -> Mapping[Form[Any], Drawings[Any]]:
        return {form: Drawings(self._sheet, self._tracks, form) for form in FORMS}

    @cached_property
    def _breakdowns(self) -> Mapping[int, Breakdown]:
        return breakdowns(self._sheet)

    def _trace(self, key: tuple[str, int]) -> Trace:
        flight, pilot = key
        return Trace(
            flight=flight,
            pilot=pilot,
            name=self._names.get(pilot, ""),
            made_of=self._tracks.made_of(key),
            wished=tuple(self._wished(key)) if self._draws else (),
        )

    def _wished(self, key: tuple[str, int]) -> Iterator[Wished]:
        flight, pilot = key
        own = self._breakdowns.get(pilot)
        if own is None:
            return
        parts = tuple(part for part in own.parts if part.task.flight == flight)
        of_forms = {shown: page_wishes(key, parts), picture: slip_wishes(parts)}
        lacking: dict[str, tuple[Wish, list[tuple[Form[Any], str]]]] = {}
        for form, wishes in of_forms.items():
            for name, wish in self._drawings[form].lacking(wishes):
                wanted = lacking.setdefault(wish.key(self._tracks.keep), (wish, []))
                wanted[1].append((form, name))
        for wish, forms in lacking.values():
            yield Wished(wish=wish.bare, forms=tuple(forms))
