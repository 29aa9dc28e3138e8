"""Text on paper: embedded fonts, fall-back for other scripts, right-to-left order."""

import io
import re
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files

from arabic_reshaper import ArabicReshaper
from bidi import get_display
from reportlab.pdfbase.pdfdoc import PDFDocument
from reportlab.pdfbase.pdfmetrics import getFont, registerFont
from reportlab.pdfbase.ttfonts import TTFont

BOOK, BOLD, HAN, HANGUL, SIGNS = (
    "SheetBook",
    "SheetBold",
    "SheetHan",
    "SheetHangul",
    "SheetSigns",
)
_FILES = {
    BOOK: "DejaVuSansCondensed.ttf",
    BOLD: "DejaVuSansCondensed-Bold.ttf",
    HAN: "SheetHan.ttf",
    HANGUL: "SheetHangul.ttf",
    SIGNS: "SheetSigns.ttf",
}
_FRAME = "\u25a1"
"""Stands for a sign that none of the fonts has."""
_RIGHT_TO_LEFT = {"R", "AL", "RLE", "RLO", "RLI"}
_SHAPER = ArabicReshaper({"support_ligatures": True, "delete_harakat": False})


class _Font(TTFont):  # type: ignore[misc]
    """A font whose copied text keeps the signs beyond the first plane.

    reportlab 5.1 writes them into a ToUnicode map with their bare number, where PDF asks
    for UTF-16: readers then lose every emoji that is searched for or copied.
    """

    def addObjects(self, doc: PDFDocument) -> None:
        super().addObjects(doc)
        for name, stream in doc.idToObject.items():
            if name.startswith("toUnicodeCMap:"):
                stream.content = _BEYOND.sub(_utf16, stream.content)


_BEYOND = re.compile("<([0-9A-F]{5,6})>")


def _utf16(match: re.Match[str]) -> str:
    return f"<{chr(int(match[1], 16)).encode('utf-16-be').hex().upper()}>"


@cache
def font(name: str) -> TTFont:
    """Return one of our fonts, loaded at its first use."""
    path = files("scorer.sheets") / "fonts" / _FILES[name]
    loaded = _Font(name, io.BytesIO(path.read_bytes()))
    registerFont(loaded)
    return getFont(name)


def visual(text: str) -> str:
    """Put text into the order and the letter forms in which it is drawn.

    Our sheets read from left to right, so a right-to-left name stands within the line:
    number, name, registration stay in that order.
    """
    if any(unicodedata.bidirectional(sign) in _RIGHT_TO_LEFT for sign in text):
        return str(get_display(_SHAPER.reshape(text), base_dir="L"))
    return text


@lru_cache(maxsize=20_000)
def runs(text: str, *, bold: bool = False) -> tuple[tuple[str, str], ...]:
    """Split text into (font name, piece) in the order drawn from left to right."""
    pieces: list[tuple[str, str]] = []
    for sign in visual(text):
        if unicodedata.category(sign) in {"Cf", "Cn", "Mn"} and not _first_has(sign):
            continue  # joiners, direction marks, emoji selectors: nothing to draw
        name, drawn = _placed(sign, bold=bold)
        if pieces and pieces[-1][0] == name:
            pieces[-1] = (name, pieces[-1][1] + drawn)
        else:
            pieces.append((name, drawn))
    return tuple(pieces)


def _first_has(sign: str) -> bool:
    return (
        ord(sign) in font(BOOK).face.charToGlyph and unicodedata.category(sign) == "Mn"
    )


@lru_cache(maxsize=5_000)
def _placed(sign: str, *, bold: bool) -> tuple[str, str]:
    for name in (BOLD if bold else BOOK, BOOK, HAN, HANGUL, SIGNS):
        if ord(sign) in font(name).face.charToGlyph:
            return name, sign
    return BOOK, _FRAME


@lru_cache(maxsize=50_000)
def width(text: str, size: float, *, bold: bool = False) -> float:
    """Return the width of a line of text, in points."""
    return sum(
        float(font(name).stringWidth(piece, size))
        for name, piece in runs(text, bold=bold)
    )


def fitted(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """Cut text with an ellipsis where it is wider than `room` points."""
    if width(text, size, bold=bold) <= room:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if width(text[:middle].rstrip() + "…", size, bold=bold) <= room:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"


def wrapped(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Break text into lines no wider than `room` points; long words are cut."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width(longer, size, bold=bold) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        *cut, line = _cut(word, room, size, bold=bold)
        lines.extend(cut)
    return [*lines, line] if line or not lines else lines


def _cut(word: str, room: float, size: float, *, bold: bool) -> list[str]:
    pieces, piece = [], ""
    for sign in word:
        if piece and width(piece + sign, size, bold=bold) > room:
            pieces.append(piece)
            piece = ""
        piece += sign
    return [*pieces, piece]
