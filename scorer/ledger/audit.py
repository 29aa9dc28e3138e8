"""Walk an event's ledger and tell whether anything was altered, lost or cannot be redone.

Every entry's hash covers its content and names the entry before, so an altered entry
either does not fit its own hash, or no longer fits the entry after it.  Publications name
the last entries they were computed from, which guards the ends of the chains.
"""

import json
import re
from collections import defaultdict
from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import text

from scorer.errors import ScorerError
from scorer.event.raw import RawEvent
from scorer.facts import Fact, count, fact, words
from scorer.ledger.acts import Act, Aside, Created, EntryId, Published, Sha256
from scorer.ledger.aside import FILES, ReadEntry, in_time
from scorer.ledger.changes import changes
from scorer.ledger.clocks import suspect
from scorer.ledger.engine import explained
from scorer.ledger.entry import NO_ENTRY, Entry, ancestors, hash_of, utc_text
from scorer.ledger.faults import DamagedError, LedgerError, MissingBlobError
from scorer.ledger.guards import flaws
from scorer.ledger.head import Head
from scorer.ledger.lineage import sort_out
from scorer.ledger.replay import state_of
from scorer.ledger.sound import sound
from scorer.ledger.store import START, FilesAtHand, Store
from scorer.progress import Control
from scorer.version import FIRST_VERSION, VERSION, computed_by
from scorer.words.voice import Voice

Rescore = Callable[[RawEvent], bytes]
"""Computes results.json from an event as entered."""

_OTHER_COPY = (
    "Keep this file for the jury. Compare it with another desk's copy or an archive, and "
    "merge that one into a new file to go on."
)


class RawThen:
    """An event as it stood with some entries the last.

    What holds is worked out anew each time, while acts and files are read once.
    """

    def __init__(
        self, store: Store, entries: Sequence[Entry], known: Iterable[ReadEntry] = ()
    ) -> None:
        """`known` are those of the entries that were read before."""
        self._entries, self._known = entries, tuple(known)
        self._files, self._stored = FilesAtHand(store), store.known_files

    def __call__(self, heads: Sequence[EntryId]) -> RawEvent:
        """Return it; `heads` are the last entries of its chains."""
        seen = ancestors(self._entries, heads)
        some = [entry for entry in self._entries if entry.hash in seen]
        state = sound(state_of(sort_out(some, self._known, self._stored))).state
        with self._files.reading(state.log_files) as load:
            return state.raw(load)


class Severity(StrEnum):
    """How bad it is."""

    ALTERED = "altered"
    """Somebody or something changed what was set down."""
    LOST = "lost"
    """Something that was set down is not there."""
    NOT_REPRODUCED = "not reproduced"
    """A published result does not come out again."""
    NOTICE = "notice"
    """Worth knowing; nothing is wrong with the evidence."""


_ADDRESS = re.compile(r"[0-9a-f]{64}")
_EVIDENCE = frozenset({Severity.ALTERED, Severity.LOST})
"""What makes it idle to ask why results differ."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing found, and what to do about it."""

    severity: Severity
    where: str
    """Entry, file or publication."""
    text: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.severity}: {self.where}: {self.text.rstrip('.')}. {self.remedy}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """What a walk through the ledger found."""

    where: str
    entries: int
    desks: int
    files: int
    publications: int
    reproduced: int
    """Publications that came out again, byte for byte."""
    problems: tuple[Problem, ...]
    """In order of the ledger: the first altered entry comes first."""
    head: str = ""
    """What to write down where others see it, to hold the ledger against later."""
    against: str = ""
    """What it was held against: a head, another copy, published files."""

    @property
    def sound(self) -> bool:
        """Tell whether nothing was altered or lost and everything comes out again."""
        return all(p.severity is Severity.NOTICE for p in self.problems)

    @property
    def counted(self) -> Fact:
        """State what was looked at."""
        return fact(
            "audit-counted",
            where=words(self.where),
            entries=count(self.entries),
            desks=count(self.desks),
            files=count(self.files),
            publications=count(self.publications),
            again=count(self.reproduced),
        )

    @property
    def verdict(self) -> Fact:
        """State what it comes to."""
        if not self.sound:
            return fact("audit-not-sound")
        if self.against:
            return fact("audit-sound-against", against=words(self.against))
        return fact("audit-sound")

    @property
    def limits(self) -> tuple[Fact, ...]:
        """State what no ledger shows by itself, and what helps."""
        if not self.head:
            return ()
        now = fact("audit-head", head=words(self.head))
        return (now,) if self.against else (fact("audit-cannot-know"), now)

    def __str__(self) -> str:
        first, *rest = map(Voice().say, (self.counted, self.verdict, *self.limits))
        return "\n".join((first, *map(str, self.problems), *rest))


