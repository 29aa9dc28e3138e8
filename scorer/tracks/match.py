"""Say whose log is whose, by what the logs say of themselves, and show where it clashes.

Works on small heads of logs (`LogHead`), so that it runs in the parent process while
workers read the logs.
"""

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import PurePosixPath

import numpy as np

from scorer.event import matters
from scorer.event.matter import Matter, MatterKind, about
from scorer.event.model import Period, Pilot
from scorer.facts import Fact, count, fact, inner, listed, log, several, term
from scorer.facts import pilot as pilot_value
from scorer.tracks.track import Track


@dataclass(frozen=True, slots=True, kw_only=True)
class LogHead:
    """What matching needs to know of a log."""

    name: str
    sha256: str
    headers: Mapping[str, str] = field(default_factory=dict)
    """As in Track."""
    pilot: int | None = None
    """Number assigned by hand."""
    fixes: int = 0
    """Within the flight's day."""
    within: bool = True
    """It has fixes within the periods of the flight's tasks."""
    barometer: bool = False

    @classmethod
    def of(
        cls,
        track: Track,
        *,
        pilot: int | None = None,
        day: Period | None = None,
        periods: Sequence[Period] = (),
    ) -> "LogHead":
        """Take the head of a track; `day` says which fixes count."""
        time = track.time_s
        held = (((time >= p.start_s) & (time <= p.end_s)).any() for p in periods)
        start, end = (day.start_s, day.end_s) if day else (time[0], time[-1])
        inside = (time >= start) & (time <= end)
        return cls(
            name=track.name,
            sha256=track.sha256,
            headers=track.headers,
            pilot=pilot,
            fixes=int(np.count_nonzero(inside)),
            within=not periods or any(held),
            barometer=2 * int(np.isfinite(track.pressure_alt_m).sum()) > len(time),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Identified:
    """Whose a log is, and why."""

    head: LogHead
    pilot: int | None
    """Pilot's number; None when no sign names exactly one."""
    signs: tuple[str, ...] = ()
    """What says so, strongest first: words of the catalogue."""
    trouble: Fact | None = None
    """What speaks against it, or why it cannot be told."""
    known: bool = True
    """The roster has this pilot."""

    def warning(self, flight: str) -> Matter | None:
        """Return the trouble as a warning, if there is any."""
        if self.trouble is None:
            return None
        return Matter(
            kind=self._kind(),
            flight=flight,
            pilots=about(self.pilot),
            says=self.trouble,
        )

    def _kind(self) -> MatterKind:
        if self.pilot is None:
            return matters.LOG_UNMATCHED
        # Who assigned it by hand has seen the clash: tell of it, but do not block.
        settled = self.head.pilot is not None and self.known
        return matters.LOG_BY_HAND if settled else matters.LOG_PILOT


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """Whose log is whose."""

    chosen: Mapping[int, LogHead]
    """The log that counts, or leads, by pilot's number."""
    joined: Mapping[int, tuple[LogHead, ...]] = field(default_factory=dict)
    """Other logs that are parts of the same track."""
    logs: tuple[Identified, ...]
    """All logs, in the order of their names."""
    matters: tuple[Matter, ...]


def match_logs(
    heads: Iterable[LogHead], pilots: Iterable[Pilot], *, flight: str = ""
) -> Match:
    """Assign each log to a pilot, as `identify` does, and choose one log for each pilot.

    Of several logs of one pilot an assignment by hand wins, then one within the periods
    of the flight's tasks, then one with a barometer, then the log with more fixes in the
    flight's day, then the first by name; the choice is reported (`log-duplicate`).
    The same file twice counts once, without a word.
    """
    roster = _roster_of(pilots)
    return choose([_identify(head, roster) for head in heads], flight=flight)


def identify(head: LogHead, pilots: Iterable[Pilot]) -> Identified:
    """Tell whose a log is by the strongest sign that names exactly one pilot.

    The signs, strongest first: assigned by hand; the pilot's logger (serial in the header
    or in the file name); the competition number or registration as competition id in the
    header; the registration in the header; the number in the file name, where it is all
    of it or is called the pilot's (`012.igc`, `pilot 12.igc`, `no 12.igc`); the pilot's
    name in the header or file name, whatever the order of its words, capitals and
    accents.

    `trouble` tells of signs that name another pilot and of a number that is not in the
    roster.  It blocks official results (`log-pilot`) unless somebody assigned the log by
    hand and so has decided (`log-by-hand`).
    """
    return _identify(head, _roster_of(pilots))


Parts = Callable[[LogHead, Sequence[LogHead]], Sequence[LogHead]]
"""Tells which of a pilot's other logs make one track with the leading one."""


def choose(
    logs: Iterable[Identified], *, flight: str = "", parts: Parts | None = None
) -> Match:
    """Choose the leading log for each pilot, as `match_logs` says, and its parts."""
    ordered = sorted(logs, key=lambda found: found.head.name)
    by_pilot: dict[int, list[LogHead]] = {}
    for found in ordered:
        if found.pilot is not None:
            by_pilot.setdefault(found.pilot, []).append(found.head)
    chosen = {n: _best(by_pilot[n]) for n in sorted(by_pilot)}
    joined = {}
    warnings = [w for found in ordered if (w := found.warning(flight))]
    for number, head in chosen.items():
        others = [
            h for h in by_pilot[number] if h is not head and h.sha256 != head.sha256
        ]
        fair = [h for h in others if head.pilot is None or h.pilot is not None]
        own = tuple(parts(head, fair)) if parts is not None else ()
        joined[number] = own
        says = [
            _duplicates([h for h in others if h not in own], head, number),
            _several_parts(own, head, number),
        ]
        kind = matters.LOG_DUPLICATE
        warnings += [
            Matter(kind=kind, flight=flight, pilots=(number,), says=stated)
            for stated in says
            if stated is not None
        ]
    return Match(
        chosen=chosen, joined=joined, logs=tuple(ordered), matters=tuple(warnings)
    )


def _several_parts(parts: Sequence[LogHead], lead: LogHead, number: int) -> Fact | None:
    if not parts:
        return None
    return fact(
        "log-joined",
        pilot=pilot_value(number),
        lead=log(lead.name),
        others=several(log(part.name) for part in parts),
    )


def _identify(head: LogHead, roster: "_Roster") -> Identified:
    found = [(sign.name, sign.find(head, roster)) for sign in _SIGNS]
    found = [(name, numbers) for name, numbers in found if numbers]
    number = next((min(n) for _, n in found if len(n) == 1), None)
    if number is None:
        return Identified(head=head, pilot=None, trouble=_unmatched(head, found))
    agree = tuple(name for name, numbers in found if number in numbers)
    against = [_fits(*sign) for sign in found if number not in sign[1]]
    known = number in roster.numbers
    if not known:
        against.append(fact("no-such-pilot", pilot=pilot_value(number)))
    trouble = None
    if against:
        trouble = fact(
            "log-contradicted",
            log=log(head.name),
            pilot=pilot_value(number),
            sign=term(agree[0]),
            against=several(map(inner, against)),
        )
    return Identified(
        head=head, pilot=number, signs=agree, trouble=trouble, known=known
    )


def _unmatched(head: LogHead, found: Sequence[tuple[str, set[int]]]) -> Fact:
    if not found:
        return fact("log-unmatched", log=log(head.name))
    signs = several(inner(_fits(*sign)) for sign in found)
    return fact("log-ambiguous", log=log(head.name), signs=signs)


def _fits(sign: str, numbers: set[int]) -> Fact:
    fitting = listed(pilot_value(number) for number in sorted(numbers))
    return fact("sign-fits", sign=term(sign), pilots=fitting)


def _best(logs: Sequence[LogHead]) -> LogHead:
    """Take by hand, within the periods, with a barometer, by most fixes, then by name.

    A log of less than a tenth of another's fixes leads nothing.
    """
    most = max(h.fixes for h in logs)

    def rank(head: LogHead) -> tuple[bool, bool, bool, bool, int, str]:
        short = head.fixes < SHORT_SHARE * most
        by_hand, barometer = head.pilot is not None, head.barometer
        own = (not by_hand, not head.within, short, not barometer)
        return *own, -head.fixes, head.name

    return min(logs, key=rank)


def _duplicates(others: Sequence[LogHead], chosen: LogHead, number: int) -> Fact | None:
    if not others:
        return None
    how = _with_fixes(chosen)
    if chosen.pilot is not None:
        how = fact("log-by-hand", log=log(chosen.name))
    return fact(
        "log-several",
        pilot=pilot_value(number),
        counts=inner(how),
        others=several(inner(_with_fixes(other)) for other in others),
    )


def _with_fixes(head: LogHead) -> Fact:
    return fact("log-with-fixes", log=log(head.name), fixes=count(head.fixes))


SHORT_SHARE = 0.1

_Entrant = tuple[int, str, str, str]
"""Number, name, registration, logger."""


def _roster_of(pilots: Iterable[Pilot]) -> "_Roster":
    return _made(tuple((p.number, p.name, p.registration, p.logger) for p in pilots))


@lru_cache(maxsize=2)
def _made(entrants: tuple[_Entrant, ...]) -> "_Roster":
    """Make a roster once for all batches of logs."""
    return _Roster(entrants)


class _Roster:
    """Pilots by the things that logs may say."""

    def __init__(self, entrants: tuple[_Entrant, ...]) -> None:
        self.numbers = {number for number, *_ in entrants}
        self.by_registration = _index((own, number) for number, _, own, _ in entrants)
        self.by_logger = _index((own, number) for number, _, _, own in entrants)
        self.by_name: dict[frozenset[str], set[int]] = {}
        for number, name, _, _ in entrants:
            if words := _words(name):
                self.by_name.setdefault(words, set()).add(number)


def _index(pairs: Iterable[tuple[str, int]]) -> dict[str, set[int]]:
    table: dict[str, set[int]] = {}
    for text, number in pairs:
        if key := _code(text):
            table.setdefault(key, set()).add(number)
    return table


def _plain(text: str) -> str:
    """Return small letters without accents."""
    split = unicodedata.normalize("NFKD", text)
    return "".join(c for c in split if not unicodedata.combining(c)).casefold()


def _code(text: str) -> str:
    """Return letters and digits only: `D-ESEL` and `desel` are one registration."""
    return "".join(c for c in _plain(text) if c.isalnum())


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"[^\W\d_]{2,}", _plain(text)))


