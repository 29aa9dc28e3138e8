"""What a published sheet says about itself: state, version, time, who, which numbers."""

from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from zoneinfo import ZoneInfo

from scorer.event.moments import EventTime
from scorer.facts import Fact, fact, inner, listed, number, several, task, term

NEVER = "1980-01-01T00:00:00Z"
"""Date inside files of drafts: the earliest that a ZIP file can hold."""


STANDINGS = 0
"""Stands for the number of a task where the standings over tasks are meant."""


class Binding(StrEnum):
    """How binding published results are."""

    PROVISIONAL = "provisional"
    OFFICIAL = "official"
    FINAL = "final"


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """An earlier publication of the same results."""

    version: int
    state: Binding
    published_at: str
    """UTC, ISO 8601: `2026-09-12T10:05:00Z`."""
    by: str = ""
    results_sha256: str = ""
    changes: tuple[str, ...] = ()
    """What differs from the publication before it, a sentence each."""
    why: str = ""
    """The reason given for it."""
    scope: tuple[int, ...] = ()
    """The tasks that went up with it; empty = the whole event."""

    @property
    def says(self) -> Fact:
        """State and version, and of which tasks."""
        return stage_of(self.state, self.version, self.scope)


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskStage:
    """Where one task stands: the publication its results went up with."""

    task: int
    """`STANDINGS` where it is not one task but the standings over them."""
    state: Binding | None = None
    """None = a draft: never put up as it is now."""
    version: int | None = None
    published_at: str = ""
    """UTC, ISO 8601."""
    complaint_end: str = ""
    """UTC, ISO 8601; empty = none is set."""

    @property
    def says(self) -> Fact:
        """State and version."""
        if self.state is None or self.version is None:
            return fact("headline-draft")
        return stage_of(self.state, self.version)


def stage_of(state: Binding, version: int, scope: tuple[int, ...] = ()) -> Fact:
    """State how binding results are, their version, and of which tasks they are."""
    own = {"state": term(f"state-{state}"), "version": number(version)}
    if not scope:
        return fact("headline", **own)
    return fact("headline-of-tasks", tasks=several(map(task, scope)), **own)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """The publication a sheet belongs to; no clock is read anywhere below."""

    state: Binding = Binding.PROVISIONAL
    version: int = 1
    published_at: str = ""
    """UTC, ISO 8601: `2026-09-12T10:05:00Z`; empty = computed, never put up."""
    by: str = ""
    """Who published."""
    complaint_end: str = ""
    """UTC, ISO 8601; empty where the event has set none."""
    results_sha256: str
    """Hash of results.json."""
    head: str = ""
    """Head of the ledger the results were computed from, and of the results, as
    `sandtail verify --against` reads it; empty for what was never put up."""
    changes: tuple[str, ...] = ()
    """What differs from the version before, a sentence each."""
    earlier: tuple[Edition, ...] = ()
    """Publications before this one, newest first."""
    why: str = ""
    """The reason given for this publication."""
    scope: tuple[int, ...] = ()
    """The tasks that go up with it; empty = the whole event."""
    tasks: tuple[TaskStage, ...] = ()
    """Where each flown task stands; empty = all as this publication says."""
    site_url: str = ""
    """Where the pages are put up; empty when they are not on the web."""

    @property
    def moment(self) -> datetime:
        """The time of publication, UTC; a fixed one for what was never put up."""
        return utc(self.published_at or NEVER)

    @property
    def says(self) -> Fact:
        """State and version, for the top of every sheet."""
        if not self.published_at:
            return fact("headline-draft")
        return stage_of(self.state, self.version, self.scope)

    def of_task(self, number_: int) -> TaskStage:
        """Return where a task stands."""
        own = next((t for t in self.tasks if t.task == number_), None)
        if own is not None or self.tasks or not self.published_at:
            return own or TaskStage(task=number_)
        return TaskStage(
            task=number_,
            state=self.state,
            version=self.version,
            published_at=self.published_at,
            complaint_end=self.complaint_end,
        )

    @property
    def weakest(self) -> Binding | None:
        """The stage of the standings: that of the weakest task they rest on."""
        if not self.published_at:
            return None
        if not self.tasks:
            return None if self.scope else self.state
        order = list(Binding)
        states = [own.state for own in self.tasks]
        if None in states:
            return None
        return min((s for s in states if s is not None), key=order.index)

    @property
    def of_standings(self) -> TaskStage:
        """Where the standings stand: a draft has no moment and no time for complaints.

        Neither has a lower stage than that of what went up the time of the higher one.
        """
        state = self.weakest
        if state is None:
            return TaskStage(task=STANDINGS)
        return TaskStage(
            task=STANDINGS,
            state=state,
            version=self.version,
            published_at=self.published_at,
            complaint_end=self.complaint_end if state is self.state else "",
        )

    @property
    def rests_on(self) -> Fact | None:
        """State which tasks the standings rest on, and where each stands."""
        if not self.tasks:
            return None
        parts = (
            fact("rests-on-task", task=task(own.task), stage=inner(own.says))
            for own in self.tasks
        )
        return fact("rests-on", tasks=listed(parts))

    @property
    def short_hash(self) -> str:
        """The first twelve figures of the hash, enough to tell two editions apart."""
        return self.results_sha256[:12]

    @property
    def head_code(self) -> str:
        """What the square code of the head holds: in capitals, which take less room."""
        return f"sandtail:{self.head}".upper() if self.head else ""


def utc(text: str) -> datetime:
    """Read an ISO 8601 time; one without an offset is UTC."""
    moment = datetime.fromisoformat(text)
    return (
        moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
    )


def zulu(text: str) -> str:
    """Print a UTC time as ISO 8601, with parts of a second only where it has some."""
    return utc(text).isoformat().replace("+00:00", "Z")


def local(text: str, zone: str) -> str:
    """Print a UTC time as the event's clocks show it, zone named; empty stays so."""
    if not text:
        return ""
    return EventTime.of(utc(text), ZoneInfo(zone)).stated()


def working_stamp(results_sha256: str) -> Stamp:
    """Return the stamp of a working copy: it says that nothing is published."""
    return Stamp(results_sha256=results_sha256)
