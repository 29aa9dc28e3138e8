"""Who stands behind a competition number: numbers that changed, people who changed.

A pilot's number may change when other desks have entered something under the old one, or
go on to do so: as long as nobody else has the old number, all of it is understood as the
new one's.  An import that puts other people behind numbers is asked about.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from scorer.event.matter import Blocks, Closes, Matter, about, matter_kind
from scorer.facts import fact, words
from scorer.ledger.acts import (
    Act,
    ComplaintFiled,
    EntryId,
    LogAdded,
    LogAssigned,
    PilotSet,
    RowAct,
)
from scorer.ledger.aside import ReadEntry
from scorer.ledger.cells import plain_number, whole_number
from scorer.ledger.entry import Entry, Order, ancestors
from scorer.ledger.lineage import Lineage
from scorer.tracks.names import one_name

OLD_NUMBER = matter_kind("old-number", closes=Closes.PILOTS)
OTHER_PERSON = matter_kind("other-person", blocks=Blocks.OFFICIAL, closes=Closes.PILOTS)
Now = Mapping[str, str]
"""Old numbers to new ones."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedNumbers:
    """Old numbers to new ones, for every entry that names one."""

    last: Now
    """Of who had each number last."""
    passed: Mapping[str, Sequence[tuple[Order, str]]]
    """Of numbers that passed from one to another: since when, in order, and the new one."""

    def __bool__(self) -> bool:
        """Tell whether any number changed."""
        return bool(self.last)

    def as_of(self, entry: Callable[[], Entry]) -> Now:
        """Return them as an entry means them: of who had the number when it was made.

        One made before anybody had it means who had it first.
        """
        if not self.passed:
            return self.last
        made = entry().order
        own = {
            old: [new for since, new in held if since < made] or [held[0][1]]
            for old, held in self.passed.items()
        }
        return {**self.last, **{old: before[-1] for old, before in own.items()}}


def number_of(act: Act) -> str:
    """Return the number of a line of the roster."""
    fields = act.fields if isinstance(act, PilotSet) else {}
    return plain_number(fields.get("number", ""))


def changed_numbers(lineages: Iterable[Lineage]) -> ChangedNumbers:
    """Return which numbers are others now; not those that somebody else has.

    A line of the roster whose number is none changes no number: it is refused itself.
    """
    rosters = [own for own in lineages if own.ends and own.ends[0].is_a(PilotSet)]
    taken = {number_of(end.act) for own in rosters for end in own.ends}
    held: dict[str, list[tuple[Order, str]]] = {}
    for own in rosters:
        ends = {number_of(end.act) for end in own.ends}
        if len(ends) != 1 or whole_number(new := ends.pop()) is None:
            continue
        for version in own.versions:
            old = number_of(version.act)
            if old and old not in taken:
                held.setdefault(old, []).append((version.entry.order, new))
    for several in held.values():
        several.sort()
    return ChangedNumbers(
        last={old: several[-1][1] for old, several in held.items()},
        passed={
            old: several
            for old, several in held.items()
            if len({new for _, new in several}) > 1
        },
    )


def renumbered(act: Act, now: Now) -> Act | None:
    """Return an act with a pilot's new number; None where it is about somebody else."""
    match act:
        case PilotSet() if number_of(act) in now:
            return replace(act, fields={**act.fields, "number": now[number_of(act)]})
        case RowAct() if (old := plain_number(act.fields.get("pilot", ""))) in now:
            fields = {**act.fields, "pilot": now[old]}
            parts = fields.get("finding", "").split(":")
            if len(parts) > 2 and parts[2] == old:
                fields["finding"] = ":".join((*parts[:2], now[old], *parts[3:]))
            return replace(act, fields=fields)
        case LogAdded() | LogAssigned() | ComplaintFiled() if str(act.pilot) in now:
            return replace(act, pilot=int(now[str(act.pilot)]))
    return None


def with_other_numbers(lineages: Iterable[Lineage]) -> list[Lineage]:
    """Return the lines of the roster whose number is not what it always was."""
    return [
        own
        for own in lineages
        if len(own.versions) > 1
        and own.versions[0].is_a(PilotSet)
        and len(set(_numbers(own.versions))) > 1
    ]


def numbers_since(
    changed: Iterable[Lineage], entries: Iterable[Entry], heads: Iterable[EntryId]
) -> dict[int, int]:
    """Return the numbers that people had as of `heads`, to those that they have now.

    Each is followed along their own line of the roster (`with_other_numbers`), so numbers
    may pass from one to another; a number that is theirs still stands for itself.
    """
    changed = list(changed)
    seen = ancestors(entries, heads) if changed else set()
    last: dict[int, int] = {}
    earlier: dict[int, int] = {}  # what was up where desks differed about a number
    for own in changed:
        known = _numbers(item for item in own.versions if item.id in seen)
        ends = set(_numbers(own.ends))
        if known and len(ends) == 1:
            (new,) = ends
            last[known[-1]] = new
            earlier.update(dict.fromkeys(known, new))
    return {**earlier, **last}


