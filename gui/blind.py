"""What an official may know of marks before the own entry: first values are taken out.

The second person enters a mark without having seen what was entered first.  Nothing is
covered up: pages are given an event, entries and results in which those values do not
stand at all, so no list, search, tooltip, preview or export of the desk can show them.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, TypeGuard

from gui.snapshot import ScoredSnapshot, Snapshot
from scorer.event.entries import same_person
from scorer.event.matter import Closes, Matter, grouped
from scorer.event.matters import KEYING, SET_ASIDE, UNSETTLED
from scorer.event.model import Event, Flight, Keying, SetAside
from scorer.facts import Fact, Measure, count, fact, several, values_within, words
from scorer.facts import task as task_value
from scorer.ledger.acts import (
    Act,
    Aside,
    EntryId,
    MarkKeyed,
    MarkSettled,
    Published,
    RowAct,
    Undone,
    Withdrawn,
    to_payload,
)
from scorer.ledger.aside import ReadEntry
from scorer.ledger.cells import whole_number
from scorer.ledger.changes import Change
from scorer.ledger.entry import Entry
from scorer.ledger.keyings import Slot, SlotState, every_entered, keyed_by, slot_of
from scorer.ledger.lineage import Lineage, SortedEntries, named_by
from scorer.ledger.replay import State
from scorer.ledger.resolve import Current, entered_by
from scorer.scoring.results import (
    Formula,
    Results,
    RulingState,
    Score,
    StandingsTable,
    TaskResult,
)

KEPT = ("task", "pilot", "mark", "by")
"""What stays of an entry: whose mark it is, and who entered it."""
HIDDEN = fact("hidden-until-entered-twice")
UNTOLD = "…"
"""In place of what was found in an entry."""
NO_RANK = 0
"""In place of a rank that an official must not know yet."""
MARKS = frozenset({Closes.COMPARE, Closes.MARKS})
"""Where matters are closed whose sentences may tell what was entered."""
ONCE_MORE = (UNSETTLED, KEYING)
"""Matters that say no more of a hidden entry than that it must be entered once more."""
Pairs = frozenset[tuple[int, int]]
"""Tasks and pilots whose first entry must not be seen."""


def own_keying(slot: SlotState, who: str) -> Current | None:
    """Return what an official entered for a mark."""
    return next((c for c in slot.keyings if same_person(keyed_by(c), who)), None)


def may_see(slot: SlotState, who: str) -> bool:
    """Tell whether an official may see what was entered: not before entering it too."""
    known = slot.settled is not None or len(slot.people) >= 2
    return known or own_keying(slot, who) is not None


def is_once(event: Event, slot: Slot) -> bool:
    """Tell whether one entry counts in the task of a mark: its result is no secret."""
    number = whole_number(slot.task)
    task = next((t for t in event.tasks if t.number == number), None)
    return task is not None and not event.book_of(task).keying.twice


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenSlot(SlotState):
    """A mark that one person entered, as the second one is told of it."""

    @property
    def problems(self) -> tuple[Fact, ...]:
        """It is open, and no more can be said."""
        return (HIDDEN,)


def hidden_in(snapshot: Snapshot) -> Pairs:
    """Return the tasks and pilots whose results are hidden in what an official is shown."""
    slots = (own.slot for own in snapshot.slots if isinstance(own, HiddenSlot))
    return secret_pairs(snapshot.event, slots)


def hidden_slots(event: Event, state: State, who: str) -> frozenset[Slot]:
    """Return the marks that others entered once and this official did not enter.

    Where one entry counts, results show it at once: there none is hidden.
    """
    return frozenset(
        own.slot
        for own in every_entered(state)
        if own.keyings and not may_see(own, who) and not is_once(event, own.slot)
    )


# The event and its entries.


def blinded(
    snapshot: Snapshot, who: str, hidden: frozenset[Slot] | None = None
) -> Snapshot:
    """Return an event as an official may see it; the same where nothing is hidden.

    `hidden` are the marks hidden from the official, where they were gathered already.
    """
    if hidden is None:
        hidden = hidden_slots(snapshot.event, snapshot.state, who)
    state, gone = _state(snapshot.event, snapshot.state, hidden, who)
    if not gone:
        return snapshot
    return replace(
        snapshot,
        read=state,
        state=state,
        event=_event(snapshot.event, hidden, who),
        slots=tuple(
            HiddenSlot(
                slot=s.slot,
                keyings=tuple(_current(c, gone) for c in s.keyings),
                settling=(),
                agreed=None,
            )
            if s.slot in hidden
            else s
            for s in snapshot.slots
        ),
    )


def _state(
    event: Event, state: State, hidden: frozenset[Slot], who: str
) -> tuple[State, Mapping[EntryId, ReadEntry]]:
    """Take values out of entries, of those too that were corrected or reverted since."""
    standing = state.standing
    known = {slot_of(act) for _, act in state.all_of(RowAct) if _is_mark(act)}
    gone = {
        held.id: _without_values(held, act)
        for held in standing.entries
        if _is_mark(act := held.written)
        and (
            slot_of(act) in hidden
            or (slot_of(act) not in known and not is_once(event, slot_of(act)))
        )
        and not same_person(entered_by(act, held.entry), who)
    }
    if not gone:
        return state, gone
    gone |= {
        held.id: ReadEntry(entry=replace(held.entry, why=""), act=held.act)
        for held in standing.entries
        if _takes_back(held, gone) and not same_person(held.entry.who, who)
    }

    told = gone | {held.id: _without_flags(held) for held in standing.all_of(Published)}

    def swapped(held: ReadEntry) -> ReadEntry:
        return told.get(held.id, held)

    def seen(entry: Entry) -> Entry:
        return told[entry.hash].entry if entry.hash in told else entry

    # Made field by field: one that is new to a state must be thought of here.
    return (
        State(
            standing=SortedEntries(
                entries=tuple(map(swapped, standing.entries)),
                lineages=tuple(_lineage(own, swapped) for own in standing.lineages),
                undone=standing.undone,
                twice=standing.twice,
                set_aside=tuple(
                    _untold(one) if one.entry in gone else one
                    for one in standing.set_aside
                ),
            ),
            current=tuple(
                _current(c, told) if isinstance(c.act, Published) else c
                for c in state.current
                if not any(e.hash in gone for e in c.entries)
            ),
            conflicts=tuple(
                c for c in state.conflicts if not any(e.hash in gone for e in c.entries)
            ),
            forks=tuple(tuple(map(seen, own)) for own in state.forks),
            backs=tuple((seen(entry), back_s) for entry, back_s in state.backs),
        ),
        gone,
    )


def _without_flags(held: ReadEntry) -> ReadEntry:
    """Take out of results that went up what was open then: it says what was entered."""
    if not isinstance(held.act, Published):
        return held
    bare = replace(held.act, flags=(UNTOLD,) * len(held.act.flags))
    return ReadEntry(entry=replace(held.entry, payload=to_payload(bare)), act=bare)


def _takes_back(held: ReadEntry, gone: Mapping[EntryId, ReadEntry]) -> bool:
    """Tell whether an entry takes one of these back: its reason may say the value."""
    if isinstance(held.act, Undone):
        return held.act.entry in gone
    return isinstance(held.act, Withdrawn) and any(n in gone for n in named_by(held))


def _is_mark(act: Act) -> TypeGuard[MarkKeyed | MarkSettled]:
    return isinstance(act, MarkKeyed | MarkSettled)


def _without_values(held: ReadEntry, act: MarkKeyed | MarkSettled) -> ReadEntry:
    """Take values out of an entry; `act` is what it says, also where it is set aside."""
    kept = {name: act.fields[name] for name in KEPT if name in act.fields}
    bare = replace(act, fields=kept)
    entry = replace(held.entry, payload=to_payload(bare), why="")
    if isinstance(held.act, Aside):
        return ReadEntry(entry=entry, act=Aside(record=_untold(held.act.record)))
    return ReadEntry(entry=entry, act=bare)


def _untold(record: SetAside) -> SetAside:
    """Tell of an entry that it is set aside, and not what stands in it."""
    return replace(record, found=UNTOLD)


def _lineage(own: Lineage, swapped: Callable[[ReadEntry], ReadEntry]) -> Lineage:
    return Lineage(
        versions=tuple(map(swapped, own.versions)),
        ends=tuple(map(swapped, own.ends)),
        withdrawals=tuple(map(swapped, own.withdrawals)),
        base=swapped(own.base) if own.base is not None else None,
    )


def _current(current: Current, gone: Mapping[EntryId, ReadEntry]) -> Current:
    if not any(entry.hash in gone for entry in current.entries):
        return current
    held = [gone[e.hash] for e in current.entries if e.hash in gone]
    entries = tuple(
        gone[e.hash].entry if e.hash in gone else e for e in current.entries
    )
    return Current(act=held[0].act, entries=entries)


def _event(event: Event, hidden: frozenset[Slot], who: str) -> Event:
    def shown(flight: Flight, keying: Keying) -> bool:
        slot = Slot(
            flight=flight.id,
            task=str(keying.task),
            pilot=str(keying.pilot),
            mark=keying.mark,
        )
        return slot not in hidden or same_person(keying.by, who)

    flights = tuple(
        replace(f, keyings=tuple(k for k in f.keyings if shown(f, k)))
        for f in event.flights
    )
    pairs = pairs_of(hidden)
    told = seen_matters(event.matters, pairs, who)
    return replace(event, flights=flights, matters=told)


# Results.


def blinded_scores(scored: ScoredSnapshot, who: str) -> ScoredSnapshot:
    """Return results without what hidden marks gave; the same where none is hidden.

    Only where every mark must be entered twice: elsewhere the first entry counts, and
    its result is no secret.
    """
    slots = hidden_slots(scored.event, scored.state, who)
    results, pairs = scored.results, secret_pairs(scored.event, slots)
    if not pairs:
        return scored
    state, _ = _state(scored.event, scored.state, slots, who)
    return ScoredSnapshot(
        state=state,
        event=_event(scored.event, slots, who),
        faults=scored.faults,
        results=None if results is None else blinded_results(results, pairs, who),
        hidden=pairs,
    )


def hidden_pairs(scored: ScoredSnapshot, who: str) -> Pairs:
    """Return the tasks and pilots whose results an official must not see yet."""
    return secret_pairs(scored.event, hidden_slots(scored.event, scored.state, who))


def secret_pairs(event: Event, slots: Iterable[Slot]) -> Pairs:
    """Keep those of tasks whose every mark must be entered twice."""
    asked = {t.number for t in event.tasks if event.book_of(t).keying.twice}
    return frozenset(pair for pair in pairs_of(slots) if pair[0] in asked)


def seen_changes(changes: Iterable[Change], pairs: Pairs) -> tuple[Change, ...]:
    """Return what changes in tasks whose ranks may be seen, and in sums of such."""
    tasks = {None, *veiled(pairs)} if pairs else set()
    return tuple(change for change in changes if change.task not in tasks)


def pairs_of(slots: Iterable[Slot]) -> Pairs:
    """Return the tasks and pilots of marks."""
    both = ((whole_number(s.task), whole_number(s.pilot)) for s in slots)
    return frozenset((t, p) for t, p in both if t is not None and p is not None)


def blinded_results(results: Results, pairs: Pairs, who: str) -> Results:
    """Return results without those of some tasks and pilots.

    Of these tasks nobody's rank and points stand in them, nor sums they would be in.
    """
    known = tuple(_task(task, pairs) for task in results.tasks)
    sums = any(task.state == "flown" for task in known if task.task in veiled(pairs))
    shown = _without_rows if sums else _as_it_is
    teams = results.team_standings
    # Made field by field: what is new to results is hidden until it is thought of here.
    return Results(
        event=results.event,
        book=results.book,
        tasks=known,
        findings=results.findings,
        standings=shown(results.standings),
        standings_rule=results.standings_rule,
        event_charges=results.event_charges,
        class_standings=tuple(map(shown, results.class_standings)),
        team_standings=None if teams is None else shown(teams),
        flights=results.flights,
        matters=seen_matters(results.matters, pairs, who),
        voice=results.voice,
    )


def _as_it_is(table: StandingsTable) -> StandingsTable:
    return table


def _without_rows(table: StandingsTable) -> StandingsTable:
    """Tell nothing of sums that a hidden result is in."""
    return replace(table, rows=(), teams=dict.fromkeys(table.teams, ()))


def veiled(pairs: Pairs) -> frozenset[int]:
    """Return the tasks of hidden marks: others' ranks tell where their results lie."""
    return frozenset(task for task, _ in pairs)