def _stem(head: LogHead) -> str:
    return PurePosixPath(head.name.replace("\\", "/")).stem


def _by_hand(head: LogHead, _: _Roster) -> set[int]:
    return set() if head.pilot is None else {head.pilot}


def _by_logger(head: LogHead, roster: _Roster) -> set[int]:
    """Find the serial in the header, with or without the maker, or in the file name.

    In a name it must hold a letter or seven digits: fewer may be a date or a counter.
    """
    serial = _code(head.headers.get("logger", ""))
    keys = {serial, serial[3:]}
    stem = _stem(head)
    if named := _RECORDER_NAME.fullmatch(stem):
        keys.add(_code(named["long"] or named["short"]))
    else:
        words = re.findall(r"[^\W_]+", _DATE.sub(" ", stem))
        runs = {
            _code("".join(words[i:j]))
            for i in range(len(words))
            for j in range(i + 1, min(i + 4, len(words)) + 1)
        }
        keys |= {run for run in runs if len(run) >= (7 if run.isdigit() else 3)}
    return set().union(*(roster.by_logger.get(key, set()) for key in keys if key))


_DATE = re.compile(
    r"(?<!\d)(?:19|20)\d\d[-_.]?\d\d[-_.]?\d\d"
    r"(?:[-_T ]*\d\d[-_.]?\d\d(?:[-_.]?\d\d)?)?(?!\d)"
)
_RECORDER_NAME = re.compile(
    r"\d{4}-\d\d-\d\d-[A-Z0-9]{3}-(?P<long>[A-Z0-9]{3,8})-\d\d"
    r"|\d[1-9A-C][1-9A-V][A-Z](?P<short>[A-Z0-9]{3})[0-9A-Z]",
    re.IGNORECASE,
)
"""File names that recorders give, with date, maker, serial and number of the day's
flight: `2026-09-12-XYZ-4F7-01`, `69CX4F71` (IGC specification, 2.5; from memory)."""


