"""Marks somebody must choose about: entries that differ, and marks that fit no flight."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from enum import IntEnum

from gui.blind import is_once, may_see
from gui.models.decision import offered
from gui.models.matters import MatterList
from gui.snapshot import Snapshot
from scorer.event.entries import same_person
from scorer.event.matter import Matter
from scorer.event.matters import MARK_FAR_FROM_TRACK, STACK_UNFIT
from scorer.event.model import Keying, Method
from scorer.event.moments import EventTime
from scorer.facts import Fact, Value, count, fact, inner, parts, pilot, several, words
from scorer.facts import task as task_value
from scorer.ledger.acts import Fields, MarkSettled, RowAct
from scorer.ledger.api import Current, Draft
from scorer.ledger.as_meant import as_meant, proposal
from scorer.ledger.cells import whole_number
from scorer.ledger.keyings import SlotState, keyed_by, settle
from scorer.ledger.matters import acceptance
from scorer.ledger.replay import State
from scorer.ledger.slips import columns_that_differ, hint
from scorer.scoring.keyings import Keyed
from scorer.scoring.results import Results
from scorer.units import Unreadable, length_m, show_length
from scorer.words.voice import Voice

OTHER = 0
"""What is taken where another value than all entries holds."""


class Sort(IntEnum):
    """Why a mark stands in the list."""

    DIFFER = 0
    UNFIT = 1
    CHOSEN = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class SettleAnswer:
    """One of the answers: an entry, or what is to be done with marks that do not fit."""

    title: str
    by: str
    at: str
    value: str
    lines: tuple[tuple[str, str], ...] = ()
    """Further columns, as label and value."""
    fields: Fields | None = None
    keying: Keying | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SettleRow:
    """One mark to choose about, or two that are perhaps swapped."""

    sort: Sort
    slots: tuple[SlotState, ...]
    pilots: tuple[int, ...]
    name: str
    second: str
    sides: tuple[SettleAnswer, ...]
    gap_m: float | None = None
    matters: tuple[Matter, ...] = ()
    standing: tuple[Keying, ...] = ()
    """What stands now of marks that do not fit, as far as there is an entry."""
    hints: tuple[Fact, ...] = ()
    """What the entries themselves speak for."""
    state: State | None = field(default=None, compare=False, repr=False)
    """Of the ledger, where a mark is perhaps to be taken otherwise."""

    @property
    def key(self) -> object:
        """What names it."""
        return (self.sort is Sort.UNFIT, *(state.slot for state in self.slots))

    @property
    def open(self) -> bool:
        """Tell whether somebody must choose."""
        return self.sort is not Sort.CHOSEN

    @property
    def keyings(self) -> tuple[Keying, ...]:
        """Its entries as the engine reads them, in the order of the sides.

        Of marks that do not fit: what stands of each now; none of a stack, whose marks
        are about as many flights.
        """
        if self.sort is Sort.UNFIT:
            stack = bool(self.matters[0].members)
            whole_ = not stack and len(self.standing) == len(self.slots)
            return self.standing if whole_ else ()
        found = tuple(side.keying for side in self.sides if side.keying)
        return found if len(found) == len(self.sides) else ()

    @property
    def names(self) -> tuple[str, ...]:
        """What the marks on the map are called that do not fit; empty = by their numbers.

        Pilots of marks that are perhaps exchanged; of one alone that it stands so.
        """
        if self.sort is not Sort.UNFIT or not self.keyings:
            return ()
        if len(self.pilots) > 1:
            return tuple(Voice().pilot(number) for number in self.pilots)
        return (Voice().word("compare-as-entered"),)


MOST_NAMED = 3
"""So many of a stack are named; of more, the first two and how many follow."""


def first_of(texts: Sequence[str]) -> tuple[str, ...]:
    """Return the first texts of many, and how many more there are."""
    if len(texts) <= MOST_NAMED:
        return tuple(texts)
    named = texts[: MOST_NAMED - 1]
    rest = fact("and-more", more=count(len(texts) - len(named)))
    return (*named, Voice().say(rest))


def settle_rows(
    snapshot: Snapshot,
    matters: MatterList,
    who: str,
    task: int | None = None,
    results: Results | None = None,
) -> list[SettleRow]:
    """List the marks to choose about, the widest apart first, then what was chosen.

    `results` are those that the official may see.
    """
    voice = Voice.of(snapshot.event)
    differ = [
        _differing(snapshot, slot, voice, who)
        for slot in snapshot.slots
        if slot.disputed and may_see(slot, who)
    ]
    chosen = [
        _chosen(snapshot, slot, voice)
        for slot in snapshot.slots
        if slot.state is Keyed.SETTLED and not slot.disputed
    ]
    unfit = _unfit(snapshot, matters, who, voice, results)
    rows = [*sorted(differ, key=lambda row: -(row.gap_m or 0.0)), *unfit, *chosen]
    return [row for row in rows if task in {None, whole_number(row.slots[0].slot.task)}]


def _differing(
    snapshot: Snapshot, slot: SlotState, voice: Voice, who: str
) -> SettleRow:
    shown = _shown(slot)
    sides = tuple(
        _side(snapshot, slot, current, number, voice)
        for number, current in enumerate(shown, start=1)
        if isinstance(current.act, RowAct)
    )
    fields = [side.fields for side in sides if side.fields is not None]
    gap_m = next((gap for p in slot.problems if (gap := _gap_of(p)) is not None), None)
    number = whole_number(slot.slot.pilot) or 0
    task = {"task": task_value(whole_number(slot.slot.task) or 0)}
    if gap_m is None:
        second = fact("compare-differ-in", columns=_named(fields, voice), **task)
        if len({own.get("method") == Method.NONE for own in fields}) > 1:
            second = fact("compare-one-none", **task)
    else:
        second = fact("compare-apart", gap=words(voice.exact(gap_m)), **task)
    found = [h for other in fields[1:] if (h := hint(fields[0], other, snapshot.bare))]
    hints = [_as_shown(h, sides) for h in found]
    if not hints and len(sides) == 2:
        both = (words(side.value) for side in sides)
        hints = [fact("speaks-digits", one=next(both), other=next(both))]
    return SettleRow(
        sort=Sort.DIFFER,
        slots=(slot,),
        pilots=(number,),
        name=snapshot.pilot_name(number),
        second=voice.say(second),
        sides=sides,
        gap_m=gap_m,
        hints=(*hints, *_notes(sides), *_own(sides, who)),
    )


def _named(fields: Sequence[Mapping[str, str]], voice: Voice) -> Value:
    """Name what differs, as people call it."""
    names = [voice.term(f"entry-{name}") for name in columns_that_differ(fields)]
    return several(map(words, names)) if names else words("–")


def _as_shown(said: Fact, sides: Sequence[SettleAnswer]) -> Fact:
    """Let a hint say distances as the cards show them, whatever was typed for them."""
    shown = {
        words(side.fields.get("distance", "").strip()): words(side.value)
        for side in sides
        if side.fields is not None
    }
    values = tuple((name, shown.get(value, value)) for name, value in said.values)
    return Fact(said.kind, values)


def _notes(sides: Sequence[SettleAnswer]) -> list[Fact]:
    return [
        fact(
            "speaks-note", number=words(str(n)), note=words(side.fields["note"].strip())
        )
        for n, side in enumerate(sides, start=1)
        if side.fields and side.fields.get("note", "").strip()
    ]


def _own(sides: Sequence[SettleAnswer], who: str) -> list[Fact]:
    """Warn whoever made one of the entries."""
    return [
        fact("speaks-own", number=words(str(n)))
        for n, side in enumerate(sides, start=1)
        if same_person(side.by, who)
    ]


HOLDS = 0
"""In the place of an entry's number: the one that was chosen."""


