"""The looks as Qt takes them: fonts, palette, style sheet, and where they stand now."""

from collections.abc import Callable
from functools import cache
from importlib import resources
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetrics, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from gui.theme import (
    BAR,
    INSIDE,
    NOON,
    RADIUS,
    UNIT,
    Theme,
    Type,
)

FAMILY = "Noto Sans"
STYLE = "fusion"


class Look(QObject):
    """The look that holds now; painters ask it, and hear when it changes."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.theme: Theme = NOON
        self.size = 1.0
        self.sheet = ""
        """The style sheet."""
        self._fonts: dict[tuple[Type, bool], QFont] = {}
        self._metrics: dict[tuple[Type, bool], QFontMetrics] = {}

    def take(self, theme: Theme, size: float) -> None:
        """Take over colours and a size of text."""
        self.theme, self.size = theme, size
        self.sheet = style_sheet(theme, size)
        self._fonts.clear()
        self._metrics.clear()

    def px(self, length: float) -> int:
        """Return a length that grows with the text, pixels."""
        return round(length * self.size)

    def font(self, kind: Type = Type.TEXT, *, bold: bool = False) -> QFont:
        """Return the font of a size of text; painters ask for it with each cell."""
        made = self._fonts.get((kind, bold))
        if made is None:
            made = self._fonts[kind, bold] = self._font(kind, bold=bold)
        return made

    def _font(self, kind: Type, *, bold: bool) -> QFont:
        font = QFont()
        font.setFamilies(families())
        font.setPixelSize(self.px(kind))
        font.setWeight(QFont.Weight.Bold if bold else QFont.Weight.Normal)
        return font

    def ems(self, width_px: int) -> float:
        """Return a width in widths of text, as layouts break by it."""
        return width_px / self.px(Type.TEXT)

    def metrics(self, kind: Type = Type.TEXT, *, bold: bool = False) -> QFontMetrics:
        """Return the measures of a size of text."""
        made = self._metrics.get((kind, bold))
        if made is None:
            made = QFontMetrics(self.font(kind, bold=bold))
            self._metrics[kind, bold] = made
        return made


LOOK = Look()
"""There is one program, and it has one look."""


def apply(theme: Theme, size: float) -> None:
    """Let a look and a size of text hold from now on; `dress` gives it to widgets."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        return
    families()
    LOOK.take(theme, size)
    if app.style().objectName() != STYLE:
        app.setStyle(STYLE)
    app.setPalette(_palette(theme))
    app.setFont(LOOK.font())
    LOOK.changed.emit()


def dress(widget: QWidget) -> bool:
    """Give a widget, and all inside it, the look that holds; tell whether it had another.

    Each page is dressed by itself, for Qt goes through all that a sheet holds for: a page
    behind waits until somebody goes there, or until nobody is kept waiting.
    """
    if widget.styleSheet() == LOOK.sheet:
        return False
    widget.setStyleSheet(LOOK.sheet)
    return True


def follow(told: Callable[[], object]) -> None:
    """Call a widget's method now and whenever the look changes; Qt drops it with it."""
    LOOK.changed.connect(told)
    told()


@cache
def families() -> list[str]:
    """Load the fonts of the printed sheets, for names come in any writing; name them."""
    found = {FAMILY: None}
    for file in sorted(Path(str(resources.files("scorer.sheets") / "fonts")).iterdir()):
        if file.suffix == ".ttf":
            number = QFontDatabase.addApplicationFont(str(file))
            found |= dict.fromkeys(QFontDatabase.applicationFontFamilies(number))
    return list(found)


def _palette(theme: Theme) -> QPalette:
    roles = {
        QPalette.ColorRole.Window: theme.window,
        QPalette.ColorRole.WindowText: theme.text,
        QPalette.ColorRole.Base: theme.panel,
        QPalette.ColorRole.AlternateBase: theme.panel,
        QPalette.ColorRole.Text: theme.text,
        QPalette.ColorRole.Button: theme.panel,
        QPalette.ColorRole.ButtonText: theme.text,
        QPalette.ColorRole.ToolTipBase: theme.panel,
        QPalette.ColorRole.ToolTipText: theme.text,
        QPalette.ColorRole.PlaceholderText: theme.muted,
        QPalette.ColorRole.Highlight: theme.chosen,
        QPalette.ColorRole.HighlightedText: theme.chosen_text,
        QPalette.ColorRole.Link: theme.accent,
        QPalette.ColorRole.Mid: theme.line,
    }
    palette = QPalette()
    for role, colour in roles.items():
        palette.setColor(role, QColor(colour))
    off = QPalette.ColorGroup.Disabled
    for role in (QPalette.ColorRole.ButtonText, QPalette.ColorRole.Text):
        palette.setColor(off, role, QColor(theme.muted))
    return palette