def _by_competition_id(head: LogHead, roster: _Roster) -> set[int]:
    written = head.headers.get("competition_id", "")
    digits = re.fullmatch(r"\s*#?0*(\d{1,6})\s*", written)
    if digits and int(digits[1]) in roster.numbers:
        return {int(digits[1])}
    return roster.by_registration.get(_code(written), set())


def _by_registration(head: LogHead, roster: _Roster) -> set[int]:
    written = _code(head.headers.get("registration", ""))
    return roster.by_registration.get(written, set()) if written else set()


def _by_file_number(head: LogHead, roster: _Roster) -> set[int]:
    """Find a number that is the whole file name, or is called the pilot's in it.

    Any other number may be a date, a time, a counter of the logger or of copies.
    """
    found = _FILE_NUMBER.fullmatch(_stem(head))
    number = int(found["bare"] or found["called"]) if found else None
    return {number} if number in roster.numbers else set()


_FILE_NUMBER = re.compile(
    r"(?P<bare>\d{1,3})"
    r"|(?:(?:pilot|competitor|number|num|no|nr|#)[ _.-]*)+(?P<called>\d{1,4})"
    r"(?:[ _-]+(?:flight|task)[ _.-]*\d{1,2})*",
    re.IGNORECASE | re.ASCII,
)
"""Four digits alone may be a date or a time of day: `0112`, `0729`."""


def _by_name(head: LogHead, roster: _Roster) -> set[int]:
    """Find a pilot by a name in the header, else in the file name.

    All words of one must stand in the other, two words at least.
    """
    return _named(_words(head.headers.get("pilot", "")), roster) or _named(
        _words(_stem(head)), roster
    )


def _named(written: frozenset[str], roster: _Roster) -> set[int]:
    if exact := roster.by_name.get(written):
        return exact
    found: set[int] = set()
    for words, numbers in roster.by_name.items():
        shorter = min(words, written, key=len)
        if len(shorter) >= 2 and (words <= written or written <= words):
            found |= numbers
    return found


@dataclass(frozen=True, slots=True)
class _Sign:
    """One way to tell whose log it is."""

    name: str
    find: Callable[[LogHead, _Roster], set[int]]


_SIGNS = (
    _Sign("sign-by-hand", _by_hand),
    _Sign("sign-logger", _by_logger),
    _Sign("sign-competition-id", _by_competition_id),
    _Sign("sign-registration", _by_registration),
    _Sign("sign-file-number", _by_file_number),
    _Sign("sign-pilot-name", _by_name),
)
