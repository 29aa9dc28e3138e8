"""What the page Publish is put together from, beside the parts that all pages share."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from gui.blind import veiled
from gui.flow import drop
from gui.home import Home
from gui.keys import Key, numbered
from gui.models.checklist import CheckLine, Checklist, LineState
from gui.paper import PAPERS, language_choices
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.choices import Choice
from gui.parts.rows import ListRow
from gui.parts.signs import RowSign
from gui.publishing import Outlook
from gui.theme import BETWEEN, COLUMNS, INSIDE
from gui.widgets import choice, choose, field, label, say
from scorer.facts import count, fact, number, several, words
from scorer.facts import task as task_value
from scorer.ledger.acts import Stage
from scorer.ledger.publish import AT_ANY_STAGE
from scorer.sheets.stamp import local
from scorer.words.voice import Voice

SIGNS = {
    LineState.DONE: RowSign.DONE,
    LineState.WAITS: RowSign.WAITS,
    LineState.BLOCKS: RowSign.BLOCKS,
}


def stage_choices(voice: Voice) -> list[Choice]:
    """Return the stages as choices, each with what it means."""
    return [
        Choice(
            stage,
            key,
            voice.term(f"state-{stage}"),
            voice.word(f"stage-{stage}"),
        )
        for key, stage in numbered(Stage)
    ]


def check_rows(
    found: Checklist, page_title: Callable[[CheckLine], str]
) -> list[ListRow]:
    """Return the lines of a checklist as rows; what is open says where Enter leads."""
    rows = []
    for place, line in enumerate(found.lines):
        leads = page_title(line)
        rows.append(
            ListRow(
                key=(line.part, place),
                name=line.title,
                second=line.proof,
                at=f"{leads} ›" if leads else "",
                link=bool(leads),
                sign=SIGNS[line.check],
                strong=True,
                data=line,
            )
        )
    return rows


class Figures(QWidget):
    """A few large numbers in a row, each with its words."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(INSIDE)
        self._row.addStretch(1)
        self._shown: list[QLabel] = []

    def show_figures(self, figures: Sequence[tuple[str, str]]) -> None:
        """Show other numbers."""
        drop(*self._shown)
        self._shown = []
        place = 0
        for many, what in figures:
            pair = (label(many, "name"), label(what, "second"))
            for told in pair:
                self._row.insertWidget(place, told)
                place += 1
            self._shown += pair
        self.setAccessibleDescription(", ".join(f"{n} {what}" for n, what in figures))