def is_ranked(score: Score) -> bool:
    """Tell whether the official may know rank and points of a score."""
    return score.rank != NO_RANK


def ranked(score: Score | None, name: str) -> Any:
    """Return what goes with the rank of a score; None where it must not be known."""
    return getattr(score, name) if score is not None and is_ranked(score) else None


def ranks_hidden(pairs: Pairs) -> Fact:
    """State which ranks and points are not shown, and until when."""
    told = sorted(veiled(pairs))
    tasks = several(map(task_value, told))
    return fact("ranks-hidden", count=count(len(told)), tasks=tasks)


def _task(task: TaskResult, pairs: Pairs) -> TaskResult:
    hidden = {pilot for number, pilot in pairs if number == task.task}
    if not hidden:  # a mean of other tasks may be one of a hidden result
        scores = tuple(_unranked(s, ()) if _is_mean(s) else s for s in task.scores)
        return replace(task, scores=scores)
    seen = (s for s in task.scores if s.pilot not in hidden)
    return replace(
        task,
        formula=_bare(task.formula),
        fields=tuple(replace(f, formula=_bare(f.formula)) for f in task.fields),
        scores=tuple(
            sorted((_unranked(s, hidden) for s in seen), key=lambda s: s.pilot)
        ),
        guests=tuple(guest for guest in task.guests if guest.pilot not in hidden),
        remeasure=(),
    )


