"""How cells of our workbooks look, and a workbook that knows all of it from the start."""

from array import array
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl import Workbook
from openpyxl.cell.cell import Cell as TheirCell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.styles.cell_style import StyleArray
from openpyxl.styles.numbers import BUILTIN_FORMATS_MAX_SIZE, BUILTIN_FORMATS_REVERSE

INK, SLATE, SAND, CLAY, LINE = "1D2B34", "2E4A59", "F5EFE3", "A8521C", "B9B2A3"
FACE = "Arial"
TITLE = Font(name=FACE, size=15, bold=True, color=SLATE)
NOTE = Font(name=FACE, size=9, color="55606A")
BODY = Font(name=FACE, size=9, color=INK)
STRONG = Font(name=FACE, size=9, color=INK, bold=True)
HEAD = Font(name=FACE, size=9, color="FFFFFF", bold=True)
LIVE = Font(name=FACE, size=9, color="1F4E8C")
"""Cells that hold formulas, blue so that an auditor finds them."""
NOT_COUNTED = Font(name=FACE, size=9, color="8A8F94", strike=True)
HEAD_FILL = PatternFill("solid", fgColor=SLATE)
BAND_FILL = PatternFill("solid", fgColor=SAND)
THIN = Side(style="thin", color=LINE)
BELOW = Border(bottom=THIN)
WRAP = Alignment(wrap_text=True, vertical="top", horizontal="left")
TEXT = Alignment(vertical="top", horizontal="left")
NUMBER = Alignment(vertical="top", horizontal="right", indent=1)
MIDDLE = Alignment(vertical="top", horizontal="center")
HEAD_ALIGN = Alignment(wrap_text=True, vertical="center", horizontal="center")
HEAD_TEXT = Alignment(wrap_text=True, vertical="center", horizontal="left")
MOST_DECIMALS = 9
OURS: tuple[Sequence[Any], ...] = (
    (TITLE, NOTE, BODY, STRONG, HEAD, LIVE, NOT_COUNTED),
    (HEAD_FILL, BAND_FILL),
    (BELOW,),
    (WRAP, TEXT, NUMBER, MIDDLE, HEAD_ALIGN, HEAD_TEXT),
    tuple(
        form
        for form in ("0", *(f"0.{'0' * n}" for n in range(1, MOST_DECIMALS + 1)))
        if form not in BUILTIN_FORMATS_REVERSE
    ),
)
"""Fonts, fills, borders, alignments and formats of numbers that cells have."""


@dataclass(slots=True)
class Cell:
    """A cell to be written; looks are our constants, None = plain.

    openpyxl's own cells compare each look with all there are, and copy it, at every touch:
    that takes most of the time of a workbook.
    """

    value: str | int | float | None = None
    """What stands in it; of a formula what it comes to now."""
    formula: str = ""
    font: Font | None = None
    alignment: Alignment | None = None
    border: Border | None = None
    fill: PatternFill | None = None
    form: str = ""
    """Format of numbers."""
    quoted: bool = False
    """A text that begins as formulas do."""


class Book(Workbook):  # type: ignore[misc]
    """A workbook that knows from the start all that cells of ours look like.

    So fonts and formats have the same numbers whatever is written first, and rows that
    were written before can be put into another one.
    """

    def __init__(self) -> None:
        super().__init__()
        for known, ours in zip(self._lists(), OURS, strict=True):
            for one in ours:
                known.add(one)
        self._own = tuple(map(len, self._lists()))
        self._looks: dict[tuple[object, ...], tuple[bytes, int, object]] = {}

    def look(self, cell: Cell) -> tuple[bytes, int]:
        """Return how a cell looks, and the number that this has; 0 where it is plain."""
        looks = cell.font, cell.alignment, cell.border, cell.fill
        key = (*map(id, looks), cell.form, cell.quoted)
        if key not in self._looks:
            # Held with its looks: so no other one takes an address of the key.
            self._looks[key] = *self._made(cell), looks
        own, number, _ = self._looks[key]
        return own, number

    def _made(self, cell: Cell) -> tuple[bytes, int]:
        theirs = TheirCell(self.worksheets[0])
        for name in ("font", "alignment", "border", "fill"):
            if (value := getattr(cell, name)) is not None:
                setattr(theirs, name, value)
        if cell.form:
            theirs.number_format = cell.form
        if cell.quoted:
            theirs.quotePrefix = True
        number = theirs.style_id
        return theirs._style.tobytes(), number  # noqa: SLF001 - openpyxl's own recipe

    def has(self, looks: Sequence[bytes], numbers: Sequence[int]) -> bool:
        """Take looks from another workbook; tell whether they have their numbers here."""
        known = (self._cell_styles.add(StyleArray(array("i", own))) for own in looks)
        return tuple(numbers) == tuple(known)

    def steady(self, looks: Sequence[bytes]) -> bool:
        """Tell whether looks consist of nothing but what is known from the start."""
        return all(
            own < most
            for look in looks
            for own, most in zip(_parts(look), self._own, strict=True)
        )

    def _lists(self) -> tuple[Any, ...]:
        return (
            self._fonts,
            self._fills,
            self._borders,
            self._alignments,
            self._number_formats,
        )


def _parts(look: bytes) -> tuple[int, ...]:
    """Return the numbers of a look's font, fill, border, alignment and own format."""
    own = StyleArray(array("i", look))
    form = max(own.numFmtId - BUILTIN_FORMATS_MAX_SIZE, 0)
    return own.fontId, own.fillId, own.borderId, own.alignmentId, form
