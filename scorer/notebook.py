"""For notebooks and scripts: load, check and score an event, and look at it as tables.

>>> import scorer
>>> event = scorer.load("sample_events/vashkorim")
>>> event.name, len(event.pilots)
('Vashkorim Six', 6)
>>> meet = scorer.score(event)
>>> scorer.standings(meet)[["rank", "pilot", "total"]].head(2)
   rank  pilot  total
0     1      5   1748
1     2      4   1483

Tables are pandas DataFrames with the columns of the published data files; numbers are as
computed, not as rounded for people, with their units in the names.  Heights are evidence
for a sport, with stated uncertainty: not for navigation, and no statement that a flight
was lawful or safe.
"""

from collections.abc import Iterable
from concurrent.futures import Executor
from dataclasses import dataclass, fields
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from scorer.cli.explain import pilot_of
from scorer.cli.output import stamp_of
from scorer.cli.target import load as load_event
from scorer.cli.target import load_with_state
from scorer.errors import Fault, InputError, nearest
from scorer.event.matter import Matter
from scorer.event.model import Event
from scorer.ledger import matters as open_matters
from scorer.ledger.replay import State
from scorer.scoring import explain as breakdown
from scorer.scoring import score as scoring
from scorer.scoring.analysis import Tracks
from scorer.scoring.results import Results
from scorer.sheets.records import all_tables
from scorer.sheets.sheet import Sheet

if TYPE_CHECKING:  # loaded only where a table is asked for
    import pandas as pd


@dataclass(frozen=True, kw_only=True)
class Scored:
    """An event with its results: what `score` returns and all other functions take."""

    event: Event
    results: Results
    state: State | None = None
    """Of the ledger; None where the event is a folder."""

    @cached_property
    def tracks(self) -> Tracks:
        """The track that counted, by (flight, pilot number)."""
        return Tracks(self.event, self.results)

    def __repr__(self) -> str:
        return f"<{self.event.name}: {len(self.results.tasks)} tasks scored>"


def load(target: str | Path) -> Event:
    """Load an event from a folder, event file, archive or database.

    Raises `scorer.errors.InputError` with every fault there is; `check` lists them.
    """
    return load_event(str(target))


def check(target: str | Path) -> list[Fault]:
    """Return every fault of an event: where, what was found and what may stand there.

    >>> import scorer
    >>> for fault in scorer.check("sample_events"):
    ...     print(fault.where, "-", fault.found)
    sample_events - no event.toml in it
    """
    try:
        load(target)
    except InputError as error:
        return list(error.faults)
    return []


def score(event: Event | str | Path, executor: Executor | None = None) -> Scored:
    """Score an event, or what lies at a path or address.

    Give an `executor` of processes where there are many logs; the results are the same.
    """
    state = None
    if not isinstance(event, Event):
        event, state, _ = load_with_state(str(event))
    return Scored(event=event, results=scoring.score(event, executor), state=state)


def explain(meet: Scored, pilot: int | str, task: int | None = None) -> str:
    """Return every step to a pilot's points; the pilot by number, name or part of it.

    >>> import scorer
    >>> meet = scorer.score("sample_events/vashkorim")
    >>> print(scorer.explain(meet, "Ek", task=1).splitlines()[0])
    4 Oisín Ek, Vashkorim Six
    """
    number = pilot_of(meet.event, str(pilot))
    return "\n".join(breakdown.explain(meet.event, meet.results, number, task))


def matters(meet: Scored) -> tuple[Matter, ...]:
    """Return all that is open or doubtful, what blocks first.

    >>> import scorer
    >>> meet = scorer.score("sample_events/vashkorim")
    >>> for matter in scorer.matters(meet):
    ...     if matter.holds_up:
    ...         print(meet.results.voice.title(matter.kind.name), matter.pilots)
    Infringement to decide (1,)
    Marks to settle (5,)
    """
    return open_matters.matters(meet.event, meet.results, meet.state)


def scores(meet: Scored) -> "pd.DataFrame":
    """Return one row for each pilot and task, best first within a task."""
    return table(meet, "scores")


def standings(meet: Scored, name: str = "standings") -> "pd.DataFrame":
    """Return the standings; `standings-class-1` and so on where there are classes."""
    return table(meet, name)


def infringements(meet: Scored) -> "pd.DataFrame":
    """Return what the evidence shows against rules, with what officials decided."""
    return table(meet, "infringements")


def marks(meet: Scored) -> "pd.DataFrame":
    """Return one row for each mark: distance from its target (m), with one sigma."""
    return table(meet, "marks")


def table(meet: Scored, name: str) -> "pd.DataFrame":
    """Return any table of the published data by its name; `attrs` has titles for people.

    >>> import scorer
    >>> meet = scorer.score("sample_events/vashkorim")
    >>> pilots = scorer.table(meet, "pilots")
    >>> pilots.attrs["title"], len(pilots)
    ('Pilots', 6)
    """
    import pandas as pd  # noqa: PLC0415 - only where a table is asked for

    stamp = stamp_of(meet.results)
    sheet = Sheet(results=meet.results, event=meet.event, stamp=stamp)
    known = {one.name: one for one in all_tables(sheet)}
    if name not in known:
        raise _unknown("table", name, known)
    one = known[name]
    frame = pd.DataFrame(list(one.rows), columns=[c.key for c in one.columns])
    frame.attrs["title"] = one.title
    frame.attrs["titles"] = {c.key: c.title for c in one.columns}
    return frame


def track(meet: Scored, pilot: int | str, flight: str | None = None) -> "pd.DataFrame":
    """Return the track that counted for a pilot, one row for each fix, with heights.

    The index is the time in the event's zone.  Columns: `lat_deg`, `lon_deg` (WGS 84),
    `east_m`, `north_m` (event's plane), `ground_m` and `altitude_m` (above mean sea
    level), `height_m` over the ground with one sigma `height_sigma_m`, `climb_m_s`,
    `accuracy_m`.  NaN is not recorded.  Without `flight`, the pilot's first with a log.

    >>> import scorer
    >>> meet = scorer.score("sample_events/vashkorim")
    >>> track = scorer.track(meet, 1)
    >>> bool((track["height_sigma_m"] > 0).all())
    True
    """
    import pandas as pd  # noqa: PLC0415 - only where a table is asked for

    number = pilot_of(meet.event, str(pilot))
    logs = {f"{f}": (f, p) for f, p in meet.tracks if p == number}
    if flight is None and logs:
        flight = min(logs, key=[f.id for f in meet.event.flights].index)
    if flight not in logs:
        raise _unknown(f"flight with a log of pilot {number}", str(flight), logs)
    flown = meet.tracks[logs[flight]]
    every = {item.name: getattr(flown, item.name) for item in fields(flown)}
    arrays = {k: v for k, v in every.items() if isinstance(v, np.ndarray)}
    times = pd.to_datetime(arrays.pop("time_s"), unit="s", utc=True)
    index = times.tz_convert(meet.event.time_zone)
    frame = pd.DataFrame(arrays, index=index.rename("time"))
    frame.attrs.update(pilot=number, flight=flight, log=flown.log)
    return frame


def _unknown(what: str, found: str, known: Iterable[str]) -> InputError:
    named = tuple(known)
    return InputError(
        [
            Fault(
                where=what,
                found=found,
                allowed=", ".join(named) or "none: there is no log",
                remedy=nearest(found, named),
            )
        ]
    )
