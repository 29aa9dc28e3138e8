"""How tests give commands: by keys, and by waiting for what follows."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit

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
        command(window, f"page {window.page_named(name).title}")
    assert window.page.name == name
    return window.page


def command(window, words):
    """Give a command, or go to a page, with F2 and its words."""
    QTest.keyClick(window, Qt.Key.Key_F2)
    QTest.keyClicks(window.finder.words, words)
    QTest.keyClick(window.finder.words, Qt.Key.Key_Return)
    window.activateWindow()
    QApplication.processEvents()


def focused():
    """Return what has the keyboard; Qt ends the program where a key goes nowhere."""
    here = QApplication.focusWidget()
    assert here is not None, "nothing has the keyboard"
    return here


def type_text(text):
    """Type into whatever has the keyboard; QTest knows ASCII keys only."""
    if text.isascii():
        QTest.keyClicks(focused(), text)
    else:
        focused().insert(text)


def press(key, *modifiers):
    """Press one key in whatever has the keyboard."""
    held = Qt.KeyboardModifier.NoModifier
    for modifier in modifiers:
        held |= modifier
    QTest.keyClick(focused(), key, held)


def enter():
    """Press Enter."""
    press(Qt.Key.Key_Return)


def because(why):
    """Answer, in the bar of the page, why a thing is done."""
    assert focused().accessibleName() == "Why, in words"
    type_text(why)
    enter()


def give(shown, name):
    """Give a command that has no key, as its button and the list of commands do."""
    action = shown.actions_[name]
    assert action.isEnabled()
    action.trigger()


def settled(qtbot, window):
    """Wait until everything recorded is written, read again and scored."""
    qtbot.waitUntil(lambda: not window.session.pending and window.session.up_to_date)


def key_mark(number, distance):
    """Key one mark: number, Enter, distance, Enter."""
    type_text(str(number))
    enter()
    type_text(distance)
    enter()


def to(name):
    """Press Tab until the field of this accessible name has the keyboard."""
    passed = []
    for _ in range(60):
        here = focused()
        if here.accessibleName() == name:
            return here
        passed.append(here.accessibleName())
        press(Qt.Key.Key_Tab)
    raise AssertionError(f"Tab never comes to {name!r}: {list(dict.fromkeys(passed))}")


def write(fields):
    """Go to fields with Tab, one after the other, and type into each or choose in it."""
    for name, text in fields.items():
        box = to(name)
        if isinstance(box, QLineEdit) or box.isEditable():
            press(Qt.Key.Key_A, CTRL)
            type_text(text)
        else:
            pick(box, text)


def pick(box: QComboBox, words):
    """Choose with the arrows what begins with these words."""
    press(Qt.Key.Key_Home)
    for _ in range(box.count()):
        if box.currentText().startswith(words):
            return
        press(Qt.Key.Key_Down)
    options = [box.itemText(i) for i in range(box.count())]
    raise AssertionError(f"{words!r} is none of {options}")


CTRL = Qt.KeyboardModifier.ControlModifier
