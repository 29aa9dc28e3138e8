"""Contrast of both looks, by the formula of the Web Content Accessibility Guidelines 2.1."""

import pytest
from PySide6.QtGui import QFont, QTextLayout
from PySide6.QtWidgets import QRadioButton

from gui.keys import Key
from gui.parts.capbutton import CapButton
from gui.parts.write import in_order
from gui.style import style_sheet
from gui.theme import DUSK, NOON, SIZES, Tone, Type, contrast, luminance

LOOKS = pytest.mark.parametrize("theme", [NOON, DUSK], ids=lambda t: t.name)


def test_contrast_is_that_of_the_guidelines():
    """Values of the guidelines' own definitions: 21 for black on white, 1 for itself.

    The grey #767676 on white is the well-known limit of 4.5 (WebAIM, contrast checker,
    4.54); from memory.
    """
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#123456", "#123456") == 1.0
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert luminance("#ffffff") == pytest.approx(1.0)


DESIGN = {
    "noon": {
        "text": (17.8, 15.9, 14.3),
        "muted": (9.3, 8.3, 7.4),
        "accent": (9.6, 8.6, 7.7),
        "bad": (9.1, 8.2, 7.3),
        "warn": (9.1, 8.2, 7.3),
        "good": (9.5, 8.5, 7.6),
    },
    "dusk": {
        "text": (14.5, 15.8, 11.6),
        "muted": (9.3, 10.2, 7.5),
        "accent": (10.1, 11.0, 8.1),
        "bad": (9.0, 9.9, 7.3),
        "warn": (10.7, 11.7, 8.6),
        "good": (10.3, 11.3, 8.3),
    },
}
"""Contrasts on panel, paper and the chosen row, as our design of the window states them."""


@LOOKS
def test_every_text_keeps_the_contrast_of_the_design(theme):
    for name, wanted in DESIGN[theme.name].items():
        grounds = (theme.panel, theme.window, theme.chosen)
        found = [contrast(getattr(theme, name), ground) for ground in grounds]
        assert found == pytest.approx(wanted, abs=0.06), name
        assert min(found) >= 7


@LOOKS
def test_every_tone_is_read_on_the_ground_of_headings(theme):
    for tone in Tone:
        assert contrast(theme.tone(tone), theme.stripe) >= 7, tone
    assert contrast(theme.chosen_text, theme.chosen) >= 7
    assert contrast(theme.accent_text, theme.accent) >= 7


@LOOKS
def test_edges_of_controls_are_seen(theme):
    """Graphics need 3 by the same guidelines (success criterion 1.4.11)."""
    wanted = {"noon": (4.1, 3.7), "dusk": (4.7, 5.1)}[theme.name]
    found = [contrast(theme.edge, ground) for ground in (theme.panel, theme.window)]
    assert found == pytest.approx(wanted, abs=0.06)


@LOOKS
def test_colours_of_heights_are_seen_on_the_map(theme):
    """Graphics need 3 by the same guidelines (success criterion 1.4.11)."""
    for colour in theme.heights:
        assert contrast(colour, theme.panel) >= 3, colour


@LOOKS
@pytest.mark.parametrize("size", [SIZES[0], SIZES[-1]])
@pytest.mark.parametrize("on", [True, False])
def test_rings_that_are_chosen_are_seen(qtbot, theme, size, on):
    """In the dark they were drawn dark on dark, and as small for large text as for small."""
    ring = QRadioButton()
    qtbot.addWidget(ring)
    ring.setStyleSheet(
        f"QWidget {{ background: {theme.panel}; }}{style_sheet(theme, size)}"
    )
    ring.setChecked(on)
    ring.show()
    seen = ring.grab().toImage()
    places = [(x, y) for x in range(seen.width()) for y in range(seen.height())]
    found = [
        (x, y)
        for x, y in places
        if contrast(seen.pixelColor(x, y).name(), theme.panel) >= 3
    ]
    high = max(y for _, y in found) - min(y for _, y in found) + 1
    assert high >= 12 * size


@LOOKS
def test_text_grows_with_its_size(theme):
    assert f"{round(14 * SIZES[-1])}px" in style_sheet(theme, SIZES[-1])


def test_nothing_is_smaller_than_twelve():
    assert min(Type) == 12
    assert SIZES[0] == 1.0


@pytest.mark.parametrize("ready", [True, False])
def test_the_words_of_the_main_button_are_read(window, ready):
    """The ground is the accent while it can be pressed, else the paper."""
    button = CapButton("Record", Key.GO_ON, look="main")
    button.setParent(window.page)
    button.setEnabled(ready)
    button.show()
    button.words.ensurePolished()
    words = button.words.palette().color(button.words.foregroundRole()).name()
    assert contrast(words, NOON.accent if ready else NOON.window) >= 7
    button.setParent(None)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("21 ريحانة الوهّابيّ, 38 Søren Grønnvik", ["21", "38"]),
        ("נועה שקדיאל (13) · 40", ["13", "40"]),
        ("38 Søren, 21 ريحانة", ["38", "21"]),
    ],
)
def test_a_number_stays_before_the_name_that_follows_it(text, numbers):
    """Asked of Qt's own layout: numbers stand on the screen in the order of the text."""
    layout = QTextLayout(in_order(text), QFont("Noto Sans"))
    layout.beginLayout()
    line = layout.createLine()
    layout.endLayout()
    at = [line.cursorToX(in_order(text).index(number))[0] for number in numbers]
    assert at == sorted(at)
