"""Contrast of both looks, by the formula of the Web Content Accessibility Guidelines 2.1."""

import pytest

from gui.theme import DUSK, NOON, SIZES, Tone, contrast, luminance, style_sheet

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


@LOOKS
def test_ordinary_text_keeps_a_contrast_of_seven(theme):
    for ground in (theme.window, theme.panel, theme.stripe):
        assert contrast(theme.text, ground) >= 7
    assert contrast(theme.rail_text, theme.rail) >= 7
    assert contrast(theme.chosen_text, theme.chosen) >= 7


@LOOKS
def test_every_tone_keeps_a_contrast_of_four_and_a_half(theme):
    for ground in (theme.window, theme.panel, theme.stripe, theme.chosen):
        for tone in Tone:
            assert contrast(theme.tone(tone), ground) >= 4.5, (tone, ground)
    assert contrast(theme.accent_text, theme.accent) >= 4.5
    assert contrast("#ffffff", theme.rail_chosen) >= 4.5


@LOOKS
def test_colours_of_heights_are_seen_on_the_map(theme):
    """Graphics need 3 by the same guidelines (success criterion 1.4.11)."""
    for colour in theme.heights:
        assert contrast(colour, theme.panel) >= 3, colour


@LOOKS
def test_text_grows_with_its_size(theme):
    assert f"{10.5 * SIZES[-1]:.1f}pt" in style_sheet(theme, SIZES[-1])
