"""Two looks, one for a field in the sun and one for a dark hall, and the size of text.

Contrasts are those of the Web Content Accessibility Guidelines 2.1 (W3C, 2018): the
relative luminance and contrast ratio of its glossary.  Ordinary text keeps at least 7,
everything else that must be read at least 4.5; `tests/gui/test_theme.py` holds that.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

SIZES = (1.0, 1.15, 1.3, 1.5, 1.75)
"""Steps of the text's size."""
BASE_PT = 10.5


class Tone(StrEnum):
    """What a text is, as far as colour tells it; words always tell it too."""

    PLAIN = "plain"
    MUTED = "muted"
    GOOD = "good"
    WARN = "warn"
    BAD = "bad"
    ACCENT = "accent"


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """Colours of one look, as #rrggbb."""

    name: str
    title: str
    window: str
    panel: str
    stripe: str
    rail: str
    rail_text: str
    rail_chosen: str
    text: str
    muted: str
    line: str
    accent: str
    accent_text: str
    good: str
    warn: str
    bad: str
    chosen: str
    chosen_text: str
    heights: tuple[str, ...]
    """Low to high above the ground, for tracks."""

    def tone(self, tone: Tone) -> str:
        """Return the colour of a tone."""
        return {
            Tone.PLAIN: self.text,
            Tone.MUTED: self.muted,
            Tone.GOOD: self.good,
            Tone.WARN: self.warn,
            Tone.BAD: self.bad,
            Tone.ACCENT: self.accent,
        }[tone]


NOON = Theme(
    name="noon",
    title="Noon: light, for sunlight",
    window="#f4efe4",
    panel="#fffdf8",
    stripe="#f6f1e6",
    rail="#2b3a33",
    rail_text="#f4efe4",
    rail_chosen="#b8481a",
    text="#1a1712",
    muted="#4f4a40",
    line="#b9ae98",
    accent="#94330a",
    accent_text="#ffffff",
    good="#0f5132",
    warn="#6e4300",
    bad="#9a1224",
    chosen="#f3d9a4",
    chosen_text="#1a1712",
    heights=(
        "#9a1224",
        "#c2571a",
        "#b98a00",
        "#4b8b3b",
        "#1f7a8c",
        "#3a4ea0",
        "#5b2a86",
    ),
)
DUSK = Theme(
    name="dusk",
    title="Dusk: dark, for tents and halls at night",
    window="#171b1a",
    panel="#1f2524",
    stripe="#242b2a",
    rail="#0f1312",
    rail_text="#e9e4d8",
    rail_chosen="#b5481d",
    text="#f1ece0",
    muted="#b9b3a4",
    line="#566060",
    accent="#f2a35e",
    accent_text="#1a1208",
    good="#7fd6a0",
    warn="#f5c04f",
    bad="#ff9a94",
    chosen="#5a4213",
    chosen_text="#fff8e7",
    heights=(
        "#ff7a70",
        "#ff9f4a",
        "#f2d15c",
        "#8fdc77",
        "#5fd0e0",
        "#8fa7ff",
        "#c79bff",
    ),
)
THEMES: Mapping[str, Theme] = {theme.name: theme for theme in (NOON, DUSK)}


def luminance(colour: str) -> float:
    """Return the relative luminance of #rrggbb, 0 to 1 (WCAG 2.1, glossary)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.1, glossary)."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def apply(app: QApplication, theme: Theme, size: float) -> None:
    """Give the whole program a look and a size of text."""
    app.setStyle("Fusion")
    app.setPalette(_palette(theme))
    app.setStyleSheet(style_sheet(theme, size))


def _palette(theme: Theme) -> QPalette:
    roles = {
        QPalette.ColorRole.Window: theme.window,
        QPalette.ColorRole.WindowText: theme.text,
        QPalette.ColorRole.Base: theme.panel,
        QPalette.ColorRole.AlternateBase: theme.stripe,
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
    points = BASE_PT * size
    return f"""
