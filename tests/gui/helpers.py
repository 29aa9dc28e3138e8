"""How tests give commands: by keys, and by waiting for what follows."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from gui.pages.page import Page


def page(window, name) -> Page:
    """Go to a page by its key, or by its name where it has none, and return it."""
    key = window.page_named(name).key
    window.activateWindow()  # without a window manager nobody does it after a dialog
    QApplication.processEvents()
    if key:
        QTest.keyClick(
            window, Qt.Key(ord(key[-1])), Qt.KeyboardModifier.ControlModifier
        )
    else:
        QTest.keyClick(window, Qt.Key.Key_F2)
        QTest.keyClicks(window.finder.words, f"page {window.page_named(name).title}")
        QTest.keyClick(window.finder.words, Qt.Key.Key_Return)
        window.activateWindow()
        QApplication.processEvents()
    assert window.page.name == name
    return window.page


def type_text(text):
    """Type into whatever has the keyboard; QTest knows ASCII keys only."""
    if text.isascii():
        QTest.keyClicks(QApplication.focusWidget(), text)
    else:
        QApplication.focusWidget().insert(text)


def press(key, *modifiers):
    """Press one key in whatever has the keyboard."""
    held = Qt.KeyboardModifier.NoModifier
    for modifier in modifiers:
        held |= modifier
    QTest.keyClick(QApplication.focusWidget(), key, held)


def enter():
    """Press Enter."""
    press(Qt.Key.Key_Return)


def give(shown, name):
    """Give a command that has no key, as its button and the list of commands do."""
    action = shown.actions_[name]
    assert action.isEnabled()
    action.trigger()


def settled(qtbot, window):
    """Wait until everything recorded is written, read again and scored."""
    qtbot.waitUntil(
        lambda: not window.session.pending and window.session.up_to_date, timeout=20_000
    )


def key_mark(number, distance):
    """Key one mark: number, Enter, distance, Enter."""
    type_text(str(number))
    enter()
    type_text(distance)
    enter()


CTRL = Qt.KeyboardModifier.ControlModifier
