"""The main window: frame, pages, commands that hold everywhere.

It only assembles; pages show, the session computes.
"""

from functools import partial

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtGui import QCloseEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QMainWindow

from gui import ask
from gui.actions import Actions, Spec, needs
from gui.ahead import Ahead
from gui.finder import Destination, Finder, goals_at, goals_of
from gui.frame import Frame
from gui.handbook import Handbook
from gui.help import help_of
from gui.home import Home
from gui.jobs import Jobs
from gui.keys import Key
from gui.models.home import counts_of, open_matters
from gui.pages.page import Page
from gui.pages.registry import HOME, PAGES, START
from gui.pages.start import StartPage
from gui.parts.whose_keys import BoxLetters, EmptyFieldUndo
from gui.screens import ScreenMemory
from gui.session import Session
from gui.snapshot import flight_said
from gui.state import Condition, facts_of
from gui.style import LOOK, apply, dress
from gui.theme import SIZES
from gui.tidy import Tidy
from gui.widgets import say
from scorer.event.model import Task
from scorer.event.moments import zone_told
from scorer.facts import count, fact, moment, words
from scorer.ledger.engine import is_url
from scorer.words.voice import Voice

NOTE_MS = 12_000
SPECS = (
    Spec("help", "&Help and keys", Key.HELP, "Keys and help of this page"),
    Spec("manual", "The &manual", Key.MANUAL, "All chapters, with pictures"),
    Spec("go_to", "&Go to…", Key.GO_TO, "A pilot, a page or a command"),
    Spec("next_theme", "&Light or dark", Key.LIGHT, "Change between Noon and Dusk"),
    Spec("larger", "Lar&ger text", Key.LARGER, "Make all text larger"),
    Spec("smaller", "&Smaller text", Key.SMALLER, "Make all text smaller"),
    Spec(
        "change_official",
        "Change &official…",
        Key.OFFICIAL,
        "Let somebody else take over this desk, as for the second person who enters marks",
        needs(Condition.EVENT),
    ),
    Spec("task_before", "Task &before", Key.TASK_BEFORE, "Choose it for all pages"),
    Spec("task_after", "Next &task", Key.TASK_AFTER, "Choose it for all pages"),
    Spec("next_pane", "Next &pane", Key.PANE, "List, detail, decision"),
    Spec("pane_before", "Pane be&fore", Key.PANE_BEFORE, "The same the other way"),
    Spec("go_back", "&Back", Key.BACK, "Where you came from"),
    Spec(
        "again",
        "Try &again now",
        Key.AGAIN,
        "Score anew, and try the database again",
        needs(Condition.EVENT),
    ),
    Spec(
        "cancel_job", "&Stop", Key.STOP, "Stop what is running", needs(Condition.BUSY)
    ),
    Spec("close_event", "Cl&ose event", Key.CLOSE, "Close it", needs(Condition.EVENT)),
    Spec("close", "&Quit", Key.QUIT, "Close the window"),
)


