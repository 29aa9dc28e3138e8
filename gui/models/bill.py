"""A pilot's score in one task as a bill: lines that add up to it, each with its proof.

The lines are the steps and charges of the score, said by the event's voice; nothing is
computed here but where one line ends and the next begins.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from gui.blind import is_ranked
from gui.parts.rows import ListRow, head
from gui.theme import Tone
from scorer.event.finding import Finding, Verdict
from scorer.event.matter import Closes
from scorer.event.model import Method, PenaltyUnit
from scorer.facts import Fact, fact, number, points
from scorer.rounding import whole
from scorer.scoring import told
from scorer.scoring.results import (
    Charge,
    Group,
    Results,
    RulingState,
    Score,
    TaskResult,
)
from scorer.words.voice import MINUS, Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """One line of a bill."""

    text: str
    amount: str = ""
    """At the right, as people read it."""
    points: int = 0
    """What it adds to the score."""
    second: str = ""
    """How it comes about."""
    tone: Tone = Tone.PLAIN
    closes: Closes | None = None
    """Where it is decided; None = nowhere by itself."""
    finding: str = ""
    """Identifier of the infringement it is about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """How one score adds up."""

    title: str
    lines: tuple[BillLine, ...]
    total: str
    """Whose score it is, in words."""
    score: str
    """Printed."""

    @property
    def sum(self) -> int:
        """What the lines add up to."""
        return sum(line.points for line in self.lines)


def bill_of(results: Results, task: TaskResult, score: Score) -> Bill:
    """Return the bill of a pilot's score in a task."""
    return _Maker(results, task.part_of(score.pilot), score).bill()


