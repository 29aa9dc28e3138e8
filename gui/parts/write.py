"""Words in lists and tables, as every one writes them: each line is laid out once.

Painters write the same words again with each scroll, choice and visit; what Qt takes
longest for is laying them out.
"""

import re
from functools import lru_cache
from math import ceil

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QPainter,
    QStaticText,
    QTextLayout,
    QTextOption,
    QTransform,
)

from gui.style import LOOK
from gui.theme import Type

LEFT_TO_RIGHT = "\u200e"
LETTERS = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff"
RIGHT_TO_LEFT = re.compile(f"[{LETTERS}]")
BEFORE_NUMBER = re.compile(rf"(?<=[{LETTERS}])(?=[^\w{LETTERS}]*\d)")
MOST = 8192
"""Texts that are kept laid out: those of some pages of the largest events."""
FLAT = QTextOption(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignAbsolute)
FLAT.setWrapMode(QTextOption.WrapMode.NoWrap)
BROKEN = QTextOption()
BROKEN.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
LEFT = Qt.AlignmentFlag.AlignLeft


@lru_cache(MOST)
def advance(text: str, size: Type = Type.TEXT, *, bold: bool = False) -> int:
    """Return the width of a text, pixels."""
    return LOOK.metrics(size, bold=bold).horizontalAdvance(text)


@lru_cache(MOST)
def broken(
    text: str, room: int, size: Type = Type.TEXT, *, bold: bool = False
) -> tuple[str, ...]:
    """Return a text in lines of a width, pixels, as short as words let them be."""
    if advance(text, size, bold=bold) <= room + 1 or room <= 0:
        return (text,) if text else ()
    layout = QTextLayout(text, LOOK.font(size, bold=bold))
    layout.setTextOption(BROKEN)
    layout.beginLayout()
    lines = []
    while (line := layout.createLine()).isValid():
        line.setLineWidth(room)
        start = line.textStart()
        lines.append(text[start : start + line.textLength()].strip())
    layout.endLayout()
    return tuple(lines)


def write(
    painter: QPainter,
    box: QRectF,
    text: str,
    size: Type,
    ink: str,
    *,
    bold: bool = False,
    align: Qt.AlignmentFlag = LEFT,
) -> int:
    """Write a text into a box, shortened at its end; return its width."""
    if not text:
        return 0
    room = int(box.width()) + 1
    if advance(text, size, bold=bold) > room:
        text = LOOK.metrics(size, bold=bold).elidedText(
            text, Qt.TextElideMode.ElideRight, room
        )
    wide = advance(text, size, bold=bold)
    laid = _laid(text, size, bold=bold)
    left, top = box.left(), box.top() + (box.height() - laid.size().height()) / 2
    if align & Qt.AlignmentFlag.AlignRight:
        left = box.right() - wide
    elif align & Qt.AlignmentFlag.AlignHCenter:
        left += (box.width() - wide) / 2
    painter.setFont(LOOK.font(size, bold=bold))
    painter.setPen(QColor(ink))
    painter.drawStaticText(QPointF(left, ceil(top)), laid)
    return wide


def in_order(text: str) -> str:
    """Return a text in which each number stays beside the name that follows it.

    After a name that is read from right to left a number would be taken into it: `21 …, 38
    Søren` would read as if 38 were the first one's.
    """
    if not RIGHT_TO_LEFT.search(text):
        return text
    return LEFT_TO_RIGHT + BEFORE_NUMBER.sub(LEFT_TO_RIGHT, text)


@lru_cache(MOST)
def _laid(text: str, size: Type, *, bold: bool) -> QStaticText:
    made = QStaticText(in_order(text))
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setTextOption(FLAT)
    made.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
    made.prepare(QTransform(), LOOK.font(size, bold=bold))
    return made


def _forget() -> None:
    for kept in (advance, broken, _laid):
        kept.cache_clear()


LOOK.changed.connect(_forget)
