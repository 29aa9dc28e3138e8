"""The places of the event: a list, and a line to enter or change one."""

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from gui import ask
from gui.models.tasks import PLACE_COLUMNS, PlaceRow, place_rows
from gui.places_text import feature, read_geojson
from gui.session import Session
from gui.snapshot import Snapshot
from gui.view import TableView
from gui.widgets import choice, choose, field
from scorer.errors import ScorerError
from scorer.event.place_kinds import PLACE_KINDS
from scorer.ledger.acts import EntryId, PlaceSet
from scorer.ledger.api import Draft
from scorer.words.voice import Voice

FORM = "place"
LEVELS = ("elevation_m", "lower_m", "upper_m", "height_m")


class PlacesPane(QWidget):
    """Enter on a place changes it; Enter in the line records."""

    note = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.table = TableView(PLACE_COLUMNS, "Places", key=lambda r: r.place.name)
        self.table.entered.connect(self.change)
        self.name = field("Name of the place", "name")
        voice = Voice()
        self.kind = choice(
            "Kind of place",
            *[(voice.word(f"place-kind-{name}"), name) for name in PLACE_KINDS],
        )
        self.where = field(
            "Coordinates", "latitude, longitude; … or a circle: … r 500 m"
        )
        self.elevation = field("Elevation", "elevation, as 640 m")
        self.least = field("Lower limit", "lower limit")
        self.most = field("Upper limit", "upper limit")
        self.tall = field("Height above the ground", "height, as 45 m")
        self.levels = (self.elevation, self.least, self.most, self.tall)
        self.kind.currentIndexChanged.connect(lambda _: self._on_kind())
        for box in (self.name, self.where, *self.levels):
            box.returnPressed.connect(self.submit)
            box.textEdited.connect(lambda _: self._keep())
        self.from_file = QPushButton("From GeoJSON…")
        self.from_file.clicked.connect(self.take_file)
        first, second = QHBoxLayout(), QHBoxLayout()
        first.addWidget(self.name, 2)
        first.addWidget(self.kind, 1)
        for box in self.levels:
            first.addWidget(box, 1)
        second.addWidget(self.where, 1)
        second.addWidget(self.from_file)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table, 1)
        layout.addLayout(first)
        layout.addLayout(second)
        self._replaces: tuple[EntryId, ...] = ()
        self._recorded: Mapping[str, Any] = {}
        self._restored = ""
        self._on_kind()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the places as they stand."""
        self.table.set_rows(place_rows(snapshot) if snapshot else [])
        if snapshot is not None and self._restored != self.session.target:
            self._restored = self.session.target
            texts = self.session.unsaved.of(FORM)
            self.name.setText(texts.get("name", ""))
            self.where.setText(texts.get("where", ""))

    def forget(self) -> None:
        """The event is closed: a half typed place stays with its own."""
        self._empty()
        self._restored = ""

    def _empty(self) -> None:
        self._replaces, self._recorded = (), {}
        for box in (self.name, self.where, *self.levels):
            box.clear()

    def begin(self) -> None:
        """Empty the line and go to it."""
        self._empty()
        self.name.setFocus()

    def change(self, row: PlaceRow) -> None:
        """Put a place into the line."""
        self.begin()
        self._replaces, self._recorded = row.ids, row.recorded
        self.name.setText(row.place.name)
        choose(self.kind, row.place.kind.name)
        self.where.setText(row.where)
        for box, level in zip(self.levels, LEVELS, strict=True):
            level_m = getattr(row.place, level)
            box.setText("" if level_m is None else f"{level_m:g} m")

    def take_point(self, point: tuple[float, float]) -> None:
        """Take coordinates from the map: for an area, add a corner."""
        text = f"{point[0]:.6f}, {point[1]:.6f}"
        before = self.where.text().strip()
        area = not PLACE_KINDS[self.kind.currentData()].is_point
        self.where.setText(f"{before}; {text}" if area and before else text)
        self._keep()

    def submit(self) -> None:
        """Record the line."""
        snapshot = self.session.snapshot
        if snapshot is None:
            return
        name = self.name.text().strip()
        kind = PLACE_KINDS[self.kind.currentData()]
        texts = (box.text() for box in self.levels)
        levels = dict(zip(LEVELS, texts, strict=True))
        same = [row for row in place_rows(snapshot) if row.place.name == name]
        if same and same[0].ids != self._replaces:
            self.note.emit(f"there is a place {name}: press Enter on it to change it")
            return
        try:
            made = feature(name, kind, self.where.text(), levels, self._recorded)
        except ScorerError as error:
            self.note.emit(str(error))
            self.where.setFocus()
            return
        self.session.record(PlaceSet(feature=made), replaces=self._replaces)
        self.note.emit(f"recorded: {kind} {name}")
        self.begin()
        self._keep()

    def take_file(self) -> None:
        """Take all places of a GeoJSON file in."""
        path = ask.open_file(self, "Places", "GeoJSON (*.geojson *.json)")
        snapshot = self.session.snapshot
        if path is None or snapshot is None:
            return
        try:
            features = read_geojson(path)
        except ScorerError as error:
            self.note.emit(str(error))
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
        self.note.emit(f"{len(drafts)} places imported from {path.name}")

    def _on_kind(self) -> None:
        levels = PLACE_KINDS[self.kind.currentData()].levels
        for level, box in zip(LEVELS, self.levels, strict=True):
            box.setVisible(level in levels)

    def _keep(self) -> None:
        texts = {"name": self.name.text(), "where": self.where.text()}
        self.session.unsaved.keep(FORM, texts)