def verify(
    store: Store, *, rescore: Rescore | None = None, control: Control | None = None
) -> Audit:
    """Check a ledger from end to end; `rescore` None leaves out computing again."""
    control = control or Control()
    damage = _check_database(store)
    try:
        entries, _ = store.new_since(START)
        hashes = store.file_hashes()
    except LedgerError as error:
        problem = _altered("the file", str(error))
        return _audit(store, (), (), 0, [*damage, problem])
    bad = list(_check_entries(entries))
    problems = [*damage, *bad, *chain_problems(entries), *_check_end(store, entries)]
    problems += _check_arrival(entries)
    problems += _check_files(store, hashes, control)
    sorted_ = sort_out(entries, stored=store.known_files)
    acts = {item.id: item.act for item in sorted_.entries}
    problems += _aside_told(entries, acts, {one.entry for one in sorted_.set_aside})
    problems += _clock_notices(entries)
    problems += _check_needed(entries, acts, set(hashes))
    problems += _unnamed(entries, hashes)
    count = 0
    if rescore is not None and not bad:
        intact = not any(p.severity in _EVIDENCE for p in problems)
        publications = [
            (e, a) for e in entries if isinstance(a := acts[e.hash], Published)
        ]
        again = _check_publications(
            store,
            RawThen(store, entries, sorted_.entries),
            publications,
            rescore,
            control,
            intact=intact,
        )
        count = sum(problem is None for problem in again)
        problems += [problem for problem in again if problem is not None]
    return _audit(store, entries, hashes, count, problems)


def _audit(
    store: Store,
    entries: Sequence[Entry],
    hashes: Sequence[Sha256],
    reproduced: int,
    problems: Sequence[Problem],
) -> Audit:
    return Audit(
        where=store.where,
        entries=len(entries),
        desks=len({entry.desk for entry in entries}),
        files=len(hashes),
        publications=sum(entry.kind == Published.kind for entry in entries),
        reproduced=reproduced,
        problems=tuple(problems),
        head=str(Head.of(entries)) if entries else "",
    )


def _check_database(store: Store) -> list[Problem]:
    """Check the database's own order, and that the guards are in place."""
    found = []
    try:
        with explained(store.where), store.engine.connect() as connection:
            if connection.dialect.name == "sqlite":
                said = connection.execute(text("PRAGMA integrity_check(3)")).scalars()
                found += [
                    _altered("the file", f"the database is damaged ({line})")
                    for line in said
                    if line != "ok"
                ]
            wrong = dict.fromkeys(flaws(connection))
    except LedgerError as error:
        return [*found, _altered("the file", str(error))]
    found += [
        Problem(
            severity=Severity.ALTERED,
            where=f"table {table}",
            text=says,
            remedy=f"Somebody worked on the database by hand: find out who. {_OTHER_COPY}",
        )
        for table, says in wrong
    ]
    return found


def _check_entries(entries: Iterable[Entry]) -> Iterable[Problem]:
    for entry in entries:
        try:
            fits = hash_of(entry) == entry.hash
        except (TypeError, ValueError):
            fits = False
        if not fits:
            yield _altered(f"entry {entry.label}", "its content does not fit its hash")


def chain_problems(entries: Sequence[Entry]) -> list[Problem]:
    """Return what is wrong with how entries follow each other."""
    by_hash = {entry.hash: entry for entry in entries}
    by_place: dict[tuple[str, int], list[Entry]] = defaultdict(list)
    for entry in entries:
        by_place[entry.desk, entry.number].append(entry)
    problems: list[Problem] = []
    accused: set[EntryId] = set()
    for entry in sorted(entries, key=lambda item: item.order):
        before = by_hash.get(entry.prev)
        if before is None:
            problems += _without_before(entry, by_place, accused)
        elif not _follows(entry, before, len(entries)):
            problems.append(
                _altered(f"entry {entry.label}", f"it does not follow {before.label}")
            )
    return [*problems, *_check_roots(entries), *_fork_notices(entries)]


def _without_before(
    entry: Entry,
    by_place: Mapping[tuple[str, int], Sequence[Entry]],
    accused: set[EntryId],
) -> list[Problem]:
    """Say what happened to the entry before: altered with a new hash, or taken out."""
    if entry.prev == NO_ENTRY:
        return []
    stand_in = [
        e for e in by_place[entry.desk, entry.number - 1] if e.hash not in accused
    ]
    if stand_in:
        accused.add(stand_in[0].hash)
        text_ = f"entry {entry.label} was written after another content than this"
        return [_altered(f"entry {stand_in[0].label}", text_)]
    before = (
        f"{entry.desk} #{entry.number - 1}" if entry.number > 1 else "the event's root"
    )
    return [
        Problem(
            severity=Severity.LOST,
            where=f"entry {before}",
            text=f"it was taken out: entry {entry.label} names it as the one before",
            remedy=_OTHER_COPY,
        )
    ]


