"""Put results up: the page is a checklist, and the one act at its end.

No question follows Ctrl+Enter: what is proved, what changes, what goes up and what every
page says stand there before.
"""

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListWidget,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui import ask
from gui.actions import Spec, needs, takes
from gui.blind import ranks_hidden
from gui.keys import Key
from gui.models.checklist import CheckLine, Checklist, LineState, checklist
from gui.models.moves import columns, moves_of, summary
from gui.models.publications import PublicationRow, publication_rows
from gui.pages.leading import lead, titled
from gui.pages.page import Form, Page
from gui.pages.publish_parts import (
    BoardPages,
    Figures,
    GoesUp,
    More,
    PublishBar,
    check_rows,
    stage_choices,
)
from gui.paper import print_wish
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.choices import ChoiceRow
from gui.parts.kept import Kept
from gui.parts.keycap import hint_row
from gui.parts.rows import ListRow, RowList
from gui.parts.signs import RowSign
from gui.parts.wholerow import WholeRow
from gui.publishing import (
    Outlook,
    PutUp,
    Wish,
    board_pages,
    look_ahead,
    publish_now,
    write_again,
)
from gui.snapshot import ScoredSnapshot, Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, INSIDE
from gui.view import TableView
from gui.widgets import held, label, say_or_hide
from scorer.facts import count, fact, inner, number, words
from scorer.ledger.acts import Stage
from scorer.ledger.engine import is_url
from scorer.ledger.publish import file_hashes
from scorer.units import Unreadable, duration_s
from scorer.words.voice import Voice

PAST = 2
"""So many earlier versions are in sight; all of them in the list."""
READY = needs(Condition.EVENT, Condition.WRITABLE, Condition.RESULTS, Condition.IDLE)
OPEN = needs(Condition.EVENT)


