"""The event's settings and rules: as text, checked, with what every rule means."""

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import tomli_w
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPlainTextEdit, QSplitter, QVBoxLayout

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.table import Column
from gui.pages.page import Page
from gui.snapshot import Snapshot
from gui.state import Fact
from gui.view import Table
from gui.widgets import field, held, label, say_or_hide, section
from scorer.errors import ScorerError
from scorer.event.build import build
from scorer.event.folder import MOST_TERRAIN_BYTES
from scorer.ledger.acts import EntryId, SettingsSet, TerrainSet
from scorer.ledger.api import Draft, Ledger, sha256_of
from scorer.words.rules import describe
from scorer.words.voice import Voice

READY = needs(Fact.EVENT, Fact.WRITABLE)
FORM = "settings"
GRIDS = "Elevation grids (*.tif *.tiff *.hgt *.asc);;All files (*)"
COLUMNS = (
    Column("Rule", lambda r: r[0]),
    Column("Value", lambda r: r[1], width=18),
    Column("Meaning", lambda r: r[2], width=44),
    Column("Where it comes from", lambda r: r[3]),
)


class RulesPage(Page):
    """The text of event.toml on the left, every rule in force on the right."""

    name = "rules"
    title = "Rules"
    hint = "Change settings and rules as text; Ctrl+Enter records what has no fault."
    shows_heights = True
    specs = (
        Spec("save", "&Record", Key.BIG_ACT, "Record settings and rules", READY),
        Spec("terrain", "&Terrain…", Key.READ_IN, "Import an elevation grid", READY),
        Spec(
            "put_back", "Put &back", Key.OUT, "Show what is recorded", needs(Fact.EVENT)
        ),
        Spec("to_search", "&Find", Key.FIND, "Find a rule", needs(Fact.EVENT)),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.told = label(wrap=True)
        self.unset = label(look="warn", wrap=True)
        self.told.hide()
        self.unset.hide()
        self.text = QPlainTextEdit()
        self.text.setAccessibleName("Settings and rules of the event")
        self.text.setTabChangesFocus(True)
        self.text.textChanged.connect(self._on_text)
        self.grid = label(look="muted", wrap=True)
        self.search = field("Find a rule", "find …", changed=self._find)
        self.table = Table(COLUMNS, "Rules in force", key=lambda r: r[0])
        left, right = QVBoxLayout(), QVBoxLayout()
        left.addWidget(section("As in event.toml: key = value"))
        left.addWidget(self.text, 1)
        left.addWidget(self.grid)
        left.addLayout(self.buttons("save", "terrain", "put_back", main="save"))
        right.addWidget(self.search)
        right.addWidget(self.table, 1)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(held(left))
        split.addWidget(held(right))
        split.setSizes([430, 680])
        self.body.addWidget(self.told)
        self.body.addWidget(self.unset)
        self.body.addWidget(split, 1)
        self._filling = False
        self._touched = False
        self._restored = ""

    def enter(self) -> None:
        """Go to the text."""
        self.text.setFocus()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show settings and rules as they stand; what is being typed stays."""
        if snapshot is None:
            self._fill("")
            self.table.set_rows([])
            say_or_hide(self.unset, "")
            self.grid.setText("")
            return
        if self._restored != self.session.target:
            self._restored = self.session.target
            kept = self.session.unsaved.of(FORM).get("text", "")
            self._fill(kept or self._recorded(snapshot))
            self._touched = bool(kept)
        elif not self._touched:
            self._fill(self._recorded(snapshot))
        book = snapshot.event.book
        self.table.set_rows(describe(book, Voice.of(snapshot.event)))
        missing = ", ".join(book.unset)
        words = f"The rule book leaves these to the event: {missing}" if missing else ""
        say_or_hide(self.unset, words, "warn")
        held_grid = snapshot.state.all_of(TerrainSet)
        self.grid.setText(
            f"Terrain: {held_grid[0][1].name}"
            if held_grid
            else "No terrain: heights count from the ground elevation above."
        )

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    @staticmethod
    def _held(snapshot: Snapshot) -> tuple[Mapping[str, Any], tuple[EntryId, ...]]:
        found = snapshot.state.all_of(SettingsSet)
        return (found[0][1].settings, found[0][0].ids) if found else ({}, ())

    def _recorded(self, snapshot: Snapshot) -> str:
        return tomli_w.dumps(dict(self._held(snapshot)[0]))

    def _fill(self, text: str) -> None:
        if text == self.text.toPlainText():
            return
        self._filling = True
        self.text.setPlainText(text)
        self._filling = self._touched = False

    def _on_text(self) -> None:
        if not self._filling and self.snapshot is not None:
            self._touched = True
            self.session.unsaved.keep(FORM, {"text": self.text.toPlainText()})

    # Commands.

    def save(self) -> None:
        """Record the text, if the event can be built with it."""
        snapshot = self.snapshot
        if snapshot is None:
            return
        try:
            settings = tomllib.loads(self.text.toPlainText())
        except tomllib.TOMLDecodeError as error:
            say_or_hide(self.told, f"{error}; write key = value lines", "bad")
            return
        faults = new_faults(snapshot, settings)
        say_or_hide(self.told, "\n".join(faults[:5]), "bad")
        if not faults:
            _, ids = self._held(snapshot)
            self.session.record(SettingsSet(settings=settings), replaces=ids)
            self.session.unsaved.keep(FORM, {})
            self._touched = False
            self.note.emit("settings and rules recorded")

    def put_back(self) -> None:
        """Show what is recorded; what was typed is given up."""
        if self.snapshot is not None:
            self._fill(self._recorded(self.snapshot))
            self._touched = False
            self.session.unsaved.keep(FORM, {})
            say_or_hide(self.told, "")

    def to_search(self) -> None:
        """Go to the finder."""
        self.search.setFocus()

    def terrain(self) -> None:
        """Take in an elevation grid."""
        path = ask.open_file(self, "Import an elevation grid", GRIDS)
        ledger, snapshot = self.session.ledger, self.snapshot
        if path is None or ledger is None or snapshot is None:
            return
        settings, ids = self._held(snapshot)
        grids = snapshot.state.all_of(TerrainSet)
        earlier = grids[0][0].ids if grids else ()
        event = {**settings.get("event", {}), "terrain": path.name}
        named = Draft(
            act=SettingsSet(settings={**settings, "event": event}),
            why="terrain imported",
            replaces=ids,
        )
        self.jobs.start(
            lambda _: take_terrain(ledger, path, earlier, named),
            text="Importing the terrain",
            done=lambda _: self.session.look_again(),
        )


def new_faults(snapshot: Snapshot, settings: Mapping[str, Any]) -> list[str]:
    """List the faults that other settings would bring into the event."""
    raw = replace(snapshot.state.raw(lambda _: b""), settings=settings)
    before = {str(fault) for fault in snapshot.faults}
    try:
        faults = build(raw)[1]
    except ScorerError as error:
        return [str(error)]
    return [str(fault) for fault in faults if str(fault) not in before]


def take_terrain(
    ledger: Ledger, path: Path, earlier: tuple[EntryId, ...], named: Draft
) -> None:
    """Record an elevation grid, and its name in the settings."""
    if path.stat().st_size > MOST_TERRAIN_BYTES:
        raise ScorerError(
            f"{path.name} has over {MOST_TERRAIN_BYTES // 2**30} GiB; cut it to the "
            "event's area"
        )
    data = path.read_bytes()
    act = TerrainSet(name=path.name, sha256=sha256_of(data), size=len(data))
    grid = Draft(
        act=act, why="terrain imported", replaces=earlier, files={act.sha256: data}
    )
    ledger.record_all([grid, named])
