"""The pages of the window, in the order of a day's work."""

from gui.pages.keying import KeyingPage
from gui.pages.page import Page
from gui.pages.start import StartPage

PAGES: tuple[type[Page], ...] = (
    StartPage,
    KeyingPage,
)