class PublishPage(Page):
    """Stage, checklist, changes, what goes up, the button; what went up before."""

    name = "publish"
    title = "Publish"
    key = Key.PAGE_9
    foot_keys = (
        (Key.GO_ON, "go there"),
        ((Key.TAKE_1, Key.TAKE_2, Key.TAKE_3), "stage"),
        (Key.BOARD, "see the board first"),
    )
    specs = (
        Spec(
            "publish",
            "&Publish",
            Key.BIG_ACT,
            "Make all sheets, put them up",
            READY | {Condition.DATABASE},
        ),
        *takes(
            OPEN,
            ("P&rovisional", "Open ends are listed"),
            ("&Official", "Complaints may be filed"),
            ("&Final", "When that time is over"),
        ),
        Spec("see_board", "See the &board", Key.BOARD, "The pages as printed", READY),
        Spec(
            "see_all", "All &differences", Key.DIFFERENCES, "Every one in words", OPEN
        ),
        Spec("say_more", "Said &with it", Key.CORRECT, "Why, times, paper", OPEN),
        Spec("out", "Back to the &changes", Key.OUT, "Leave the board, the list"),
        Spec("choose_folder", "&Folder…", Key.NONE, "Where files go", OPEN),
        Spec("open_folder", "Open f&older", Key.NONE, "Show the files", OPEN),
        Spec(
            "write_files",
            "&Write again…",
            Key.NONE,
            "Write the files of the chosen publication again",
            needs(Condition.EVENT, Condition.IDLE),
        ),
        Spec(
            "take_down",
            "Re&vert…",
            Key.REMOVE,
            "Revert the chosen publication, with a reason",
            needs(Condition.EVENT, Condition.WRITABLE),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        voice = Voice()
        self.stages = ChoiceRow("Stage", even=True)
        self.stages.show_choices(stage_choices(voice))
        for button in self.stages.buttons:
            policy = QSizePolicy.Policy
            button.setSizePolicy(policy.Expanding, policy.Fixed)
        self.stages.take(Stage.PROVISIONAL)
        self.stages.taken.connect(lambda _: self.look())
        self.body.addWidget(self.stages)
        self.columns = QHBoxLayout()
        self.columns.setSpacing(BETWEEN)
        self.left, self.right = self._left(voice), self._right(voice)
        self.columns.addWidget(self.left, 47)
        self.columns.addWidget(self.right, 53)
        self.body.addLayout(self.columns, 1)
        self.outlook: Outlook | None = None
        self.found: Checklist | None = None
        self._place: Path | None = None
        self._last: Path | None = None
        self._looked: tuple[object, ...] = ()
        self._nothing_seen()
        self.session.looker.ended.connect(self._maybe_look)
        self.session.connection.connect(lambda _: self._maybe_look())

    def _left(self, voice: Voice) -> QWidget:
        self.check_card = Card(voice.word("check-list"))
        self.check_list = RowList(voice.word("check-list"))
        self.check_list.entered.connect(self._on_entered)
        self.check_card.body.addWidget(self.check_list, 1)
        self.more_button = CapButton(
            voice.word("publish-more"), Key.CORRECT, look="plain"
        )
        self.more_button.clicked.connect(self.say_more)
        self.check_card.body.addWidget(self.more_button)
        self.more = More(voice, lambda: self.session.home)
        for box in (self.more.period, self.more.why, self.more.url, self.more.clock):
            box.editingFinished.connect(self._maybe_look)
        self.kept = Kept(self.session, "publish", self.more.fields)
        self.more.hide()
        self.past_card = Card(voice.word("went-up"))
        self.past = RowList(voice.word("went-up"))
        self.past.chosen.connect(lambda _: self.choice.emit())
        self.past_card.body.addWidget(self.past)
        self.past_buttons = self.buttons("take_down", "write_files", "open_folder")
        self.past_card.body.addWidget(self.past_buttons)
        column = QVBoxLayout()
        column.setSpacing(BETWEEN)
        column.addWidget(self.check_card, 5)
        column.addWidget(self.more)
        column.addWidget(self.past_card, 1)
        return _any_width(held(column))

    def _right(self, voice: Voice) -> QWidget:
        self.change_card = Card(voice.word("what-changes"))
        self.change_card.head.addWidget(hint_row((Key.DIFFERENCES, "all")))
        self.figures = Figures(voice.word("what-changes"))
        self.none = label(look="muted", wrap=True)
        self.moves = TableView(
            columns(voice), voice.word("what-changes"), key=lambda row: row.pilot
        )
        self.every = QListWidget()
        self.every.setAccessibleName("All differences")
        self.every.setWordWrap(True)
        self.every.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.board = BoardPages()
        self.stack = QStackedWidget()
        both = QVBoxLayout()
        both.setSpacing(INSIDE)
        both.addWidget(self.moves, 1)
        both.addWidget(WholeRow(self.moves))
        self.moved = held(both)
        for widget in (self.moved, self.every, self.board):
            self.stack.addWidget(widget)
        self.stack.currentChanged.connect(lambda _: self._fit_stack())
        self.none.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.change_card.body.addWidget(self.figures)
        self.change_card.body.addWidget(self.none)
        self.change_card.body.addWidget(self.stack, 1)
        self.goes_up = GoesUp(voice)
        self.bar = PublishBar(voice)
        self.bar.button.clicked.connect(self.publish)
        column = QVBoxLayout()
        column.setSpacing(BETWEEN)
        column.addWidget(self.change_card, 1)
        column.addWidget(self.goes_up)
        column.addWidget(self.bar)
        self._inside = column
        return _any_width(held(column))

    def arrange(self) -> None:
        """Give the checklist the room where there is little."""
        small = self.form is Form.SMALL
        self.check_list.wide_at = self.form is Form.WIDE
        (self.body if small else self._inside).addWidget(self.bar)
        self.goes_up.setVisible(not small)
        self.past_card.setVisible(not small and bool(self.past.shown))

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """Checklist, and what changes; the button stays beneath both."""
        return self.left, self.right

    @property
    def panes(self) -> tuple[QWidget, ...]:
        """Checklist, changes, button."""
        shown = (self.moves, self.every, self.board)[self.stack.currentIndex()]
        return self.check_list, shown, self.bar.button

    @property
    def chosen(self) -> bool:
        """Tell whether a publication is chosen."""
        return self.past.line is not None

    def enter(self) -> None:
        """Go to the checklist, and look what is open."""
        self.to_pane(self.check_list)
        self._maybe_look()

    def task_chosen(self) -> None:
        """Look at another task, or at all of them."""
        self._maybe_look()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what went up before."""
        rows = publication_rows(snapshot) if snapshot else []
        if snapshot is not None and self.kept.restore():
            self.more.show()
        self.past.show_rows([_past_row(row) for row in rows])
        tall = max(self.past.sizeHintForRow(0), 0) * min(len(rows), PAST)
        self.past.setFixedHeight(tall + 2 * self.past.frameWidth())
        self.arrange()
        self._maybe_look()

    def rescored(self) -> None:
        """Look again at what is open."""
        self._maybe_look()

    def forget(self) -> None:
        """The event is closed: nothing was looked at, nothing is said with it."""
        super().forget()
        self._looked = ()
        self.outlook = self.found = None
        self._place = self._last = None
        self.stages.take(Stage.PROVISIONAL)
        self.more.forget()
        self.kept.forget()
        self.more.hide()
        self._nothing_seen()
        self.refresh(None)

    def _nothing_seen(self, why: str = "") -> None:
        """Say that nobody looked ahead yet, or why nobody can; nothing of another event."""
        voice = Voice()
        self.check_card.name_it(voice.word("check-list"))
        self.check_list.show_rows([])
        self.change_card.name_it(voice.word("what-changes"))
        self.moves.set_rows([])
        self.every.clear()
        self.stack.setCurrentWidget(self.moved)
        self.figures.hide()
        say_or_hide(self.none, "" if why else voice.word("looking-ahead"), "muted")
        self._fit_stack()
        self.goes_up.forget()
        self.bar.wait(why or voice.word("looking-ahead"))

    # What stands in the way.

    @property
    def scored(self) -> ScoredSnapshot | None:
        """The whole results: what goes up is no secret of this desk's."""
        return self.session.publishable

    def wish(self) -> Wish | None:
        """Return what is chosen; None, with a word, where it cannot be read."""
        text = self.more.period.text().strip()
        try:
            complaint_s = duration_s(text) if text else None
        except Unreadable as fault:
            self.bar.wait(f"time for complaints: {fault.allowed}")
            return None
        task = self.session.task
        return Wish(
            stage=Stage(self.stages.value or Stage.PROVISIONAL),
            tasks=() if task is None else (task,),
            complaint_s=complaint_s,
            why=self.more.why.text().strip(),
            site_url=self.more.url.text().strip(),
            clock_confirmed_by=self.more.clock.text().strip(),
            printed=print_wish(self.session.home.settings),
        )

    def _key(self, wish: Wish | None) -> tuple[object, ...]:
        state = self.snapshot.state.heads if self.snapshot else ()
        return wish, id(self.scored), state, self.session.away is None

    def _maybe_look(self) -> None:
        """Look where something changed."""
        if self._key(self.wish()) != self._looked and self.isVisible():
            self.look()

    def look(self) -> None:
        """Find out what is open and what publishing would change."""
        wish, scored, ledger = self.wish(), self.scored, self.session.ledger
        looker = self.session.looker
        if wish is None or scored is None or ledger is None or looker.busy:
            return
        if scored.results is None:
            self.outlook = self.found = None
            self._nothing_seen(Voice().word("faults-nothing-scored"))
            return
        self._looked = self._key(wish)
        self._wait_for_database()
        who = self.session.who
        looker.start(
            lambda _: look_ahead(ledger, scored, wish, who), done=self._on_looked
        )

    def _on_looked(self, outlook: object) -> None:
        if not isinstance(outlook, Outlook) or self.snapshot is None:
            return
        self.outlook, self.found = outlook, checklist(outlook)
        found, voice = self.found, outlook.prepared.computed.voice
        self.check_card.name_it(found.title, found.done)
        self.check_list.show_rows(check_rows(found, self._leads))
        line = self.check_list.row
        if not isinstance(line, CheckLine) or line.check is LineState.DONE:
            self._choose_open()
        self.goes_up.show_outlook(outlook)
        self.bar.show_outlook(outlook, found)
        self._wait_for_database()
        self.more.clock.setVisible(outlook.clock is not None)
        if outlook.clock is not None:
            self.more.show()
        told, stage = self._what(outlook, voice), self.stages.chosen
        if self.form is Form.SMALL and stage is not None:  # no room for it beside
            told = f"{told}: {stage.aside}"
        self.say_hint(told)
        self._show_changes(outlook, voice)
        self.choice.emit()

    def _wait_for_database(self) -> None:
        """Say that nothing goes up while the database is away."""
        if self.session.away is not None:
            self.bar.wait(Voice().word("publish-away"))

    def _leads(self, line: CheckLine) -> str:
        matter = line.leads_to
        return "" if matter is None else titled(matter)

    def _choose_open(self) -> None:
        rows = self.check_list.shown
        blocks = (r for r in rows if r.sign is RowSign.BLOCKS)
        first = next(blocks, rows[0] if rows else None)
        if first is not None:
            self.check_list.choose(first.key)

    def _what(self, outlook: Outlook, voice: Voice) -> str:
        tasks = outlook.wish.tasks
        if not tasks:
            return voice.word("all-tasks-and-standings")
        return voice.say(fact("head-task-number", task=number(tasks[0])))

    def _show_changes(self, outlook: Outlook, voice: Voice) -> None:
        changed, version = outlook.prepared.changes, outlook.prepared.stamp.version
        moves = moves_of(voice, changed, outlook.wish.tasks)
        self.moves.set_rows(moves.rows)
        self.figures.show_figures(summary(voice, moves))
        first = not outlook.prepared.stamp.earlier
        says = [*outlook.prepared.taken_back, *outlook.prepared.raised]
        goes = [f"{voice.sentence(one)}." for one in says]
        if outlook.hidden:
            goes.append(voice.sentence(ranks_hidden(outlook.hidden)))
        elif not moves.rows and not first:
            same = "no-score-changes" if goes else "nothing-changes"
            goes.append(voice.word(same))
        if moves.rows and self.form is Form.SMALL:
            goes = []  # the list of all differences begins with them
        say_or_hide(self.none, " ".join(goes), "muted")
        self._fit_stack()
        self.figures.setVisible(bool(moves.rows))
        self.change_card.name_it(
            voice.word("what-changes") if not first else voice.word("first-version"),
            "" if first else voice.say(fact("as-version", version=number(version))),
        )
        self.every.clear()
        told = (*says, *(change.says for change in changed))
        self.every.addItems(list(map(voice.say, told)))
        if self.stack.currentWidget() is self.board:
            self.stack.setCurrentWidget(self.moved)

    def _fit_stack(self) -> None:
        """Leave no room to a list of changes where there are none."""
        empty = self.stack.currentWidget() is self.moved and not self.moves.shown
        self.stack.setVisible(not empty)

    # Commands.

    def _on_entered(self, line: Any) -> None:
        matter = line.leads_to if isinstance(line, CheckLine) else None
        if matter is not None:
            lead(self, matter)
        elif isinstance(line, CheckLine) and line.asks:
            self.more.show()
            self.to_pane(self.more.fields[line.asks])

    def take(self, number: int) -> None:
        """Choose a stage by its number."""
        self.stages.take_number(number)

    def say_more(self) -> None:
        """Show what may be said with it and how it is printed, or hide it."""
        self.more.setVisible(self.more.isHidden())
        if not self.more.isHidden():
            self.to_pane(self.more.why)

    def see_all(self) -> None:
        """Show every difference in words."""
        self.stack.setCurrentWidget(self.every)
        self.to_pane(self.every)

    def out(self) -> None:
        """Go back to the list of changes."""
        self.stack.setCurrentWidget(self.moved)
        self.to_pane(self.check_list)

    def see_board(self) -> None:
        """Show the pages of the notice board before they go up."""
        outlook, ledger = self.outlook, self.session.ledger
        if outlook is None or ledger is None:
            return
        if getattr(self.session.results, "hidden", ()):
            self.note.emit(Voice().word("board-hidden"))
            return
        self.jobs.start(
            lambda _: board_pages(ledger, outlook),
            text="Setting the board",
            done=self._on_board,
        )

    def _on_board(self, pages: object) -> None:
        if isinstance(pages, tuple):
            self.board.show_pages(pages)
            self.stack.setCurrentWidget(self.board)
            self.to_pane(self.board)

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
        wish, scored, ledger = self.wish(), self.scored, self.session.ledger
        if wish is None or scored is None or ledger is None:
            return
        if not self.session.up_to_date:
            self.tell(fact("not-published-scoring"))
            return
        if self._key(wish) != self._looked or self.found is None:
            self.tell(fact("not-published-look"))
            self.look()  # what goes up is what was seen
            return
        if self.found.blocked:
            open_lines = fact("not-published-lines", lines=count(self.found.blocked))
            self.tell(open_lines)
            self._choose_open()
            return
        place, pool = self.place, self.session.pool
        self.jobs.start(
            lambda control: publish_now(ledger, scored, wish, place, control, pool),
            text="Publishing",
            done=self._on_published,
        )

    def _on_published(self, up: object) -> None:
        if isinstance(up, PutUp):
            self._last = up.folder
            at = words(str(up.folder))
            what = {"what": words(up.headline), "files": count(up.files)}
            if up.stayed is None:
                self.tell(fact("published-files", folder=at, **what))
            else:
                stayed = inner(up.stayed)
                self.tell(fact("published-some", folder=at, stayed=stayed, **what))
            self.more.why.clear()
            self.kept.keep()
        self.session.look_again()

    def choose_folder(self) -> None:
        """Choose where files go."""
        chosen = ask.folder(self, "Where files of publications go")
        if chosen is not None:
            self._place = chosen

    def open_folder(self) -> None:
        """Show the files in the system's file manager."""
        path = self._last or self.place
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def write_files(self) -> None:
        """Write the files of the chosen publication again."""
        row, ledger = self.past.row, self.session.ledger
        if row is None or ledger is None:
            self.tell(fact("choose-publication"))
            return
        if getattr(self.session.results, "hidden", ()):
            self.note.emit(Voice().word("board-hidden"))
            return
        place = ask.folder(self, "Write the files of this publication to")
        if place is not None:
            names = list(file_hashes(row.publication.act).items())
            self.jobs.start(
                lambda control: write_again(ledger, names, place, control),
                text="Writing files",
                done=self._on_written,
            )

    def _on_written(self, where: object) -> None:
        self.tell(fact("publication-written", folder=words(str(where))))

    def take_down(self) -> None:
        """Revert the chosen publication, with a reason."""
        row = self.past.row
        if row is None or row.publication.withdrawn:
            self.tell(fact("choose-standing-publication"))
            return
        entry, voice = row.publication.entry.hash, self.voice
        self.ask_why(
            voice.say(fact("publication-revert-why", what=words(_named(row)))),
            f"revert {entry}",
            lambda why: self.session.withdraw([entry], why=why),
            fact("entry-taken-back", what=words(_named(row))),
        )


def _any_width(widget: QWidget) -> QWidget:
    """Return a column that gives way: words in it shorten, the page never overflows."""
    policy = QSizePolicy.Policy
    widget.setSizePolicy(policy.Ignored, policy.Preferred)
    return widget


def _named(row: PublicationRow) -> str:
    """Name what went up: its stage, and what it was of."""
    return f"{Voice().term(f'state-{row.publication.act.stage}')}, {row.scope}"


def _past_row(row: PublicationRow) -> ListRow:
    act = row.publication.act
    gone = row.publication.withdrawn
    return ListRow(
        key=row.publication.entry.hash,
        number=str(act.version),
        name=_named(row),
        second=f"reverted; was up from {row.at}" if gone else f"{row.at}, {row.who}",
        at="" if gone or not row.until else f"until {row.until}",
        sign=RowSign.LATER if gone else RowSign.DONE,
        data=row,
    )
