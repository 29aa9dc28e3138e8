"""What is remembered for each screen: where the window stands, size of text, colours.

A beamer and a small laptop ask for other text, a hall and a field for other colours; a
screen that is new gets the colours that were chosen last.
"""

from collections.abc import Callable

from PySide6.QtCore import QByteArray, QSize
from PySide6.QtGui import QGuiApplication, QScreen
from PySide6.QtWidgets import QStyle, QWidget

from gui.home import Settings
from gui.theme import NOON, SIZES, THEMES, Theme

FIRST = QSize(1280, 800)
EDGE = 8
"""So thick are the edges that the system draws beside its title bar, pixels."""
LARGE_SCREEN, LARGE_STEP = 1900, 2
"""On screens so wide, larger text is proposed at the first start."""


def name_of(screen: QScreen) -> str:
    """Name a screen by what it is and how large."""
    size = screen.geometry().size()
    name = "".join(c for c in screen.name() if c.isalnum())
    return f"{name} {size.width()}x{size.height()}"


class ScreenMemory:
    """What is remembered for the screen on which a window stands."""

    def __init__(self, window: QWidget, settings: Callable[[], Settings]) -> None:
        self._window, self._settings = window, settings

    @property
    def name(self) -> str:
        """The screen on which the window stands."""
        return name_of(self._window.screen())

    def _text(self, key: str, default: str = "") -> str:
        return self._settings().text(f"{key} {self.name}", default)

    def _keep(self, key: str, value: str) -> None:
        self._settings().set_text(f"{key} {self.name}", value)

    @property
    def theme(self) -> Theme:
        """The colours chosen here, else those chosen last anywhere."""
        last = self._settings().text("theme", NOON.name)
        return THEMES.get(self._text("theme", last), NOON)

    def next_theme(self) -> None:
        """Change between the light and the dark look."""
        names = list(THEMES)
        following = names[(names.index(self.theme.name) + 1) % len(names)]
        self._keep("theme", following)
        self._settings().set_text("theme", following)

    @property
    def step(self) -> int:
        """The step of the text's size."""
        large = self._window.screen().availableGeometry().width() >= LARGE_SCREEN
        text = self._text("size", str(LARGE_STEP if large else 0))
        return int(text) if text in {str(i) for i in range(len(SIZES))} else 0

    def set_step(self, step: int) -> None:
        """Take a step of the text's size, as far as there is one."""
        self._keep("size", str(min(max(step, 0), len(SIZES) - 1)))

    def restore(self) -> None:
        """Stand where the user left the window, never beyond the screen's edges."""
        left = self._settings().text("screen")
        for screen in QGuiApplication.screens():
            if name_of(screen) == left and screen is not self._window.screen():
                self._window.setScreen(screen)
        title_bar = self._window.style().pixelMetric(
            QStyle.PixelMetric.PM_TitleBarHeight
        )
        free = self._window.screen().availableGeometry().size()
        free -= QSize(0, title_bar + EDGE)
        self._window.resize(FIRST.boundedTo(free))
        kept = self._text("geometry")
        if kept:
            self._window.restoreGeometry(QByteArray.fromHex(kept.encode()))
        self._window.resize(self._window.size().boundedTo(free))

    def keep_place(self) -> None:
        """Remember where the window stands."""
        left = bytes(self._window.saveGeometry().toHex().data()).decode()
        self._keep("geometry", left)
        self._settings().set_text("screen", self.name)
