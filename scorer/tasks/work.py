"""One measurement under way: gathers steps, warnings and marks as it goes."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from scorer.event.finding import Warning_, WarningKind
from scorer.event.model import Units
from scorer.geodesy.survey import Mark
from scorer.rounding import half_up
from scorer.tasks.base import Due, Evidence, Measured
from scorer.units import show_length


class NoResult(Exception):
    """The evidence gives no result; the text says why.  Ends the measurement."""


class Quantity(NamedTuple):
    """A value with its uncertainty."""

    value: float
    sigma: float


class Work:
    """What a task kind reads from and writes to; made anew for every measurement."""

    def __init__(self, evidence: Evidence, settings: Mapping[str, Any]) -> None:
        self.evidence = evidence
        self.settings = settings
        self.steps: list[str] = []
        self.warnings: list[Warning_] = []
        self.marks: list[Mark] = []
        self.dues: list[Due] = []

    def say(self, *steps: str) -> None:
        """Add steps, numbers put in."""
        self.steps.extend(step for step in steps if step)

    def warn(self, text: str, kind: WarningKind = WarningKind.TASK) -> None:
        """Add a warning about this pilot in this task."""
        task = self.evidence.task
        warning = Warning_(
            kind=kind,
            flight=task.flight,
            task=task.number,
            pilot=self.evidence.pilot,
            text=text,
        )
        if warning not in self.warnings:
            self.warnings.append(warning)

    def use(self, mark: Mark) -> None:
        """Note that a mark was used."""
        if mark not in self.marks:
            self.marks.append(mark)

    def length(self, metres: float, decimals: int = 2) -> str:
        """Print a length: metres, and beside them what people at the event read."""
        plain = f"{half_up(metres, decimals)} m"
        if self.evidence.site.units is Units.IMPERIAL:
            return f"{plain} ({show_length(metres, Units.IMPERIAL)})"
        return plain

    def beyond_limits(self, reason: str) -> None:
        """Treat something outside the limits a task sets, as its settings say.

        Raises
        ------
        NoResult
            The task says that it costs the result.
        """
        if self.settings.get("outside_limits") == "no result":
            raise NoResult(reason)
        self.warn(
            f"{reason}; the task does not say what that costs (outside_limits), so it "
            "counts until an official rules"
        )

    def measured(self, quantity: Quantity | None, reason: str = "") -> Measured:
        """Put everything together."""
        return Measured(
            value=None if quantity is None else quantity.value,
            sigma=None if quantity is None else quantity.sigma,
            reason=reason,
            steps=tuple(self.steps),
            warnings=tuple(self.warnings),
            marks=tuple(self.marks),
            dues=tuple(self.dues),
        )
