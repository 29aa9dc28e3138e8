"""A decision on an infringement while it is being made: what, why, the entry it becomes.

Nothing here is recorded; leaving the row or Esc forgets all of it together.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from zoneinfo import ZoneInfo

from gui.models.amounts import cell_of
from gui.snapshot import Snapshot
from scorer.event.finding import Amount, Finding, read_id
from scorer.event.model import Decision, PenaltyUnit
from scorer.event.moments import EventTime
from scorer.facts import Fact, Value, fact, inner, pilot, several, words
from scorer.ledger.acts import RulingMade
from scorer.ledger.api import Draft, Ledger
from scorer.ledger.resolve import Current
from scorer.scoring.joins import means_all
from scorer.scoring.results import RuledFinding, RulingState
from scorer.words.voice import Voice

REASONS = 3
"""So many reasons bear a number of their own; the next number is for words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Deciding:
    """What an official is about to decide; each step makes another one."""

    ruled: RuledFinding
    decision: Decision | None = None
    amount: Amount | None = None
    """With another amount."""
    why: str = ""

    @property
    def begun(self) -> bool:
        """Tell whether anything would be lost by leaving."""
        return self.decision is not None or bool(self.why)

    @property
    def whole(self) -> bool:
        """Tell whether it can be recorded."""
        set_ = self.decision is not Decision.SET or self.amount is not None
        return self.decision is not None and set_ and bool(self.why.strip())

    def decide(self, decision: Decision) -> "Deciding":
        """Take a decision; the reason of another one goes with it."""
        if decision is self.decision:
            return self
        return Deciding(ruled=self.ruled, decision=decision)

    def because(self, why: str) -> "Deciding":
        """Take a reason, which only a decision can have."""
        return self if self.decision is None else replace(self, why=why.strip())

    def of(self, amount: Amount | None) -> "Deciding":
        """Take another amount."""
        return replace(self, amount=amount)

    @property
    def can_confirm(self) -> bool:
        """Tell whether the rules ask for anything that could be confirmed."""
        return self.ruled.finding.penalty is not None

    def says(self) -> Fact:
        """State what would be recorded, or what is missing."""
        if self.decision is None:
            return fact("decide-what")
        if self.decision is Decision.SET and self.amount is None:
            return fact("decide-amount")
        what = self._what()
        if not self.why.strip():
            return fact("decide-why", what=inner(what))
        return fact("decide-whole", what=inner(what), why=words(self.why.strip()))

    def _what(self) -> Fact:
        who = pilot(self.ruled.finding.pilot)
        if self.decision is Decision.WAIVE:
            return fact("decide-waive", pilot=who)
        if self.decision is Decision.HOLD:
            return fact("decide-asks", pilot=who)
        return charges(self.ruled.finding.pilot, self.amounts)

    @property
    def amounts(self) -> tuple[Amount, ...]:
        """What it costs."""
        if self.decision is Decision.SET:
            return (self.amount,) if self.amount else ()
        own = self.ruled.finding
        return () if own.penalty is None else (own.penalty, *own.also)

    def fields(self, by: str, at: str) -> dict[str, str]:
        """Return the columns of the row that it becomes."""
        own = self.ruled.finding
        amount = self.amount if self.decision is Decision.SET else None
        return {
            "task": str(own.task),
            "pilot": str(own.pilot),
            "finding": own.id,
            "decision": str(self.decision),
            "amount": cell_of(amount),
            "unit": str(amount.unit) if amount else "",
            "reason": self.why.strip(),
            "by": by,
            "at": at,
            **own.ruled_on,
        }


def charges(number: int, amounts: Sequence[Amount]) -> Fact:
    """State that a pilot is charged some amounts."""
    who = pilot(number)
    if [a.unit for a in amounts] == [PenaltyUnit.NO_RESULT]:
        return fact("decide-no-result", pilot=who)
    if [a.unit for a in amounts] == [PenaltyUnit.DISQUALIFIED]:
        return fact("decide-disqualify", pilot=who)
    costs = several(inner(amount.says) for amount in amounts)
    return fact("decide-charge", pilot=who, amounts=costs)


def draft_of(deciding: Deciding, snapshot: Snapshot, ledger: Ledger, who: str) -> Draft:
    """Make the entry of a whole decision; it takes the place of an earlier one."""
    own = deciding.ruled.finding
    act = RulingMade(
        flight=own.flight, fields=deciding.fields(who, now_of(snapshot, ledger))
    )
    earlier = earlier_of(snapshot, deciding.ruled)
    return Draft(
        act=act, why=deciding.why.strip(), replaces=earlier.ids if earlier else ()
    )


def now_of(snapshot: Snapshot, ledger: Ledger) -> str:
    """Write the present moment as rows of decisions have it."""
    zone = ZoneInfo(snapshot.event.time_zone)
    return EventTime.of(ledger.clock(), zone).written()


def earlier_of(snapshot: Snapshot, ruled: RuledFinding) -> Current | None:
    """Return the entry that decides an infringement now, if one does alone.

    It may know the infringement by another identifier; one that names a kind decides on
    others too and is not replaced.
    """
    ruling = ruled.ruling
    if ruling is not None and means_all(ruling):
        ruling = None
    for current, act in snapshot.state.all_of(RulingMade):
        given = {name: text for name, text in act.fields.items() if text.strip()}
        if given.get("finding") == ruled.finding.id or (
            ruling is not None and given == ruling.entered
        ):
            return current
    return None


def reasons(
    snapshot: Snapshot, voice: Voice, finding: Finding, decision: Decision
) -> tuple[str, ...]:
    """Return the event's most used reasons for such a decision on such infringements.

    Where there are fewer than three, usual ones of the trade (common practice, no source)
    fill the row.  Of what an observer alone reports, none speaks of a log.
    """
    usual, by_logs = str(decision), set[str]()
    if not finding.sha256 and decision in {Decision.APPLY, Decision.WAIVE}:
        by_logs = set(offered(Counter(), usual, voice))
        usual = f"{usual}-report"
        by_logs -= set(offered(Counter(), usual, voice))
    used = Counter(
        why
        for act in _decisions(snapshot)
        if (why := act.get("reason", "").strip())
        and act.get("decision") == str(decision)
        and _kind_of(act) == finding.kind.name
        and why not in by_logs
    )
    return offered(used, usual, voice)


def offered(used: Counter[str], kind: str, voice: Voice) -> tuple[str, ...]:
    """Return reasons to choose from: those used most, then the usual ones of a kind."""
    often = [why for why, _ in used.most_common(REASONS)]
    usual = (voice.word(f"reason-{kind}-{n}") for n in range(1, REASONS + 1))
    return tuple(dict.fromkeys((*often, *usual)))[:REASONS]


def _decisions(snapshot: Snapshot) -> Iterable[Mapping[str, str]]:
    return (act.fields for _, act in snapshot.state.all_of(RulingMade))


def _kind_of(fields: Mapping[str, str]) -> str:
    text = fields.get("finding", "")
    named = read_id(text)
    return named.kind if named else text


def overtaken(before: RuledFinding, now: RuledFinding | None) -> Fact | None:
    """State that another desk decided meanwhile what one here was deciding."""
    if now is None:
        return fact("decide-gone")
    known = before.ruling.entered if before.ruling else {}
    if now.ruling is None or now.ruling.entered == known:
        return None
    values: dict[str, Value] = {
        "by": words(now.ruling.by or "–"),
        "decision": inner(fact(f"decided-{RulingState(now.ruling.decision)}")),
        "at": words(now.ruling.at[11:16] or "–"),
    }
    return fact("decide-overtaken", **values)
