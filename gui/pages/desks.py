"""The journal of all desks: who entered what; reverting, merging, the archive."""

from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.last import not_here
from gui.models.journal import COLUMNS, EntryRow, entry_rows
from gui.pages.page import ListPage
from gui.parts.kept import Kept
from gui.parts.wholerow import WholeRow
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.view import TableView
from gui.widgets import field, label, say
from scorer.event.matter import Matter
from scorer.facts import count, fact, words
from scorer.facts import pilot as pilot_value
from scorer.ledger.acts import NoteMade, RulingMade
from scorer.ledger.api import Audit, Merged, archive, merge_files, verify_target
from scorer.ledger.engine import is_url
from scorer.words.voice import Voice

OPEN = needs(Condition.EVENT)
LONG = OPEN | {Condition.IDLE}
FORM = "note"
SAID_AT_ONCE = 3
"""Entries that are put into words in one turn: a hundredth of a second at most."""
MEASURED = 60
"""Newest entries that columns are fitted to."""


class DesksPage(ListPage):
    """All entries, newest first; of one pilot where another page leads here."""

    name = "desks"
    title = "Journal"
    hint = "Nothing is deleted: reverting is an entry."
    foot_keys = (
        (Key.REMOVE, "revert"),
        (Key.NEW, "note"),
        (Key.FIND, "find"),
        (Key.PILOT, "pilot"),
    )
    specs = (
        Spec(
            "undo",
            "&Revert entry…",
            Key.REMOVE,
            "Make the chosen entry count as not made, with a reason",
            needs(Condition.EVENT, Condition.WRITABLE, Condition.CHOSEN),
        ),
        Spec(
            "verify",
            "&Verify",
            Key.NONE,
            "Check every entry and file, score anew",
            LONG,
        ),
        Spec(
            "merge",
            "&Merge a desk…",
            Key.NONE,
            "Add the entries of another desk's event file",
            LONG,
        ),
        Spec(
            "archive", "&Archive…", Key.NONE, "Write everything into one archive", LONG
        ),
        Spec("to_search", "&Find", Key.FIND, "Find entries", OPEN),
        Spec("to_pilot", "&Pilot", Key.PILOT, "Page of the pilot it is about", OPEN),
        Spec("out", "&All entries", Key.OUT, "Drop what was looked for", OPEN),
        Spec("to_note", "&Note", Key.NEW, "Write something down", OPEN),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.search = self.find_in_head(self._find)
        self.body.addWidget(self.buttons("verify", "merge", "archive"))
        self.told = label(wrap=True)
        self.body.addWidget(self.told)
        self.table = TableView(
            COLUMNS, "Entries", key=lambda r: r.entry.hash, measured=MEASURED
        )
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.remark = field("Note", "write something down for all desks; Enter records")
        self.remark.returnPressed.connect(self.submit)
        self.kept = Kept(self.session, FORM, {"text": self.remark})
        self._unsaid: Iterator[EntryRow] = iter(())
        self._saying = QTimer(self, interval=0)
        self._saying.timeout.connect(self._say_some)
        self.about: int | None = None
        self.body.addWidget(self.table, 1)
        self.body.addWidget(WholeRow(self.table))
        line = QHBoxLayout()
        line.addWidget(self.remark)
        self.body.addLayout(line)

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show entries as they stand."""
        before = self.table.rows_model.rows
        rows = entry_rows(snapshot, self.session.who, before) if snapshot else []
        self.table.set_rows(rows)
        self._unsaid = iter(rows)
        self._saying.start()
        desks = {row.entry.desk for row in rows}
        people = {row.entry.who for row in rows}
        waiting = len(self.session.pending)
        many = {"desks": count(len(desks)), "people": count(len(people))}
        told = self.voice.say(fact("journal-counts", entries=count(len(rows)), **many))
        if waiting:
            away = fact("journal-on-their-way", entries=count(waiting))
            told = f"{told} {self.voice.say(away)}"
        if self.session.caution:
            told = f"{told} {self.session.caution}"
        say(self.told, told if snapshot else "", "muted")
        if snapshot is not None:
            self.kept.restore()

    def _say_some(self) -> None:
        """Say what a few more entries are about, so that finding need not wait for it."""
        some = list(islice(self._unsaid, SAID_AT_ONCE))
        for row in some:
            _ = row.at, row.kind, row.about
        if not some:
            self._saying.stop()

    def lead_to(self, what: Any) -> None:
        """Show the entries about one pilot; of a matter, the decision that it is about."""
        pilot = what if isinstance(what, int) else getattr(what, "pilot", None)
        if isinstance(pilot, int):
            self._show_only(pilot)
        if isinstance(what, Matter):
            self._choose_decision(what)

    def _choose_decision(self, matter: Matter) -> None:
        """Choose the last decision in a task that is on nothing found, and still stands."""
        scored = self.session.results
        results = scored.results if scored else None
        found = {r.finding.id for r in results.findings} if results else set()
        about = (str(matter.task), str(matter.pilot))

        def wanted(row: EntryRow) -> bool:
            if not isinstance(row.act, RulingMade) or row.stands:
                return False
            given = row.act.fields
            whose = (given.get("task", ""), given.get("pilot", ""))
            return whose == about and given.get("finding", "") not in found

        self.table.choose_where(wanted)

    def forget(self) -> None:
        """The event is closed: show everything again."""
        super().forget()
        self._show_only(None)
        self.remark.clear()
        self.kept.forget()

    def _show_only(self, pilot: int | None) -> None:
        self.about = pilot
        only = fact("journal-about", pilot=pilot_value(pilot or 0))
        self.say_hint(self.hint if pilot is None else self.voice.say(only))
        self.table.proxy.set_wanted(None if pilot is None else self._wanted)

    def _wanted(self, row: EntryRow) -> bool:
        return self.about is None or self.about in row.pilots

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    # Commands.

    def undo(self) -> None:
        """Make the chosen entry count as not made."""
        row: EntryRow | None = self.table.row
        if row is None:
            return
        snapshot = self.session.snapshot
        if snapshot is not None and (refused := not_here(snapshot, row.entry)):
            self.tell(refused)
            return
        what, entry = words(f"{row.kind}: {row.about}"), row.entry.hash
        self.ask_why(
            self.voice.say(fact("note-revert-why", what=what)),
            f"revert {entry}",
            lambda why: self.session.undo(entry, why=why),
            fact("entry-taken-back", what=what),
        )

    def submit(self) -> None:
        """Record a note."""
        text = self.remark.text().strip()
        if text:
            self.session.record(NoteMade(text=text))
            self.remark.clear()
            self.kept.keep()

    def to_search(self) -> None:
        """Go to the finder."""
        self.search.setFocus()

    def to_pilot(self) -> None:
        """Go to the page of the pilot that the chosen entry is about."""
        row: EntryRow | None = self.table.row
        if row is not None and row.pilots:
            self.go.emit("pilot", min(row.pilots))

    def out(self) -> None:
        """Show all entries again."""
        self.search.clear()
        self._show_only(None)
        self.table.setFocus()

    def to_note(self) -> None:
        """Go to the note."""
        self.remark.setFocus()

    def verify(self) -> None:
        """Check chains, files and publications in the background."""
        target = self.session.target
        self.jobs.start(
            lambda control: verify_target(target, control=control),
            text="Checking every entry",
            done=self._on_verified,
        )

    def _on_verified(self, audit: object) -> None:
        if isinstance(audit, Audit):
            problems = [str(problem) for problem in audit.problems]
            voice = Voice()
            good = f"{voice.say(audit.counted)} {voice.say(audit.verdict)}"
            say(self.told, "; ".join(problems) or good, "bad" if problems else "good")

    def merge(self) -> None:
        """Take in the event file of another desk."""
        other = ask.open_file(self, "Merge another desk's file", ask.EVENT_FILES)
        target = self.session.target
        if other is None:
            return
        self.jobs.start(
            lambda control: merge_files([other], target, control=control),
            text="Merging another desk",
            done=self._on_merged,
        )

    def _on_merged(self, merged: object) -> None:
        if isinstance(merged, Merged):
            self.tell(fact("journal-merged"))
        self.session.look_again()

    def _on_archived(self, path: Path, sha: object) -> None:
        both = {"file": words(str(path)), "digest": words(str(sha))}
        self.tell(fact("journal-archived", **both))

    def archive(self) -> None:
        """Write everything into one archive."""
        if self.session.results is not None and self.session.results.hidden:
            self.note.emit(self.voice.word("archive-hidden"))
            return
        target = self.session.target
        stem = "event" if is_url(target) else Path(target).stem
        path = ask.save_file(self, "Archive", f"{stem}-archive.zip", "Archives (*.zip)")
        if path is not None:
            self.jobs.start(
                lambda control: archive(target, path, control=control),
                text="Writing the archive",
                done=lambda sha: self._on_archived(path, sha),
            )
