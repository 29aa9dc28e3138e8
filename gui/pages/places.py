"""The places of the event: a list, their map, and a form to enter or change one."""

from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.tasks import PLACE_COLUMNS, PlaceRow, place_rows
from gui.pages.page import ListPage
from gui.pages.place_line import PlaceLine
from gui.places_text import read_geojson
from gui.plots.map import MapPlot
from gui.plots.picture import Picture
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.style import LOOK
from gui.theme import BETWEEN, INSIDE, Theme
from gui.view import TableView
from gui.widgets import held, say_or_hide
from scorer.errors import ScorerError
from scorer.event.matter import Matter
from scorer.facts import count, fact, words
from scorer.ledger.acts import PlaceSet
from scorer.ledger.api import Draft
from scorer.words.voice import Voice

READY = needs(Condition.EVENT, Condition.WRITABLE)
LEAST_MAP = 110
"""Height of the map, pixels at the first size of text."""


class PlacesPage(ListPage):
    """Places at the left, map and form at the right."""

    name = "places"
    title = "Places"
    hint = "Enter changes the chosen place. A click on the map takes coordinates."
    hints = ((Key.NEW, "new"), (Key.READ_IN, "from GeoJSON"))
    foot_keys = ((Key.CORRECT, "change"), (Key.WHOLE, "whole map"))
    specs = (
        Spec("new_place", "New &place", Key.NEW, "Go to an empty form", READY),
        Spec("correct", "&Change place", Key.CORRECT, "Change the chosen place", READY),
        Spec("take_file", "From &GeoJSON…", Key.READ_IN, "Import places", READY),
        Spec("clear", "&Empty the form", Key.OUT, "Drop what is not recorded", READY),
        Spec(
            "fit_map",
            "Whole &map",
            Key.WHOLE,
            "Show all places",
            needs(Condition.EVENT),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.table = TableView(PLACE_COLUMNS, "Places", key=lambda r: r.place.name)
        self.table.entered.connect(self.line_with)
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.line = PlaceLine(self.session)
        self.line.note.connect(self.note)
        self.map = MapPlot()
        self.map.widget.scene().sigMouseClicked.connect(self._on_click)
        right = QVBoxLayout()
        right.setSpacing(BETWEEN)
        right.addWidget(self.map.widget, 1)
        right.addWidget(self.line)
        self.right = held(right)
        both = QHBoxLayout()
        both.setSpacing(BETWEEN + INSIDE)
        both.addWidget(self.table, 11)
        both.addWidget(self.right, 10)
        self.body.addLayout(both, 1)
        self.session.shelf.placed.connect(self._on_placed)

    def arrange(self) -> None:
        """Keep a map on which places can be told apart: the page scrolls rather."""
        self.map.widget.setMinimumHeight(LOOK.px(LEAST_MAP))

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """Places; map and form."""
        return self.table, self.right

    @property
    def panes(self) -> tuple[QWidget, QWidget]:
        """Places, and the form."""
        return self.table, self.line.name

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the places as they stand."""
        rows = place_rows(snapshot) if snapshot else []
        self.table.set_rows(rows)
        self.say_hint(self.hint if rows else Voice().word("place-none"))
        if snapshot is None:
            self.map.show(None, self.theme)
            return
        self.line.restore()
        self.session.shelf.ask_places(snapshot.event)

    def set_theme(self, theme: Theme) -> None:
        """Take over colours, on the map too."""
        super().set_theme(theme)
        self.map.show(self.map.picture, theme)

    def lead_to(self, what: Any) -> None:
        """Choose the place a matter is about."""
        about = what.says.get("place") if isinstance(what, Matter) else what
        if isinstance(about, str):
            self.table.choose(about)

    def forget(self) -> None:
        """The event is closed: a half typed place stays with its own."""
        super().forget()
        self.line.forget()
        self.map.show(None, self.theme)  # a click on it tells coordinates

    def _on_placed(self, picture: Picture) -> None:
        if self.isVisible() and picture.task is None:
            self.map.show(picture, self.theme)

    def _on_click(self, event: object) -> None:
        """Take the coordinates under the mouse into the form."""
        picture, position = self.map.picture, getattr(event, "scenePos", None)
        if picture is None or position is None or self.snapshot is None:
            return
        point = self.map.widget.getPlotItem().vb.mapSceneToView(position())
        east = point.x() * picture.unit_m + picture.origin[0]
        north = point.y() * picture.unit_m + picture.origin[1]
        self.line.take_point(self.session.shelf.to_wgs84(east, north))

    # Commands.

    def new_place(self) -> None:
        """Go to an empty form."""
        self.to_pane(self.right)
        self.line.begin()

    def line_with(self, row: PlaceRow) -> None:
        """Put a place into the form and go to it."""
        self.to_pane(self.right)
        self.line.change(row)

    def correct(self) -> None:
        """Change the chosen place."""
        if self.table.row is not None:
            self.line_with(self.table.row)

    def clear(self) -> None:
        """Drop what is not recorded, and go back to the list."""
        self.line.clear()
        self.to_pane(self.table)

    def fit_map(self) -> None:
        """Show all places."""
        self.map.fit()

    def take_file(self) -> None:
        """Import all places of a GeoJSON file."""
        path = ask.open_file(self, "Places", "GeoJSON (*.geojson *.json)")
        snapshot = self.snapshot
        if path is None or snapshot is None:
            return
        try:
            features = read_geojson(path)
        except ScorerError as error:
            say_or_hide(self.line.told, str(error), "bad")
            return
        known = {row.place.name: row.ids for row in place_rows(snapshot)}
        drafts = [
            Draft(
                act=PlaceSet(feature=made, source=path.name),
                why="places imported",
                replaces=known.get(str(made["properties"].get("name", "")), ()),
            )
            for made in features
        ]
        self.session.record_all(drafts)
        said = fact("places-read", places=count(len(drafts)), file=words(path.name))
        self.tell(said)