def _side(
    snapshot: Snapshot, slot: SlotState, current: Current, number: int, voice: Voice
) -> SettleAnswer:
    act = current.act
    assert isinstance(act, RowAct)
    given = {name: text for name, text in act.fields.items() if text.strip()}
    known = slot.agreed.keyings if slot.agreed else ()
    keying = next((k for k in known if dict(k.entered) == given), None)
    start = given.get("from") or voice.word("compare-the-target")
    name = f"compare-entry-{number}" if 0 < number <= 3 else "compare-entry-other"
    if number == HOLDS:
        name = "compare-entry-holds"
    taped = voice.say(fact("compare-tape", **{"from": words(start)}))
    lines = (
        ("compare-bearing", given.get("bearing", "–")),
        ("compare-from", taped if given.get("distance") else "–"),
        ("compare-note", given.get("note", "–")),
    )
    return SettleAnswer(
        title=voice.word(name),
        by=keyed_by(current),
        at=EventTime.of(current.entry.when, snapshot.state.zone).clock(seconds=False),
        value=value_of(snapshot, given, voice),
        lines=tuple((voice.word(label), text) for label, text in lines),
        fields=act.fields,
        keying=keying,
    )


def value_of(snapshot: Snapshot, fields: Mapping[str, str], voice: Voice) -> str:
    """Say what an entry measured: its distance as the event reads it, or its cells."""
    if fields.get("method") == Method.NONE:
        return voice.word("compare-no-mark")
    told = [
        read_length(snapshot, _with_unit(fields, column)) or fields[column]
        for column in ("distance", "distance2")
        if fields.get(column, "").strip()
    ]
    places = ("easting", "northing", "lat", "lon")
    told += [fields[c] for c in places if fields.get(c, "").strip()]
    return " · ".join(told) or "–"


