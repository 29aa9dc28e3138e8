"""What was recorded last on each page by who is at the desk, so that it can be reverted."""

from collections.abc import Sequence

from gui.snapshot import Snapshot
from scorer.facts import Fact, count, fact, inner
from scorer.ledger.act import title_of
from scorer.ledger.acts import Created, EntryId, Published, SettingsSet, Undone
from scorer.ledger.api import Draft

NOT_HERE = Created | Published | SettingsSet
"""What is changed on its own page, never reverted as an entry."""


class LastRecorded:
    """The drafts that each page recorded last, all of them or none."""

    def __init__(self) -> None:
        self.front = ""
        """Name of the page in front."""
        self._of: dict[str, tuple[Draft, ...]] = {}

    def keep(self, drafts: Sequence[Draft]) -> None:
        """Remember what the page in front records."""
        self._of[self.front] = tuple(drafts)

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
        if any(isinstance(draft.act, NOT_HERE) for draft in drafts):
            return fact("journal-not-here"), ()
        tokens = {draft.token for draft in drafts}
        entries = [e for e in snapshot.state.entries if e.token in tokens]
        if len(entries) != len(tokens):
            return fact("revert-on-its-way"), ()
        told = fact("many-reverted", count=count(len(entries)))
        if len(drafts) == 1:
            act, labels = (
                drafts[0].act,
                {e.hash: e.label for e in snapshot.state.entries},
            )

            def label(name: EntryId) -> str:
                return labels.get(name, name[:12])

            what = inner(act.journal(label))
            told = fact("reverted-one", kind=inner(title_of(act.kind)), what=what)
        why = f"reverted by {who}"
        return told, tuple(Draft(act=Undone(entry=e.hash), why=why) for e in entries)
