"""The pages of the window, in the order of a day's work."""

from gui.pages.desks import DesksPage
from gui.pages.fieldnotes import FieldNotesPage
from gui.pages.findings import FindingsPage
from gui.pages.keying import KeyingPage
from gui.pages.logs import LogsPage
from gui.pages.page import Page
from gui.pages.publish import PublishPage
from gui.pages.results import ResultsPage
from gui.pages.roster import RosterPage
from gui.pages.rules import RulesPage
from gui.pages.settle import SettlePage
from gui.pages.start import StartPage
from gui.pages.tasks import TasksPage

PAGES: tuple[type[Page], ...] = (
    StartPage,
    RulesPage,
    RosterPage,
    TasksPage,
    KeyingPage,
    SettlePage,
    FieldNotesPage,
    LogsPage,
    FindingsPage,
    ResultsPage,
    PublishPage,
    DesksPage,
)