* {{ font-size: {points:.1f}pt; }}
QMainWindow, QDialog, QScrollArea > QWidget > QWidget {{ background: {theme.window}; }}
QToolTip {{ color: {theme.text}; background: {theme.panel};
  border: 1px solid {theme.line}; }}
#rail {{ background: {theme.rail}; border: none; color: {theme.rail_text};
  outline: none; }}
#rail::item {{ color: {theme.rail_text}; padding: 7px 12px; }}
#rail::item:selected {{ background: {theme.rail_chosen}; color: #ffffff; }}
#rail::item:disabled {{ color: {theme.line}; }}
#top {{ background: {theme.panel}; border-bottom: 1px solid {theme.line}; }}
#eventName {{ font-weight: bold; font-size: {points * 1.15:.1f}pt; }}
#title {{ font-weight: bold; font-size: {points * 1.4:.1f}pt; color: {theme.accent}; }}
#hint, #muted {{ color: {theme.muted}; }}
#caution {{ color: {theme.text}; background: {theme.stripe};
  border-left: 4px solid {theme.warn}; padding: 3px 8px; }}
#warn {{ color: {theme.warn}; font-weight: bold; }}
#bad {{ color: {theme.bad}; font-weight: bold; }}
#good {{ color: {theme.good}; font-weight: bold; }}
#big {{ font-size: {points * 1.45:.1f}pt; font-weight: bold; padding: 4px 6px; }}
#name {{ font-size: {points * 1.3:.1f}pt; font-weight: bold; }}
#section {{ font-weight: bold; }}
QLineEdit, QPlainTextEdit, QTextBrowser, QListWidget, QSpinBox {{
  background: {theme.panel}; color: {theme.text}; border: 1px solid {theme.line};
  border-radius: 3px; padding: 3px 5px;
  selection-background-color: {theme.chosen}; selection-color: {theme.chosen_text}; }}
QLineEdit, QPlainTextEdit {{ placeholder-text-color: {theme.muted}; }}
QLineEdit:focus, QPlainTextEdit:focus, QTableView:focus,
QListWidget:focus, QTextBrowser:focus {{ border: 2px solid {theme.accent}; }}
QLineEdit[wrong="true"] {{ border: 2px solid {theme.bad}; }}
QComboBox {{ padding: 3px 5px; }}
QPushButton {{ background: {theme.panel}; color: {theme.text};
  border: 1px solid {theme.line}; border-radius: 3px; padding: 5px 12px; }}
QPushButton:hover {{ border-color: {theme.accent}; }}
QPushButton:focus {{ border: 2px solid {theme.accent}; }}
QPushButton:disabled {{ color: {theme.muted}; background: {theme.window}; }}
QPushButton#main {{ background: {theme.accent}; color: {theme.accent_text};
  font-weight: bold; border-color: {theme.accent}; }}
QPushButton#main:focus {{ border: 2px solid {theme.text}; }}
QPushButton#main:disabled {{ background: {theme.window}; color: {theme.muted};
  border-color: {theme.line}; }}
QTableView {{ background: {theme.panel}; alternate-background-color: {theme.stripe};
  gridline-color: {theme.line}; border: 1px solid {theme.line};
  selection-background-color: {theme.chosen}; selection-color: {theme.chosen_text}; }}
QHeaderView::section {{ background: {theme.window}; color: {theme.text};
  border: none; border-bottom: 1px solid {theme.line}; padding: 4px 6px;
  font-weight: bold; }}
QProgressBar {{ border: 1px solid {theme.line}; background: {theme.panel};
  color: {theme.text}; text-align: center; border-radius: 3px; }}
QProgressBar::chunk {{ background: {theme.chosen}; }}
QSplitter::handle {{ background: {theme.window}; }}
QSplitter::handle:hover {{ background: {theme.line}; }}
QListWidget::item {{ padding: 3px 2px; }}
QSplitter::handle:horizontal {{ width: 9px; }}
QSplitter::handle:vertical {{ height: 9px; }}
#bottom {{ background: {theme.panel}; border-top: 1px solid {theme.line}; }}
#note {{ padding: 2px 6px; }}
"""
