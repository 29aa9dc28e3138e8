"""One key, one meaning: the registry holds them all, and commands take theirs from it."""

from enum import StrEnum, unique

import pytest
from PySide6.QtGui import QAction, QKeySequence, QShortcut

from gui.keys import MEANINGS, PAGE_KEYS, Key, cap
from gui.pages.registry import HOME, OFF_RAIL, PAGES, RAIL


def test_no_key_has_a_second_meaning():
    chords = [QKeySequence(key).toString() for key in Key if key]
    assert all(chords), "Qt knows every key"
    assert len(set(chords)) == len(chords)
    assert set(MEANINGS) == set(Key) - {Key.NONE}
    with pytest.raises(ValueError, match="duplicate"):
        unique(StrEnum("Twice", {"STOP": "F8", "START": "F8"}))


def test_every_key_of_the_window_stands_in_the_registry(window):
    known = {QKeySequence(key).toString() for key in Key}
    for kind, of in ((QAction, QAction.shortcut), (QShortcut, QShortcut.key)):
        for found in window.findChildren(kind):
            assert of(found).toString() in known, found.objectName()


def test_no_page_takes_a_key_of_the_whole_window(window):
    everywhere = {spec.key for spec in window.commands.specs.values()}
    for page in window.pages:
        own = [spec.key for spec in page.actions_.specs.values() if spec.key]
        assert len(set(own)) == len(own), page.name
        assert not everywhere & set(own), page.name


def test_a_digit_takes_what_bears_its_number(window, monkeypatch):
    counted = {}
    for page in window.pages:
        given = []
        monkeypatch.setattr(page, "take", given.append, raising=False)
        specs = [s for s in page.actions_.specs.values() if s.name == "take"]
        for spec in specs:
            page.actions_[spec.ident].triggered.emit()
        assert (
            given == [int(spec.key) for spec in specs] == list(range(1, len(given) + 1))
        )
        counted[page.name] = len(given)
    assert {name: count for name, count in counted.items() if count} == {
        "findings": 4,
        "settle": 4,
        "rules": 4,
        "pilot": 5,
        "publish": 3,
        "complaints": 3,
        "logs": 3,
    }


def test_pages_have_the_digits_of_the_rail(window):
    keys = [page.key for page in window.pages if page.key]
    assert len(set(keys)) == len(keys)
    assert set(keys) <= set(PAGE_KEYS)


def test_every_page_has_its_place():
    places = [HOME, *(name for _, names in RAIL for name in names), *OFF_RAIL]
    for page in PAGES:
        assert page.name in places


def test_a_key_is_shown_as_its_cap_is_labelled():
    shown = [cap(key) for key in (Key.GO_ON, Key.BACK, Key.LARGER, Key.ADD_PENALTY)]
    assert shown == ["Enter", "Alt+←", "Ctrl++", "+"]
    assert cap(Key.TASK_AFTER) == "Ctrl+PgDn"
