"""The three kinds of ending: a user's error, a cancelled job, and our own bug."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from scorer.facts import Fact, fact, listed, words

if TYPE_CHECKING:  # commands that compute nothing do not load it
    import numpy as np
    from numpy.typing import NDArray


_ENDED = re.compile(r"(?<=[^\s.])([.?!])\.(?=\s|$)")


def ended_once(text: str) -> str:
    """Let each sentence end once, where one was put before another: no `?.` and no `..`."""
    return _ENDED.sub(r"\1", text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong in what was entered, and what to do about it."""

    where: str
    """File, sheet or entry in which the fault stands."""
    line: int | None = None
    field: str | None = None
    found: str
    """What stands there, as entered."""
    allowed: str
    """What may stand there."""
    remedy: str = ""
    """What to do, where the two lines above do not say it already."""
    says: Fact | None = None
    """The same without file and column, where scoring tells it to people."""
    entries: tuple[str, ...] = ()
    """Hashes of the ledger's entries in which it stands; empty = it stands in a file."""

    def __str__(self) -> str:
        line = "" if self.line is None else f"line {self.line}"
        place = ", ".join(filter(None, (self.where, line, self.field)))
        text = f"{place}: found {self.found}; allowed: {self.allowed}"
        text = ended_once(f"{text}. {self.remedy}" if self.remedy else text)
        return " ".join(text.splitlines())  # a name with a line's end says no line more


class ScorerError(Exception):
    """Something a user can put right; the text is a sentence that says how."""

    @property
    def says(self) -> Fact:
        """State it, to be told in a step or a matter."""
        return fact("fault-in-words", text=words(str(self)))


class InputError(ScorerError):
    """What was entered cannot be used; `faults` lists all that is wrong with it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    @property
    def says(self) -> Fact:
        """State all that is wrong."""
        own = [
            f.says or fact("fault-in-words", text=words(str(f))) for f in self.faults
        ]
        return own[0] if len(own) == 1 else fact("faults", faults=listed(own))

    def __reduce__(self) -> tuple[type["InputError"], tuple[tuple[Fault, ...]]]:
        return InputError, (self.faults,)


class GeometryError(ScorerError):
    """Geometry that no computation can use; `mask` marks the offending points."""

    def __init__(self, says: Fact, mask: "NDArray[np.bool_] | None" = None) -> None:
        values = ", ".join(f"{name} {value.document()}" for name, value in says.values)
        super().__init__(f"{says.kind.replace('-', ' ')} {values}".strip())
        self._says = says
        self.mask = mask

    @property
    def says(self) -> Fact:
        """State it, to be told in a step or a matter."""
        return self._says

    def __reduce__(self) -> tuple[type["GeometryError"], tuple[Any, ...]]:
        return GeometryError, (self._says, self.mask)


class Cancelled(Exception):
    """The user asked a long job to stop."""


def closest(name: str, known: Iterable[object]) -> str:
    """Return the known name that is nearest to one; nothing where none is near."""
    original = {str(k).casefold(): str(k) for k in known}
    close = get_close_matches(name.casefold(), original, n=1, cutoff=0.6)
    return original[close[0]] if close else ""


def nearest(name: str, known: Iterable[object]) -> str:
    """Return a hint `did you mean "…"?`, or nothing when no known name is near."""
    close = closest(name, known)
    return f'Did you mean "{close}"?' if close else ""
