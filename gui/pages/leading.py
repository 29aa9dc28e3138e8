"""Where a matter is closed: the page's title, and the way there."""

from gui.pages.page import Page
from gui.places_of import page_closing
from scorer.event.matter import Matter
from scorer.words.voice import Voice


def titled(matter: Matter) -> str:
    """Return the title of the page that closes a matter."""
    return Voice().word(f"page-{matter.kind.closes}")


def lead(page: Page, matter: Matter) -> None:
    """Go where a matter is closed."""
    page.go.emit(page_closing(matter.kind.closes), matter)
