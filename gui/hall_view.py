"""The board in the hall: a window of its own for a second screen, read only.

It is given a `HallBoard`, which knows publications alone.  Sizes go by the height of the
window: a row of the pages has a forty-fifth of it, 24 pixels at 1080.
"""

import segno
from PySide6.QtCore import QRectF, Qt, QTimer
from PySide6.QtGui import QColor, QFont, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from gui.models.hall import FIRST, PAGE, PAGE_S, HallBoard, HallRow
from gui.style import families
from gui.theme import DUSK, Theme
from scorer.facts import fact, number, words
from scorer.sheets.stamp import Binding as Stage
from scorer.words.voice import Voice

ROWS = PAGE // 2
"""Rows of one column of further places."""
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
LEFT = (
    Qt.AlignmentFlag.AlignLeft
    | Qt.AlignmentFlag.AlignVCenter
    | Qt.AlignmentFlag.AlignAbsolute
)
PLACES = 3
"""Places that stand out."""


class HallWindow(QWidget):
    """Shows a publication, ten rows always and the others page by page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle("Hall board")
        self.setAccessibleName("Hall board")
        self.setMinimumSize(640, 360)
        self.theme: Theme = DUSK
        self.board: HallBoard | None = None
        self.away = ""
        """Since when the desk is away; empty = it is here."""
        self.address = ""
        self.page, self.left_s = 0, PAGE_S
        self.voice = Voice()
        self._second = QTimer(self, interval=1000)
        self._second.timeout.connect(self._tick)
        self._second.start()

    def show_board(self, board: HallBoard) -> None:
        """Show what was published last; the page stays while it is the same."""
        if board != self.board:
            self.board = board
            self.page = min(self.page, board.pages - 1)
            self._renew()

    def set_theme(self, theme: Theme) -> None:
        """Take over colours: Dusk for screens, Noon for projectors."""
        self.theme = theme
        self.update()

    def set_away(self, since: str) -> None:
        """Say since when the desk is away; the page stays."""
        if since != self.away:
            self.away = since
            self._renew()

    def set_address(self, address: str) -> None:
        """Set where pilots find their own page."""
        self.address = address.strip()
        self.update()

    def next_page(self) -> None:
        """Turn to the next page."""
        if self.board is not None:
            self.page = (self.page + 1) % self.board.pages
        self.left_s = PAGE_S
        self._renew()

    def _renew(self) -> None:
        """Draw what changed, and say it."""
        if self.board is not None:
            said = spoken(self.board, self.page, self.away, self.voice)
            self.setAccessibleDescription(said)
        self.update()

    def _tick(self) -> None:
        self.left_s -= 1
        if self.left_s <= 0:
            self.next_page()
        elif self.isVisible():
            self.update()

    # Qt's interface: Qt's names.

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Esc to close it."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw all of it."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self.theme.window))
        if self.board is not None:
            _Drawing(painter, self, self.board).draw()
        painter.end()


def spoken(board: HallBoard, page: int, away: str, voice: Voice) -> str:
    """Say all that a page of the board shows, for screen readers."""
    rows = (*board.rows[:FIRST], *board.page(page))
    if away:
        below: tuple[str, ...] = (voice.say(fact("hall-away", since=words(away))),)
    else:
        below = board.tasks[-LINES:]
    parts = (
        board.title,
        ", ".join(filter(None, (board.stage_word, board.when, board.open_words))),
        "; ".join(_spoken_row(row, voice) for row in rows),
        board.ranks_words(page),
        *below,
    )
    return ". ".join(part.rstrip(".") for part in parts if part)


def _spoken_row(row: HallRow, voice: Voice) -> str:
    number = "" if row.pilot is None else f"{row.pilot} "
    said = f"{row.rank}: {number}{row.name} {row.total}"
    return f"{said}, {voice.word('hall-may-change')}" if row.open else said


LINES = 3
"""Tasks that stand below, the last ones."""
LEAST = 0.55
"""A long text is written smaller before it is cut, down to this share of its size."""


class _Drawing:
    """One picture of the board."""

    def __init__(self, painter: QPainter, window: HallWindow, board: HallBoard) -> None:
        self.painter, self.window, self.board = painter, window, board
        self.theme = window.theme
        self.u = min(window.height() / 1080, window.width() / 1500)
        self.wide = window.width() / self.u
        self.edge = 56.0

    def draw(self) -> None:
        """Draw head, rows, foot."""
        self._head()
        first = self.board.rows[:FIRST]
        more = self.board.page(self.window.page)
        room = self.wide - 2 * self.edge
        share = 0.39 if more else 1.0
        self._big(first, self.edge, room * share)
        gap = 64.0
        column = (room * (1 - share) - 2 * gap) / 2
        for place in range(2):
            x = self.edge + room * share + gap + place * (column + gap)
            self._small(more[place * ROWS : (place + 1) * ROWS], x, column)
        self._foot(more)

    def _head(self) -> None:
        board, theme = self.board, self.theme
        said = "  ·  ".join(filter(None, (board.when, board.open_words)))
        words_wide = max(self._width(board.stage_word, 38), self._width(said, 22))
        box_wide = 0.0 if board.stage is None else min(words_wide + 60, 640.0)
        room = self.wide - 2 * self.edge - box_wide - 30
        self._text(board.event, (self.edge, 34, room, 40), 30, theme.muted)
        size = 54 * min(room / max(self._width(board.title, 54), 1.0), 1.0)
        at = (self.edge, 76, room, 70)
        self._text(board.title, at, max(size, 34), theme.text, bold=True)
        self._line(160)
        if board.stage is None:
            return
        ink = theme.warn if board.stage is Stage.PROVISIONAL else theme.good
        x = self.wide - self.edge - box_wide
        self.painter.setPen(QPen(QColor(ink), 2 * self.u))
        self.painter.setBrush(QColor(theme.panel))
        box = self._box(x, 40, box_wide, 92)
        self.painter.drawRoundedRect(box, 6 * self.u, 6 * self.u)
        self._text(
            board.stage_word, (x + 24, 46, box_wide - 48, 48), 38, ink, bold=True
        )
        self._text(said, (x + 24, 92, box_wide - 48, 34), 22, theme.text)

    def _big(self, rows: tuple[HallRow, ...], x: float, wide: float) -> None:
        step, theme = 76.2, self.theme
        numbers = self._numbers(rows, 32)
        left = 90 + numbers + 18
        for place, row in enumerate(rows):
            y = 172 + place * step
            lead = row.rank.isdecimal() and int(row.rank) <= PLACES
            ink = theme.accent if lead else theme.text
            self._text(row.rank, (x, y, 76, step), 44, ink, bold=True, side=RIGHT)
            number_ = "" if row.pilot is None else str(row.pilot)
            at = (x + 90, y, numbers, step)
            self._text(number_, at, 32, theme.muted, bold=True, side=RIGHT)
            total = max(110.0, self._width(row.total, 42) + 8)
            at = (x + left, y, wide - left - total - 60, step)
            size = self._fitting(row.name, at[2], 36, bold=True)
            self._text(row.name, at, size, theme.text, bold=True)
            if row.open:
                self._half(x + wide - total - 30, y + step / 2, 10)
            end = x + wide - total
            self._text(
                row.total, (end, y, total, step), 42, theme.text, bold=True, side=RIGHT
            )
            self._line(y + step, x, x + wide)

    def _small(self, rows: tuple[HallRow, ...], x: float, wide: float) -> None:
        step, theme = 36.3, self.theme
        numbers = self._numbers(rows, 22)
        left = 62 + numbers + 12
        for place, row in enumerate(rows):
            y = 172 + place * step
            self._text(
                row.rank, (x, y, 54, step), 24, theme.text, bold=True, side=RIGHT
            )
            number_ = "" if row.pilot is None else str(row.pilot)
            at = (x + 62, y, numbers, step)
            self._text(number_, at, 22, theme.muted, bold=True, side=RIGHT)
            total = max(66.0, self._width(row.total, 24) + 6)
            at = (x + left, y, wide - left - total - 40, step)
            size = self._fitting(row.name, at[2], 24)
            self._text(row.name, at, size, theme.text)
            if row.open:
                self._half(x + wide - total - 18, y + step / 2, 7)
            end = x + wide - total
            self._text(
                row.total, (end, y, total, step), 24, theme.text, bold=True, side=RIGHT
            )
            self._line(y + step, x, x + wide)

    def _foot(self, more: tuple[HallRow, ...]) -> None:
        theme, voice = self.theme, self.window.voice
        self._line(954)
        code = self._code()
        room = self.wide - 2 * self.edge - code
        if self.window.away:
            said = voice.say(fact("hall-away", since=words(self.window.away)))
            self._text(
                said, (self.edge, 966, room * 0.55, 40), 27, theme.warn, bold=True
            )
        else:
            for place, line in enumerate(self.board.tasks[-LINES:]):
                y = 962 + place * 34
                self._text(line, (self.edge, y, room * 0.55, 34), 23, theme.muted)
        if any(row.open for row in self.board.rows):
            x = self.edge + room * 0.56
            self._half(x, 1026, 9)
            said = voice.word("hall-may-change")
            size = self._fitting(said, room * 0.2, 23)
            self._text(said, (x + 20, 1009, room * 0.2, 34), size, theme.muted)
        x, wide = self.edge + room * 0.62, room * 0.38 - 24
        if more:
            ranks = self.board.ranks_words(self.window.page)
            self._text(ranks, (x, 966, wide, 38), 27, theme.text, bold=True, side=RIGHT)
        parts = []
        if self.board.pages > 1:
            left = number(self.window.left_s)
            parts.append(voice.say(fact("hall-next-page", seconds=left)))
        if code:
            parts.append(voice.word("hall-own-page"))
        at = (self.edge + room * 0.79, 1009, room * 0.21 - 24, 34)
        told = "; ".join(parts)
        size = self._fitting(told, at[2], 23)
        self._text(told, at, size, theme.muted, side=RIGHT)

    def _code(self) -> float:
        """Draw the code that leads to the pages; return the room it takes."""
        if not self.window.address:
            return 0.0
        side, margin = 104.0, 8.0
        matrix = segno.make(self.window.address, error="m", micro=False).matrix
        x, y = self.wide - self.edge - side, 966.0
        self.painter.fillRect(self._box(x, y, side, side), QColor("#ffffff"))
        cell = (side - 2 * margin) / len(matrix)
        for row, line in enumerate(matrix):
            for column, dark in enumerate(line):
                if dark:
                    at = (x + margin + column * cell, y + margin + row * cell)
                    box = self._box(*at, cell + 0.4, cell + 0.4)
                    self.painter.fillRect(box, QColor("#000000"))
        return side + 16

    # How things are drawn.

    def _box(self, x: float, y: float, wide: float, high: float) -> QRectF:
        return QRectF(x * self.u, y * self.u, wide * self.u, high * self.u)

    def _line(self, y: float, x: float | None = None, to: float | None = None) -> None:
        self.painter.setPen(QPen(QColor(self.theme.line), max(1.0, self.u)))
        start = self.edge if x is None else x
        end = self.wide - self.edge if to is None else to
        at = int(y * self.u)
        self.painter.drawLine(int(start * self.u), at, int(end * self.u), at)

    def _font(self, size: float, *, bold: bool) -> QFont:
        font = QFont()
        font.setFamilies(families())
        font.setPixelSize(max(1, round(size * self.u)))
        font.setWeight(QFont.Weight.Bold if bold else QFont.Weight.Normal)
        return font

    def _numbers(self, rows: tuple[HallRow, ...], size: float) -> float:
        """Return the room that the longest number takes."""
        told = (str(row.pilot) for row in rows if row.pilot is not None)
        return max((self._width(one, size) for one in told), default=0.0) + 4

    def _fitting(
        self, text: str, wide: float, size: float, *, bold: bool = False
    ) -> float:
        """Return the size in which a text stands whole; below the least it is cut."""
        dots, least = round(size * self.u), round(size * LEAST * self.u)
        while dots > least and self._width(text, dots / self.u, bold=bold) > wide - 2:
            dots -= 1
        return dots / self.u

    def _width(self, text: str, size: float, *, bold: bool = True) -> float:
        self.painter.setFont(self._font(size, bold=bold))
        return self.painter.fontMetrics().horizontalAdvance(text) / self.u

    def _text(
        self,
        text: str,
        at: tuple[float, float, float, float],
        size: float,
        ink: str,
        *,
        bold: bool = False,
        side: Qt.AlignmentFlag = LEFT,
    ) -> None:
        if not text or at[2] <= 0:
            return
        self.painter.setFont(self._font(size, bold=bold))
        self.painter.setPen(QColor(ink))
        box = self._box(*at)
        fits = self.painter.fontMetrics().elidedText(
            text, Qt.TextElideMode.ElideRight, int(box.width()) + 1
        )
        self.painter.drawText(box, int(side), fits)

    def _half(self, x: float, y: float, radius: float) -> None:
        """Draw the half disc: this may change."""
        box = self._box(x - radius, y - radius, 2 * radius, 2 * radius)
        self.painter.setPen(QPen(QColor(self.theme.warn), 2 * self.u))
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.drawEllipse(box)
        self.painter.setBrush(QColor(self.theme.warn))
        self.painter.drawPie(box, 90 * 16, 180 * 16)