def style_sheet(theme: Theme, size: float) -> str:
    """Return the style sheet of a look."""
    px = {kind.name.lower(): f"{round(kind * size)}px" for kind in Type}
    pad = f"{round(UNIT * size)}px {round(INSIDE * size)}px"
    ring, dot = 2 * round(6 * size), 2 * round(2 * size)
    down = (Path(__file__).parent / "signs" / f"down-{theme.name}.svg").as_posix()
    return f"""
* {{ font-size: {px["text"]}; }}
QMainWindow, QDialog, QScrollArea > QWidget > QWidget {{ background: {theme.window}; }}
QToolTip {{ color: {theme.text}; background: {theme.panel};
  border: 1px solid {theme.edge}; }}
#top {{ background: {theme.panel}; border-bottom: 1px solid {theme.line}; }}
#bottom {{ background: {theme.panel}; border-top: 1px solid {theme.line}; }}
#bottom QLabel {{ font-size: {px["second"]}; }}
#rail {{ background: {theme.window}; border: 2px solid {theme.window};
  border-radius: 0; padding: 0; border-right: 1px solid {theme.line}; outline: none; }}
#rail:focus {{ border: 2px solid {theme.accent}; padding: 0; }}
#eventName {{ font-weight: bold; }}
#title {{ font-weight: bold; font-size: {px["title"]}; }}
#greatest {{ font-weight: bold; font-size: {px["greatest"]}; }}
#figure {{ font-weight: bold; font-size: {px["figure"]}; }}
#entry {{ font-weight: bold; font-size: {px["entry"]}; }}
#entry[empty="true"] {{ font-weight: normal; font-size: {px["section"]}; }}
#section {{ font-weight: bold; font-size: {px["section"]}; }}
#strong {{ font-weight: bold; }}
#second {{ color: {theme.muted}; font-size: {px["second"]}; }}
#caption {{ color: {theme.muted}; font-size: {px["caption"]}; }}
#hint, #muted {{ color: {theme.muted}; }}
#caution {{ color: {theme.muted}; font-size: {px["second"]}; }}
#warn {{ color: {theme.warn}; font-weight: bold; }}
#bad {{ color: {theme.bad}; font-weight: bold; }}
#good {{ color: {theme.good}; font-weight: bold; }}
#big {{ font-size: {px["entry"]}; font-weight: bold; padding: {pad}; }}
#name {{ font-size: {px["title"]}; font-weight: bold; }}
#card QScrollArea > QWidget > QWidget {{ background: {theme.panel}; }}
#card, #actBar {{ background: {theme.panel}; border: 1px solid {theme.line};
  border-radius: {RADIUS}px; }}
#actBar {{ border-left: {BAR}px solid {theme.accent}; }}
#told {{ background: {theme.chosen}; border-left: {BAR}px solid {theme.accent};
  padding: {INSIDE}px {BAR + INSIDE}px; }}
#quiet {{ background: {theme.stripe}; border-radius: {RADIUS}px; padding: {pad}; }}
QLineEdit, QPlainTextEdit, QTextBrowser, QListWidget, QSpinBox, QComboBox {{
  background: {theme.panel}; color: {theme.text}; border: 1px solid {theme.edge};
  border-radius: {RADIUS}px; padding: {pad};
  selection-background-color: {theme.chosen}; selection-color: {theme.chosen_text}; }}
QLineEdit, QPlainTextEdit {{ placeholder-text-color: {theme.muted}; }}
QLineEdit:focus, QPlainTextEdit:focus, QListWidget:focus, QTextBrowser:focus,
QSpinBox:focus, QComboBox:focus, QComboBox:on {{ border: 2px solid {theme.accent};
  padding: {round(UNIT * size) - 1}px {round(INSIDE * size) - 1}px; }}
QLineEdit[wrong="true"] {{ border: 2px solid {theme.bad}; }}
QComboBox::drop-down {{ border: none; width: {round(22 * size)}px; }}
QComboBox::down-arrow {{ image: url("{down}"); width: {round(11 * size)}px;
  height: {round(11 * size)}px; }}
QComboBox QLineEdit {{ border: none; padding: 0; }}
QComboBox QAbstractItemView {{ background: {theme.panel}; color: {theme.text};
  border: 1px solid {theme.edge}; outline: none;
  selection-background-color: {theme.chosen}; selection-color: {theme.chosen_text}; }}
#taskChoice {{ font-weight: bold; }}
#goTo {{ text-align: left; color: {theme.muted}; }}
QPushButton, QToolButton {{ background: {theme.panel}; color: {theme.text};
  border: 1px solid {theme.edge}; border-radius: {RADIUS}px;
  padding: {round(UNIT * size)}px {round(BAR * 3 * size)}px; }}
QPushButton:hover, QToolButton:hover {{ border-color: {theme.accent}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {theme.accent};
  padding: {round(UNIT * size) - 1}px {round(BAR * 3 * size) - 1}px; }}
QToolButton:checked {{ background: {theme.chosen}; border-color: {theme.accent};
  font-weight: bold; }}
QPushButton:disabled, QToolButton:disabled {{ color: {theme.muted};
  background: {theme.window}; border-color: {theme.line}; }}
QPushButton#main {{ background: {theme.accent}; color: {theme.accent_text};
  font-weight: bold; border-color: {theme.accent}; }}
QPushButton#main:focus {{ border: 2px solid {theme.text}; }}
QPushButton#main:disabled {{ background: {theme.window}; color: {theme.muted};
  border-color: {theme.line}; }}
QPushButton#main QLabel {{ color: {theme.accent_text}; font-weight: bold; }}
QPushButton#main QLabel:disabled {{ color: {theme.muted}; }}
QPushButton#plain {{ border: 2px solid transparent; background: transparent; padding: 0; }}
QPushButton#plain:focus {{ border: 2px solid {theme.accent}; }}
QPushButton#link {{ border: 2px solid transparent; background: transparent;
  color: {theme.accent}; text-align: left; padding: 0; }}
QPushButton#link:focus {{ border: 2px solid {theme.accent}; }}
QRadioButton::indicator {{ width: {ring}px; height: {ring}px; background: {theme.panel};
  border: 2px solid {theme.edge}; border-radius: {ring // 2 + 2}px; }}
QRadioButton::indicator:checked {{ width: {dot}px; height: {dot}px;
  border: {2 + (ring - dot) // 2}px solid {theme.accent}; }}
QCheckBox:focus, QRadioButton:focus {{ border: 2px solid {theme.accent};
  border-radius: {RADIUS}px; }}
QTableView, QListView {{ background: {theme.panel}; border: 1px solid {theme.line};
  border-radius: {RADIUS}px; outline: none; gridline-color: {theme.line};
  selection-background-color: {theme.chosen}; selection-color: {theme.chosen_text}; }}
QTableView:focus, QListView:focus {{ border: 2px solid {theme.accent}; }}
QHeaderView {{ background: {theme.panel}; }}
QHeaderView::up-arrow, QHeaderView::down-arrow {{ subcontrol-position: top center;
  width: {round(8 * size)}px; height: {round(6 * size)}px; }}
QHeaderView::section {{ background: {theme.panel}; color: {theme.muted};
  border: none; border-bottom: 1px solid {theme.edge}; padding: {pad};
  font-size: {px["second"]}; font-weight: bold; }}
QProgressBar {{ border: 1px solid {theme.edge}; background: {theme.panel};
  color: {theme.text}; text-align: center; border-radius: {RADIUS}px;
  font-size: {px["second"]}; }}
QProgressBar::chunk {{ background: {theme.chosen}; }}
QSplitter::handle {{ background: {theme.window}; }}
QSplitter::handle:hover {{ background: {theme.line}; }}
QScrollBar {{ background: transparent; border: none; margin: 0; }}
QScrollBar:vertical {{ width: {BAR * 3}px; }}
QScrollBar:horizontal {{ height: {BAR * 3}px; }}
QScrollBar::handle {{ background: {theme.edge}; border-radius: {RADIUS}px; margin: 2px; }}
QScrollBar::handle:vertical {{ min-height: {BAR * 6}px; }}
QScrollBar::handle:horizontal {{ min-width: {BAR * 6}px; }}
QScrollBar::handle:hover {{ background: {theme.accent}; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QListWidget::item, #goals::item {{ padding: 3px 2px; }}
QSplitter::handle:horizontal {{ width: {BAR * 3}px; }}
QSplitter::handle:vertical {{ height: {BAR * 3}px; }}
"""
