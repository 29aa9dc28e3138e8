"""Unite the ledgers of desks that worked without a network: a union of entries.

Uniting is commutative, associative and idempotent, since an entry's identity is its hash
and the order of replay does not depend on where or when entries arrived.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scorer.event.model import SetAside
from scorer.facts import Fact, count, fact, inner, words
from scorer.ledger.acts import EntryId, Sha256
from scorer.ledger.entry import NO_ENTRY, Entry
from scorer.ledger.faults import OtherEventError
from scorer.ledger.keyings import SlotState, disagreements
from scorer.ledger.replay import State, replay
from scorer.ledger.resolve import Conflict
from scorer.ledger.sound import sound
from scorer.ledger.store import Store, check_entry
from scorer.progress import Control


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """What a merge brought."""

    fresh: tuple[tuple[str, int], ...]
    """Source and number of entries that were new, in the order of merging."""
    conflicts: tuple[Conflict, ...]
    disagreements: tuple[SlotState, ...]
    set_aside: tuple[SetAside, ...]
    """Entries that cannot be applied, whoever brought them."""
    forks: int
    """Desks' chains that go on twice (work on two copies by one desk)."""

    @property
    def says(self) -> tuple[Fact, ...]:
        """What came, and what to look at now."""
        came = (
            fact("entries-came", entries=count(number), source=words(source))
            for source, number in self.fresh
        )
        clashes = (fact("desks-disagree", on=inner(c.says)) for c in self.conflicts)
        differ = (
            fact("marks-differ", task=words(s.slot.task), pilot=words(s.slot.pilot))
            for s in self.disagreements
        )
        forks = [fact("chains-forked", chains=count(self.forks))] if self.forks else []
        aside = (one.says for one in self.set_aside)
        return (*came, *aside, *clashes, *differ, *forks)


def unite(*sets: Iterable[Entry]) -> tuple[Entry, ...]:
    """Return the union of entries, in the order of replay."""
    by_hash = {entry.hash: entry for entries in sets for entry in entries}
    return tuple(sorted(by_hash.values(), key=lambda entry: entry.order))


def roots_of(entries: Iterable[Entry]) -> set[EntryId]:
    """Return the root entries: one, unless somebody forged another (`verify` says so)."""
    return {entry.hash for entry in entries if entry.prev == NO_ENTRY}


def merge_into(
    target: Store, sources: Sequence[Store], *, control: Control | None = None
) -> Merged:
    """Bring all entries and files of some ledgers into one; sources stay as they are.

    Raises
    ------
    OtherEventError
        A source belongs to another event.
    DamagedError
        A source holds an altered entry or file; nothing of it was taken.
    """
    control = control or Control()
    fresh = []
    for source in control.steps(sources, "merging"):
        entries = source.entries()
        _check_same_event(target, source, entries)
        for entry in entries:
            check_entry(entry, source.where)
        held = set(target.file_hashes())
        wanted = [sha for sha in source.file_hashes() if sha not in held]
        for sha in wanted:  # before others have to wait for us; one at a time
            _check_file(source, sha)
        files = map(source.stored_file, wanted)
        fresh.append((source.where, target.take(entries, files)))
    state = sound(replay(target.entries(), stored=target.known_files)).state
    return _summary(state, tuple(fresh))


def _check_file(source: Store, sha256: Sha256) -> None:
    for _ in source.stored_file(sha256).pieces(source.where):
        pass


def _check_same_event(target: Store, source: Store, entries: Sequence[Entry]) -> None:
    ours, theirs = roots_of(target.entries()), roots_of(entries)
    if ours and theirs and not ours & theirs:
        raise OtherEventError(
            f"{source.where} is another event than {target.where}, though it may have "
            "the same name: they were created apart. To bring its content over, export "
            "it as a folder and import that folder into the other. For next time, make "
            "one event file and give each desk a copy of it."
        )


def _summary(state: State, fresh: tuple[tuple[str, int], ...]) -> Merged:
    return Merged(
        fresh=fresh,
        conflicts=state.conflicts,
        set_aside=state.set_aside,
        disagreements=disagreements(state),
        forks=len(state.forks),
    )
