"""One measurement under way: gathers steps, warnings and marks as it goes."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from scorer.event import matters
from scorer.event.finding import Finding
from scorer.event.matter import Matter, MatterKind
from scorer.event.model import Units
from scorer.facts import Fact, Step, fact, inner, stated
from scorer.geodesy.mark import Mark
from scorer.rounding import half_up
from scorer.tasks.base import Evidence, Measured, Quantity
from scorer.units import show_length


class NoResult(Exception):
    """The evidence gives no result; the fact says why.  Ends the measurement."""

    def __init__(self, reason: Fact | str) -> None:
        super().__init__(reason)
        self.reason = stated(reason)


class Work:
    """What a task kind reads from and writes to; made anew for every measurement."""

    def __init__(self, evidence: Evidence, settings: Mapping[str, Any]) -> None:
        self.evidence = evidence
        self.settings = settings
        self.steps: list[Step] = []
        self.matters: list[Matter] = []
        self.marks: list[Mark] = []
        self.times: dict[str, float] = {}
        self.findings: list[Finding] = []

    def say(self, *steps: Step | str) -> None:
        """Add steps, numbers put in."""
        self.steps.extend(stated(step) for step in steps if step)

    def warn(self, text: Fact | str, kind: MatterKind = matters.TASK) -> None:
        """Add a warning about this pilot in this task."""
        task = self.evidence.task
        warning = Matter(
            kind=kind,
            flight=task.flight,
            task=task.number,
            pilots=(self.evidence.pilot,),
            says=stated(text),
        )
        if warning not in self.matters:
            self.matters.append(warning)

    def use(self, mark: Mark) -> None:
        """Note that a mark was used, and pass on what to look at in it."""
        if mark not in self.marks:
            self.marks.append(mark)
            for doubt in mark.warnings:
                self.warn(doubt)

    def length(self, metres: float, decimals: int = 2) -> str:
        """Print a length: metres, and beside them what people at the event read."""
        plain = f"{half_up(metres, decimals)} m"
        if self.evidence.site.units is Units.IMPERIAL:
            return f"{plain} ({show_length(metres, Units.IMPERIAL)})"
        return plain

    def clock(self, time_s: float) -> str:
        """Print a moment as local time."""
        zone = ZoneInfo(self.evidence.time_zone)
        moment = datetime.fromtimestamp(round(time_s), UTC).astimezone(zone)
        plain = f"{moment:%H:%M:%S}"
        return (
            plain
            if moment.date() == self.evidence.day
            else f"{moment:%Y-%m-%d} {plain}"
        )

    def beyond_limits(self, reason: Fact | str) -> None:
        """Treat something outside the limits a task sets, as its settings say.

        Raises
        ------
        NoResult
            The task says that it costs the result.
        """
        if self.settings.get("outside_limits") == "no result":
            raise NoResult(reason)
        self.warn(fact("outside-limits-open", reason=inner(stated(reason))))

    def measured(
        self, quantity: Quantity | None, reason: Fact | None = None
    ) -> Measured:
        """Put everything together."""
        return Measured(
            value=None if quantity is None else quantity.value,
            sigma=None if quantity is None else quantity.sigma,
            reason=reason,
            steps=tuple(self.steps),
            matters=tuple(self.matters),
            marks=tuple(self.marks),
            times=dict(self.times),
            findings=tuple(self.findings),
        )