def _bare(formula: Formula) -> Formula:
    """Take out of a formula what results gave it."""
    return Formula(method=formula.method, P=formula.P, A=0, M=0, W=None, RM=None, SM=0)


def _is_mean(score: Score) -> bool:
    return any(charge.ruling is RulingState.AVERAGE for charge in score.charges)


def _unranked(score: Score, hidden: Collection[int]) -> Score:
    """Take rank and points out of a score, and what they can be worked out from.

    A step that names a hidden pilot says that the results are equal.
    """
    made_up = {RulingState.SCORE, RulingState.AVERAGE}
    charges = tuple(c for c in score.charges if c.ruling not in made_up)
    gone = sum(int(c.amount.amount) for c in score.charges if c.ruling in made_up)
    return replace(
        score,
        rank=NO_RANK,
        rank_low=None,
        rank_high=None,
        formula_points=0,
        score=0,
        task_penalty=score.task_penalty - gone,
        charges=charges,
        steps=tuple(step for step in score.steps if not _names(step, hidden)),
        how=None,
        after=(),
        parted=0,
    )


def _names(step: Fact, pilots: Collection[int]) -> bool:
    """Tell whether a step names one of some pilots."""
    named = (v.amount for v in values_within(step) if v.measure is Measure.PILOT)
    return any(number in pilots for number in named)


