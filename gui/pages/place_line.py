"""The form of one place: what it is, where it lies, how high; Enter records."""

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from gui.models.tasks import PlaceRow, place_rows
from gui.parts.formcard import FormCard, two_columns
from gui.parts.kept import Kept
from gui.places_text import feature
from gui.refusal import plainly
from gui.session import Session
from gui.widgets import choice, choose, field, label, say_or_hide
from scorer.errors import ScorerError
from scorer.event.model import Units
from scorer.event.place_kinds import PLACE_KINDS, PlaceKind
from scorer.facts import fact, words
from scorer.ledger.acts import EntryId, PlaceSet
from scorer.units import FOOT_M, length_m
from scorer.words.voice import Voice

FORM = "place"
LEVELS = (
    ("elevation_m", "Elevation", ("640 m", "2100 ft")),
    ("lower_m", "Lower limit", ("300 m", "1000 ft")),
    ("upper_m", "Upper limit", ("900 m", "3000 ft")),
    ("height_m", "Height above the ground", ("45 m", "150 ft")),
)
"""With a height as it may be written, by the event's units."""
SAME_M = 1e-6
RADIUS = "500 m", "1600 ft"


class PlaceLine(FormCard):
    """Name, kind, coordinates and what heights the kind has."""

    note = Signal(str)

    def __init__(self, session: Session) -> None:
        voice = Voice()
        super().__init__(voice.word("place-new"), voice.word("place-record"))
        self.session = session
        self.name = field("Name of the place", "as sheets name it")
        self.kind = choice(
            "Kind of place",
            *[(voice.word(f"place-kind-{name}"), name) for name in PLACE_KINDS],
            changed=self._on_kind,
        )
        self.where = field("Coordinates")
        self.levels = tuple(field(title) for _, title, _ in LEVELS)
        self.elevation, self.least, self.most, self.tall = self.levels
        for box in (self.name, self.where, *self.levels):
            box.returnPressed.connect(self.submit)
        self._tags: dict[QWidget, QWidget] = {}
        self.submitted.connect(self.submit)
        self._lay_out_fields()
        self._replaces: tuple[EntryId, ...] = ()
        self._recorded: Mapping[str, Any] = {}
        self.kept = Kept(
            session,
            FORM,
            {
                "name": self.name,
                "kind": self.kind,
                "where": self.where,
                **dict(
                    zip((level for level, _, _ in LEVELS), self.levels, strict=True)
                ),
            },
        )
        self._on_kind()
        self.set_units(Units.METRIC)

    def set_units(self, units: Units) -> None:
        """Show how lengths may be written, in the event's own unit."""
        self._feet = units is Units.IMPERIAL
        radius = words(RADIUS[self._feet])
        self.where.setPlaceholderText(Voice().say(fact("place-where", radius=radius)))
        for box, (_, _, hints) in zip(self.levels, LEVELS, strict=True):
            hint = fact("place-level", height=words(hints[self._feet]))
            box.setPlaceholderText(Voice().say(hint))

    def _lay_out_fields(self) -> None:
        boxes: Sequence[QWidget] = (self.name, self.kind, self.where, *self.levels)
        for box in boxes:
            tag = label(box.accessibleName(), "strong")
            tag.setBuddy(box)
            self._tags[box] = tag
        self.lay_out(two_columns((tag, box) for box, tag in self._tags.items()))

    @property
    def _kind(self) -> PlaceKind:
        return PLACE_KINDS[self.kind.currentData()]

    def restore(self) -> None:
        """Put back, once for each event, what was being typed when it was left."""
        snapshot = self.session.snapshot
        if snapshot is not None:
            self.set_units(snapshot.event.units)
        if snapshot is None or not self.kept.restore():
            return
        own = self.kept.changed_of(place_rows(snapshot))
        if own is not None:
            self._replace(own)

    def forget(self) -> None:
        """The event is closed: a half typed place stays with its own."""
        self.clear()
        self.kept.forget()

    def clear(self) -> None:
        """Empty the form."""
        self._replaces, self._recorded, self.kept.about = (), {}, ""
        for box in (self.name, self.where, *self.levels):
            box.clear()
        self.name_it(Voice().word("place-new"))
        say_or_hide(self.told, "")

    def begin(self) -> None:
        """Empty the form and go to it."""
        self.clear()
        self.name.setFocus()

    def change(self, row: PlaceRow) -> None:
        """Put a place into the form."""
        self.begin()
        self._replace(row)
        self.name.setText(row.place.name)
        choose(self.kind, row.place.kind.name)
        self.where.setText(row.where)
        for box, (level, _, _) in zip(self.levels, LEVELS, strict=True):
            level_m = getattr(row.place, level)
            box.setText("" if level_m is None else self._told(level_m))

    def _told(self, level_m: float) -> str:
        """Write a height in the event's unit, where that is the very same height."""
        feet = f"{round(level_m / float(FOOT_M), 2):.10g} ft"
        same = self._feet and abs(length_m(feet) - level_m) < SAME_M
        return feet if same else f"{level_m:.10g} m"

    def _replace(self, row: PlaceRow) -> None:
        self._replaces, self._recorded = row.ids, row.recorded
        self.kept.changes(row)
        self.name_it(Voice().say(fact("place-change", name=words(row.place.name))))

    def take_point(self, point: tuple[float, float]) -> None:
        """Take coordinates from the map: for an area, add a corner."""
        text = f"{point[0]:.6f}, {point[1]:.6f}"
        before = self.where.text().strip()
        more = before and not self._kind.is_point
        self.where.setText(f"{before}; {text}" if more else text)
        self.kept.keep()

    def submit(self) -> None:
        """Record the form; what is wrong stands beneath it."""
        snapshot = self.session.snapshot
        if snapshot is None:
            return
        voice, name = Voice.of(snapshot.event), self.name.text().strip()
        texts = {level: b.text() for (level, _, _), b in zip(LEVELS, self.levels)}  # noqa: B905 - as many
        same = [row for row in place_rows(snapshot) if row.place.name == name]
        if same and same[0].ids != self._replaces:
            taken = voice.sentence(fact("place-taken", name=words(name)))
            say_or_hide(self.told, taken, "bad")
            return
        try:
            made = feature(name, self._kind, self.where.text(), texts, self._recorded)
        except ScorerError as error:
            say_or_hide(self.told, plainly(error), "bad")
            (self.where if name else self.name).setFocus()
            return
        self.session.record(PlaceSet(feature=made), replaces=self._replaces)
        self.note.emit(voice.say(fact("place-recorded", name=words(name))))
        self.begin()
        self.kept.keep()

    def _on_kind(self) -> None:
        levels = self._kind.levels
        for (level, _, _), box in zip(LEVELS, self.levels, strict=True):
            for one in (box, self._tags[box]):
                one.setVisible(level in levels)