def _with_unit(fields: Mapping[str, str], column: str) -> str:
    text, unit = fields[column].strip(), fields.get("unit", "").strip()
    plain = text.replace(".", "").replace(",", "").isdigit()
    return f"{text} {unit}" if unit and plain else text


def _shown(slot: SlotState) -> tuple[Current, ...]:
    """Return what to choose from: what clashing desks settled, too."""
    return (*slot.keyings, *(slot.settling if len(slot.settling) > 1 else ()))


def _gap_of(problem: Fact) -> float | None:
    gaps = (part.get("gap") for part in parts(problem))
    return next((float(gap) for gap in gaps if isinstance(gap, int | float)), None)


def _chosen(snapshot: Snapshot, slot: SlotState, voice: Voice) -> SettleRow:
    settled = slot.settled
    assert settled is not None
    assert isinstance(settled.act, RowAct)
    number = whole_number(slot.slot.pilot) or 0
    at = EventTime.of(settled.entry.when, snapshot.state.zone).clock(seconds=False)
    side = _side(snapshot, slot, settled, HOLDS, voice)
    second = fact(
        "compare-chosen-second",
        what=words(side.value),
        by=words(keyed_by(settled)),
        at=words(at),
    )
    return SettleRow(
        sort=Sort.CHOSEN,
        slots=(slot,),
        pilots=(number,),
        name=snapshot.pilot_name(number),
        second=voice.say(second),
        sides=(side,),
    )


# Marks that do not fit flights.


def _unfit(
    snapshot: Snapshot,
    matters: MatterList,
    who: str,
    voice: Voice,
    results: Results | None,
) -> list[SettleRow]:
    """List the marks that no flight of their pilots explains; swapped ones as one."""
    kinds = {MARK_FAR_FROM_TRACK, STACK_UNFIT}
    open_ones = [
        row.matter
        for row in matters.rows
        if row.matter.kind in kinds and row.matter.is_open
    ]
    found = [each for matter in open_ones for each in matter.each]
    slots = {(s.slot.task, s.slot.pilot, s.slot.mark): s for s in snapshot.slots}

    def seen(each: Sequence[Matter]) -> tuple[SlotState, ...]:
        """Return the marks of matters, none where one must not be seen."""
        known = [slots.get(_slot_key(m)) for m in each]
        states = tuple(
            s
            for s in known
            if s is not None and (may_see(s, who) or is_once(snapshot.event, s.slot))
        )
        return states if len(states) == len(each) else ()

    stacks = [m for m in open_ones if m.members and seen(m.members)]
    rows = [
        _stack_row(snapshot, m, _now(seen(m.members), results), voice) for m in stacks
    ]
    done = {each.key for matter in stacks for each in matter.members}
    for matter in found:
        other = _swapped_with(matter, found)
        both = (matter, other) if other else (matter,)
        states = seen(both)
        if matter.key in done or not states:
            continue
        done |= {m.key for m in both}
        rows.append(_unfit_row(snapshot, both, _now(states, results), voice))
    return rows


