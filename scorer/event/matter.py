"""Matters: all that is open or doubtful, typed, with what it blocks and where it closes.

Checks, tasks, scoring and the ledger state matters; terminal, window, publication, sheets
and journal show the same list.  A kind is declared once, as a `MatterKind` beside the code
that finds it; its sentences stand in the catalogue under the kinds of their facts.
"""

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from scorer.facts import (
    Fact,
    Measure,
    Value,
    count,
    fact,
    flight,
    inner,
    listed,
    parts,
    pilot,
    several,
    task,
    words,
)


class Blocks(StrEnum):
    """What an open matter keeps results from."""

    OFFICIAL = "official"
    FINAL = "final"
    NOTHING = "nothing"


class Closes(StrEnum):
    """Where a matter is closed: the pages of the desk; commands and manual say the same."""

    PILOTS = "pilots"
    PLACES = "places"
    TASKS = "tasks"
    RULES = "rules"
    MARKS = "marks"
    COMPARE = "compare"
    REPORTS = "reports"
    LOGS = "logs"
    INFRINGEMENTS = "infringements"
    PUBLISH = "publish"
    COMPLAINTS = "complaints"
    JOURNAL = "journal"


class Decides(StrEnum):
    """Who closes a matter."""

    SCORING = "scoring"
    """A scoring official."""
    DIRECTOR = "director"
    JURY = "jury"
    """Whoever the event names to hear complaints and protests."""


