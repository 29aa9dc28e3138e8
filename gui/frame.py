"""The frame round the pages: top bar, rail, stack of pages, foot."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QSize
from PySide6.QtWidgets import (
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui.keys import Key, cap
from gui.pages.page import Form, Page
from gui.pages.registry import RAIL
from gui.parts.foot import Foot
from gui.parts.rail import Rail, Stop
from gui.parts.scrolled import Scrolled
from gui.parts.topbar import TopBar
from gui.style import LOOK

LEAST = QSize(200, 160)
"""A page never forces the window to be larger than the screen."""
FOOT_ALWAYS = ((Key.PANE, "next pane"), (Key.HELP, "all keys"))


class Frame(QWidget):
    """What stands round every page, and which page is in front."""

    def __init__(self, pages: Sequence[Page]) -> None:
        super().__init__()
        self._pages = {page.name: page for page in pages}
        self.top, self.rail, self.foot = TopBar(), Rail(), Foot()
        self.stack = QStackedWidget()
        for page in pages:
            self.stack.addWidget(Scrolled(page, least=LEAST))
        self.rail.fill(self._groups())
        middle = QHBoxLayout()
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addWidget(self.rail)
        middle.addWidget(self.stack, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.top)
        whole.addLayout(middle, 1)
        whole.addWidget(self.foot)
        self.form = Form.WIDE
        self._open = False

    def _groups(self) -> list[tuple[str, list[Stop]]]:
        return [
            (title, [self._stop(name) for name in names if name in self._pages])
            for title, names in RAIL
        ]

    def _stop(self, name: str) -> Stop:
        page = self._pages[name]
        return Stop(name, page.title, cap(page.key))

    def room_of(self, page: Page) -> QWidget:
        """Return what holds a page in its place."""
        found = self.stack.widget(list(self._pages).index(page.name))
        assert found is not None
        return found

    def show_page(self, page: Page) -> None:
        """Bring a page to the front."""
        self.stack.setCurrentWidget(self.room_of(page))
        self.rail.show_page(page.name)
        self.show_keys(page)
        self._list_pages(page.name)

    def show_keys(self, page: Page) -> None:
        """Show the keys of a page in the foot, where it is the one in front."""
        if self.stack.currentWidget() is self.room_of(page):
            self.foot.show_keys((*page.foot_keys, *FOOT_ALWAYS))

    def show_counts(self, counts: Mapping[str, int]) -> None:
        """Show how many matters are open by page."""
        self.rail.show_counts(counts)

    def show_open(self, *, is_open: bool) -> None:
        """Show the rail only while an event is open."""
        self._open = is_open
        self._fit_rail()

    def arrange(self) -> Form:
        """Take the form that the width in text allows; return it."""
        self.form = Form.of(LOOK.ems(self.width()))
        self.rail.narrow = self.top.narrow = self.form is not Form.WIDE
        self.top.small = self.form is Form.SMALL
        self.rail.fit()
        self.top.fit()
        self._fit_rail()
        return self.form

    def _fit_rail(self) -> None:
        small = self.form is Form.SMALL
        self.rail.setVisible(self._open and not small)
        self.top.pages.setVisible(self._open and small)

    def _list_pages(self, name: str) -> None:
        stops = [stop for _, group in self._groups() for stop in group]
        every: list[tuple[str, object]] = [(stop.title, stop.name) for stop in stops]
        self.top.show_pages(every, name, self._pages[name].title)