class GoesUp(Card):
    """What goes up, and what every page of it says."""

    def __init__(self, voice: Voice) -> None:
        super().__init__()
        self.setAccessibleName(voice.word("goes-up"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(COLUMNS)
        grid.setVerticalSpacing(2)
        self.left = [label() for _ in range(3)]
        self.right = [label() for _ in range(3)]
        grid.addWidget(label(voice.word("goes-up"), "strong"), 0, 0)
        grid.addWidget(label(voice.word("pages-say"), "strong"), 0, 1)
        for row, (one, other) in enumerate(zip(self.left, self.right, strict=True), 1):
            for told in (one, other):
                told.setWordWrap(True)
            grid.addWidget(one, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(other, row, 1, Qt.AlignmentFlag.AlignTop)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        self.body.addLayout(grid)

    def forget(self) -> None:
        """Say nothing: nobody looked ahead."""
        for told in (*self.left, *self.right):
            told.clear()

    def show_outlook(self, outlook: Outlook) -> None:
        """Say what goes up with a publication, and what stands on it."""
        computed, stamp = outlook.prepared.computed, outlook.prepared.stamp
        voice, zone = computed.voice, computed.event.time_zone
        slips = number(len(computed.event.pilots))
        until = local(stamp.complaint_end, zone)
        lines = (
            voice.word("goes-up-board"),
            voice.word("goes-up-pages"),
            voice.say(fact("goes-up-slips", slips=slips)),
        )
        says = (
            voice.say(stamp.says),
            local(stamp.published_at, zone),
            voice.say(fact("complaints-until", at=words(until)))
            if until
            else voice.word("no-complaint-time"),
        )
        for told, text in zip((*self.left, *self.right), (*lines, *says), strict=True):
            told.setText(text)


class PublishBar(QFrame):
    """One sentence of what would go up, why not if not, and the button."""

    def __init__(self, voice: Voice) -> None:
        super().__init__()
        self.setObjectName("actBar")
        self.voice = voice
        self.sentence = label(look="strong", wrap=True)
        self.second = label(look="second", wrap=True)
        self.button = CapButton(voice.word("publish-it"), Key.BIG_ACT, look="main")
        told = QVBoxLayout()
        told.setSpacing(2)
        told.addWidget(self.sentence)
        told.addWidget(self.second)
        row = QHBoxLayout(self)
        row.setContentsMargins(COLUMNS, BETWEEN, COLUMNS, BETWEEN)
        row.setSpacing(COLUMNS)
        row.addLayout(told, 1)
        row.addWidget(self.button)

    def show_outlook(self, outlook: Outlook, found: Checklist) -> None:
        """Say what the button does, or what keeps it from doing it."""
        voice, wish = outlook.prepared.computed.voice, outlook.wish
        version = outlook.prepared.stamp.version
        stage = words(voice.term(f"state-{wish.stage}").lower())
        self.button.say(voice.say(fact("publish-as", stage=stage)))
        self.button.setEnabled(not found.blocked)
        if found.blocked:
            first = fact("close-lines-first", lines=count(found.blocked))
            own = fact("publish-provisional-instead", version=number(version))
            always = any(r.says.kind in AT_ANY_STAGE for r in outlook.refused)
            no_other = always or wish.stage is Stage.PROVISIONAL
            self._say(voice.say(first), "" if no_other else voice.say(own), "bad")
            return
        what = fact("publish-event")
        if wish.tasks:
            what = fact("publish-tasks", tasks=several(map(task_value, wish.tasks)))
        never = fact("stays-on-record", version=number(version + 1))
        hidden = veiled(outlook.hidden)
        tells = hidden & set(wish.tasks) if wish.tasks else hidden
        if tells:
            listed = several(map(task_value, sorted(tells)))
            never = fact("publish-tells-you", count=count(len(tells)), tasks=listed)
        self._say(voice.say(what), voice.say(never), "strong", warns=bool(tells))

    def wait(self, text: str) -> None:
        """Say that nothing can go up yet."""
        self.button.setEnabled(False)
        self._say(text, "", "strong")

    def _say(self, text: str, second: str, look: str, *, warns: bool = False) -> None:
        say(self.sentence, text, look)
        say(self.second, second, "warn" if warns else "second")
        self.setAccessibleDescription(f"{text} {second}".strip())


class More(Card):
    """What may be said with a publication, and how it is printed."""

    def __init__(self, voice: Voice, home: Callable[[], Home]) -> None:
        super().__init__(voice.word("publish-more"))
        self._home = home
        self.why = field("Why", "why, where it is published anew")
        self.period = field("Time for complaints", "time for complaints, as 2 h")
        self.url = field("Address of the pages", "address of the pages on the web")
        self.clock = field("Who looked at the clock", "who found this clock right")
        self.fields = {
            "why": self.why,
            "period": self.period,
            "url": self.url,
            "clock": self.clock,
        }
        self.paper = choice("Paper", *PAPERS, changed=self._keep)
        self.language = choice(
            "Language of sheets", *language_choices(), changed=self._keep
        )
        for box, key in ((self.paper, "paper"), (self.language, "language")):
            box.blockSignals(True)
            choose(box, home().settings.text(key, str(box.itemData(0))))
            box.blockSignals(False)
        grid = QGridLayout()
        grid.setHorizontalSpacing(INSIDE)
        grid.setVerticalSpacing(INSIDE)
        grid.addWidget(self.why, 0, 0, 1, 2)
        grid.addWidget(self.period, 1, 0)
        grid.addWidget(self.url, 1, 1)
        grid.addWidget(self.paper, 2, 0)
        grid.addWidget(self.language, 2, 1)
        grid.addWidget(self.clock, 3, 0, 1, 2)
        self.clock.hide()
        for box in (self.paper, self.language):
            box.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.body.addLayout(grid)

    def forget(self) -> None:
        """Empty what belongs to one event."""
        for box in self.fields.values():
            box.clear()

    def _keep(self) -> None:
        settings = self._home().settings
        settings.set_text("paper", str(self.paper.currentData()))
        settings.set_text("language", str(self.language.currentData()))


class BoardPages(QScrollArea):
    """Pages of the notice board as they would be printed, one below the other."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("The notice board as it would go up")
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._inside = QWidget()
        self._column = QVBoxLayout(self._inside)
        self._column.addStretch(1)
        self.setWidget(self._inside)
        self._pages: list[tuple[QLabel, QPixmap]] = []

    @property
    def count(self) -> int:
        """How many pages are shown."""
        return len(self._pages)

    def show_pages(self, pages: Sequence[bytes]) -> None:
        """Show pages, given as PNG."""
        drop(*(old for old, _ in self._pages))
        self._pages = []
        for place, data in enumerate(pages):
            sheet = QLabel()
            sheet.setAccessibleName(f"Page {place + 1} of {len(pages)}")
            pixmap = QPixmap.fromImage(QImage.fromData(data))
            self._pages.append((sheet, pixmap))
            self._column.insertWidget(place, sheet)
        self._fit()

    def _fit(self) -> None:
        wide = max(self.viewport().width() - 2 * INSIDE, 100)
        for sheet, pixmap in self._pages:
            smooth = Qt.TransformationMode.SmoothTransformation
            sheet.setPixmap(pixmap.scaledToWidth(min(wide, pixmap.width()), smooth))

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the pages to the width."""
        super().resizeEvent(event)
        self._fit()

    def minimumSizeHint(self) -> QSize:
        """Ask for little room."""
        return QSize(120, 80)
