"""Put results up: what stands in the way, what changes, where the files went."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.publications import PUBLICATION_COLUMNS, publication_rows
from gui.pages.complaints import Complaints
from gui.pages.page import ListPage
from gui.paper import PAPERS, language_choices, print_wish
from gui.publishing import Outlook, PutUp, Wish, look_ahead, publish_now, write_again
from gui.snapshot import Snapshot
from gui.state import Fact
from gui.view import Table
from gui.widgets import choice, choose, field, held, label, refill, say, section
from scorer.ledger.acts import Stage
from scorer.ledger.engine import is_url
from scorer.ledger.matters import acceptance
from scorer.ledger.publish import Refusal, file_hashes
from scorer.units import Unreadable, duration_s

READY = needs(Fact.EVENT, Fact.WRITABLE, Fact.RESULTS, Fact.IDLE)
WHOLE = 0
STAGES = (
    ("provisional: open ends may stand, and are listed", Stage.PROVISIONAL),
    ("official: nothing open; complaints may be filed", Stage.OFFICIAL),
    ("final: period over, complaints answered, nothing changed", Stage.FINAL),
)


class PublishPage(ListPage):
    """The wish, what stands in its way, what went up, complaints."""

    name = "publish"
    title = "Publish"
    key = Key.PAGE_9
    hint = "Choose what and how; look at what is open and what changes; Ctrl+Enter."
    shows_heights = True
    specs = (
        Spec("publish", "&Publish", Key.BIG_ACT, "Make all sheets, put them up", READY),
        Spec("look", "&Look again", Key.NONE, "What is open, what would change", READY),
        Spec(
            "accept",
            "&Accept…",
            Key.ACCEPT,
            "Accept the chosen matter as it stands, with a reason",
            needs(Fact.EVENT, Fact.WRITABLE),
        ),
        Spec(
            "choose_folder", "&Folder…", Key.NONE, "Where files go", needs(Fact.EVENT)
        ),
        Spec(
            "open_folder", "&Open folder", Key.NONE, "Show the files", needs(Fact.EVENT)
        ),
        Spec(
            "write_files",
            "&Write again…",
            Key.NONE,
            "Write the files of the chosen publication again",
            needs(Fact.EVENT, Fact.IDLE),
        ),
        Spec(
            "take_down",
            "&Revert…",
            Key.REMOVE,
            "Revert the chosen publication, with a reason",
            needs(Fact.EVENT, Fact.WRITABLE),
        ),
        Spec(
            "complain",
            "&Complaint",
            Key.COMPLAINT,
            "File a pilot's complaint",
            needs(Fact.EVENT, Fact.WRITABLE),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.stage = choice("Stage", *STAGES, changed=self.look)
        self.scope = choice("What is published", changed=self.look)
        self.period = field("Complaint period", "complaint period, as 2 h")
        self.why = field("Reason", "why, where it is published anew")
        self.url = field("Address", "web address of the pages")
        self.paper = choice("Paper", *PAPERS, changed=self._keep_printing)
        self.language = choice(
            "Language of sheets and pages",
            *language_choices(),
            changed=self._keep_printing,
        )
        self._show_printing()
        self.folder = label(look="muted", wrap=True)
        for box in (self.period, self.why, self.url):
            box.editingFinished.connect(self._maybe_look)
        top = QHBoxLayout()
        top.addWidget(self.scope, 1)
        top.addWidget(self.stage, 2)
        top.addWidget(self.period, 1)
        below = QHBoxLayout()
        below.addWidget(self.why, 2)
        below.addWidget(self.url, 2)
        below.addWidget(self.paper)
        below.addWidget(self.language)
        below.addWidget(held(self.buttons("publish", "look", main="publish")))
        self.body.addLayout(top)
        self.body.addLayout(below)
        self.told = label(wrap=True)
        self.body.addWidget(self.told)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(self._outlook())
        split.addWidget(self._history())
        split.setSizes([230, 300])
        self.body.addWidget(split, 1)
        self._place: Path | None = None
        self._last: Path | None = None
        self._looked: tuple[object, ...] = ()
        self._wanted = False
        self._clock: str | None = None
        self.session.looker.ended.connect(self._maybe_look)
        self.session.closed.connect(self._forget)

    def _show_printing(self) -> None:
        """Choose what was chosen last; it changes no result."""
        for box, key in ((self.paper, "paper"), (self.language, "language")):
            box.blockSignals(True)
            choose(box, self.session.home.settings.text(key, str(box.itemData(0))))
            box.blockSignals(False)

    def _keep_printing(self) -> None:
        settings = self.session.home.settings
        settings.set_text("paper", str(self.paper.currentData()))
        settings.set_text("language", str(self.language.currentData()))

    def _outlook(self) -> QWidget:
        self.blocking = QListWidget()
        self.blocking.setAccessibleName("What is open")
        self.blocking.setWordWrap(True)
        self.blocking.setAlternatingRowColors(True)
        self.changes = QListWidget()
        self.changes.setAccessibleName("What would change")
        self.changes.setWordWrap(True)
        self.changes.setAlternatingRowColors(True)
        for sentences in (self.blocking, self.changes):
            sentences.setHorizontalScrollBarPolicy(
                Qt.ScrollBarPolicy.ScrollBarAlwaysOff
            )
        left, right = QVBoxLayout(), QVBoxLayout()
        self.open_words = section("What is open")
        self.change_words = section("What would change")
        left.addWidget(self.open_words)
        left.addWidget(self.blocking, 1)
        left.addLayout(self.buttons("accept"))
        right.addWidget(self.change_words)
        right.addWidget(self.changes, 1)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(held(left))
        split.addWidget(held(right))
        split.setSizes([600, 500])
        return split

    def _history(self) -> QWidget:
        self.table = Table(
            PUBLICATION_COLUMNS, "Publications", key=lambda r: r.publication.entry.hash
        )
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.complaints = Complaints(self.session)
        self.complaints.note.connect(self.note)
        left = QVBoxLayout()
        left.addWidget(section("Published"))
        left.addWidget(self.table, 1)
        left.addLayout(
            self.buttons("choose_folder", "open_folder", "write_files", "take_down")
        )
        left.addWidget(self.folder)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(held(left))
        split.addWidget(self.complaints)
        split.setSizes([640, 460])
        return split

    def enter(self) -> None:
        """Go to the choice of stage, and look what is open."""
        self.stage.setFocus()
        self._maybe_look()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what went up, and complaints."""
        tasks = snapshot.event.tasks if snapshot else ()
        options: list[tuple[str, object]] = [("whole event", WHOLE)]
        options += [(f"task {t.number}", t.number) for t in tasks]
        refill(self.scope, options if snapshot else [])
        self.table.set_rows(publication_rows(snapshot) if snapshot else [])
        self.complaints.refresh(snapshot)
        self._tell_folder()
        self._maybe_look()
        if snapshot is None:
            self.blocking.clear()
            self.changes.clear()
            say(self.told, "")

    def rescored(self) -> None:
        """Look again at what is open."""
        self._maybe_look()

    def _forget(self) -> None:
        self._looked, self._wanted, self._clock = (), False, None

    # What stands in the way.

    def wish(self) -> Wish | None:
        """Return what is chosen; None, with a word, where it cannot be read."""
        text = self.period.text().strip()
        try:
            complaint_s = duration_s(text) if text else None
        except Unreadable as fault:
            say(self.told, f"complaint period: {fault.allowed}", "bad")
            return None
        scope = self.scope.currentData()
        tasks = (int(scope),) if scope else ()
        return Wish(
            stage=Stage(self.stage.currentData()),
            tasks=tasks,
            complaint_s=complaint_s,
            why=self.why.text().strip(),
            site_url=self.url.text().strip(),
            printed=print_wish(self.session.home.settings),
        )

    def _maybe_look(self) -> None:
        """Look where something changed; publish what waited for the score."""
        if self._wanted and self.session.up_to_date and not self.jobs.busy:
            self.publish()
            return
        wish, scored = self.wish(), self.session.publishable
        state = self.snapshot.state.heads if self.snapshot else ()
        key = (wish, id(scored), state)
        if key != self._looked and self.isVisible():
            self.look()

    def look(self) -> None:
        """Find out what is open and what publishing would change."""
        wish, scored, ledger = (
            self.wish(),
            self.session.publishable,
            self.session.ledger,
        )
        looker = self.session.looker
        if wish is None or scored is None or ledger is None or looker.busy:
            return
        if scored.results is None:
            say(self.told, "There are faults: see the page Results.", "bad")
            return
        state = self.snapshot.state.heads if self.snapshot else ()
        self._looked = (wish, id(scored), state)
        who = self.session.who
        looker.start(
            lambda _: look_ahead(ledger, scored, wish, who), done=self._on_looked
        )

    def _on_looked(self, outlook: object) -> None:
        if not isinstance(outlook, Outlook):
            return
        prepared, stage = outlook.prepared, outlook.wish.stage
        self._clock = outlook.sentence(outlook.clock) if outlook.clock else None
        refused = outlook.refused
        shown = refused or [Refusal(says=m.placed, matter=m) for m in outlook.waiting]
        accepted = [Refusal(says=m.placed, matter=m) for m in outlook.accepted]
        self.blocking.clear()
        for reason in (*shown, *accepted):
            item = QListWidgetItem(outlook.sentence(reason.says))
            item.setData(Qt.ItemDataRole.UserRole, reason.matter)
            self.blocking.addItem(item)
        self.blocking.addItems([outlook.sentence(sign) for sign in outlook.lacking])
        what = f"keep this from being {stage}" if refused else "will be listed as open"
        words = [f"{len(shown)} {what}"] if shown else ["Nothing is open"]
        words += [f"{len(accepted)} accepted as they stand"] if accepted else []
        self.open_words.setText(", ".join(words))
        self.changes.clear()
        self.changes.addItems(
            [outlook.sentence(change.says) for change in prepared.changes]
        )
        many, version = len(prepared.changes), prepared.stamp.version
        none = "Nothing would change" if version > 1 else "This is the first version"
        self.change_words.setText(
            f"{many} changes against the last version" if many else none
        )
        if refused:
            say(self.told, f"Version {version} cannot be {stage} yet.", "bad")
        else:
            say(self.told, f"Version {version} can be published as {stage}.", "good")

    # Commands.

    @property
    def place(self) -> Path:
        """The folder under which files of publications go."""
        if self._place is not None:
            return self._place
        target = self.session.target
        if not target or is_url(target):
            return Path.home() / "sandtail-published"
        path = Path(target).expanduser()
        return path.with_name(f"{path.stem}-published")

    def publish(self) -> None:
        """Make all sheets, put them up, write them."""
        wish, scored, ledger = (
            self.wish(),
            self.session.publishable,
            self.session.ledger,
        )
        if wish is None or scored is None or ledger is None:
            return
        if not self.session.up_to_date:
            self._wanted = True
            self.note.emit("published as soon as the last entries are scored")
            return
        self._wanted = False
        confirmed = self._confirmed(wish)
        if confirmed is None:
            return
        place, wish = self.place, confirmed
        self.jobs.start(
            lambda control: publish_now(ledger, scored, wish, place, control),
            text="Publishing",
            done=self._on_published,
        )

    def _confirmed(self, wish: Wish) -> Wish | None:
        """Ask who looked at a clock that is off; None = the user changed their mind."""
        if self._clock is None or wish.stage is Stage.PROVISIONAL:
            return wish
        name = ask.text(
            self,
            "Clock of this computer",
            f"{self._clock} Periods would begin and end at the wrong time.\n\n"
            "Who looked at it and found it right? The name is kept with the publication:",
        )
        return (
            replace(wish, clock_confirmed_by=name.strip())
            if name and name.strip()
            else None
        )

    def _on_published(self, up: object) -> None:
        if isinstance(up, PutUp):
            self._last = up.folder
            self.note.emit(f"{up.headline}: {up.files} files in {up.folder}")
            self.why.clear()
            self._tell_folder()
        self.session.look_again()

    def accept(self) -> None:
        """Accept the chosen matter as it stands, with a reason."""
        item = self.blocking.currentItem()
        matter = item.data(Qt.ItemDataRole.UserRole) if item is not None else None
        if matter is None:
            self.note.emit("choose a matter that is open first")
            return
        if not matter.kind.acceptable or matter.accepted:
            done = "accepted already" if matter.accepted else "only to be put right"
            self.note.emit(f"this is {done}: {item.text()}")
            return
        why = ask.text(
            self,
            "Accept as it stands",
            f"{item.text()}\n\nWhy? The reason is shown with the results:",
        )
        if why and why.strip():
            self.session.record_all(acceptance(matter, why=why, by=self.session.who))

    def choose_folder(self) -> None:
        """Choose where files go."""
        chosen = ask.folder(self, "Where files of publications go")
        if chosen is not None:
            self._place = chosen
            self._tell_folder()

    def _tell_folder(self) -> None:
        last = f"Last: {self._last}. " if self._last else ""
        self.folder.setText(
            f"{last}Files go below {self.place}" if self.snapshot else ""
        )

    def open_folder(self) -> None:
        """Show the files in the system's file manager."""
        path = self._last or self.place
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def write_files(self) -> None:
        """Write the files of the chosen publication again."""
        row, ledger = self.table.row, self.session.ledger
        if row is None or ledger is None:
            self.note.emit("choose a publication first")
            return
        place = ask.folder(self, "Write the files of this publication to")
        if place is not None:
            names = list(file_hashes(row.publication.act).items())
            self.jobs.start(
                lambda control: write_again(ledger, names, place, control),
                text="Writing files",
                done=lambda where: self.note.emit(f"written to {where}"),
            )

    def take_down(self) -> None:
        """Withdraw the chosen publication."""
        row = self.table.row
        if row is None or row.publication.withdrawn:
            self.note.emit("choose a publication that stands")
            return
        why = ask.text(self, "Revert", "Why is it reverted? The reason is published:")
        if why and why.strip():
            self.session.withdraw([row.publication.entry.hash], why=why.strip())

    def complain(self) -> None:
        """Go to the line that files a complaint."""
        self.complaints.begin()