def _numbers(versions: Iterable[ReadEntry]) -> list[int]:
    found = (whole_number(number_of(item.act)) for item in versions)
    return [number for number in found if number is not None]


def under_new(tree: Mapping[str, Any], numbers: Mapping[int, int]) -> dict[str, Any]:
    """Return results.json under the new numbers: a number alone changes no score.

    Whose number another one has now, and who has none, is in it no more.
    """
    if not numbers:
        return dict(tree)
    gone = set(numbers.values()) - set(numbers)

    def rows(several: Iterable[Mapping[str, Any]]) -> list[dict[str, Any]]:
        return [row(one) for one in several if one["pilot"] not in gone]

    def row(of: Mapping[str, Any]) -> dict[str, Any]:
        made = {**of, "pilot": numbers.get(of["pilot"], of["pilot"])}
        if "charges" in of:
            made["charges"] = [charge(one) for one in of["charges"]]
        return made

    def charge(of: Mapping[str, Any]) -> dict[str, Any]:
        parts = (of.get("finding") or "").split(":")
        if len(parts) > 2 and parts[2].isdecimal() and int(parts[2]) in numbers:
            parts[2] = str(numbers[int(parts[2])])
            return {**of, "finding": ":".join(parts)}
        return dict(of)

    tasks = [
        {**task, "scores": rows(task.get("scores", ()))}
        for task in tree.get("tasks", ())
    ]
    standings = rows(tree.get("standings", ()))
    return {**tree, "tasks": tasks, "standings": standings}


def of_one_person(one: PilotSet, other: PilotSet) -> bool:
    """Tell whether two lines of rosters are of one person, whatever their numbers."""
    return any(
        (text := _cell(one, name)) and text == _cell(other, name)
        for name in ("name", "registration", "logger")
    )


def other_person(before: str, now: str) -> bool:
    """Tell whether one number's line names somebody else than before.

    Accents, capitals, the order of words and slips in spelling make no other person.
    """
    return not one_name(before, now)


def _cell(act: PilotSet, name: str) -> str:
    return " ".join(act.fields.get(name, "").split()).casefold()


def of_numbers(
    lineages: Sequence[Lineage], by_id: Mapping[EntryId, ReadEntry]
) -> Iterator[Matter]:
    """Yield what is doubtful about numbers: who is behind them, which are old ones."""
    changed = changed_numbers(lineages)
    if changed:
        yield from _under_old_numbers(lineages, changed)
    for own in lineages:
        for end in own.ends:
            if end.is_a(PilotSet):
                yield from _other_people(end, by_id)


def _other_people(
    end: ReadEntry, by_id: Mapping[EntryId, ReadEntry]
) -> Iterator[Matter]:
    if not isinstance(end.act, PilotSet) or not end.act.source:
        return
    olds = [by_id[name].act for name in end.entry.replaces if name in by_id]
    for old in olds:
        if not isinstance(old, PilotSet) or number_of(old) != number_of(end.act):
            continue
        before, name = (act.fields.get("name", "") for act in (old, end.act))
        if other_person(before, name):
            number = number_of(end.act)
            says = fact(
                "other-person",
                number=words(number),
                before=words(before),
                now=words(name),
            )
            yield Matter(
                kind=OTHER_PERSON,
                pilots=about(whole_number(number)),
                says=says,
                evidence=(end.entry.label,),
            )


def _under_old_numbers(
    lineages: Iterable[Lineage], changed: ChangedNumbers
) -> Iterator[Matter]:
    for own in lineages:
        for end in own.ends:
            old = _named(end.act)
            if old not in changed.last:
                continue
            now = changed.as_of(partial(getattr, end, "entry"))
            says = fact(
                "old-number",
                entry=words(end.entry.label),
                who=words(end.entry.who),
                old=words(old),
                new=words(now[old]),
            )
            yield Matter(
                kind=OLD_NUMBER,
                flight=getattr(end.act, "flight", ""),
                task=_task(end.act),
                pilots=about(int(now[old])),
                says=says,
                evidence=(end.entry.label,),
            )


def _named(act: Act) -> str:
    if isinstance(act, RowAct):
        return plain_number(act.fields.get("pilot", ""))
    if isinstance(act, LogAssigned | ComplaintFiled):
        return str(act.pilot)
    return ""


def _task(act: Act) -> int | None:
    return whole_number(act.fields.get("task", "")) if isinstance(act, RowAct) else None
