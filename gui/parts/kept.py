"""What is half typed in a form: it comes back after a crash, until recorded or dropped.

A page with one form writes `self.kept = Kept(session, "place", {"name": self.name, …})`,
calls `kept.restore()` when an event is shown, `kept.keep()` when it emptied the form, and
`kept.forget()` when the event is closed.  A bar that asks about one thing after another
calls `kept.begin(what)` when it asks, and `kept.done()` when all that was asked since is
recorded or dropped.  Where what is half typed about one thing waits while another one is
asked about, it calls `kept.turn_to(what)` instead.
"""

from collections.abc import Iterable, Mapping
from typing import Protocol, TypeVar

from PySide6.QtWidgets import QComboBox, QLineEdit

from gui.session import Session
from gui.widgets import choose
from scorer.ledger.acts import EntryId

ABOUT = "about"
Field = QLineEdit | QComboBox


class Recorded(Protocol):
    """A row of a list, with the entries that it stands for."""

    @property
    def ids(self) -> tuple[EntryId, ...]:
        """Their identifiers."""


R = TypeVar("R", bound=Recorded)


class Kept:
    """The fields of a form, kept on this computer while somebody types in them."""

    def __init__(
        self, session: Session, form: str, fields: Mapping[str, Field]
    ) -> None:
        self._session, self._form, self._fields = session, form, fields
        self._slots: list[str] = [form]
        self._target: str | None = None
        self.about = ""
        """What the form changes, by its identifiers; it comes back with the texts."""
        self._empty = self.texts
        for one in fields.values():
            line = one.lineEdit() if isinstance(one, QComboBox) else one
            if line is not None:
                line.textEdited.connect(lambda _: self.keep())
            if isinstance(one, QComboBox):
                one.activated.connect(lambda _: self.keep())

    @property
    def texts(self) -> dict[str, str]:
        """What stands in the fields."""
        return {name: text_of(one) for name, one in self._fields.items()}

    def keep(self) -> None:
        """Keep what stands in the fields; nothing where nothing is typed."""
        texts = self.texts
        typed = any(
            texts[name] != self._empty[name]
            for name, one in self._fields.items()
            if isinstance(one, QLineEdit) or one.isEditable()
        )
        kept = {**texts, ABOUT: self.about} if typed else {}
        self._session.unsaved.keep(self._slots[-1], kept)

    def restore(self) -> bool:
        """Put back, once for each event, what was left; tell whether anything was."""
        if self._target == self._session.target:
            return False
        self._target = self._session.target
        return self._put_back()

    def changes(self, row: Recorded) -> None:
        """What is typed from now on changes something that is recorded."""
        self.about = " ".join(row.ids)

    def changed_of(self, rows: Iterable[R]) -> R | None:
        """Return which of some rows is changed by what came back; None = a new one."""
        return next((r for r in rows if " ".join(r.ids) == self.about), None)

    def forget(self) -> None:
        """The event is closed: what is kept of it stays with it."""
        self._target, self.about = None, ""
        del self._slots[1:]

    def begin(self, asked: str) -> bool:
        """Put back what was being typed about a thing; tell whether anything was."""
        slot = f"{self._form} {asked}"
        if slot == self._slots[-1]:
            return False
        self._slots.append(slot)
        return self._put_back()

    def turn_to(self, asked: str) -> bool:
        """Begin with another thing; what is half typed about the one before waits."""
        del self._slots[1:]
        return self.begin(asked)

    def done(self) -> None:
        """What was asked about since is recorded or dropped."""
        for slot in self._slots[1:]:
            self._session.unsaved.keep(slot, {})
        del self._slots[1:]

    def _put_back(self) -> bool:
        texts = self._session.unsaved.of(self._slots[-1])
        self.about = texts.pop(ABOUT, self.about)
        for name, text in texts.items():
            if name in self._fields:
                put_text(self._fields[name], text)
        return bool(texts)


def text_of(one: Field) -> str:
    """Return what stands in a field, or which value is chosen in it."""
    if isinstance(one, QLineEdit):
        return one.text()
    return one.currentText() if one.isEditable() else str(one.currentData())


def put_text(one: Field, text: str) -> None:
    """Put back what `text_of` returned."""
    if isinstance(one, QLineEdit):
        one.setText(text)
    elif one.isEditable():
        one.setCurrentText(text)
    else:
        by_text = {str(one.itemData(i)): one.itemData(i) for i in range(one.count())}
        choose(one, by_text.get(text))