def _follows(entry: Entry, before: Entry, count: int) -> bool:
    if not in_time(entry, count):
        return True  # set aside, and told as such
    if entry.tick <= before.tick and in_time(before, count):
        return False
    if before.desk == entry.desk:
        return entry.number == before.number + 1 or not in_time(before, count)
    return entry.number == 1 and before.prev == NO_ENTRY


def _check_roots(entries: Sequence[Entry]) -> list[Problem]:
    roots = [entry for entry in entries if entry.prev == NO_ENTRY]
    if len(roots) == 1 and roots[0].kind == Created.kind:
        return []
    names = ", ".join(entry.label for entry in roots) or "none"
    text_ = f"an event has one root entry, found: {names}"
    return [_altered("the event", text_)] if entries else []


def _fork_notices(entries: Sequence[Entry]) -> list[Problem]:
    after: dict[tuple[str, EntryId], list[Entry]] = defaultdict(list)
    for entry in entries:
        after[entry.desk, entry.prev].append(entry)
    return [
        Problem(
            severity=Severity.NOTICE,
            where=f"entries {' and '.join(entry.hash[:12] for entry in twins)}",
            text=f"desk {desk} wrote two entries number {twins[0].number}: it went on "
            "in two copies of the event file, or an altered copy was merged",
            remedy="Both are kept. Compare the two with that desk's official.",
        )
        for (desk, _), twins in after.items()
        if len(twins) > 1
    ]


def _clock_notices(entries: Sequence[Entry]) -> list[Problem]:
    """Tell of entries that a desk with a wrong clock must have written."""
    return [
        Problem(
            severity=Severity.NOTICE,
            where=f"entry {entry.label}",
            text=f"written at {utc_text(entry.when)} by its desk's clock, "
            + (
                "before this program existed"
                if before is None
                else f"after entry {before.label} of {utc_text(before.when)}"
            )
            + ": a clock was wrong",
            remedy="Look whether a deadline hangs on it, and set the desk's clock.",
        )
        for entry, before in suspect(entries)
    ]


def _check_end(store: Store, entries: Sequence[Entry]) -> list[Problem]:
    """Find out whether entries were cut off the end of an event file."""
    if store.engine.dialect.name != "sqlite":
        return []
    query = text("SELECT seq FROM sqlite_sequence WHERE name = 'entry'")
    try:
        with explained(store.where), store.engine.connect() as connection:
            last = connection.execute(query).scalar() or 0
    except LedgerError as error:
        return [_altered("the file", str(error))]
    if last == len(entries):
        return []
    return [
        Problem(
            severity=Severity.LOST,
            where="the file",
            text=f"{last} entries were written to it, {len(entries)} are there",
            remedy=_OTHER_COPY,
        )
    ]


def _check_arrival(entries: Sequence[Entry]) -> Iterable[Problem]:
    """Yield entries that stand before the one they go on from; they are in arrival order.

    Writing and merging put the earlier one first.  Which of two desks' entries came first
    nothing else tells, where none of them goes on from the other.
    """
    arrived = {entry.hash: number for number, entry in enumerate(entries)}
    for number, entry in enumerate(entries):
        before = arrived.get(entry.prev, -1)
        if before > number and entries[before].order < entry.order:
            says = f"it stands before {entries[before].label}, from which it goes on"
            yield _altered(f"entry {entry.label}", f"{says}: rows were moved")


def _check_files(
    store: Store, hashes: Sequence[Sha256], control: Control
) -> list[Problem]:
    problems = []
    for sha256 in control.steps(hashes, "checking files"):
        try:
            for _ in store.stored_file(sha256).pieces(store.where):
                pass
        except (DamagedError, MissingBlobError) as error:
            problems.append(_altered(f"stored file {sha256[:12]}…", str(error)))
    return problems


def _aside_told(
    entries: Iterable[Entry], acts: Mapping[EntryId, Act], waiting: Container[str]
) -> list[Problem]:
    """Tell what is set aside; whoever deletes a file sets aside what went up with it.

    `waiting` are those that nobody has withdrawn.
    """
    records = (act.record for e in entries if isinstance(act := acts[e.hash], Aside))
    return [
        Problem(
            severity=Severity.LOST if gone else Severity.NOTICE,
            where=f"entry {record.label} by {record.who}",
            text=f"it is set aside ({record.kind}): {record.field}: found "
            f"{record.found}; allowed: {record.allowed}",
            remedy=f"It counts for nothing while the file is away. {_OTHER_COPY}"
            if gone
            else "It is kept and counts for nothing. Ask who wrote it.",
        )
        for record in records
        for gone in [record.field == FILES and record.entry in waiting]
    ]