def seen_matters(
    matters: Iterable[Matter], pairs: Pairs, who: str
) -> tuple[Matter, ...]:
    """Return the matters that an official may know; like ones are told as one again.

    What is doubtful in a hidden entry is left out: that it is doubtful, and of which kind,
    tells of it.  That the mark must be entered once more stays open, without its values.
    """
    whole = tuple(matters)
    if not any(m.members for m in whole):
        told = (seen_matter(m, pairs, who) for m in whole)
        return tuple(m for m in told if m is not None)
    each = (one for m in whole for one in m.members or (m,))
    told = (seen_matter(one, pairs, who) for one in each)
    return grouped(m for m in told if m is not None)


def seen_matter(matter: Matter, pairs: Pairs, who: str) -> Matter | None:
    """Return a matter without the values of hidden marks; None = not even that it is.

    Nobody accepts what is not told.
    """
    if matter.members:
        return next(iter(seen_matters((matter,), pairs, who)), None)
    tells = matter.reveals or matter.mark or matter.kind.closes in MARKS
    mine = any(same_person(who, name) for name in matter.reveals)
    if matter.kind is SET_ASIDE and matter.reveals and not mine:
        return replace(matter, says=_with_untold(matter.says))
    if mine or not tells or not _about_hidden(matter, pairs):
        return matter
    if matter.kind not in ONCE_MORE:  # what doubts it tells of it
        return None
    return replace(matter, kind=replace(matter.kind, acceptable=False), says=HIDDEN)


def _about_hidden(matter: Matter, pairs: Pairs) -> bool:
    """Tell whether a matter is about a hidden mark, or names its pilot beside another."""
    hidden = {pilot for task, pilot in pairs if task == matter.task}
    return bool(hidden.intersection(matter.pilots)) or _names(matter.says, hidden)


def _with_untold(says: Fact) -> Fact:
    """Return what is said of an entry set aside, without what was found in it."""
    values = tuple(
        (name, words(UNTOLD) if name == "found" else value)
        for name, value in says.values
    )
    return Fact(says.kind, values)
