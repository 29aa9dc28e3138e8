"""The pages of the window, in the order of a morning.

A page that is made is added to `PAGES`; its place on the rail stands here already.
"""

from collections.abc import Sequence

from gui.pages.board import BoardPage
from gui.pages.complaints import ComplaintsPage
from gui.pages.desks import DesksPage
from gui.pages.fieldnotes import FieldNotesPage
from gui.pages.findings import FindingsPage
from gui.pages.keying import KeyingPage
from gui.pages.logs import LogsPage
from gui.pages.matters import MattersPage
from gui.pages.page import Page
from gui.pages.pilot import PilotPage
from gui.pages.places import PlacesPage
from gui.pages.prizes import PrizesPage
from gui.pages.publish import PublishPage
from gui.pages.results import ResultsPage
from gui.pages.roster import RosterPage
from gui.pages.rules import RulesPage
from gui.pages.settle import SettlePage
from gui.pages.start import StartPage
from gui.pages.tasks import TasksPage

PAGES: tuple[type[Page], ...] = (
    StartPage,
    MattersPage,
    RosterPage,
    PlacesPage,
    TasksPage,
    RulesPage,
    KeyingPage,
    SettlePage,
    FieldNotesPage,
    LogsPage,
    FindingsPage,
    ResultsPage,
    PublishPage,
    ComplaintsPage,
    PrizesPage,
    BoardPage,
    DesksPage,
    PilotPage,
)
START = "start"
HOME = "matters"
RAIL: Sequence[tuple[str, Sequence[str]]] = (
    ("Today", (HOME,)),
    ("Before the flight", ("roster", "places", "tasks", "rules")),
    ("After the drop", ("keying", "settle", "fieldnotes", "logs", "findings")),
    ("Going up", ("results", "publish", "complaints", "prizes", "board")),
    ("Record", ("desks",)),
)
"""Headings, and the names of the pages under each."""
OFF_RAIL = (START, "pilot")
"""Pages that lead from elsewhere: from the start of the program, from a row."""