class _Maker:
    def __init__(self, results: Results, task: TaskResult, score: Score) -> None:
        self.results, self.task, self.score = results, task, score
        self.voice: Voice = results.voice

    def bill(self) -> Bill:
        own = {"task": number(self.task.task)}
        lines = (*self._marks(), *self._result(), *self._points())
        total = points(whole(self.score.score))
        return Bill(
            title=self.voice.say(fact("bill-title", **own)),
            lines=lines,
            total=self.voice.say(fact("bill-total", **own)),
            score=self.voice.value(total) if is_ranked(self.score) else "",
        )

    # What was measured.

    def _marks(self) -> Iterator[BillLine]:
        for mark in self.score.marks:
            if mark.method == Method.NONE or not mark.steps:
                continue
            first, *rest = mark.steps
            text = self._say(first)
            if mark.mark:
                text = f"{self._say(told.mark_of(mark.mark))}: {text}"
            yield BillLine(
                text=_capital(text), second=self._joined(rest), closes=Closes.MARKS
            )

    def _result(self) -> Iterator[BillLine]:
        score, open_ = self.score, not self.score.settled
        result = told.result(self.voice, self.task, score)
        spread = told.spread(self.voice, self.task, score.sigma)
        if result and spread:
            result = f"{result} ± {spread}"
        yield BillLine(
            text=self.voice.word("bill-result"),
            amount=result or told.group(self.voice, score),
            second=self._joined(score.steps),
            tone=Tone.WARN if open_ else Tone.PLAIN,
            closes=Closes.COMPARE if open_ else Closes.MARKS,
        )

    # What it gives.

    def _points(self) -> tuple[BillLine, ...]:
        lines = [self._rank()]
        cancelled = self.task.state != "flown"
        taken = 0.0
        for charge in self.score.charges:
            before = whole(taken)
            if self._takes(charge) and not cancelled:
                taken += charge.amount.amount
            lines.append(self._charge(charge, before - whole(taken)))
        lines += self._undecided()
        gap = self.score.score - sum(line.points for line in lines)
        if gap and is_ranked(self.score):
            text = self.voice.word("bill-not-under-0")
            lines.append(BillLine(text=text, amount=self._signed(gap), points=gap))
        clear = self._clear()
        return (*lines, *([clear] if clear else []))

    def _rank(self) -> BillLine:
        score = self.score
        if self.task.state != "flown":
            return BillLine(
                text=_capital(self.voice.word(f"this-task-is-{self.task.state}"))
            )
        if not is_ranked(score):
            return BillLine(text=self.voice.word("rank-hidden"), tone=Tone.MUTED)
        field = number(len(self.task.scores))
        text = self._say(fact("bill-rank", rank=number(score.rank), field=field))
        if score.group is Group.C:
            text = _capital(told.group(self.voice, score))
        return BillLine(
            text=text,
            amount=self.voice.value(points(score.formula_points)),
            points=score.formula_points,
            second=self._joined([] if score.how is None else [score.how]),
        )

    def _takes(self, charge: Charge) -> bool:
        return charge.counts and charge.amount.unit is PenaltyUnit.TASK_POINTS

    def _charge(self, charge: Charge, gives: int) -> BillLine:
        waits = charge.ruling.is_open
        amount = self._signed(gives)
        if not self._takes(charge):
            amount = self._uncounted(charge)
        return BillLine(
            text=self._cause(charge),
            amount=amount,
            points=gives,
            second=told.charge_line(self.voice, charge),
            tone=Tone.WARN if waits else Tone.PLAIN,
            closes=Closes.INFRINGEMENTS if charge.finding else None,
            finding=charge.finding,
        )

    def _cause(self, charge: Charge) -> str:
        if charge.finding:
            return self.voice.finding(charge.kind)
        if charge.ruling is RulingState.IMPOSE:
            return _capital(self._say(fact("penalty-imposed")))
        return _capital(told.decision_word(self.voice, charge.ruling))

    def _uncounted(self, charge: Charge) -> str:
        """Say what a charge comes to that takes no task points."""
        if charge.counts:
            return self._say(charge.amount.says)
        if charge.ruling.is_open:
            return self.voice.word("fact-not-charged")
        return told.decision_word(self.voice, charge.ruling)

    # What else was seen.

    def _seen(self) -> Iterator[tuple[Finding, RulingState]]:
        key = self.task.task, self.score.pilot
        for ruled in self.results.findings:
            if (ruled.finding.task, ruled.finding.pilot) == key:
                yield ruled.finding, ruled.state

    def _undecided(self) -> Iterator[BillLine]:
        """Yield infringements that nothing was charged for."""
        charged = {charge.finding for charge in self.score.charges}
        for finding, state in self._seen():
            if finding.verdict is Verdict.CLEAR or finding.id in charged:
                continue
            yield BillLine(
                text=told.finding_title(self.voice, finding),
                amount=told.decision_word(self.voice, state),
                second=self._say(finding.says),
                tone=Tone.WARN if state.is_open else Tone.PLAIN,
                closes=Closes.INFRINGEMENTS,
                finding=finding.id,
            )

    def _clear(self) -> BillLine | None:
        """Name what was checked and found in order."""
        seen = [f for f, _ in self._seen() if f.verdict is Verdict.CLEAR]
        if not seen:
            return None
        titles = dict.fromkeys(told.finding_title(self.voice, f) for f in seen)
        first, *rest = titles
        named = ", ".join((first, *(t[:1].lower() + t[1:] for t in rest)))
        return BillLine(
            text=named, amount=self.voice.word("bill-nothing-found"), tone=Tone.MUTED
        )

    # Words.

    def _say(self, stated: Fact) -> str:
        return self.voice.say(stated)

    def _joined(self, steps: Sequence[Fact]) -> str:
        return "; ".join(dict.fromkeys(map(self._say, steps)))

    def _signed(self, gives: int) -> str:
        said = self.voice.value(points(abs(gives)))
        return f"{MINUS}{said}" if gives < 0 else f"+{said}" if gives else said


def rows_of(bill: Bill) -> list[ListRow]:
    """Return the lines of a bill as rows of a list."""
    return [
        ListRow(
            key=(bill.title, place, line.text),
            name=line.text,
            second=line.second,
            at=line.amount,
            tone=line.tone,
            strong=True,
            data=line,
        )
        for place, line in enumerate(bill.lines)
    ]


def rows_of_all(results: Results, pilot: int, only: int | None = None) -> list[ListRow]:
    """Return the bills of a pilot under the names of their tasks, each with its sum."""
    rows: list[ListRow] = []
    for task in results.tasks:
        score = task.score_of(pilot)
        if score is None or only not in {None, task.task}:
            continue
        bill = bill_of(results, task, score)
        rows.append(head(told.task_title(results.voice, task)))
        rows += [replace(row, data=(task.task, row.data)) for row in rows_of(bill)]
        rows.append(
            ListRow(
                key=(bill.title, "sum"), name=bill.total, at=bill.score, strong=True
            )
        )
    return rows


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def hidden_bill(voice: Voice, task: int) -> Bill:
    """Return the bill of a score that this official must not see yet."""
    own = {"task": number(task)}
    hidden = voice.word("hidden-until-entered-twice")
    return Bill(
        title=voice.say(fact("bill-title", **own)),
        lines=(BillLine(text=_capital(hidden), closes=Closes.MARKS, tone=Tone.MUTED),),
        total=voice.say(fact("bill-total", **own)),
        score="",
    )
