"""A folder read once more: what in it is new, what it puts in the place of what.

A folder that was edited replaces what it set down before, so that it never quarrels with
itself.  What a desk changed since is not taken back: there the folder's edit and the
desk's stand beside each other as a conflict.  What no longer stands in the folder stays,
and is told: a folder of one measuring crew takes nothing away from the others.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from scorer.facts import Fact, fact, inner, words
from scorer.ledger.acts import (
    Act,
    ComplaintDecided,
    ComplaintFiled,
    EntryId,
    LogAdded,
    LogAssigned,
    MarkKeyed,
    MarkSettled,
    PilotSet,
    PlaceSet,
    RowAct,
    TerrainSet,
    Withdrawn,
)
from scorer.ledger.entry import Draft, Entry
from scorer.ledger.numbers import (
    Now,
    changed_numbers,
    number_of,
    of_one_person,
    other_person,
    renumbered,
)
from scorer.ledger.replay import State
from scorer.ledger.resolve import Current, content_key, entered_by, key_of

Key = tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """The difference between a folder and what it set down before."""

    drafts: tuple[Draft, ...]
    """What is new or changed; a changed thing names what it replaces."""
    gone: tuple[Current, ...]
    """What it set down before, and holds no longer."""
    before: Mapping[EntryId, Act]
    """What changed things take the place of."""

    @property
    def told(self) -> tuple[Fact, ...]:
        """The difference, a statement each."""
        come = (self._come(draft) for draft in self.drafts)
        gone = (
            fact(
                "folder-lacks",
                what=inner(c.act.thing),
                entry=words(c.entry.label),
            )
            for c in self.gone
        )
        return (*come, *gone)

    def _come(self, draft: Draft) -> Fact:
        """State what a draft does; of a pilot, who was behind the number."""
        act = draft.act
        if not draft.replaces:
            return fact("folder-adds", what=inner(act.thing))
        old = self.before.get(draft.replaces[0])
        if isinstance(act, PilotSet) and isinstance(old, PilotSet):
            before, now = (one.fields.get("name", "") for one in (old, act))
            names = {"before": words(before), "now": words(now)}
            if number_of(act) != number_of(old):
                numbers = {"old": words(number_of(old)), "new": words(number_of(act))}
                return fact("folder-renumbers", now=names["now"], **numbers)
            if other_person(before, now):
                return fact(
                    "folder-other-person", number=words(number_of(act)), **names
                )
        return fact("folder-changes", what=inner(act.thing))

    def withdrawals(self, why: str) -> tuple[Draft, ...]:
        """Return what takes away all that the folder holds no longer."""
        return tuple(
            Draft(act=Withdrawn(entry=c.ids[0]), why=why, replaces=c.ids[1:])
            for c in self.gone
        )


def read_again(drafts: Sequence[Draft], state: State) -> Again:
    """Compare what a folder sets down with what stands, and with what it said before."""
    now = changed_numbers(state.standing.lineages).last
    drafts = [_under_new(draft, now) for draft in drafts]
    known = {content_key(act) for c in state.current for act in (c.act, signed(c))}
    said = _Said(state)
    stays = {content_key(draft.act) for draft in drafts}
    gone = [c for c in said.standing if not _stands(c, stays)]
    keys = {key_of(draft.act) for draft in drafts} - {None}
    rows: dict[Key, list[Current]] = defaultdict(list)
    for current in gone:
        if key_of(current.act) not in keys:
            rows[_row(current.act)].append(current)
    kept: list[Draft] = []
    for draft in drafts:
        if isinstance(draft.act, ComplaintFiled | ComplaintDecided):
            kept.append(draft)  # sorted out before
            continue
        if content_key(draft.act) in known or said.unchanged(draft.act):
            continue
        replaces = said.replaced(draft.act)
        if replaces is None:
            replaces = _old_text(draft.act, rows)
        kept.append(replace(draft, replaces=replaces or ()))
    left = {c.entry.hash for several in rows.values() for c in several}
    return Again(
        drafts=tuple(kept),
        before={i: c.act for c in state.current for i in c.ids},
        gone=tuple(
            c for c in gone if c.entry.hash in left and key_of(c.act) not in keys
        ),
    )


class _Said:
    """What folders set down so far, and what holds now."""

    def __init__(self, state: State) -> None:
        self.told: dict[Key, Entry] = {}
        self.contents: dict[Key, set[str]] = defaultdict(set)
        for entry in sorted(state.entries, key=lambda e: e.order):
            act = entry.act
            key = key_of(act)
            if key is not None and _imported(act):
                self.told[key] = entry
        self.held: dict[Key, list[Current]] = defaultdict(list)
        for current in state.current:
            key = key_of(current.act)
            if key is not None:
                self.held[key].append(current)
        self.standing = [c for c in state.current if _imported(c.act)]

    def unchanged(self, act: Act) -> bool:
        """Tell whether the folder says what it said before, whatever was done since."""
        key = key_of(act)
        told = None if key is None else self.told.get(key)
        return told is not None and content_key(told.act) == content_key(act)

    def replaced(self, act: Act) -> tuple[EntryId, ...] | None:
        """Return what a changed thing takes the place of; None = it is no such thing."""
        key = key_of(act)
        if key is None or key not in self.told:
            return None
        told = self.told[key].hash
        for current in self.held.get(key, ()):
            if told in current.ids:
                return current.ids
        return (told,)


def _imported(act: Act) -> bool:
    return bool(getattr(act, "source", "")) or isinstance(act, LogAssigned)


def _stands(current: Current, contents: Iterable[str]) -> bool:
    both = {content_key(current.act), content_key(signed(current))}
    return not both.isdisjoint(contents)


def _under_new(draft: Draft, now: Now) -> Draft:
    """Return a row under a number that a desk changed since; the roster's line stays."""
    act = None if isinstance(draft.act, PilotSet) else renumbered(draft.act, now)
    return draft if act is None else replace(draft, act=act)


def _old_text(
    act: Act, rows: Mapping[Key, list[Current]]
) -> tuple[EntryId, ...] | None:
    """Take out of what the folder holds no longer the one that this is a new text of."""
    same = rows.get(_row(act), [])
    for current in same:
        old = current.act
        if not isinstance(act, PilotSet) or (
            isinstance(old, PilotSet) and of_one_person(old, act)
        ):
            same.remove(current)
            return current.ids
    return None


_WHOSE = ("task", "pilot", "mark", "kind", "finding", "decision")


def _row(act: Act) -> Key:
    """Return what a row is about: two of the same are an old and a new text of it."""
    match act:
        case PilotSet() | TerrainSet():
            return (type(act),)
        case LogAdded() | LogAssigned():
            return (type(act), act.flight, act.name.casefold())
        case PlaceSet():  # under another name
            return (type(act), str(act.feature.get("geometry")))
    if not isinstance(act, RowAct):
        return (type(act), key_of(act))
    names = (*_WHOSE, "by")
    cells = (act.fields.get(name, "").strip().casefold() for name in names)
    return (type(act), act.flight, *cells)


def signed(current: Current) -> Act:
    """Return an entry of a mark as a folder has it: with who made it."""
    act = current.act
    if not isinstance(act, MarkKeyed | MarkSettled):
        return act
    by = entered_by(act, current.entry)
    return replace(act, fields={**act.fields, "by": by} if by else act.fields)