Now = tuple[tuple[SlotState, Keying | None], ...]
"""Marks, each with the entry that stands now."""


def _now(states: Sequence[SlotState], results: Results | None) -> Now:
    """Return what stands of marks; where one entry counts, its result is no secret."""
    return tuple((state, _standing(state, results)) for state in states)


def _standing(state: SlotState, results: Results | None) -> Keying | None:
    if state.agreed is not None:
        return state.agreed.keying
    own, number = whole_number(state.slot.task), whole_number(state.slot.pilot)
    task = results.task(own) if results and own else None
    score = task.score_of(number) if task and number else None
    marks = (m for m in score.marks if m.mark == state.slot.mark) if score else ()
    return next((m.keyings[0] for m in marks if m.keyings), None)


def _stack_row(snapshot: Snapshot, matter: Matter, now: Now, voice: Voice) -> SettleRow:
    """Return marks of one stack as one: taken as they fit, or accepted, all at once."""
    states = tuple(state for state, _ in now)
    values = [_value_now(snapshot, keying, voice) for _, keying in now]
    whose = [voice.pilot(each.pilots[0]) for each in matter.members]
    task = task_value(matter.task or 0)
    return SettleRow(
        sort=Sort.UNFIT,
        slots=states,
        pilots=matter.pilots,
        name=" · ".join(map(snapshot.pilot_name, matter.pilots)),
        second=voice.say(fact("compare-unfit-second", task=task)),
        sides=tuple(
            SettleAnswer(
                title=voice.word(title),
                by="",
                at="",
                value=voice.say(fact("compare-marks", marks=count(len(states)))),
                lines=tuple(zip(whose, values, strict=True)),
            )
            for title in ("compare-meant", "compare-accept")
        ),
        matters=(matter,),
        hints=(matter.says,),
        state=snapshot.state,
    )


def _slot_key(matter: Matter) -> tuple[str, str, str]:
    return str(matter.task), str(matter.pilot), matter.mark


def _swapped_with(matter: Matter, found: Sequence[Matter]) -> Matter | None:
    swap = next((f for f in parts(matter.says) if f.kind == "marks-swapped"), None)
    other = swap.get("other") if swap else None
    return next(
        (m for m in found if m.pilot == other and m.task == matter.task),
        None,
    )


def _unfit_row(
    snapshot: Snapshot,
    both: Sequence[Matter],
    now: Now,
    voice: Voice,
) -> SettleRow:
    numbers = tuple(m.pilot or 0 for m in both)
    swapped = len(both) == 2
    second = "compare-swapped" if swapped else "compare-unfit-second"
    task = task_value(both[0].task or 0)
    values = [_value_now(snapshot, keying, voice) for _, keying in now]
    whose = [voice.value(pilot(n)) for n in numbers]
    accept = SettleAnswer(
        title=voice.word("compare-accept"),
        by="",
        at="",
        value=voice.word("compare-as-entered") if swapped else values[0],
        lines=tuple(zip(whose, values, strict=True)) if swapped else (),
    )
    meant = proposal(both[0])
    swap = SettleAnswer(
        title=voice.word("compare-swap"),
        by="",
        at="",
        value=f"{numbers[0]} ↔ {numbers[-1]}",
        lines=tuple(zip(whose, reversed(values), strict=True)),
    )
    return SettleRow(
        sort=Sort.UNFIT,
        slots=tuple(state for state, _ in now),
        standing=tuple(keying for _, keying in now if keying is not None),
        pilots=numbers,
        name=" · ".join(snapshot.pilot_name(n) for n in numbers),
        second=voice.say(Fact(second, (("task", task),))),
        sides=(swap, accept) if swapped else (*_as_meant(meant, voice), accept),
        matters=tuple(both),
        hints=tuple(m.says for m in both),
        state=snapshot.state,
    )


def _as_meant(meant: Fact | None, voice: Voice) -> Iterator[SettleAnswer]:
    """Yield the answer that takes a mark as it fits better, where one stands out."""
    if meant is None or meant.kind == "marks-swapped":
        return  # the other mark is not shown to whoever is at the desk
    _, told = meant.values[-1]
    yield SettleAnswer(
        title=voice.word("compare-meant"), by="", at="", value=voice.value(told)
    )


