"""The three kinds of ending: a user's error, a cancelled job, and our own bug."""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np
from numpy.typing import NDArray


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

    def __str__(self) -> str:
        place = self.where if self.line is None else f"{self.where}, line {self.line}"
        if self.field:
            place = f"{place}, {self.field}"
        text = f"{place}: found {self.found}; allowed: {self.allowed}"
        return f"{text}. {self.remedy}" if self.remedy else text


class ScorerError(Exception):
    """Something a user can put right; the text is a sentence that says how."""


class InputError(ScorerError):
    """What was entered cannot be used; `faults` lists all that is wrong with it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[type["InputError"], tuple[tuple[Fault, ...]]]:
        return InputError, (self.faults,)


class GeometryError(ScorerError):
    """Coordinates that no computation can use; `mask` marks the offending ones."""

    def __init__(self, text: str, mask: NDArray[np.bool_] | None = None) -> None:
        super().__init__(text)
        self.mask = mask


class Cancelled(Exception):
    """The user asked a long job to stop."""


def nearest(name: str, known: Iterable[object]) -> str:
    """Return a hint `did you mean "…"?`, or nothing when no known name is near."""
    original = {str(k).casefold(): str(k) for k in known}
    close = get_close_matches(name.casefold(), original, n=1, cutoff=0.6)
    return f'Did you mean "{original[close[0]]}"?' if close else ""
