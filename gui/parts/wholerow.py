"""What the chosen row of a table says and its cells have no room for.

A page puts `WholeRow(table)` under a table whose words stand nowhere else in full.
"""

from html import escape

from gui.parts.wrapped import Wrapped
from gui.view import TableView


class WholeRow(Wrapped):
    """Cells that are cut or left out, each behind the head of its column."""

    def __init__(self, table: TableView) -> None:
        super().__init__(look="second")
        self.setAccessibleName("The chosen row in full")
        self._table = table
        table.chosen.connect(lambda _: self._tell())
        table.fitted.connect(self._tell)
        self.hide()

    def _tell(self) -> None:
        cut = [(a, b.replace("\n", " · ")) for a, b in self._table.cut()]
        told = (f"<b>{escape(title)}</b>&ensp;{escape(text)}" for title, text in cut)
        self.setText("&emsp;".join(told))
        self.setAccessibleDescription(". ".join(f"{a}: {b}" for a, b in cut))
        self.setVisible(bool(cut))
