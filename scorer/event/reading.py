"""Helpers of the readers: gather faults, read the cells of a row."""

from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from typing import TypeVar

from scorer.errors import Fault, nearest
from scorer.event.model import Origin
from scorer.event.moments import Clock
from scorer.event.raw import RawRow
from scorer.units import Unreadable, angle_deg, bearing, length_m, number

E = TypeVar("E", bound=StrEnum)
V = TypeVar("V")


NOTHING = "nothing"
"""Found where something should stand."""
_MOST_SHOWN = 160


def shown(found: object) -> str:
    """Return what was found as a text fit to print: not too long, no control codes."""
    try:
        text = str(found)
    except ValueError:
        return "a number of very many digits"
    if len(text) > _MOST_SHOWN:
        text = f"{text[:_MOST_SHOWN]}… ({len(text)} characters)"
    return "".join(
        c if c.isprintable() else c.encode("unicode_escape").decode() for c in text
    )


class Faults:
    """Collects every fault of an event, so that all are reported at once."""

    def __init__(self, known: Iterable[Fault] = ()) -> None:
        self.found: list[Fault] = []
        self.told = 0
        """How often something was wrong, known or not."""
        self._seen: set[Fault] = set()
        self._lacking: set[str] = set()
        self._broken = frozenset(fault.where for fault in known)

    def knows(self, *files: str) -> bool:
        """Tell whether a file's own faults are known: what follows is not repeated."""
        return not self._broken.isdisjoint(files)

    def add(
        self,
        origin: Origin,
        *,
        field: str | None,
        found: object,
        allowed: str,
        remedy: str = "",
    ) -> None:
        """Note one fault; the same again is not noted twice."""
        self.told += 1
        entered = bool(field) and isinstance(found, str) and found != NOTHING
        text = shown(found)
        fault = Fault(
            where=origin.where,
            line=origin.line,
            field=field,
            found=f'"{text}"' if entered else text,
            allowed=allowed,
            remedy=remedy,
            entries=origin.entries,
        )
        if fault not in self._seen:
            self._seen.add(fault)
            self.found.append(fault)

    def lacking(self, file: str, found: str, allowed: str) -> None:
        """Note once a file, whoever asks first, that others refer to what it lacks."""
        self.told += 1
        if file not in self._lacking and not self.knows(file):
            self._lacking.add(file)
            self.add(Origin(where=file), field=None, found=found, allowed=allowed)

    def unknown(
        self, origin: Origin, field: str, name: object, known: Iterable[object]
    ) -> None:
        """Note a name that does not exist, with the nearest that does."""
        names = [str(k) for k in known]
        listed = ", ".join(names[:12]) + (" …" if len(names) > 12 else "")
        self.add(
            origin,
            field=field,
            found=str(name),
            allowed=f"one of {listed}" if names else "nothing: none is set down yet",
            remedy=nearest(str(name), names),
        )


class Cells:
    """The cells of one row, read by kind; what cannot be read is noted and None."""

    def __init__(self, row: RawRow, faults: Faults) -> None:
        self.row = row
        self.faults = faults

    def text(self, column: str) -> str:
        """Return a cell's text, empty when not given."""
        return self.row.fields.get(column, "").strip()

    def refuse(self, column: str, allowed: str, remedy: str = "") -> None:
        """Note that a cell cannot stand as it is."""
        found = self.text(column) or "nothing"
        self.faults.add(
            self.row.origin, field=column, found=found, allowed=allowed, remedy=remedy
        )

    def integer(self, column: str) -> int | None:
        """Read a required whole number from 1 up."""
        text = self.text(column)
        plain = text.removesuffix(".0")
        if not (plain.isascii() and plain.isdigit() and len(plain) < 10 and int(plain)):
            self.refuse(column, "a whole number from 1 up")
            return None
        return int(plain)

    def required(self, column: str, what: str) -> str:
        """Read a text that must be given."""
        text = self.text(column)
        if not text:
            self.refuse(column, what)
        return text

    def choice(self, column: str, kinds: type[E]) -> E | None:
        """Read one of a set of words."""
        text = self.text(column).casefold()
        if text in list(kinds):
            return kinds(text)
        found = self.text(column) or "nothing"
        self.faults.unknown(self.row.origin, column, found, list(kinds))
        return None

    def read(self, column: str, reader: Callable[[str], V]) -> V | None:
        """Read an optional cell; None when empty or unreadable."""
        text = self.text(column)
        if not text:
            return None
        try:
            return reader(text)
        except Unreadable as fault:
            self.refuse(column, fault.allowed, fault.remedy)
            return None

    def length(self, column: str, bare: str) -> float | None:
        """Read an optional length in metres; `bare` is the unit of a bare number."""
        return self.read(column, lambda text: length_m(text, bare))

    def number(self, column: str) -> float | None:
        """Read an optional plain number."""
        return self.read(column, number)

    def angle(self, column: str, axis: str) -> float | None:
        """Read an optional latitude or longitude."""
        return self.read(column, lambda text: angle_deg(text, axis))

    def bearing(self, column: str) -> tuple[float, str] | None:
        """Read an optional bearing: degrees, and the letter of its north."""
        return self.read(column, bearing)

    def time(self, column: str, clock: Clock) -> float | None:
        """Read an optional local time as POSIX seconds."""
        return self.read(column, clock.read)


def entered(row: RawRow, columns: Iterable[str] = ()) -> Mapping[str, str]:
    """Return the given cells of a row as they were entered, in the order of columns.

    The same row is then the same wherever its columns stood; a column that is not among
    them comes last.
    """
    named = dict.fromkeys((*columns, *sorted(row.fields)))
    return {
        name: row.fields[name] for name in named if row.fields.get(name, "").strip()
    }
