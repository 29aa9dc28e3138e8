"""What must be so before results go up, as seven lines, each with its proof.

Every matter stands in just one line, so the counts of the lines add up to those of the
matters.  No line says what a mark measured: whoever enters marks a second time reads it.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from gui.blind import veiled
from gui.publishing import Outlook
from scorer.event.matter import Closes, Matter
from scorer.event.rulebook import Certainty
from scorer.facts import Fact, Value, count, fact, inner, number, pilot, several, words
from scorer.ledger.publish import Refusal
from scorer.scoring.keyings import Keyed
from scorer.scoring.results import RulingState
from scorer.words.voice import Voice

NAMED = 3
"""More pilots than this are counted, not named, in a line."""


class LineState(StrEnum):
    """How a line stands."""

    DONE = "done"
    WAITS = "waits"
    """Open, or accepted as it is: it is listed with the results."""
    BLOCKS = "blocks"


class ChecklistPart(StrEnum):
    """The lines; the last three stand there only while something is in them."""

    ACCOUNTED = "accounted"
    TWICE = "twice"
    FIT = "fit"
    DECIDED = "decided"
    LOGS = "logs"
    ACCEPTED = "accepted"
    RULES = "rules"
    DESKS = "desks"
    COMPLAINTS = "complaints"
    BOARD = "board"


SEVEN = tuple(ChecklistPart)[:7]
_OF_KIND = {
    "unsettled": ChecklistPart.TWICE,
    "keying": ChecklistPart.TWICE,
    "not-flown": ChecklistPart.ACCOUNTED,
    "no-mark": ChecklistPart.ACCOUNTED,
    "result-lost": ChecklistPart.ACCOUNTED,
}
_OF_PAGE = {
    Closes.PILOTS: ChecklistPart.ACCOUNTED,
    Closes.TASKS: ChecklistPart.ACCOUNTED,
    Closes.REPORTS: ChecklistPart.ACCOUNTED,
    Closes.MARKS: ChecklistPart.FIT,
    Closes.COMPARE: ChecklistPart.FIT,
    Closes.INFRINGEMENTS: ChecklistPart.DECIDED,
    Closes.LOGS: ChecklistPart.LOGS,
    Closes.PLACES: ChecklistPart.LOGS,
    Closes.RULES: ChecklistPart.RULES,
    Closes.JOURNAL: ChecklistPart.DESKS,
    Closes.COMPLAINTS: ChecklistPart.COMPLAINTS,
    Closes.PUBLISH: ChecklistPart.BOARD,
}


def part_of(matter: Matter) -> ChecklistPart:
    """Return the line a matter stands in."""
    if matter.accepted:
        return ChecklistPart.ACCEPTED
    return _OF_KIND.get(matter.kind.name) or _OF_PAGE[matter.kind.closes]


ASKS = {
    "refused-final-up": "why",
    "refused-final-task": "why",
    "refused-clock": "clock",
}
"""What a refusal wants to be said, by the field that takes it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLine:
    """One line of the checklist."""

    part: ChecklistPart
    check: LineState
    title: str
    proof: str
    matters: tuple[Matter, ...] = ()
    """What is open, or accepted, in it; like ones as one."""
    asks: str = ""
    """What must be said with the results, by its field there; empty = nothing."""

    @property
    def count(self) -> int:
        """How many matters it counts, each by itself."""
        return sum(len(matter.each) for matter in self.matters)

    @property
    def leads_to(self) -> Matter | None:
        """What Enter leads to; None where it leads nowhere."""
        return next((m for m in self.matters if m.is_open), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Checklist:
    """All lines, and what they come to."""

    title: str
    done: str
    """How many are done, of how many."""
    lines: tuple[CheckLine, ...]

    @property
    def blocked(self) -> int:
        """How many lines keep the results from going up."""
        return sum(line.check is LineState.BLOCKS for line in self.lines)


def checklist(outlook: Outlook) -> Checklist:
    """Return the checklist of a publication that is wished for."""
    return _Maker(outlook).checklist()


class _Maker:
    def __init__(self, outlook: Outlook) -> None:
        self.outlook = outlook
        computed = outlook.prepared.computed
        self.event, self.results = computed.event, computed.results
        self.voice: Voice = computed.voice
        wanted = outlook.wish.tasks
        self.tasks = [
            task
            for task in self.results.tasks
            if task.state == "flown" and (not wanted or task.task in wanted)
        ]
        self.keys = {r.matter.key for r in outlook.refused if r.matter is not None}

    def checklist(self) -> Checklist:
        """Gather matters by line, then say each line."""
        found: dict[ChecklistPart, list[Matter]] = {part: [] for part in ChecklistPart}
        for matter in self.outlook.open:
            found[part_of(matter)].append(matter)
        others = [r for r in self.outlook.refused if r.matter is None]
        lines = [self._line(part, found[part]) for part in SEVEN]
        lines += [
            self._line(part, found[part])
            for part in (
                ChecklistPart.DESKS,
                ChecklistPart.COMPLAINTS,
                ChecklistPart.BOARD,
            )
            if found[part]
        ]
        lines += [self._refusal(refusal) for refusal in others]
        stage = self.outlook.wish.stage
        refused = bool(self.outlook.refused)
        title = self.voice.word(f"check-{'not-ready' if refused else 'ready'}-{stage}")
        done = sum(line.check is not LineState.BLOCKS for line in lines)
        so_many = fact("check-done", done=number(done), lines=number(len(lines)))
        return Checklist(title=title, done=self.voice.say(so_many), lines=tuple(lines))

    def _line(self, part: ChecklistPart, matters: Sequence[Matter]) -> CheckLine:
        counted = sum(len(matter.each) for matter in matters)
        if not matters:
            return CheckLine(
                part=part,
                check=LineState.DONE,
                title=self.voice.word(f"check-{part}"),
                proof=self._proof(part),
            )
        blocks = any(matter.key in self.keys for matter in matters)
        title = Fact(f"check-{part}-open", (("matters", count(counted)),))
        return CheckLine(
            part=part,
            check=LineState.BLOCKS if blocks else LineState.WAITS,
            title=self.voice.say(title),
            proof=self._whom(part, matters),
            matters=tuple(matters),
        )

    def _refusal(self, refusal: Refusal) -> CheckLine:
        """Return a line for what is no matter: an hour not over yet, say."""
        sentence = self.voice.sentence(refusal.says)
        title, _, rest = sentence.partition(". ")
        return CheckLine(
            part=ChecklistPart.BOARD,
            check=LineState.BLOCKS,
            title=title.rstrip("."),
            proof=rest,
            asks=ASKS.get(refusal.says.kind, ""),
        )

    # Whom it is about.

    def _whom(self, part: ChecklistPart, matters: Iterable[Matter]) -> str:
        """Name the pilots; where there are none, say what is so."""
        listed = list(matters)
        if part is ChecklistPart.ACCEPTED:
            return " ".join(self._accepted(matter) for matter in listed)
        pilots = dict.fromkeys(n for matter in listed for n in matter.pilots)
        if not pilots:
            rules = [v for m in listed for name, v in m.says.values if name == "rule"]
            if len(rules) == len(listed) > 1:  # of each its name: that all wait is said
                told = self.voice.value(several(rules))
                return f"{told[:1].upper()}{told[1:]}"
            says = dict.fromkeys(self.voice.sentence(m.says) for m in listed)
            return " ".join(says)
        return self.voice.value(_named(pilots))

    def _accepted(self, matter: Matter) -> str:
        title = words(self.voice.title(matter.kind.name))
        given = matter.accepted
        if given is None:
            return ""
        whom = _named(matter.pilots) if matter.pilots else words(self._where(matter))
        says = inner(given.says)
        return self.voice.sentence(
            fact("check-accepted-one", whom=whom, what=title, accepted=says)
        )

    def _where(self, matter: Matter) -> str:
        return matter.flight or self.event.name

    # What proves that a line is done.

    def _proof(self, part: ChecklistPart) -> str:
        if part is ChecklistPart.ACCOUNTED:
            return self._counted(part, self._groups())
        if part is ChecklistPart.TWICE:
            return self._counted(part, self._entries())
        if part is ChecklistPart.DECIDED:
            return self._counted(part, self._decisions())
        if part is ChecklistPart.LOGS:
            return self._counted(part, self._logs())
        if part is ChecklistPart.RULES:
            known = self.event.book.provenance.values()
            own = sum(rule.certainty is Certainty.EVENT for rule in known)
            return self._counted(part, Counter(answered=own))
        return ""

    def _counted(self, part: ChecklistPart, found: Counter[str]) -> str:
        """Say what there is how often, leaving out what there is not."""
        said = [
            self.voice.say(Fact(f"proof-{part}-{name}", (("count", count(many)),)))
            for name, many in found.items()
            if many
        ]
        return ", ".join(said)

    def _groups(self) -> Counter[str]:
        found = Counter(a=0, b=0, c=0)
        if veiled(self.outlook.hidden) & {task.task for task in self.tasks}:
            return found  # who has a result is part of what was entered first
        found.update(str(s.group).casefold() for t in self.tasks for s in t.scores)
        found["guests"] = sum(len(task.guests) for task in self.tasks)
        return found

    def _entries(self) -> Counter[str]:
        found: Counter[str] = Counter(agree=0, settled=0, once=0)
        for mark in (m for t in self.tasks for s in t.scores for m in s.marks):
            if mark.state is not None:
                found[_STATES.get(mark.state, "settled")] += 1
        return found

    def _decisions(self) -> Counter[str]:
        wanted = {task.task for task in self.tasks}
        found: Counter[str] = Counter(apply=0, waive=0, set=0)
        for ruled in self.results.findings:
            if ruled.finding.task in wanted and str(ruled.state) in found:
                found[str(ruled.state)] += 1
        found["impose"] = sum(
            charge.ruling is RulingState.IMPOSE
            for task in self.tasks
            for score in task.scores
            for charge in score.charges
        )
        return found

    def _logs(self) -> Counter[str]:
        flights = {task.flight for task in self.tasks}
        logs = sum(
            log.counts
            for flight in self.results.flights
            if flight.id in flights
            for log in flight.logs
        )
        return Counter(read=logs)


_STATES = {Keyed.AGREE: "agree", Keyed.SETTLED: "settled", Keyed.ONCE: "once"}


def _named(pilots: Iterable[int]) -> Value:
    """Name a few pilots, and count the rest."""
    numbers = list(pilots)
    named = [pilot(n) for n in numbers[:NAMED]]
    rest = len(numbers) - len(named)
    if rest > 0:
        named.append(inner(fact("check-more", pilots=count(rest))))
    return several(named)
