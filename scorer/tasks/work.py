"""One measurement under way: gathers steps, matters and marks as it goes."""

from collections.abc import Mapping
from typing import Any

from scorer.event import matters
from scorer.event.finding import Finding
from scorer.event.matter import Matter, MatterKind
from scorer.facts import Fact, Step, fact, inner
from scorer.geodesy.mark import Mark
from scorer.tasks.base import Evidence, Measured, Quantity


class NoResult(Exception):
    """The evidence gives no result; the fact says why.  Ends the measurement."""

    def __init__(self, reason: Fact) -> None:
        super().__init__(reason)
        self.reason = reason


class Work:
    """What a task kind reads from and writes to; made anew for every measurement."""

    def __init__(self, evidence: Evidence, settings: Mapping[str, Any]) -> None:
        self.evidence = evidence
        self.settings = settings
        self.steps: list[Step] = []
        self.matters: list[Matter] = []
        self.marks: list[Mark] = []
        self.times: dict[str, float] = {}
        self.counted_from = ""
        """Role of the mark that others are measured from, where there is one."""
        self.findings: list[Finding] = []

    def say(self, step: Step) -> None:
        """Add a step."""
        self.steps.append(step)

    def warn(
        self,
        says: Fact,
        kind: MatterKind = matters.TASK,
        evidence: tuple[str, ...] = (),
    ) -> None:
        """Add a doubt about this pilot in this task, with the logs it rests on."""
        task = self.evidence.task
        warning = Matter(
            kind=kind,
            flight=task.flight,
            task=task.number,
            pilots=(self.evidence.pilot,),
            says=says,
            evidence=evidence,
        )
        if warning not in self.matters:
            self.matters.append(warning)

    def failed(self, says: Fact, kind: MatterKind = matters.TASK) -> NoResult:
        """Tell people what keeps a result away; raise what is returned."""
        self.warn(says, kind)
        return NoResult(says)

    def use(self, mark: Mark) -> None:
        """Note that a mark was used, and pass on what to look at in it."""
        if mark not in self.marks:
            self.marks.append(mark)
            for doubt in mark.warnings:
                self.warn(doubt)

    def beyond_limits(self, reason: Fact) -> None:
        """Treat something outside the limits a task sets, as its settings say.

        Raises
        ------
        NoResult
            The task says that it costs the result.
        """
        if self.settings.get("outside_limits") == "no result":
            raise NoResult(reason)
        self.warn(fact("outside-limits-open", reason=inner(reason)))

    def measured(
        self, quantity: Quantity | None, reason: Fact | None = None
    ) -> Measured:
        """Put everything together."""
        return Measured(
            value=None if quantity is None else quantity.value,
            sigma=None if quantity is None else quantity.sigma,
            apart=None if quantity is None else quantity.apart,
            reason=reason,
            steps=tuple(self.steps),
            matters=tuple(self.matters),
            marks=tuple(self.marks),
            times=dict(self.times),
            findings=tuple(self.findings),
        )
