"""The manual in the window: its chapters, its pictures, finding words in it."""

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QTextDocument
from PySide6.QtTest import QTest

from scorer.cli.manual import chapters
from scorer.manual.guides import guide, pictures_in

IMAGE = QTextDocument.ResourceType.ImageResource.value


def opened(window, qtbot):
    QTest.keyClick(window, Qt.Key.Key_F1, Qt.KeyboardModifier.ShiftModifier)
    book = window.handbook
    qtbot.waitUntil(lambda: book.texts != {})
    return book


def listed(book):
    return [book.chapters.item(i).text() for i in range(book.chapters.count())]


def test_every_chapter_can_be_read_with_its_pictures(window, qtbot):
    book = opened(window, qtbot)
    assert list(book.texts) == list(chapters())
    assert len(listed(book)) == len(book.texts)
    for row, (name, text) in enumerate(book.texts.items()):
        book.chapters.setCurrentRow(row)
        assert book.text.name == name
        assert len(book.text.toPlainText()) > len(text) / 3
    for path in pictures_in(guide("morning")):
        image = book.text.loadResource(IMAGE, QUrl(path))
        assert 0 < image.width() <= book.text.viewport().width()


def test_words_narrow_the_chapters_and_are_found(window, qtbot):
    book = opened(window, qtbot)
    QTest.keyClicks(book.words, "gravity of nothing")
    assert listed(book) == []
    book.words.clear()
    QTest.keyClicks(book.words, "protest")
    assert 0 < len(listed(book)) < len(book.texts)
    first = book.text.textCursor()
    assert first.selectedText().casefold() == "protest"
    QTest.keyClick(book.words, Qt.Key.Key_Return)
    assert book.text.textCursor().selectedText().casefold() == "protest"
    QTest.keyClick(book.words, Qt.Key.Key_Down)
    assert book.chapters.currentRow() == 1
    assert "protest" in book.texts[book.text.name].casefold()
