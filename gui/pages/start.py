"""Where the day begins: a new event, one that exists, or an invented one to try."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)
from sqlalchemy import make_url

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.opening import (
    DatabaseAway,
    NewEvent,
    Opening,
    crs_name,
    free_file,
    local_zone,
    make_event,
    open_or_wait,
    proposed_crs,
    sample,
    take_in,
)
from gui.pages.page import FULL_CAUTION, SHORT_CAUTION, Form, Page
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.kept import Kept
from gui.parts.line import Line
from gui.parts.scrolled import Scrolled, show_whole
from gui.refusal import plainly
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.style import LOOK, follow
from gui.theme import BETWEEN, INSIDE
from gui.widgets import caution, form, held, label, say_or_hide
from gui.zones import clock_there, zone_box
from scorer.errors import ScorerError
from scorer.event.rules_reader import book_names, load_book
from scorer.ledger.acts import DeskId
from scorer.ledger.api import this_desk
from scorer.ledger.engine import is_url, shown
from scorer.practice.scenes import SAMPLES
from scorer.progress import Control
from scorer.scoring.asked import asked
from scorer.units import angle_deg
from scorer.words.rules import answered
from scorer.words.voice import Voice

FORM = "new event"
LIST_HIGH = 76
AGAIN_MS = 5_000
"""A database that does not answer is tried again so often."""
CENTRE = "centre"
"""What the target at the site is called, unless somebody says otherwise."""
LETTERS = 12
"""Least width of a box, in letters."""


class _ShortList(QListWidget):
    """A list that asks for no more height than it needs at the least."""

    def add(self, text: str, what: str, *, tip: str = "") -> None:
        """Add a line that leads to something; the list makes its item, and frees it."""
        self.addItem(text)
        at = self.model().index(self.count() - 1, 0)
        self.model().setData(at, what, Qt.ItemDataRole.UserRole)
        self.model().setData(at, tip, Qt.ItemDataRole.ToolTipRole)

    # Qt's interface: Qt's names.

    def sizeHint(self) -> QSize:
        """Return its usual width, and its least height."""
        return QSize(super().sizeHint().width(), self.minimumHeight())


class StartPage(Page):
    """New event on the left; recent events and samples on the right."""

    name = "start"
    title = "Start"
    hint = "Make an event, or open one. Everything entered is kept, entry by entry."
    specs = (
        Spec(
            "make",
            "&Make the event",
            Key.BIG_ACT,
            "Make it and open",
            needs(Condition.IDLE),
        ),
        Spec(
            "open_file",
            "&Open file…",
            Key.READ_IN,
            "Open an event",
            needs(Condition.IDLE),
        ),
        Spec(
            "open_folder",
            "Import a &folder…",
            Key.NONE,
            "Make an event file of an event folder",
            needs(Condition.IDLE),
        ),
        Spec(
            "open_server",
            "&Database…",
            Key.NONE,
            "Open an event on a server that several desks share",
            needs(Condition.IDLE),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        both = QHBoxLayout()
        both.setSpacing(BETWEEN)
        self.made, self.known = self._guide(), Scrolled(self._known())
        for side in (self.made, self.known):
            side.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        both.addWidget(self.made, 3)
        both.addWidget(self.known, 2)
        self.body.addLayout(both, 1)
        self.caution = caution(FULL_CAUTION)
        self.body.addWidget(self.caution)
        self.kept = Kept(self.session, FORM, self._fields())
        self._asked: Callable[[], None] | None = None
        self.official.returnPressed.connect(self._on_named)
        self._waits_for, self._opening = "", False
        self.jobs.ended.connect(self._ended)
        self._again = QTimer(self, interval=AGAIN_MS)
        self._again.timeout.connect(self._try_again)

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """A new event, and those that exist."""
        return self.made, self.known

    def arrange(self) -> None:
        """Leave the room of a small window to the form: the short caution takes a line."""
        small = self.form is Form.SMALL
        self.caution.setText(SHORT_CAUTION if small else FULL_CAUTION)

    @property
    def panes(self) -> tuple[QWidget, ...]:
        """The form, events opened last, invented ones, what the rule book says."""
        return self.official, self.recent, self.samples, self.rules

    def to_pane(self, pane: QWidget) -> None:
        """Go to a pane, and scroll until it is seen."""
        super().to_pane(pane)
        show_whole(pane)

    def _guide(self) -> QWidget:
        self.official = Line(self.session.home.settings.text("official"))
        self.official.setPlaceholderText("your name; it stands beside all you enter")
        self.event_name = Line(hint="name of the event")
        self.venue = Line(hint="place, for the sheets")
        self.lat = Line(hint="latitude, as 48.6018 or 48 36 06 N")
        self.lon = Line(hint="longitude, as 66.3040")
        self.crs = QComboBox(editable=True)
        self.zone = zone_box(local_zone())
        self.units = QComboBox()
        self.units.addItem("metres", "metric")
        self.units.addItem("feet and inches", "imperial")
        self.elevation = Line(hint="of the ground, as 640 m or 2100 ft")
        self.book = QComboBox()
        short = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        for box in (self.book, self.zone, self.crs):
            box.setSizeAdjustPolicy(short)
            box.setMinimumContentsLength(LETTERS)
        for name in book_names():
            self.book.addItem(load_book(name).title, name)
        self.target = Line(CENTRE)
        self.target.setToolTip("A target is set at the site; empty = none yet")
        self.file = Line(hint="where to keep it")
        self.crs.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.told = label(look="muted")
        self.told.setWordWrap(True)
        self.told.hide()
        self.rules = QPlainTextEdit(readOnly=True)
        self.rules.setAccessibleName("What the rule book says")
        self.rules.setTabChangesFocus(True)
        wide, least = QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored
        self.rules.setSizePolicy(wide, least)  # what it needs at the least is enough
        both = QHBoxLayout()
        both.setSpacing(INSIDE)
        for typed, named in ((self.lat, "Site: latitude"), (self.lon, "longitude")):
            typed.setAccessibleName(named)
            both.addWidget(typed)
        site = held(both)
        site.setFocusProxy(self.lat)
        fields = QVBoxLayout()
        fields.addLayout(
            form(
                ("Official at this desk", self.official),
                ("Name", self.event_name),
                ("Venue", self.venue),
                ("Site", site),
                ("Reference system", self.crs),
                ("Time zone", self.zone),
                ("People measure in", self.units),
                ("Elevation", self.elevation),
                ("Rule book", self.book),
                ("Target at the site", self.target),
                ("File", self.file),
            )
        )
        fields.addStretch(1)
        self.form_area = Scrolled(held(fields))  # what makes the event stays below it
        card = Card("A new event")
        card.body.addWidget(self.form_area, 1)
        card.body.addWidget(self.told)
        make = CapButton("Make the event", Key.BIG_ACT, look="main")
        make.clicked.connect(self.make)
        low = QHBoxLayout()
        low.addWidget(make)
        low.addStretch(1)
        card.body.addLayout(low)
        self._wire()
        return card

    def _wire(self) -> None:
        for field in (self.lat, self.lon):
            field.editingFinished.connect(self._propose)
        self.event_name.editingFinished.connect(self._propose_file)
        for chosen in (self.crs, self.zone):
            chosen.currentTextChanged.connect(lambda _: self._tell_crs())
        self.book.currentIndexChanged.connect(lambda _: self._tell_book())
        self._tell_book()

    def _known(self) -> QWidget:
        self.recent = _ShortList()
        self.recent.setAccessibleName("Events opened last")
        self.recent.activated.connect(
            lambda index: self.open(index.data(Qt.ItemDataRole.UserRole))
        )
        self.samples = _ShortList()
        for listed in (self.recent, self.samples):
            listed.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.samples.setAccessibleName("Invented events to try")
        for name, (spec, _) in SAMPLES.items():
            text = f"{spec.name}: {spec.pilots} balloons, invented"
            self.samples.add(text, name)
        self.samples.activated.connect(
            lambda index: self.invent(str(index.data(Qt.ItemDataRole.UserRole)))
        )
        follow(self._fit_lists)
        opening = Card("Open")
        opening.body.addWidget(self.buttons("open_file", "open_folder", "open_server"))
        self.away = label(look="warn", wrap=True)
        self.away.hide()
        opening.body.addWidget(self.away)
        opening.body.addWidget(label("Opened last; Enter opens", "second"))
        opening.body.addWidget(self.recent, 1)
        trying = Card("Try it with an invented event")
        trying.body.addWidget(label("Enter opens a copy: it harms nobody", "second"))
        trying.body.addWidget(self.samples, 1)
        saying = Card("What the rule book says")
        saying.body.addWidget(self.rules, 1)
        column = QVBoxLayout()
        column.setSpacing(BETWEEN)
        for card, share in ((opening, 4), (trying, 2), (saying, 5)):
            column.addWidget(card, share)
        return held(column)

    def _fit_lists(self) -> None:
        for box in (self.recent, self.samples, self.rules):
            box.setMinimumHeight(LOOK.px(LIST_HIGH))

    def _fields(self) -> dict[str, QLineEdit | QComboBox]:
        return {
            "official": self.official,
            "name": self.event_name,
            "venue": self.venue,
            "lat": self.lat,
            "lon": self.lon,
            "crs": self.crs,
            "zone": self.zone,
            "units": self.units,
            "elevation": self.elevation,
            "book": self.book,
            "target": self.target,
            "file": self.file,
        }

    # What is shown.

    def enter(self) -> None:
        """Show events opened last, and what was left unsaved."""
        self.recent.clear()
        for target in self.session.home.settings.recent:
            served = is_url(target)
            at = shown(make_url(target)) if served else target
            self.recent.add(at if served else Path(target).name, target, tip=at)
        if self.kept.restore():
            chosen = self.crs.currentText()
            self._propose()
            if chosen:
                self.crs.setCurrentText(chosen)
        first = self.event_name if self.official.text().strip() else self.official
        first.setFocus()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Take over who is at the desk."""
        if snapshot is not None:
            self.official.setText(self.session.who)

    def _propose(self) -> None:
        """Propose reference systems once the site is known."""
        if not (self.lat.text().strip() and self.lon.text().strip()):
            return
        try:
            found = proposed_crs(self.lat.text(), self.lon.text())
        except ScorerError as error:
            say_or_hide(self.told, plainly(error), "bad")
            return
        typed = self.crs.currentText()
        self.crs.clear()
        for code, name in found:
            self.crs.addItem(code)
            self.crs.setItemData(
                self.crs.count() - 1, name, Qt.ItemDataRole.ToolTipRole
            )
        if typed and not found:
            self.crs.setCurrentText(typed)
        self._tell_crs()

    def _tell_crs(self) -> None:
        """Say which plane and which clock the event has, once the site is known."""
        code = self.crs.currentText().strip()
        if not code:
            say_or_hide(self.told, "")
            return
        try:
            told = f"{code}: {crs_name(code)}."
            lon = self.lon.text().strip()
            lon_deg = angle_deg(lon, "longitude") if lon else None
        except ScorerError as error:
            say_or_hide(self.told, plainly(error), "bad")
            return
        clock, well = clock_there(self.zone.currentText().strip(), lon_deg)
        told = f"{told} {Voice().say(clock)}"
        say_or_hide(self.told, told, "muted" if well else "warn")

    def _propose_file(self) -> None:
        if not self.file.text().strip() and self.event_name.text().strip():
            words = self.event_name.text().casefold().split()
            stem = "-".join("".join(c for c in w if c.isalnum()) for w in words)
            self.file.setText(str(free_file(Path.home(), stem or "event")))

    def _tell_book(self) -> None:
        book = load_book(str(self.book.currentData()))
        lines = [book.about, ""]
        voice = Voice()
        waits = [voice.word(one.title) for one in asked(book) if one.waits]
        if waits:
            lines += [voice.word("start-waits"), *(f"– {one}" for one in waits), ""]
        lines += [
            f"{title}: {value} ({source})"
            for _, value, title, source in answered(book, voice)
        ]
        self.rules.setPlainText("\n".join(lines))

    # Commands.

    def who(self) -> str:
        """Return the official's name; remember it for next time."""
        name = self.official.text().strip()
        if not name:
            raise ScorerError(
                "say who you are, then Enter: your name stands beside all you enter"
            )
        self.session.home.settings.set_text("official", name)
        return name

    def _on_named(self) -> None:
        """Go on with what was asked for before anybody had said who asks."""
        if self._asked is not None:
            self._asked()

    def make(self) -> None:
        """Make the event that the guide describes."""
        new = NewEvent(
            file=self.file.text(),
            name=self.event_name.text(),
            venue=self.venue.text(),
            time_zone=self.zone.currentText(),
            lat=self.lat.text(),
            lon=self.lon.text(),
            crs=self.crs.currentText(),
            units=str(self.units.currentData()),
            book=str(self.book.currentData()),
            ground_elevation=self.elevation.text(),
            target=self.target.text(),
        )
        desk, who = self._desk(self.make)
        if who:
            self._start(
                "Making",
                lambda _: make_event(new, desk=desk, who=who),
                done=self._on_made,
            )

    def open(self, target: str) -> None:
        """Open an event file or a database."""
        desk, who = self._desk(partial(self.open, target))
        if who:
            self._start("Opening", lambda _: open_or_wait(target, desk=desk, who=who))

    def open_as(self, target: str, official: str) -> None:
        """Open what a command line names: a file, a folder, an archive, an address."""
        if official:
            self.official.setText(official)
        path = Path(target)
        if path.is_dir() or path.suffix == ".zip":
            self.take_in(path)
        else:
            self.open(target)

    def open_file(self) -> None:
        """Choose and open an event file; an archive is taken in as a new one."""
        path = ask.open_file(self, "Open an event", ask.EVENT_FILES)
        if path is None:
            return
        if path.suffix == ".zip":
            self.take_in(path)
        else:
            self.open(str(path))

    def open_folder(self) -> None:
        """Choose an event folder and make an event file of it."""
        path = ask.folder(self, "Import an event folder")
        if path is not None:
            self.take_in(path)

    def open_server(self) -> None:
        """Ask for a database that several desks share."""
        url = ask.text(
            self, "Open a shared event", "Address of the database:", "postgresql://"
        )
        if url:
            self.open(url)

    def take_in(self, source: Path) -> None:
        """Make an event file beside a folder or archive, and open it."""
        file = free_file(source.parent, source.stem)
        desk, who = self._desk(partial(self.take_in, source))
        if who:
            self._start("Reading", lambda _: take_in(source, file, desk=desk, who=who))

    def invent(self, name: str) -> None:
        """Make a copy of an invented event, and open it."""
        folder = self.session.home.data / "samples"
        folder.mkdir(parents=True, exist_ok=True)
        file = free_file(folder, name)
        desk, who = self._desk(partial(self.invent, name))
        if who:
            self._start("Inventing", lambda _: sample(name, file, desk=desk, who=who))

    def _desk(self, again: Callable[[], None]) -> tuple[DeskId, str]:
        """Return who is at the desk; without a name it is done once Enter says it."""
        self._asked = None
        try:
            return this_desk(), self.who()
        except ScorerError as error:
            self._asked = again
            say_or_hide(self.told, plainly(error), "bad")
            self.official.setFocus()
            return DeskId(""), ""

    @property
    def opening(self) -> bool:
        """Tell whether an event is being opened, or a database is waited for."""
        return self._opening or bool(self._waits_for)

    def _ended(self) -> None:
        self._opening = False

    def _start(
        self,
        verb: str,
        work: Callable[[Control], Opening | DatabaseAway],
        *,
        done: Callable[[object], None] | None = None,
    ) -> None:
        self._wait_for("")
        self._opening = True
        done = done or self._on_opened
        self.jobs.start(work, text=f"{verb} the event", done=done)

    def _wait_for(self, target: str) -> None:
        """Wait for a database that does not answer; nothing = wait for none."""
        self._waits_for = target
        say_or_hide(self.away, Voice().word("start-away") if target else "", "warn")
        if target:
            self._again.start()
        else:
            self._again.stop()

    def _try_again(self) -> None:
        """Try to open what did not answer, unless something else was begun."""
        if self._waits_for and self.isVisible() and not self.jobs.busy:
            self.open(self._waits_for)

    def _on_opened(self, opening: object) -> None:
        if isinstance(opening, DatabaseAway):
            self._wait_for(opening.target)
        if isinstance(opening, Opening):
            self.session.open(opening)

    def _on_made(self, opening: object) -> None:
        """Empty the form: of the next event nothing is known, its site least of all."""
        if isinstance(opening, Opening):
            self.session.unsaved.keep(FORM, {})
            for field in self._fields().values():
                if isinstance(field, QLineEdit) and field is not self.official:
                    field.clear()
            self.crs.clear()
            self.zone.setCurrentText(local_zone())
            self.target.setText(CENTRE)
            say_or_hide(self.told, "")
        self._on_opened(opening)