class Window(QMainWindow):
    """Frame and pages, with what connects them."""

    def __init__(self, home: Home) -> None:
        super().__init__()
        self.setWindowTitle("Sandtail")
        self.home = home
        self.session = Session(self, home)
        self.jobs = Jobs(self)
        self.commands = Actions(self, SPECS, "everywhere")
        self.pages: list[Page] = [page(self.session, self.jobs) for page in PAGES]
        self.session.titles.update((page.name, page.title) for page in self.pages)
        self.page_actions = Actions(self, self._page_specs(), "everywhere")
        self.finder = Finder(self)
        self.handbook = Handbook(self)
        self._closing = False
        self._fresh = False
        """Whether an event was opened whose first score is not here yet."""
        self._held_by = ""
        """Why entries wait, as it was told last."""
        self._came_from: list[str] = []
        self._wanted = ""
        """The page that was asked for while an event opens; empty = the home."""
        self.frame = Frame(self.pages)
        self.rail, self.stack = self.frame.rail, self.frame.stack
        self.note, self.link = self.frame.foot.note, self.frame.top.link
        self.setCentralWidget(self.frame)
        self._note_timer = QTimer(self, interval=NOTE_MS, singleShot=True)
        self._note_timer.timeout.connect(lambda: say(self.note, "", "note"))
        self._undo = EmptyFieldUndo(self)
        self._letters = BoxLetters(self)
        self.tidy = Tidy(self)
        self.tidy.start()
        self.ahead = Ahead(self)
        self._wire()
        self.screens = ScreenMemory(self, lambda: self.home.settings)
        self.screens.restore()
        self._dress()
        self.show_page(0)

    # Assembling.

    def _page_specs(self) -> list[Spec]:
        return [
            Spec(
                "go",
                f"Page {page.title.replace('&', '&&')}",
                page.key,
                page.hint,
                needs() if page.name == START else needs(Condition.EVENT),
                gives=page.name,
            )
            for page in self.pages
        ]

    def _wire(self) -> None:
        frame, session, jobs = self.frame, self.session, self.jobs
        frame.rail.asked.connect(self.go)
        frame.top.page_asked.connect(self.go)
        frame.top.task_asked.connect(session.choose_task)
        frame.top.go.clicked.connect(self.go_to)
        frame.top.who.clicked.connect(self.change_official)
        frame.foot.stop.clicked.connect(self.cancel_job)
        session.opened.connect(self._on_opened)
        session.closed.connect(self._on_closed)
        session.changed.connect(self._on_changed)
        session.scored.connect(self._on_scored)
        session.task_chosen.connect(self._on_task)
        session.scoring.connect(lambda _: self._tell())
        session.waiting.connect(self._on_waiting)
        session.connection.connect(lambda _: self._on_connection())
        session.told.connect(lambda text: ask.told(self.frame.top, text))
        session.refused.connect(lambda text: self.tell(text, "bad"))
        session.shelf.problem.connect(lambda text: self.tell(text, "bad"))
        session.crashed.connect(self._on_crash)
        jobs.started.connect(self._on_started)
        jobs.progress.connect(self._on_progress)
        jobs.refused.connect(lambda text: self.tell(text, "bad"))
        jobs.crashed.connect(self._on_crash)
        jobs.stopped.connect(lambda: self.tell(Voice().word("job-stopped")))
        jobs.ended.connect(self._on_ended)
        for page in self.pages:
            page.note.connect(self.tell)
            page.choice.connect(self._enable)
            page.keys_changed.connect(lambda own=page: self.frame.show_keys(own))
            page.go.connect(self.lead)
            page.back.connect(self.go_back)

    # What is shown.

    @property
    def page(self) -> Page:
        """The page in front."""
        return self.pages[self.stack.currentIndex()]

    def show_page(self, index: int) -> None:
        """Bring a page to the front."""
        if index < 0:
            return
        page = self.pages[index]
        self.make_ready(page)
        self.session.last.front = page.name
        self.frame.show_page(page)
        page.refresh(self.session.snapshot)
        page.enter()
        self._enable()

    def go(self, name: str) -> None:
        """Bring a page to the front by its name."""
        if self._opening and name != START:
            self._wanted = name
        self.show_page(self.pages.index(self.page_named(name)))

    def lead(self, name: str, what: object) -> None:
        """Lead from the page in front to another, which shows what it is about."""
        self._came_from.append(self.page.name)
        self.go(name)
        if what is not None:
            self.page.lead_to(what)

    def page_named(self, name: str) -> Page:
        """Return a page by its name."""
        return next(page for page in self.pages if page.name == name)

    def tell(self, text: str, kind: str = "note") -> None:
        """Show a line at the foot of the window."""
        say(self.note, text, kind)
        self._note_timer.stop()
        if kind != "bad":
            self._note_timer.start()

    def _on_opened(self) -> None:
        self._came_from.clear()
        self._fresh = True
        away = self.session.away
        told = self._voice.say(away.says) if away else self.session.caution
        self.tell(told, "warn")
        self.frame.show_open(is_open=True)
        wanted, self._wanted = self._wanted, ""
        self.go(wanted or HOME)
        self.finder.renew(self._goals())

    def _on_closed(self) -> None:
        self.ahead.stop()
        for page in self.pages:
            if page.name != START:
                page.forget()
        if not self._closing:
            self.frame.show_open(is_open=False)
            self._on_changed()
            self.go(START)

    def _on_changed(self) -> None:
        self.page.refresh(self.session.snapshot)
        self._show_tasks()
        self._tell()
        self._enable()

    def _on_scored(self) -> None:
        self.page.rescored()
        if self._fresh:
            self._fresh = False
            self.tidy.learn()
            if not self.ahead.filled:
                self.ahead.fill()
        self._tell()
        self._enable()

    def _on_task(self) -> None:
        self._show_tasks()
        self._count()
        self.page.task_chosen()

    def _show_tasks(self) -> None:
        snapshot = self.session.snapshot
        tasks = snapshot.event.tasks if snapshot else ()
        if self.session.task not in {None, *(task.number for task in tasks)}:
            self.session.choose_task(None)
        named: list[tuple[str, object]] = [(_named(t), t.number) for t in tasks]
        self.frame.top.show_tasks(named, self.session.task)

    def _on_started(self, text: str) -> None:
        bar = self.frame.foot.bar
        bar.setRange(0, 0)
        bar.setFormat(text)
        bar.show()
        self.frame.foot.stop.show()
        self._enable()

    def _on_progress(self, done: int, total: int, text: str) -> None:
        if self.jobs.stopping:
            return
        bar = self.frame.foot.bar
        bar.setRange(0, total)
        bar.setValue(done)
        bar.setFormat(f"{text}: {done} of {total}")

    def _on_ended(self) -> None:
        self.frame.foot.bar.hide()
        self.frame.foot.stop.hide()
        if not self._opening:
            self._wanted = ""
        self._enable()

    def _on_crash(self, error: object) -> None:
        crash = error if isinstance(error, BaseException) else Exception(error)
        ask.crashed(self.frame.top, crash)

    @property
    def _voice(self) -> Voice:
        snapshot = self.session.snapshot
        return Voice.of(snapshot.event) if snapshot else Voice()

    def _on_connection(self) -> None:
        self._tell()
        self._enable()

    def _tell(self) -> None:
        """Say in the line above what is open, who is here, and how things stand."""
        session, snapshot, top = self.session, self.session.snapshot, self.frame.top
        is_open = snapshot is not None and session.ledger is not None
        top.who.setVisible(is_open)
        if snapshot is None or not is_open:
            self.setWindowTitle("Sandtail")
            top.event_name.setText("No event open")
            top.say_link("", "good")
            return
        days = (flight.date for flight in snapshot.event.flights)
        zone = zone_told(snapshot.event.time_zone, days)
        self.setWindowTitle(f"{snapshot.event.name} – Sandtail – times of {zone}")
        top.event_name.setText(snapshot.event.name)
        top.who.say(session.who)
        top.say_link(*self._link_words())
        self._count()

    def _count(self) -> None:
        """Count what is open by page; the home counts the same list."""
        session = self.session
        task = session.snapshot.task(session.task) if session.snapshot else None
        counts = counts_of(open_matters(session.matters, task))
        counts[HOME] = counts.total()
        self.frame.show_counts(counts)

    def _on_waiting(self, waiting: int, why: str) -> None:
        """Say once why entries wait, where nothing else tells it: a disk that is full."""
        if why and why != self._held_by and self.session.away is None:
            self.tell(self._voice.say(fact("link-why", why=words(why))), "bad")
        self._held_by = why if waiting else ""
        self._tell()

    def _link_words(self) -> tuple[str, str, str]:
        """Return how things stand with database and score: words, look, tooltip."""
        session = self.session
        waiting = len(session.outbox.drafts) if session.outbox else 0
        why = session.outbox.problem if session.outbox else ""
        away, voice = session.away, self._voice
        where = words("server" if is_url(session.target) else "file")
        if away is not None:
            as_of = moment(away.as_of.timestamp())
            told = fact("link-away", where=where, moment=as_of)
            if waiting:
                entries = count(waiting)
                told = fact("link-waits", entries=entries, where=where, moment=as_of)
            return voice.say(told), "warn", f"{voice.say(away.says)}\n{away.why}"
        if waiting and why:
            held = fact("link-held", entries=count(waiting), where=where)
            return voice.say(held), "warn", why
        if not session.writable:
            return "Read only", "warn", ""
        if waiting:
            return "Writing…", "muted", ""
        return self._score_words()

    def _score_words(self) -> tuple[str, str, str]:
        scored = self.session.results
        if self.session.scorer.busy:
            return "Scoring…", "muted", ""
        if scored is None:
            return "Not scored yet", "muted", ""
        if scored.faults:
            faults = "\n".join(str(fault) for fault in scored.faults)
            many = len(scored.faults)
            told = f"{many} fault{'s' * (many > 1)}: not scored"
            return told, "bad", faults
        if not self.session.up_to_date:
            return "Scoring…", "muted", ""
        if self.session.caution:
            return "Up to date, on a network drive", "warn", self.session.caution
        return "All up to date", "good", ""

    def _enable(self) -> None:
        facts = facts_of(self.session, busy=self.jobs.busy, chosen=self.page.chosen)
        for actions in (self.commands, self.page_actions, self.page.actions_):
            actions.enable(facts)

    # Commands.

    def open_target(self, target: str, official: str = "") -> None:
        """Open an event by file, folder or address, as the command line names it."""
        start = self.page_named("start")
        if isinstance(start, StartPage):
            start.open_as(target, official)

    def go_to(self) -> None:
        """Find pilots, pages and commands, and go there."""
        self.finder.show_goals(self._goals())

    def _goals(self) -> list[Destination]:
        self._enable()
        come = self._opening and self.session.snapshot is None
        pages = self._pages_to_come() if come else goals_of([self.page_actions])
        own, general = goals_of([self.page.actions_]), goals_of([self.commands])
        others = {
            page.name: page.actions_
            for page in self.pages
            if self.session.snapshot is not None
            and page is not self.page
            and page.name not in {START, "pilot"}
        }
        at_others = goals_at(others, self._command_at)
        return [*self._pilots(), *own, *pages, *general, *at_others]

    @property
    def _opening(self) -> bool:
        start = self.page_named(START)
        return isinstance(start, StartPage) and start.opening

    def _pages_to_come(self) -> list[Destination]:
        """Return the pages of an event that opens: they come once it is open."""
        goals = goals_of([self.page_actions])
        return [
            goal._replace(give=partial(self._want, page), ready=True)
            for page, goal in zip(self.pages, goals, strict=True)
            if page.name not in {START, "pilot"}
        ]

    def _want(self, page: Page) -> None:
        """Show a page as soon as there is an event to show."""
        if not self._opening:
            self.go(page.name)
            return
        self._wanted = page.name
        self.tell(Voice().say(fact("page-to-come", page=words(page.title))))

    def _command_at(self, name: str, command: str) -> None:
        """Go to a page and give a command there, where it can be given."""
        self.lead(name, None)
        self._enable()
        self.page.actions_.all[command].trigger()

    def _pilots(self) -> list[Destination]:
        snapshot = self.session.snapshot
        page = "pilot" if "pilot" in {page.name for page in self.pages} else "roster"
        pilots = snapshot.event.pilots if snapshot else ()
        return [
            Destination(
                f"{pilot.number}  {pilot.name}",
                partial(self.lead, page, pilot.number),
                number=pilot.number,
            )
            for pilot in pilots
        ]

    def help(self) -> None:
        """Show the keys of this page beside what the manual says of it."""
        self._enable()
        goals = goals_of([self.page.actions_, self.commands])
        self.finder.show_goals(goals, help_of(self.page.title))

    def manual(self) -> None:
        """Show the whole manual, beside the window."""
        self.handbook.open_at()

    def go_back(self) -> None:
        """Go back to where the user came from."""
        if self._came_from:
            self.go(self._came_from.pop())

    def next_pane(self) -> None:
        """Give the keyboard to the next pane of the page."""
        self.page.next_pane()

    def pane_before(self) -> None:
        """Give the keyboard to the pane before."""
        self.page.next_pane(-1)

    def task_before(self) -> None:
        """Choose the task before for the whole window."""
        self.frame.top.step_task(-1)

    def task_after(self) -> None:
        """Choose the next task for the whole window."""
        self.frame.top.step_task(1)

    def next_theme(self) -> None:
        """Change between the light and the dark look."""
        self.screens.next_theme()
        self._dress()

    def larger(self) -> None:
        """Make all text one step larger."""
        self.screens.set_step(self.screens.step + 1)
        self._dress()

    def smaller(self) -> None:
        """Make all text one step smaller."""
        self.screens.set_step(self.screens.step - 1)
        self._dress()

    @Slot()
    def _dress(self) -> None:
        apply(self.screens.theme, SIZES[self.screens.step])
        frame = self.frame
        for part in (frame.top, frame.rail, frame.foot, self.finder, self.handbook):
            dress(part)
        self._arrange()

    def _arrange(self) -> None:
        self.frame.arrange()
        self.make_ready(self.page)
        self.ahead.start()

    def make_ready(self, page: Page) -> bool:
        """Give a page the look and form that hold now; tell whether it lacked them."""
        form, late = self.frame.form, dress(self.frame.room_of(page))
        if late:
            page.set_theme(LOOK.theme)
        if page.form is not form or not page.fitted:
            page.fit(form)
            late = True
        return late

    def change_official(self) -> None:
        """Let somebody else take over this desk."""
        name = ask.text(self.frame.top, "Who is at this desk now?", "Name:", "")
        if name and name.strip():
            self.session.set_who(name)
            self.home.settings.set_text("official", name.strip())
            self.tell(Voice().say(fact("desk-taken-over", who=words(name.strip()))))
            self.page.enter()

    def again(self) -> None:
        """Score anew, and try at once to send what waits."""
        self.session.score_now()
        if self.session.outbox is not None:
            self.session.outbox.retry()
            self.session.look_again()

    def cancel_job(self) -> None:
        """Ask the running job to stop, and say at once that it was heard."""
        self.jobs.cancel()
        if self.jobs.stopping:
            self.frame.foot.bar.setRange(0, 0)
            self.frame.foot.bar.setFormat(Voice().word("job-stopping"))

    def close_event(self) -> None:
        """Close the event; unsaved text and waiting entries are kept."""
        self.session.close()

    # Qt's interface: Qt's names.

    def closeEvent(self, event: QCloseEvent) -> None:
        """Stop what asks for work, then all workers, before anything is destroyed."""
        self._closing = True
        self.tidy.stop()
        self.ahead.stop()
        self.screens.keep_place()
        for jobs in self.findChildren(Jobs):  # those of pages too
            jobs.shutdown()
        self.session.shutdown()
        super().closeEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        """From here on there is a window that can be touched, and moved to a screen."""
        super().showEvent(event)
        handle = self.windowHandle()
        self.tidy.watch(handle)
        handle.screenChanged.connect(self._dress, Qt.ConnectionType.UniqueConnection)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the form that the new width allows."""
        super().resizeEvent(event)
        self._arrange()


def _named(task: Task) -> str:
    """Name a task as the chooser does: number, kind, flight."""
    kind = Voice().word(f"task-kind-{task.kind.lower()}")
    return f"Task {task.number} · {kind} · {flight_said(task.flight)}"
