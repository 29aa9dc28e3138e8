"""What was recorded last on each page by who is at the desk, so that it can be reverted."""

from collections.abc import Sequence

from gui.models.journal import labels_of, said_of
from gui.snapshot import Snapshot
from scorer.facts import Fact, count, fact, inner
from scorer.ledger.act import title_of
from scorer.ledger.acts import Created, Published, SettingsSet, Undone
from scorer.ledger.api import Draft, Entry
from scorer.words.voice import Voice

ELSEWHERE = Created | Published
"""What begins an event, and what Publish takes down: never reverted as an entry."""


class LastRecorded:
    """The drafts that each page recorded last, all of them or none."""

    def __init__(self) -> None:
        self.front = ""
        """Name of the page in front."""
        self._of: dict[str, tuple[Draft, ...]] = {}

    def keep(self, drafts: Sequence[Draft], page: str = "") -> None:
        """Remember what a page records, or had recorded by a job: the one in front."""
        self._of[page or self.front] = tuple(drafts)

    def forget(self) -> None:
        """Another official, another event: nothing is left to revert."""
        self._of.clear()

    def forget_here(self) -> None:
        """What the page in front recorded last is reverted: nothing is twice."""
        self._of.pop(self.front, None)

    def taken_back(
        self, snapshot: Snapshot | None, who: str
    ) -> tuple[Fact, tuple[Draft, ...]]:
        """Return what is told, and what reverts the last entries of the page in front."""
        drafts = self._of.get(self.front, ())
        if snapshot is None or not drafts:
            return fact("revert-nothing"), ()
        tokens = {draft.token for draft in drafts}
        entries = [e for e in snapshot.state.entries if e.token in tokens]
        if len(entries) != len(tokens):
            return fact("revert-on-its-way"), ()
        if refused := next(
            filter(None, (not_here(snapshot, e) for e in entries)), None
        ):
            return refused, ()
        told = fact("many-reverted", count=count(len(entries)))
        if len(drafts) == 1:
            act = drafts[0].act
            voice = Voice.of(snapshot.event)
            acts = {held.id: held.written for held in snapshot.state.standing.entries}
            labels = labels_of(snapshot.state.entries, acts, voice)
            before = next((acts.get(name) for name in entries[0].replaces), None)
            what = inner(said_of(act, before, labels, voice))
            told = fact("reverted-one", kind=inner(title_of(act.kind)), what=what)
        why = f"reverted by {who}"
        return told, tuple(Draft(act=Undone(entry=e.hash), why=why) for e in entries)


def not_here(snapshot: Snapshot, entry: Entry) -> Fact | None:
    """Tell why an entry cannot be reverted by itself; None where it can.

    Settings are one table that each entry sets anew: only the last can give way, to the
    ones before it.
    """
    if isinstance(entry.act, ELSEWHERE):
        return fact("journal-not-here")
    if not isinstance(entry.act, SettingsSet):
        return None
    if not entry.replaces:
        return fact("revert-first-settings")
    standing = {name for c, _ in snapshot.state.all_of(SettingsSet) for name in c.ids}
    return None if entry.hash in standing else fact("revert-settings-since")
