"""What a log says inside of whose it is: pilot, registration, serial, number."""

import re

from scorer.tracks.heads import LogHead
from scorer.tracks.names import code, words_of
from scorer.tracks.roster import Numbers, Roster, SignReading, named_by, part_reading

_NO_NAME = frozenset(
    (
        *("pilot", "in", "command", "pic", "name", "unknown", "none", "not", "set"),
        *("default", "user", "test", "tba", "tbd", "null", "nil", "no", "na", "owner"),
        *("anonymous", "logger", "crew", "phone", "the", "competitor", "your", "my"),
    )
)
"""What devices say where nobody said a name (common practice, no source)."""


def _inside(head: LogHead) -> tuple[str, ...]:
    written = words_of(head.headers.get("pilot", ""))
    return tuple(word for word in written if word not in _NO_NAME)


def whole_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read the pilot's name, or that of somebody who is not on the roster."""
    written = _inside(head)
    named = named_by(written, roster)
    if not written or named.alike or named.part:
        return None
    if not named.whole and any(word in roster.by_word for word in written):
        return None  # one of several of that name
    text = head.headers.get("pilot", "")
    return SignReading(named.whole, text, roster.written_like(" ".join(written)))


def alike_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a name spelt nearly like one on the roster."""
    named = named_by(_inside(head), roster).alike
    return SignReading(named, head.headers.get("pilot", "")) if named else None


def part_of_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a word of names; of many that bear it, it is a sign against all others."""
    named = named_by(_inside(head), roster).part
    return part_reading(named, head.headers.get("pilot", ""))


def logger(head: LogHead, roster: Roster) -> SignReading | None:
    """Read the serial in the header, with or without the maker."""
    written = head.headers.get("logger", "")
    serial = code(written)
    found: set[int] = set()
    for key in filter(None, (serial, serial[3:])):
        found |= roster.by_logger.get(key, set())
    return (
        SignReading(frozenset(found), written, _those(roster.by_logger))
        if serial
        else None
    )


def registration(head: LogHead, roster: Roster) -> SignReading | None:
    """Read the registration, also where it stands as the competition id."""
    table = roster.by_registration
    for key in ("registration", "competition_id"):
        written = head.headers.get(key, "")
        found = table.get(code(written))
        if found or (key == "registration" and code(written)):
            return SignReading(frozenset(found or ()), written, _those(table))
    return None


def _those(table: dict[str, set[int]]) -> Numbers:
    return frozenset().union(*table.values())


def competition_id(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a competition number, which may be that of the last event."""
    written = head.headers.get("competition_id", "")
    digits = re.fullmatch(r"\s*#?0*(\d{1,6})\s*", written)
    known = digits is not None and int(digits[1]) in roster.numbers
    return (
        SignReading(frozenset({int(digits[1])}), written) if digits and known else None
    )