def _check_needed(
    entries: Iterable[Entry], acts: Mapping[EntryId, Act], stored: set[Sha256]
) -> list[Problem]:
    known = {entry.hash for entry in entries}
    problems = []
    for entry in entries:
        act = acts.get(entry.hash)
        missing = [sha for sha in (act.files if act else ()) if sha not in stored]
        problems += [_lost(entry, f"the file {sha[:12]}… it names") for sha in missing]
        heads = act.heads if isinstance(act, Published) else ()
        problems += [
            _lost(entry, f"entry {head[:12]}…, which it was computed from,")
            for head in heads
            if head not in known
        ]
    return problems


def _unnamed(entries: Iterable[Entry], hashes: Iterable[Sha256]) -> Iterable[Problem]:
    """Tell of files that no entry names: whoever put them in left no trace of himself."""
    named = {sha for entry in entries for sha in _ADDRESS.findall(entry.payload)}
    if strange := sorted(set(hashes) - named):
        yield Problem(
            severity=Severity.NOTICE,
            where=f"stored file {strange[0][:12]}…",
            text=f"no entry names it; there are {len(strange)} such files",
            remedy="Nothing rests on them. Find out who put them in.",
        )


def _check_publications(
    store: Store,
    then: RawThen,
    publications: Iterable[tuple[Entry, Published]],
    rescore: Rescore,
    control: Control,
    *,
    intact: bool,
) -> list[Problem | None]:
    published = sorted(publications, key=lambda item: item[0].order)
    done: dict[tuple[EntryId, ...], bytes | ScorerError] = {}
    found = []
    for entry, act in control.steps(published, "computing publications again"):
        if act.heads not in done:
            done[act.heads] = _rescored(then, act, rescore)
        differs = _difference(store, act, done[act.heads])
        told = differs and _not_reproduced(entry, act, differs, intact=intact)
        found.append(told or None)
    return found


def _rescored(then: RawThen, act: Published, rescore: Rescore) -> bytes | ScorerError:
    try:
        return rescore(then(act.heads))
    except ScorerError as error:
        return error


def _difference(store: Store, act: Published, again: bytes | ScorerError) -> str:
    """Say how results computed again differ from what was published; empty = not at all."""
    if isinstance(again, ScorerError):
        return f"they cannot be computed again: {again}"
    try:
        published = store.file(act.results)
    except LedgerError as error:
        return f"what was published is not there: {error}"
    return "" if published == again else difference_of(published, again)


def _not_reproduced(
    entry: Entry, act: Published, differs: str, *, intact: bool
) -> Problem:
    """Blame the program where the evidence is whole and another version computed them.

    So too where it computed with other versions of libraries.
    """
    where = f"{act.stage} results version {act.version} (entry {entry.label})"
    made_by = _version_of(act)
    if not intact or act.program == computed_by():
        return Problem(
            severity=Severity.NOT_REPRODUCED,
            where=where,
            text=differs,
            remedy=f"They were computed by version {made_by}, as now: with the same "
            "evidence it must come out the same. Report it."
            if made_by == VERSION
            else f"They were computed by version {made_by}: run that version's verify, "
            "once the evidence is whole again.",
        )
    libraries = made_by == VERSION
    maker = act.program if libraries else f"version {made_by}"
    return Problem(
        severity=Severity.NOTICE,
        where=where,
        text=f"made by {maker}; {differs}",
        remedy="The evidence is whole: libraries of other versions compute last digits "
        f"otherwise. This is {computed_by()}."
        if libraries
        else f"The evidence is whole: it is the program that changed, to {VERSION}. "
        f"The verify of version {made_by} computes them as they were published.",
    )


def _version_of(act: Published) -> str:
    """Return the version that computed a publication; those that name none are old."""
    named = re.search(r"\d+(\.\d+)+\S*", act.program)
    return named.group() if named else FIRST_VERSION


def difference_of(published: bytes, again: bytes) -> str:
    """Name the scores that differ, or else the parts of the results that do."""
    try:
        before, after = json.loads(published), json.loads(again)
        found = changes(before, after)
        parts = [k for k in {**before, **after} if before.get(k) != after.get(k)]
    except (ValueError, KeyError, TypeError, AttributeError):
        return "differs throughout: the stored results are no results"
    moved = [change for change in found if change.values]
    if moved:
        first = Voice().say(moved[0].says)
        return f"scores and totals that differ: {len(moved)}, first {first}"
    return f"differs in {', '.join(parts) or 'spacing'}, with the same scores"


def _altered(where: str, text_: str) -> Problem:
    return Problem(
        severity=Severity.ALTERED, where=where, text=text_, remedy=_OTHER_COPY
    )


def _lost(entry: Entry, what: str) -> Problem:
    return Problem(
        severity=Severity.LOST,
        where=f"entry {entry.label}",
        text=f"{what} is not there",
        remedy=_OTHER_COPY,
    )
