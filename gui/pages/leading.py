"""Where a matter is closed: the page's title, and the way there."""

from gui.models.bill import BillLine
from gui.pages.page import Page
from gui.places_of import page_closing, page_of
from scorer.event.matter import Matter
from scorer.words.voice import Voice


def titled(matter: Matter) -> str:
    """Return the title of the page that closes a matter."""
    return Voice().word(f"page-{matter.closes}")


def lead(page: Page, matter: Matter) -> None:
    """Go where a matter is closed."""
    page.go.emit(page_of(matter), matter)


def lead_from(page: Page, line: BillLine, task: int, pilot: int) -> None:
    """Go where a line of a pilot's bill is decided: to what is open about it, if any is."""
    if line.closes is None:
        return
    listed = (matter for row in page.session.matters.rows for matter in row.matter.each)
    own = (m for m in listed if m.is_open and pilot in m.pilots)
    about = next((m for m in own if _is_about(m, line, task)), None)
    if about is not None:
        lead(page, about)
    else:
        page.go.emit(page_closing(line.closes), pilot)


def _is_about(matter: Matter, line: BillLine, task: int) -> bool:
    if matter.task != task or matter.kind.closes is not line.closes:
        return False
    return not line.finding or line.finding in matter.evidence or not matter.evidence
