"""What a published sheet says about itself: state, version, time, who, which numbers."""

from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from zoneinfo import ZoneInfo

from scorer.event.moments import EventTime
from scorer.facts import Fact, fact, number, term

NEVER = "1980-01-01T00:00:00Z"
"""Date inside files of drafts: the earliest that a ZIP file can hold."""


class State(StrEnum):
    """How binding published results are."""

    PROVISIONAL = "provisional"
    OFFICIAL = "official"
    FINAL = "final"


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """An earlier publication of the same results."""

    version: int
    state: State
    published_at: str
    """UTC, ISO 8601: `2026-09-12T10:05:00Z`."""
    by: str = ""
    results_sha256: str = ""
    changes: tuple[str, ...] = ()
    """What differs from the publication before it, a sentence each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """The publication a sheet belongs to; no clock is read anywhere below."""

    state: State = State.PROVISIONAL
    version: int = 1
    published_at: str = ""
    """UTC, ISO 8601: `2026-09-12T10:05:00Z`; empty = computed, never put up."""
    by: str = ""
    """Who published."""
    complaint_end: str = ""
    """UTC, ISO 8601; empty where the event has set none."""
    results_sha256: str
    """Hash of results.json."""
    changes: tuple[str, ...] = ()
    """What differs from the version before, a sentence each."""
    earlier: tuple[Edition, ...] = ()
    """Publications before this one, newest first."""
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
        version = number(self.version)
        return fact("headline", state=term(f"state-{self.state}"), version=version)

    @property
    def short_hash(self) -> str:
        """The first twelve figures of the hash, enough to tell two editions apart."""
        return self.results_sha256[:12]


def utc(text: str) -> datetime:
    """Read an ISO 8601 time; one without an offset is UTC."""
    moment = datetime.fromisoformat(text)
    return (
        moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
    )


def local(text: str, zone: str) -> str:
    """Print a UTC time as the event's clocks show it, zone named; empty stays so."""
    if not text:
        return ""
    return EventTime.of(utc(text), ZoneInfo(zone)).stated()