def _value_now(snapshot: Snapshot, keying: Keying | None, voice: Voice) -> str:
    return value_of(snapshot, dict(keying.entered) if keying else {}, voice)


# What is decided.


def holds(row: SettleRow, take: int, value: str) -> Fact:
    """State what would hold: an entry, another value, a swap, or all as it is."""
    if row.sort is Sort.UNFIT:
        first = pilot(row.pilots[0])
        if row.matters[0].members:
            kind = "compare-takes-all" if take == 1 else "compare-accepts-all"
            return fact(kind, marks=count(len(row.slots)))
        if len(row.sides) == 2 and take == 1:
            if len(row.pilots) > 1:
                return fact("compare-swaps", pilot=first, other=pilot(row.pilots[1]))
            return fact("compare-takes-meant", pilot=first)
        return fact("compare-accepts", pilot=first)
    if take == OTHER:
        return fact("compare-other-holds", what=words(value))
    side = row.sides[take - 1]
    return fact("compare-holds", which=words(side.title), what=words(side.value))


def whole(what: Fact, why: str) -> Fact:
    """State a choice with its reason, or that it lacks one."""
    if not why:
        return fact("decide-why", what=inner(what))
    return fact("decide-whole", what=inner(what), why=words(why))


def drafts_of(
    row: SettleRow, take: int, value: str, why: str, who: str
) -> tuple[Draft, ...]:
    """Make the entries of a choice; what fits better is one decision for all of it."""
    if row.sort is Sort.UNFIT:
        if len(row.sides) == 2 and take == 1:
            assert row.state is not None
            return as_meant(row.state, row.matters[0], why=why, by=who)
        return tuple(
            draft for m in row.matters for draft in acceptance(m, why=why, by=who)
        )
    fields = dict(row.sides[max(take - 1, 0)].fields or {})
    if take == OTHER:
        fields |= {"distance": value.strip(), "method": str(Method.TAPE)}
        fields.pop("unit", None)
    return (settle(row.slots[0], {**fields, "by": who}, reason=why),)


def reasons(snapshot: Snapshot, row: SettleRow, voice: Voice) -> tuple[str, ...]:
    """Return the event's most used reasons, then usual ones (common practice)."""
    used: Counter[str] = Counter()
    if row.sort is Sort.DIFFER:
        used.update(
            why
            for _, act in snapshot.state.all_of(MarkSettled)
            if (why := act.fields.get("settles", "").strip())
        )
    name = "unfit" if row.sort is Sort.UNFIT else "settle"
    return offered(used, name, voice)


def read_length(snapshot: Snapshot, text: str) -> str:
    """Say how a distance is read; empty where it cannot be."""
    try:
        return show_length(length_m(text, snapshot.bare), snapshot.event.units)
    except Unreadable:
        return ""


def _has_digit(text: str) -> bool:
    return any(map(str.isdigit, text))


def _shape(text: str) -> str:
    return "".join("0" if letter.isdigit() else letter for letter in text)


def differing(one: str, others: Sequence[str]) -> tuple[tuple[str, bool], ...]:
    """Cut a text into pieces, each with whether it differs from another text there."""
    marked = [False] * len(one)
    for other in others:
        if not (_has_digit(one) and _has_digit(other)):
            marked = [was or one != other for was in marked]  # words differ as a whole
            continue
        if _shape(one) == _shape(other):  # digit by digit, as people compare them
            pairs = zip(marked, one, other, strict=True)
            marked = [was or mine != theirs for was, mine, theirs in pairs]
            continue
        for tag, start, end, _, _ in SequenceMatcher(
            None, one, other, autojunk=False
        ).get_opcodes():
            if tag != "equal":
                marked[start:end] = [True] * (end - start)
    pieces: list[tuple[str, bool]] = []
    for letter, differs in zip(one, marked, strict=True):
        own = differs and not letter.isspace()
        if pieces and pieces[-1][1] == own:
            pieces[-1] = (pieces[-1][0] + letter, own)
        else:
            pieces.append((letter, own))
    return tuple(pieces)
