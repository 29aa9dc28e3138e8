"""Two looks, one for a field in the sun and one for a dark hall, and the sizes of text.

Contrasts are those of the Web Content Accessibility Guidelines 2.1 (W3C, 2018): the
relative luminance and contrast ratio of its glossary.  Every text keeps at least 7, the
edge of a control at least 3; `tests/gui/test_theme.py` holds that.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum, StrEnum

SIZES = (1.0, 1.15, 1.3, 1.5, 1.75)
"""Steps of the text's size."""
UNIT = 4
"""Pixels: everything is set on multiples of it."""
INSIDE, BETWEEN, COLUMNS, MARGIN = 2 * UNIT, 3 * UNIT, 4 * UNIT, 6 * UNIT
"""Gaps inside a panel, between panels, between columns, and round a page."""
RADIUS = UNIT
BAR = UNIT
"""Width of the bar that marks what is chosen or to be decided."""


class Type(IntEnum):
    """Sizes of text, pixels at the first step; nothing is smaller."""

    CAPTION = 12
    SECOND = 13
    TEXT = 14
    SECTION = 16
    TITLE = 22
    ENTRY = 28
    FIGURE = 34
    GREATEST = 44


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
    """The paper that panels lie on."""
    panel: str
    stripe: str
    """Ground of headings between rows, and of quiet boxes in a panel."""
    text: str
    muted: str
    line: str
    edge: str
    """Round what can be pressed or typed in."""
    accent: str
    accent_text: str
    good: str
    """What is done."""
    warn: str
    """What waits."""
    bad: str
    """What blocks."""
    chosen: str
    chosen_text: str
    filled: str
    """Ground of a number that waits for who is at the desk."""
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
    window="#f5f2eb",
    panel="#ffffff",
    stripe="#ece8de",
    text="#15181b",
    muted="#43484c",
    line="#d6d0c4",
    edge="#837d70",
    accent="#0b4a66",
    accent_text="#ffffff",
    good="#12502b",
    warn="#664000",
    bad="#8c1a2a",
    chosen="#d9e9f1",
    chosen_text="#15181b",
    filled="#f6e8c8",
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
    window="#13171a",
    panel="#1a2024",
    stripe="#101316",
    text="#f3f0e9",
    muted="#c0c4c3",
    line="#3a4247",
    edge="#7f8a90",
    accent="#93d3f2",
    accent_text="#13171a",
    good="#90ddad",
    warn="#f6cb6c",
    bad="#ffaaa2",
    chosen="#163342",
    chosen_text="#f3f0e9",
    filled="#43360f",
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
