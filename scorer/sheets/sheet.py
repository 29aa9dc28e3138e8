"""One publication as all sheets see it, and how they put its values into words."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from scorer.event.finding import Amount, Finding
from scorer.event.model import Event, PenaltyUnit, Pilot, Task, Units
from scorer.event.rulebook import RuleBook
from scorer.facts import Fact
from scorer.rounding import half_up
from scorer.scoring.results import (
    Results,
    RuledFinding,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.scoring.words import in_feet, show_part, show_race, show_total
from scorer.sheets.stamp import Stamp, local
from scorer.units import show_height, show_length
from scorer.words.catalogue import message

UNIT_SIGNS = {"m": "m", "deg": "°", "km2": "km²", "s": "s"}
DASH = "–"


def clean(text: object) -> str:
    """Drop the characters that no document can carry; line ends become spaces.

    Right-to-left marks and joiners stay: names need them.
    """
    spaced = str(text).replace("\r\n", " ").replace("\n", " ").replace("\t", " ")
    return "".join(
        sign
        for sign in spaced
        if unicodedata.category(sign) not in {"Cc", "Cs"} and sign not in "\ufffe\uffff"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Results, the event they came from and the publication they stand in."""

    results: Results
    event: Event
    stamp: Stamp
    _pilots: Mapping[int, Pilot] = field(init=False, repr=False)
    _tasks: Mapping[int, Task] = field(init=False, repr=False)
    _findings: Mapping[str, RuledFinding] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_pilots", {p.number: p for p in self.event.pilots})
        object.__setattr__(self, "_tasks", {t.number: t for t in self.event.tasks})
        found = {f.finding.id: f for f in self.results.findings}
        object.__setattr__(self, "_findings", found)

    def say(self, stated: Fact | None) -> str:
        """Say a fact, fit to print; empty where there is none."""
        return "" if stated is None else clean(self.results.voice.say(stated))

    def finding_title(self, finding: Finding) -> str:
        """Print a finding's kind in words."""
        return clean(self.results.voice.finding(finding.kind.name))

    @property
    def event_name(self) -> str:
        """Name of the event, fit to print."""
        return clean(self.event.name)

    @property
    def letter(self) -> bool:
        """Tell whether the event prints on letter paper rather than A4."""
        return self.event.units is Units.IMPERIAL

    def pilot(self, number: int) -> Pilot:
        """Return the pilot; an unknown number gets a nameless one."""
        return self._pilots.get(number) or Pilot(number=number, name="")

    def name(self, number: int) -> str:
        """Return a pilot's name, fit to print."""
        return clean(self.pilot(number).name)

    def task(self, number: int) -> Task | None:
        """Return a task as set by the director."""
        return self._tasks.get(number)

    def finding(self, identifier: str) -> RuledFinding | None:
        """Return a finding with what officials made of it."""
        return self._findings.get(identifier)

    def book(self, task: int) -> RuleBook:
        """Return the rule book a task was scored by."""
        known = self._tasks.get(task)
        return self.event.book if known is None else self.event.book_of(known)

    def amount(self, value: float | None, task: TaskResult) -> str:
        """Print a result in its task's unit; lengths as the event reads them."""
        if value is None:
            return DASH
        if task.race:
            return in_feet(value, task, self.event.units) or show_race(
                value, self.event.units
            )
        if task.unit == "m":
            return show_length(value, self.event.units, task.decimals)
        sign = UNIT_SIGNS.get(task.unit, task.unit)
        space = "" if task.unit == "deg" else " "
        return f"{half_up(value, task.decimals)}{space}{sign}"

    def total(self, row: Standing, table: StandingsTable) -> str:
        """Print what a line of standings comes to: points, or results added up."""
        return show_total(row, table, self.event.units)

    def part(self, row: Standing, table: StandingsTable, task: TaskResult) -> str:
        """Print what one task adds to it; empty where it adds nothing."""
        return show_part(row, table, task, self.event.units)

    def clock(self, time_s: float | None) -> str:
        """Print a moment as the event's clocks show it, to the second."""
        if time_s is None:
            return DASH
        zone = ZoneInfo(self.event.time_zone)
        return f"{datetime.fromtimestamp(time_s, UTC).astimezone(zone):%H:%M:%S}"

    def local(self, text: str) -> str:
        """Print a UTC time text in the event's zone."""
        return local(text, self.event.time_zone)

    @property
    def published(self) -> str:
        """Say when these results were put up."""
        at = self.local(self.stamp.published_at)
        return f"Published {at}" if at else "Not published"

    def height(self, metres: float) -> str:
        """Print a height as the event reads it."""
        return show_height(metres, self.event.units)

    def limit(self, metres: float) -> str:
        """Print a limit in metres to the hundredth, whole feet where feet are read.

        So it never looks like the measured value next to it.
        """
        if self.letter:
            return show_height(metres, self.event.units)
        return f"{half_up(metres, 2).normalize():f} m"

    def quantity(self, value: float | None, unit: str) -> str:
        """Print a finding's value: heights and depths as the event reads them."""
        if value is None:
            return DASH
        if unit == "m":
            return show_height(value, self.event.units)
        return f"{half_up(value, 1)} {UNIT_SIGNS.get(unit, unit)}"

    @property
    def facts(self) -> tuple[tuple[str, str], ...]:
        """What every sheet states, as label and value."""
        stamp = self.stamp
        rows = [
            ("Event", self.event_name),
            ("Venue", clean(self.event.venue)),
            ("State", stamp.headline),
            ("Published", f"{self.local(stamp.published_at)} ({stamp.published_at})")
            if stamp.published_at
            else ("Published", "not published"),
            ("Published by", clean(stamp.by)),
            ("Complaints until", self.local(stamp.complaint_end)),
            ("Rule book", clean(book_title(self.event.book))),
            ("Results SHA-256", stamp.results_sha256),
        ]
        return tuple((label, value) for label, value in rows if value)


def book_title(book: RuleBook) -> str:
    """Print a rule book's title with its name."""
    return f"{book.title} ({book.name})" if book.title else book.name


def task_title(task: TaskResult) -> str:
    """Print a task's number and kind: `Task 3 · Fly in (FIN)`."""
    title = message(f"task-kind-{task.kind.casefold()}", {})
    return f"Task {task.task} · {title} ({task.kind})"


def penalty_words(amount: Amount | None) -> str:
    """Print a penalty: `40 task points`, `12.5 metres`, `no result`."""
    if amount is None:
        return "none set"
    if amount.unit in {PenaltyUnit.NO_RESULT, PenaltyUnit.DISQUALIFIED}:
        return str(amount.unit)
    return f"{amount.amount:g} {amount.unit}"


def task_order(task: TaskResult) -> list[Score]:
    """Return the scores of a task as they stand on the board."""
    return sorted(task.scores, key=lambda score: (score.rank, score.pilot))


def plain(value: Any) -> Any:
    """Turn enumeration members into their text, leave the rest."""
    return value.value if hasattr(value, "value") else value
