"""The whole manual in a window of its own: chapters, text with pictures, words to find."""

from collections.abc import Mapping

from PySide6.QtCore import QEvent, QObject, Qt, QUrl
from PySide6.QtGui import QImage, QKeyEvent, QTextCursor, QTextDocument
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QListWidget,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from gui.jobs import Jobs
from gui.style import LOOK
from gui.widgets import field, label
from scorer.manual.guides import beside
from scorer.manual.pages import chapter_html
from scorer.progress import Control
from scorer.words.voice import Voice

WIDTH, HEIGHT, CHAPTERS_WIDTH = 1100, 720, 290
HOW = "Words narrow the chapters; Enter finds the next place. Esc closes."
WAITING = "The manual is being put together…"
LAYOUT = (
    "p, li { margin-bottom: 6px; } h2 { margin-top: 14px; } td, th { padding: 4px; } "
    "pre { white-space: pre-wrap; margin: 6px 12px; } th { text-align: left; }"
)
MARGIN = 48
"""Pixels beside a picture: frame, scroll bar, margins of the text."""


class Handbook(QDialog):
    """It stays open beside the window, and is put together when first asked for."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._parent = parent
        self.setWindowTitle("The manual")
        self.jobs = Jobs(self, "manual")
        self.texts: Mapping[str, str] = {}
        self._titles: Mapping[str, str] = {}
        self._found: list[str] = []
        """Names of the chapters that are listed."""
        self.words = field("Words to find", "words to find", changed=self._narrow)
        self.words.installEventFilter(self)
        self.chapters = QListWidget()
        self.chapters.setAccessibleName("Chapters")
        self.chapters.setHorizontalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        )
        self.chapters.setWordWrap(True)
        self.chapters.currentRowChanged.connect(lambda _: self._show())
        self.text = Chapter(self)
        both = QHBoxLayout()
        both.addWidget(self.chapters)
        both.addWidget(self.text, 1)
        layout = QVBoxLayout(self)
        layout.addWidget(self.words)
        layout.addLayout(both, 1)
        layout.addWidget(label(HOW, "second", wrap=True))

    def open_at(self, name: str = "") -> None:
        """Show the manual, at a chapter where one is named."""
        room = self._parent.size() * 0.9
        self.resize(
            min(LOOK.px(WIDTH), room.width()), min(LOOK.px(HEIGHT), room.height())
        )
        wide = min(LOOK.px(CHAPTERS_WIDTH), self.width() * 2 // 5)
        self.chapters.setFixedWidth(wide)
        self.show()
        self.raise_()
        self.activateWindow()
        self.words.setFocus()
        if self.texts:
            self._choose(name)
        elif not self.jobs.busy:
            self.text.setPlainText(WAITING)
            self.jobs.start(_all_texts, done=lambda made: self._fill(made, name))

    def find_next(self) -> None:
        """Show the next place of the words, from the top again after the last."""
        words = self.words.text().strip()
        if words and not self.text.find(words):
            self.text.moveCursor(QTextCursor.MoveOperation.Start)
            self.text.find(words)

    def _fill(self, made: object, name: str) -> None:
        assert isinstance(made, dict)
        self.texts = made
        self._titles = {own: _title(text) for own, text in made.items()}
        self._narrow(self.words.text())
        self._choose(name)

    def _narrow(self, text: str) -> None:
        """List the chapters that hold the words, those with them in the title first."""
        words = text.strip().casefold()
        found = [own for own in self.texts if words in self.texts[own].casefold()]
        found.sort(key=lambda own: words not in self._titles[own].casefold())
        shown = self._shown()
        self.chapters.clear()
        self._found = found
        self.chapters.addItems([self._titles[own] for own in found])
        self._choose(shown if shown in found else "")

    def _choose(self, name: str) -> None:
        if name in self._found:
            self.chapters.setCurrentRow(self._found.index(name))
        elif self.chapters.currentRow() < 0:
            self.chapters.setCurrentRow(0)

    def _shown(self) -> str:
        row = self.chapters.currentRow()
        return self._found[row] if row >= 0 else ""

    def _show(self) -> None:
        name = self._shown()
        if name != self.text.name:
            self.text.show_chapter(name, self.texts.get(name, ""))
        self.find_next()

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Move in the chapters and find on from the field."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
                self.chapters.keyPressEvent(event)
                return True
            if event.key() in {Qt.Key.Key_PageUp, Qt.Key.Key_PageDown}:
                self.text.keyPressEvent(event)
                return True
            if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                self.find_next()
                return True
        return super().eventFilter(watched, event)


class Chapter(QTextBrowser):
    """One chapter; pictures are as wide as there is room, at most as they were made."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Text of the chapter")
        self.setOpenExternalLinks(True)
        self.setTabChangesFocus(True)
        self.name = ""

    def show_chapter(self, name: str, text: str) -> None:
        """Show a chapter (Markdown)."""
        self.name = name
        self.document().setDefaultStyleSheet(LAYOUT)
        self.setHtml(chapter_html(text))

    # Qt's interface: Qt's names.

    def loadResource(self, kind: int, name: QUrl | str) -> object:
        """Bring a picture of the guides, as wide as there is room."""
        path = name.toString() if isinstance(name, QUrl) else name
        if kind != QTextDocument.ResourceType.ImageResource.value:
            return super().loadResource(kind, name)
        image = QImage.fromData(beside(path))
        room = self.viewport().width() - LOOK.px(MARGIN)
        if image.width() <= room or room <= 0:
            return image
        return image.scaledToWidth(room, Qt.TransformationMode.SmoothTransformation)


def _all_texts(_: Control) -> dict[str, str]:
    """Write every chapter; loads all commands, so not in the window's thread."""
    from scorer.cli.manual import chapters  # noqa: PLC0415 - loads all commands

    return {name: write(Voice()) for name, write in chapters().items()}


def _title(text: str) -> str:
    return text.partition("\n")[0].lstrip("# ")
