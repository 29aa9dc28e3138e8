"""Commands as data: what they are called, their keys, what they need."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from gui.keys import Key, cap, numbered
from gui.state import Condition, why_not


class Spec(NamedTuple):
    """One command as the user meets it; its name is that of the method it calls."""

    name: str
    text: str
    key: Key
    tip: str
    needs: frozenset[Condition] = frozenset()
    gives: int | str | None = None
    """What the method is given, where several commands call the same one."""

    @property
    def ident(self) -> str:
        """What tells a command from the others of its widget: `take_2`."""
        return self.name if self.gives is None else f"{self.name}_{self.gives}"


def needs(*facts: Condition) -> frozenset[Condition]:
    """Gather the facts a command needs."""
    return frozenset(facts)


def takes(needed: frozenset[Condition], *said: tuple[str, str]) -> tuple[Spec, ...]:
    """Return commands for the keys 1, 2, …, by text and tip: each calls `take(number)`."""
    return tuple(
        Spec("take", text, key, tip, needed, int(key))
        for key, (text, tip) in numbered(said)
    )


class Actions:
    """The commands of one widget: the window, or a page."""

    def __init__(self, owner: QWidget, specs: Sequence[Spec], where: str) -> None:
        self.where = where
        self.specs: Mapping[str, Spec] = {spec.ident: spec for spec in specs}
        self.all = {spec.ident: self._action(owner, spec) for spec in specs}

    @staticmethod
    def _action(owner: QWidget, spec: Spec) -> QAction:
        action = QAction(spec.text, owner)
        action.setObjectName(spec.ident)
        action.setStatusTip(spec.tip)
        if spec.key:
            action.setShortcut(QKeySequence(spec.key))
        if not owner.isWindow():
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        given = () if spec.gives is None else (spec.gives,)
        action.triggered.connect(lambda _=False: getattr(owner, spec.name)(*given))
        owner.addAction(action)
        return action

    def enable(self, facts: frozenset[Condition]) -> None:
        """Enable what the facts allow, and say why not for the rest."""
        for name, action in self.all.items():
            spec = self.specs[name]
            action.setEnabled(spec.needs <= facts)
            missing = why_not(spec.needs, facts)
            key = f" ({cap(spec.key)})" if spec.key else ""
            action.setToolTip(f"{spec.tip}{key}" + (f"\n{missing}" if missing else ""))

    def __getitem__(self, name: str) -> QAction:
        """Return a command."""
        return self.all[name]