_DECIDES = {
    Closes.INFRINGEMENTS: Decides.DIRECTOR,
    Closes.RULES: Decides.DIRECTOR,
    Closes.TASKS: Decides.DIRECTOR,
    Closes.COMPLAINTS: Decides.JURY,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class MatterKind:
    """One kind of matter: a row of the registry."""

    name: str
    """As in results.json and accepted.csv."""
    blocks: Blocks
    closes: Closes
    acceptable: bool = True
    """Whether an official may accept it as it is; else it can only be settled."""
    grouped: bool = False
    """Whether like ones (one kind of fact, one task) are told as one matter."""
    alike: tuple[str, ...] = ()
    """Values of the fact that like ones share, beside words of the trade."""

    @property
    def decides(self) -> Decides:
        """Who closes it."""
        return _DECIDES.get(self.closes, Decides.SCORING)


KINDS: dict[str, MatterKind] = {}
"""Every declared kind by name, in the order of declaration."""


def matter_kind(
    name: str,
    *,
    blocks: Blocks = Blocks.NOTHING,
    closes: Closes,
    acceptable: bool = True,
    grouped: bool = False,
    alike: tuple[str, ...] = (),
) -> MatterKind:
    """Declare a kind of matter; its title stands in the catalogue as `matter-NAME`."""
    kind = MatterKind(
        name=name,
        blocks=blocks,
        closes=closes,
        acceptable=acceptable,
        grouped=grouped,
        alike=alike,
    )
    KINDS[name] = kind
    return kind


_ELSEWHERE: dict[str, Closes] = {}


def closed_at(closes: Closes, *facts: str) -> None:
    """Declare what is closed elsewhere than others of its kind: by what a matter says."""
    _ELSEWHERE.update(dict.fromkeys(facts, closes))


MOST_NAMED = 8
"""More pilots than this are counted, not named, where a matter is placed.  Our choice."""


def about(*numbers: int | None) -> tuple[int, ...]:
    """Return whom a matter is about: the numbers that are known."""
    return tuple(sorted({number for number in numbers if number is not None}))


SAFETY = "safety"
"""The kind of matter that is acknowledged rather than let stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """That somebody accepted a matter as it stands: who, when, why."""

    matter: str
    """`Matter.key` of what was accepted: kind, subject and values."""
    by: str
    at: str
    """When, as entered; empty = not said."""
    why: str
    kind: str = ""
    """Name of the matter's kind, for people and for when it is gone."""
    flight: str = ""
    task: int | None = None
    pilots: tuple[int, ...] = ()
    mark: str = ""

    @property
    def says(self) -> Fact:
        """Who accepted it, when and why."""
        parts = (
            fact("by-whom", who=words(self.by)) if self.by else None,
            fact("at-when", when=words(self.at)) if self.at else None,
            fact("because", why=words(self.why)) if self.why else None,
        )
        if self.kind == SAFETY:
            return fact("acknowledged", parts=listed(parts))
        return fact("accepted-as-it-is", parts=listed(parts))


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """One thing that is open or doubtful."""

    kind: MatterKind
    says: Fact
    """What is so, with values; the sentence is made of it."""
    flight: str = ""
    task: int | None = None
    pilots: tuple[int, ...] = ()
    """Whom it is about, in the order of numbers; empty = nobody in particular."""
    mark: str = ""
    """Role of the mark it is about."""
    evidence: tuple[str, ...] = ()
    """Names of logs and reports it rests on, and identifiers of findings."""
    reveals: tuple[str, ...] = ()
    """People whose entries its sentence shows: hidden from who enters marks a second
    time until their own entry is recorded."""
    accepted: Acceptance | None = None
    members: tuple["Matter", ...] = ()
    """The like matters that this one stands for; empty = itself alone."""

    @property
    def pilot(self) -> int | None:
        """The one pilot it is about; None where it is about several or nobody."""
        return self.pilots[0] if len(self.pilots) == 1 else None

    @property
    def each(self) -> tuple["Matter", ...]:
        """The matters it stands for, itself where it is alone."""
        return self.members or (self,)

    @property
    def closes(self) -> Closes:
        """Where it is closed: by what it says, else as others of its kind."""
        said = {self.says.kind, *(one.says.kind for one in self.members)}
        elsewhere = (at for says, at in _ELSEWHERE.items() if says in said)
        return next(elsewhere, self.kind.closes)

    @property
    def placed(self) -> Fact:
        """What is so, after flight or task, pilots and mark; and who accepted it."""
        where = (
            fact("where-flight", flight=flight(self.flight))
            if self.flight and self.task is None
            else None,
            None if self.task is None else fact("where-task", task=task(self.task)),
            self._of_whom(),
            fact("where-mark", mark=words(self.mark)) if self.mark else None,
        )
        if not any(where):
            return self.stated
        return fact("matter-placed", where=listed(where), text=inner(self.stated))

    @property
    def stated(self) -> Fact:
        """What is so, and who accepted it."""
        if self.accepted is None:
            return self.says
        accepted = inner(self.accepted.says)
        return fact("told-and-accepted", text=inner(self.says), accepted=accepted)

    def _of_whom(self) -> Fact | None:
        if len(self.pilots) > MOST_NAMED:
            return fact("where-many", pilots=count(len(self.pilots)))
        if not self.pilots:
            return None
        if self.pilot is not None:
            return fact("where-pilot", pilot=pilot(self.pilot))
        return fact("where-pilots", pilots=several(map(pilot, self.pilots)))

    @property
    def is_open(self) -> bool:
        """Tell whether it still waits for somebody."""
        return self.accepted is None

    @property
    def blocks(self) -> Blocks:
        """What it keeps results from as it stands now."""
        return self.kind.blocks if self.is_open else Blocks.NOTHING

    @property
    def holds_up(self) -> bool:
        """Tell whether results cannot become official while this stands."""
        return self.blocks is Blocks.OFFICIAL

    @property
    def key(self) -> str:
        """Bind kind, subject and values; any change of them makes another key."""
        subject = [
            self.kind.name,
            self.flight,
            self.task,
            list(self.pilots),
            self.mark,
            _bound(self.says),
            [member.key for member in self.members],
        ]
        text = json.dumps(subject, ensure_ascii=False, separators=(",", ":"))
        # a letter first: no spreadsheet takes it for a number
        return "m" + hashlib.sha256(text.encode()).hexdigest()[:15]


def _bound(says: Fact) -> list[object]:
    """Return the values an acceptance binds to, as near as people read them."""
    return [
        [inner.kind, *([name, _coarse(value)] for name, value in inner.values)]
        for inner in parts(says)
    ]


_STEPS = {Measure.CHANCE: 0.01, Measure.HEIGHT: 0.1, Measure.DISTANCE: 1.0}


def _coarse(value: Value) -> object:
    amount = value.amount
    if isinstance(amount, Fact):
        return None  # its own values stand beside it
    if isinstance(amount, tuple):
        return [_coarse(one) for one in amount]
    if isinstance(amount, str | int):
        return amount
    step = _STEPS.get(value.measure, 0.01)
    return round(float(amount) / step)


def grouped(matters: Iterable[Matter]) -> tuple[Matter, ...]:
    """Tell like matters as one: of one kind of fact, flight and task, accepted alike.

    Facts that name a word of the trade, or what their kind says that like ones share, are
    alike where they name the same, and tell it of the group.  The first of a group keeps
    its place.  Kinds that are not `grouped` stay as they are, and so do those of one pilot.
    """
    groups: dict[object, list[Matter]] = {}
    for index, matter in enumerate(dict.fromkeys(matters)):
        given = matter.accepted
        accepted = given and (given.by, given.at, given.why)
        alike = (matter.kind.name, matter.says.kind, _shared(matter))
        where = (*alike, matter.flight, matter.task, accepted)
        groups.setdefault(where if matter.kind.grouped else index, []).append(matter)
    return tuple(told for group in groups.values() for told in _together(group))


def _shared(matter: Matter) -> tuple[tuple[str, Value], ...]:
    return tuple(
        (name, value)
        for name, value in matter.says.values
        if value.measure is Measure.TERM or name in matter.kind.alike
    )


def _together(members: Sequence[Matter]) -> Sequence[Matter]:
    pilots = tuple(sorted({number for member in members for number in member.pilots}))
    if len(members) < 2 or len(pilots) < 2:
        return members
    first = members[0]
    whole = replace(
        first,
        says=fact(
            f"{first.says.kind}-many",
            pilots=count(len(pilots)),
            **dict(_shared(first)),
        ),
        pilots=pilots,
        mark="",
        evidence=tuple(dict.fromkeys(e for m in members for e in m.evidence)),
        reveals=tuple(dict.fromkeys(r for m in members for r in m.reveals)),
        members=tuple(members),
    )
    return [whole]


def in_order(matters: Iterable[Matter]) -> tuple[Matter, ...]:
    """Put first what keeps results from official, then from final; accepted ones next."""
    order = list(Blocks)

    def weight(matter: Matter) -> tuple[int, bool]:
        return order.index(matter.blocks), matter.is_open

    return tuple(sorted(matters, key=weight))


def readiness(matters: Iterable[Matter]) -> Fact:
    """State whether results could become official, and how many matters are open."""
    waiting = sum(matter.holds_up for matter in matters)
    if not waiting:
        return fact("ready-official")
    return fact("not-ready-official", matters=count(waiting))


def with_acceptances(
    matters: Iterable[Matter], acceptances: Iterable[Acceptance]
) -> tuple[Matter, ...]:
    """Mark the matters that somebody accepted just as they stand; the last word counts.

    An acceptance whose matter is gone, or has changed since, is told: none lapses unseen.
    """
    every = tuple(acceptances)
    found = marked(matters, every)
    held = {matter.key for matter in found if matter.accepted}
    by_key = {acceptance.matter: acceptance for acceptance in every}
    gone = (a for key, a in by_key.items() if key not in held)
    return (*found, *(_lapsed(acceptance, found) for acceptance in gone))


def marked(
    matters: Iterable[Matter], acceptances: Iterable[Acceptance]
) -> tuple[Matter, ...]:
    """Mark the matters that somebody accepted just as they stand; the last word counts."""
    by_key = {acceptance.matter: acceptance for acceptance in acceptances}
    return tuple(
        replace(matter, accepted=by_key[matter.key])
        if matter.kind.acceptable and matter.key in by_key
        else matter
        for matter in matters
    )


ACCEPTANCE_GONE = matter_kind(
    "acceptance-gone", closes=Closes.JOURNAL, acceptable=False
)


def _lapsed(acceptance: Acceptance, found: Iterable[Matter]) -> Matter:
    """Tell that an acceptance counts no more, and what is open in place of its matter."""
    known = acceptance.kind in KINDS
    what = inner(fact(f"matter-{acceptance.kind}")) if known else words(acceptance.kind)
    said = {"what": what, "accepted": inner(acceptance.says)}
    now = next((m for m in found if m.is_open and _same_subject(m, acceptance)), None)
    return Matter(
        kind=ACCEPTANCE_GONE,
        flight=acceptance.flight,
        task=acceptance.task,
        pilots=acceptance.pilots,
        mark=acceptance.mark,
        reveals=() if now is None else now.reveals,
        says=fact("acceptance-gone", **said)
        if now is None
        else fact("acceptance-lapsed", **said, now=inner(now.says)),
    )


def _same_subject(matter: Matter, acceptance: Acceptance) -> bool:
    """Tell whether a matter is of the kind and about the thing that was accepted."""
    own = (matter.kind.name, matter.flight, matter.task, matter.mark)
    then = (acceptance.kind, acceptance.flight, acceptance.task, acceptance.mark)
    whom, of_whom = set(matter.pilots), set(acceptance.pilots)
    return own == then and (whom == of_whom or bool(whom & of_whom))
