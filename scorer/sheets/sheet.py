"""One publication as all sheets see it, and how they put its values into words."""

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cache
from typing import Any

from scorer.event.finding import Finding
from scorer.event.model import Event, Pilot, Task, Units
from scorer.event.moments import zone_told
from scorer.event.rulebook import RuleBook
from scorer.facts import Fact, fact, height, inner, listed, several, words
from scorer.facts import task as task_value
from scorer.files import TURNING
from scorer.scoring import told
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import (
    Results,
    RuledFinding,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.sheets.stamp import Stamp, local, zulu
from scorer.words.catalogue import ENGLISH
from scorer.words.voice import Voice

DASH = told.DASH


HIGHEST = 4
"""So many signs may stand upon a letter: more would reach into other lines."""


@cache
def _heaped() -> re.Pattern[str]:
    """Match signs heaped higher upon a letter than any word needs."""
    known = map(chr, range(0x10000))
    marks = "".join(
        sign for sign in known if unicodedata.category(sign) in {"Mn", "Me"}
    )
    return re.compile(f"([{marks}]{{{HIGHEST}}})[{marks}]+")


_NEVER = frozenset("\ufffe\uffff" + TURNING)


def clean(text: object) -> str:
    """Drop what no document can carry or what turns its lines; line ends become spaces.

    Right-to-left marks and joiners stay: names need them.
    """
    said = str(text)
    if not said.isascii():
        said = _heaped().sub(r"\1", said)
    if said.isprintable():
        return said
    spaced = said.replace("\r\n", " ").replace("\n", " ").replace("\t", " ")
    return "".join(
        sign
        for sign in spaced
        if unicodedata.category(sign) not in {"Cc", "Cs"} and sign not in _NEVER
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Results, the event they came from and the publication they stand in."""

    results: Results
    event: Event
    stamp: Stamp
    language: str = ENGLISH
    keep: Keep = field(default=NOTHING_KEPT, repr=False, compare=False)
    """Where is kept what is made of parts of the results (`parts.kept`)."""
    voice: Voice = field(init=False, repr=False)
    """How the event speaks, in this language."""
    _pilots: Mapping[int, Pilot] = field(init=False, repr=False)
    _tasks: Mapping[int, Task] = field(init=False, repr=False)
    _findings: Mapping[str, RuledFinding] = field(init=False, repr=False)
    _once: dict[tuple[str, int, str], str] = field(
        init=False, repr=False, default_factory=dict
    )
    """What is said of a task, by what it is: it stands on every pilot's page and slip."""
    _keys: dict[str, str] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )

    def __post_init__(self) -> None:
        voice = replace(self.results.voice, language=self.language)
        object.__setattr__(self, "voice", voice)
        object.__setattr__(self, "_pilots", {p.number: p for p in self.event.pilots})
        object.__setattr__(self, "_tasks", {t.number: t for t in self.event.tasks})
        found = {f.finding.id: f for f in self.results.findings}
        object.__setattr__(self, "_findings", found)

    def word(self, name: str) -> str:
        """Return a title or word of the catalogue."""
        return self.voice.word(name)

    def task_title(self, task: TaskResult) -> str:
        """Print a task's number and kind: `Task 3 · Fly in (FIN)`."""
        return self.once(
            "title", task, lambda: clean(told.task_title(self.voice, task))
        )

    def once(self, what: str, task: TaskResult, find: Callable[[], str]) -> str:
        """Return what is said of a task, or of a part of it, found the first time."""
        key = what, task.task, task.field
        if key not in self._once:
            self._once[key] = find()
        return self._once[key]

    def keyed(self, what: str, find: Callable[[], str]) -> str:
        """Return the key of something that sheets are made of, found the first time."""
        if what not in self._keys:
            self._keys[what] = find()
        return self._keys[what]

    def say(self, stated: Fact | None) -> str:
        """Say a fact, fit to print; empty where there is none."""
        return "" if stated is None else clean(self.voice.say(stated))

    def finding_title(self, finding: Finding) -> str:
        """Print a finding's kind in words."""
        return clean(told.finding_title(self.voice, finding))

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

    def tasks_of(self, number: int) -> tuple[Task, ...]:
        """Return a task as a sequence, empty where the event has none of this number."""
        known = self._tasks.get(number)
        return () if known is None else (known,)

    def finding(self, identifier: str) -> RuledFinding | None:
        """Return a finding with what officials made of it."""
        return self._findings.get(identifier)

    def book(self, task: int) -> RuleBook:
        """Return the rule book a task was scored by."""
        known = self._tasks.get(task)
        return self.event.book if known is None else self.event.book_of(known)

    def amount(self, value: float | None, task: TaskResult) -> str:
        """Print a result in its task's unit; lengths as the event reads them."""
        return told.amount(self.voice, task, value) or DASH

    def result(self, score: Score, task: TaskResult) -> str:
        """Print a pilot's result, or that there is none and whether he flew."""
        own = told.result(self.voice, task, score)
        return own or told.group(self.voice, score)

    def total(self, row: Standing, table: StandingsTable) -> str:
        """Print what a line of standings comes to: points, or results added up."""
        return told.total(self.voice, row, table)

    def cell(self, row: Standing, table: StandingsTable, task: TaskResult) -> str:
        """Print one task in it: in brackets what does not count, or a dash."""
        return told.cell(self.voice, row, table, task)

    def total_head(self, table: StandingsTable) -> str:
        """Return the heading above it."""
        return told.total_head(self.voice, table)

    def clock(self, time_s: float | None) -> str:
        """Print a moment as the event's clocks show it, to the second."""
        return DASH if time_s is None else self.voice.moment(time_s)

    def local(self, text: str) -> str:
        """Print a UTC time text in the event's zone."""
        return local(text, self.event.time_zone)

    @property
    def headline(self) -> str:
        """State and version in two words, for the top of every sheet."""
        return self.say(self.stamp.says)

    @property
    def standings_headline(self) -> str:
        """State and version of the standings: those of their weakest task."""
        return self.say(self.stamp.of_standings.says)

    @property
    def pilot_headline(self) -> str:
        """State and version of what a pilot's page or slip shows.

        Where the standings are a draft but tasks are up: which tasks stand at what.
        """
        stamp = self.stamp
        if not stamp.published_at or stamp.weakest is not None or not stamp.tasks:
            return self.standings_headline
        alike: dict[Fact, list[int]] = {}
        for own in stamp.tasks:
            alike.setdefault(own.says, []).append(own.task)
        parts = (
            fact(
                "rests-on-task", task=several(map(task_value, tasks)), stage=inner(says)
            )
            for says, tasks in alike.items()
        )
        draft = inner(stamp.of_standings.says)
        return self.say(fact("headline-of-parts", tasks=listed(parts), standings=draft))

    def headline_of(self, task: TaskResult) -> str:
        """State and version of one task."""
        if task.state != "flown":
            return self.word(task.state)
        return self.say(self.stamp.of_task(task.task).says)

    def published_of(self, task: TaskResult) -> str:
        """Say when a task's results were put up, and how long one may complain."""
        own = self.stamp.of_task(task.task)
        at, end = self.local(own.published_at), self.local(own.complaint_end)
        parts = (
            self.say(fact("published-at", at=words(at))) if at else "",
            self.say(fact("complaints-until", at=words(end))) if end else "",
        )
        return " · ".join(part for part in parts if part) or self.word("not-published")

    @property
    def published(self) -> str:
        """Say when these results were put up; of which tasks, where standings were not."""
        said = self._published_at(self.stamp.published_at)
        partial = self.stamp.published_at and self.stamp.weakest is None
        return f"{self.headline} · {said}" if partial else said

    @property
    def standings_published(self) -> str:
        """Say when the standings were put up."""
        return self._published_at(self.stamp.of_standings.published_at)

    def _published_at(self, text: str) -> str:
        if not text:
            return self.word("not-published")
        return self.say(fact("published-at", at=words(self.local(text))))

    @property
    def edition(self) -> str:
        """Say what a document of everything is: state, version and moment, once each."""
        partial = self.stamp.published_at and self.stamp.weakest is None
        headline = "" if partial else f"{self.standings_headline} · "
        return f"{headline}{self.published}"

    def height(self, metres: float) -> str:
        """Print a height as the event reads it."""
        return self.voice.value(height(metres))

    def quantity(self, value: float | None, unit: str) -> str:
        """Print an infringement's value: heights and depths as the event reads them."""
        if value is None:
            return DASH
        return told.quantity(self.voice, value, unit)

    @property
    def facts(self) -> tuple[tuple[str, str], ...]:
        """What every sheet of the standings states, as label and value."""
        own = self.stamp.of_standings
        return self._facts(
            self.standings_headline,
            self.say(self.stamp.rests_on),
            own.published_at,
            own.complaint_end,
        )

    @property
    def proofs(self) -> tuple[tuple[str, str], ...]:
        """What of these facts proves that nothing was changed since."""
        labels = {self.word("fact-head"), self.word("fact-hash")}
        return tuple(pair for pair in self.facts if pair[0] in labels)

    def facts_of(self, task: TaskResult) -> tuple[tuple[str, str], ...]:
        """What the sheet of one task states, as label and value."""
        own = self.stamp.of_task(task.task)
        at, end = own.published_at, own.complaint_end
        return self._facts(self.headline_of(task), "", at, end)

    def _facts(
        self, state: str, rests: str, at: str, end: str
    ) -> tuple[tuple[str, str], ...]:
        stamp = self.stamp
        when = f"{self.local(at)} ({zulu(at)})" if at else self.word("not-yet")
        rows = (
            ("fact-event", self.event_name),
            ("fact-venue", clean(self.event.venue)),
            ("fact-state", state),
            ("fact-rests-on", rests),
            ("fact-published", when),
            ("fact-published-by", clean(stamp.by)),
            ("fact-why", clean(stamp.why)),
            ("fact-complaints", self.local(end)),
            ("fact-times", self.say(self._times)),
            ("fact-rules", clean(self.voice.book(self.event.book))),
            ("fact-head", stamp.head),
            ("fact-hash", stamp.results_sha256),
        )
        return tuple((self.word(label), value) for label, value in rows if value)

    @property
    def _times(self) -> Fact:
        return local_times(self.event, (flight.date for flight in self.event.flights))


def local_times(event: Event, days: Iterable[date]) -> Fact:
    """State by which clocks a sheet about some days shows times."""
    return fact("local-times", zone=words(zone_told(event.time_zone, days)))


def task_order(task: TaskResult) -> list[Score]:
    """Return the scores of a task as they stand on the board."""
    return sorted(task.scores, key=lambda s: (s.field, s.rank, s.pilot))


def plain(value: Any) -> Any:
    """Turn enumeration members into their text, leave the rest."""
    return value.value if hasattr(value, "value") else value
