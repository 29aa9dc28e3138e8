"""What assistive tools are told, asked through Qt's own interface for them.

Roles are those of the platform interfaces that Qt serves (`QAccessible.Role`, Qt 6
documentation).
"""

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QListView,
    QTableView,
    QWidget,
)

from gui.pages.registry import PAGES
from tests.gui.helpers import page

ROLE, NAME = QAccessible.Role, QAccessible.Text.Name
BUTTONS = {ROLE.Button, ROLE.CheckBox, ROLE.RadioButton, ROLE.ButtonMenu, ROLE.Link}
ROLES = (
    (QLineEdit, {ROLE.EditableText}),
    (QComboBox, {ROLE.ComboBox}),
    (QAbstractButton, BUTTONS),
    (QTableView, {ROLE.Table}),
    (QListView, {ROLE.List, ROLE.Table}),
)


def told(widget):
    """Return role and name of a widget as a screen reader gets them."""
    own = QAccessible.queryAccessibleInterface(widget)
    return own.role(), own.text(NAME).strip()


def reached(shown):
    """Yield what the keyboard reaches: parts within boxes and views are theirs."""
    for widget in shown.findChildren(QWidget):
        alone = not isinstance(widget.parent(), QComboBox | QAbstractItemView)
        keys = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        if widget.isVisible() and alone and keys and widget.focusProxy() is None:
            yield widget


def faults(shown):
    """Name what has no name, or a role that is not its own."""
    for widget in reached(shown):
        role, name = told(widget)
        what = f"{type(widget).__name__} {widget.objectName()!r}"
        if not name:
            yield f"{what} has no name"
        wanted = next((own for kind, own in ROLES if isinstance(widget, kind)), None)
        if wanted is not None and role not in wanted:
            yield f"{what} {name!r} is a {role}"


def test_all_that_the_keyboard_reaches_has_a_name_and_its_role(desk):
    found = []
    for made in PAGES:
        desk.go(made.name)
        found += [f"{made.name}: {fault}" for fault in faults(desk)]
    assert not found, "\n".join(sorted(set(found)))


def test_a_row_is_read_out_whole_and_a_picture_as_a_sentence(qtbot, desk):
    home = page(desk, "matters")
    own = QAccessible.queryAccessibleInterface(home.rows)
    shown = home.rows.shown
    said = [own.child(i).text(NAME) for i in range(own.childCount())]
    assert shown
    for row in shown:
        assert row.spoken in said

    findings = page(desk, "findings")
    qtbot.waitUntil(lambda: findings.pair.profile.picture is not None)
    pilot = findings.rows.row.ruled.finding.pilot
    for picture in (findings.pair.map.widget, findings.pair.profile.widget):
        own = QAccessible.queryAccessibleInterface(picture)
        assert own.text(NAME)
        sentence = own.text(QAccessible.Text.Description)
        assert sentence.endswith(".")
        assert f"{pilot} " in sentence
    places = page(desk, "places")
    qtbot.waitUntil(lambda: places.map.picture is not None)
    own = QAccessible.queryAccessibleInterface(places.map.widget)
    for place in desk.session.snapshot.event.places:
        assert place.name in own.text(QAccessible.Text.Description)
