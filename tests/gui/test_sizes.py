"""Every page on small and large screens, with small and large text: nothing is cut.

The sizes are those of screens in use: an old projector's width with a low window, a small
laptop, a desk screen (common practice, no source).
"""

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractScrollArea,
    QApplication,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QStyle,
    QStyleOptionComboBox,
    QStyleOptionFrame,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from gui.pages.page import Form
from gui.pages.registry import PAGES, START
from gui.parts.capbutton import CapButton
from gui.parts.choices import ChoiceButton
from gui.parts.oneline import OneLine
from gui.parts.scrolled import Scrolled
from gui.parts.wrapped import Wrapped
from gui.plots.labels import Labels
from gui.style import LOOK
from tests.gui.helpers import CTRL, page, press, type_text

SHIFT = Qt.KeyboardModifier.ShiftModifier
SIZES = [(w, h, s) for w, h in ((1024, 640), (1280, 800), (1920, 1080)) for s in (0, 4)]
NAMES = [page.name for page in PAGES if page.name != START]
HINT_EDGE = 4
"""What Qt leaves free beside the text of a field."""
WHOLE = {"matters", "keying", "settle", "findings", "results", "publish"}
"""Pages on which the line that decides never scrolls away."""
BEGUN = {
    "findings": (("waive",), ("set_amount",), ("waive", "take_4")),
    "settle": (("take_1",), ("take_other",), ("take_1", "take_4")),
}
"""Commands by which deciding begins: reasons and fields come up."""
ASKS = {"roster": "withdraw", "tasks": "cancel_task", "desks": "undo"}
"""Commands by which a page asks why."""
ANY = Qt.TextFlag.TextWordWrap


def seen(shown, kind):
    return [w for w in shown.findChildren(kind) if w.isVisible()]


def cut_labels(shown):
    """Texts that need more height than they have, or more width and give no way."""
    for told in seen(shown, QLabel):
        if not told.text() or not told.pixmap().isNull():
            continue
        room = told.contentsRect()
        if told.wordWrap():
            lacks = told.heightForWidth(told.width()) > told.height() + 1
        else:
            lacks = told.fontMetrics().height() > room.height() + 1
            if not isinstance(told, OneLine):
                lacks |= told.sizeHint().width() > told.width() + 1
        if lacks:
            yield f"label {told.text()[:40]!r} in {told.width()}x{told.height()}"


def cut_buttons(shown):
    """Buttons whose words do not stand whole."""
    for button in seen(shown, QPushButton):
        if isinstance(button, CapButton):
            words = button.words
            asked = words.fontMetrics().horizontalAdvance(words.text())
            lacks = (
                asked > words.width() + 1
                or words.fontMetrics().height() > button.height()
            )
            name = words.text()
        else:
            least = button.sizeHint()
            lacks = (
                least.width() > button.width() + 1
                or least.height() > button.height() + 1
            )
            name = button.text()
        if lacks:
            yield f"button {name!r} in {button.width()}x{button.height()}"


def cut_heads(shown):
    """Heads of columns that do not stand whole, and cells lower than their text."""
    for table in seen(shown, QTableView):
        head, model = table.horizontalHeader(), table.model()
        metrics = head.fontMetrics()
        for column in range(model.columnCount() if head.isVisible() else 0):
            if table.isColumnHidden(column):
                continue
            title = str(model.headerData(column, Qt.Orientation.Horizontal) or "")
            width = head.sectionSize(column)
            asked = metrics.boundingRect(0, 0, width, 9999, int(ANY), title)
            if asked.width() > width or asked.height() > head.height():
                yield f"head {title!r} in {width}x{head.height()} {table.accessibleName()}"
        tall = QFontMetrics(table.font()).height()
        if any(table.rowHeight(r) < tall for r in range(min(model.rowCount(), 3))):
            yield f"rows of {table.accessibleName()}"


def cut_titles(shown):
    """Titles of pictures that run out of them."""
    for names in seen(shown, Labels):
        if names.title and names._title_rect().right() > names.width():
            yield f"picture {names.headed!r} in {names.width()}"


def behind_fields(shown):
    """Names of fields that stand behind them or beneath: they are read as readings."""
    for named in seen(shown, QLabel):
        field = named.buddy()
        if field is not None and field.isVisible():
            at, of = (w.mapTo(shown, w.rect().topLeft()) for w in (named, field))
            if at.x() > of.x() or at.y() > of.y() + field.height():
                yield f"name {named.text()!r} stands behind its field"


def cut_fields(shown):
    """Fields that run out of what they stand in."""
    for box in (*seen(shown, QLineEdit), *seen(shown, QComboBox)):
        beyond = box.geometry().right() + 1 - box.parentWidget().width()
        if beyond > 0:
            yield f"field {box.accessibleName()!r} {beyond} beyond its row"


def cut_hints(shown):
    """What stands in an empty field to say what it takes, and what is chosen in a box."""
    for line in seen(shown, QLineEdit):
        told = line.placeholderText()
        if not told or line.text() or isinstance(line.parentWidget(), QComboBox):
            continue
        option = QStyleOptionFrame()
        line.initStyleOption(option)
        part = QStyle.SubElement.SE_LineEditContents
        room = line.style().subElementRect(part, option, line).width() - HINT_EDGE
        if line.fontMetrics().horizontalAdvance(told) > room:
            yield f"hint {told!r} in {room} of {line.accessibleName()!r}"
    for box in seen(shown, QComboBox):
        option = QStyleOptionComboBox()
        box.initStyleOption(option)
        kind = QStyle.ComplexControl.CC_ComboBox
        part = QStyle.SubControl.SC_ComboBoxEditField
        room = box.style().subControlRect(kind, option, part, box).width()
        if box.fontMetrics().horizontalAdvance(box.currentText()) > room + 1:
            yield f"choice {box.currentText()!r} in {room} of {box.accessibleName()!r}"


def cut_asides(shown):
    """What a choice comes to stands whole behind it, or not at all."""
    for button in seen(shown, ChoiceButton):
        told = button.aside
        if told.isVisible() and told.drawn() not in {"", told.text()}:
            yield f"aside {told.drawn()!r}"


def sideways(window, shown):
    """What would scroll sideways."""
    area = window.frame.stack.currentWidget()
    if shown.width() > area.viewport().width():
        yield f"page {shown.width()} wide in {area.viewport().width()}"
    for area in seen(shown, QAbstractScrollArea):
        if area.horizontalScrollBar().maximum() > 0:
            name = area.accessibleName() or area.objectName()
            yield f"{type(area).__name__} {name!r} scrolls {area.horizontalScrollBar().maximum()}"


def low(shown):
    """Lists in which not even two rows can be read."""
    for table in seen(shown, QAbstractItemView):
        if isinstance(table, QHeaderView):
            continue
        if table.viewport().height() < table.fontMetrics().height() * 2:
            yield f"list {table.accessibleName()} {table.viewport().height()} high"


def below(window, name, width, step):
    """A decision that stands below the window's edge: with text of the first step, none."""
    bar = window.frame.stack.currentWidget().verticalScrollBar()
    if step == 0 and name in WHOLE and bar.maximum() > 0:
        yield f"page is {bar.maximum()} too high at {width}"


def at(window, width, height, step):
    window.screens.set_step(step)
    window.resize(width, height)
    window._dress()
    QTest.qWait(1)


def faults_of(window, name, width, height, step):
    """Go to a page and return what is cut on it, once it stands."""
    window.go(name)
    return faults_here(window, name, width, height, step)


def faults_here(window, name, width, height, step):
    """Return what is cut on the page in front, once it stands."""
    for _ in range(20):
        for _ in range(8):
            QApplication.processEvents()
        found = list(_faults(window, name, width, height, step))
        if not found:
            break
        QTest.qWait(25)
    return found


def _faults(window, name, width, height, step):
    shown = window.page
    if (window.width(), window.height()) != (width, height):
        yield f"window {window.width()}x{window.height()}"
    yield from cut_labels(window)
    yield from cut_buttons(window)
    yield from cut_heads(shown)
    yield from cut_titles(shown)
    yield from behind_fields(shown)
    yield from cut_fields(shown)
    yield from cut_hints(shown)
    yield from cut_asides(shown)
    yield from sideways(window, shown)
    yield from low(shown)
    yield from below(window, name, width, step)


def faults_while_deciding(window, name, *size):
    """Begin each decision of a page and return what is cut then."""
    faults = []
    window.go(name)
    page = window.page
    for way in BEGUN[name]:
        high = page.bar.height()
        for command in way:
            page.actions_.all[command].trigger()
        faults += [f"{way} {what}" for what in faults_here(window, name, *size)]
        if not page.bar.whys.isVisible():
            faults.append(f"{way} asks for no reason")
        if abs(page.bar.height() - high) > 2:  # a field is a hair higher than a button
            faults.append(f"{way} makes the bar {page.bar.height()} of {high} high")
        page.out()
    return faults


def faults_while_asking(window, name, *size):
    """Give a command for which the page asks why, and return what is cut then."""
    window.go(name)
    page = window.page
    page.actions_.all[ASKS[name]].trigger()
    QApplication.processEvents()
    faults = [f"asking: {what}" for what in faults_here(window, name, *size)]
    area = window.frame.stack.currentWidget()
    low = page.why_bar.mapTo(area, page.why_bar.rect().bottomLeft()).y()
    if low > area.viewport().height():
        faults.append(f"the bar that asks ends {low} deep in {area.height()}")
    page.why_bar.drop()
    return faults


def test_nothing_is_cut_on_any_screen(qtbot, desk):
    desk.go("publish")
    qtbot.waitUntil(lambda: desk.page.outlook is not None)
    found = []
    try:
        for size in SIZES:
            at(desk, *size)
            for name in NAMES:
                faults = faults_of(desk, name, *size)
                if name in BEGUN:
                    faults += faults_while_deciding(desk, name, *size)
                if name in ASKS:
                    faults += faults_while_asking(desk, name, *size)
                found += [
                    f"{name} {size[0]}x{size[1]} text {size[2]}: {what}"
                    for what in faults
                ]
    finally:
        at(desk, 1280, 800, 0)
    assert not found, "\n".join(found)


def test_nothing_is_cut_where_a_penalty_is_added(desk):
    """Nor after that: what is not in front asks for its room all the same."""
    found = []
    try:
        for size in (*SIZES[1::2], *SIZES[::2]):  # a small text after a large one
            at(desk, *size)
            desk.go("findings")
            desk.page.actions_.all["impose"].trigger()
            found += [f"{size} {what}" for what in faults_here(desk, "findings", *size)]
            desk.page.out()
            found += [f"{size} {what}" for what in faults_here(desk, "findings", *size)]
    finally:
        at(desk, 1280, 800, 0)
    assert not found, "\n".join(found)


def test_a_bar_that_only_its_own_width_asks_for_goes_away(qtbot):
    """Beside it text takes one line more, and with that line it was needed for good."""
    told = Wrapped("a word or two more " * 40)
    inside = QWidget()
    QVBoxLayout(inside).addWidget(told)
    area = Scrolled(inside)
    qtbot.addWidget(area)
    bar = area.verticalScrollBar()
    wide = bar.sizeHint().width()
    edges = inside.layout().contentsMargins()
    beside = edges.left() + edges.right()
    width, height = next(
        (w, told.heightForWidth(w - beside) + edges.top() + edges.bottom())
        for w in range(300, 500)
        if told.heightForWidth(w - beside) < told.heightForWidth(w - beside - wide)
    )
    area.resize(width, height - 40)
    area.show()
    qtbot.waitUntil(bar.isVisible)
    area.resize(width, height)
    qtbot.waitUntil(lambda: not bar.isVisible())
    area.resize(width, height - 40)
    qtbot.waitUntil(bar.isVisible)


def whole_buttons(window):
    """Return the texts of the buttons that can be seen whole."""
    shown = window.frame.stack.currentWidget().viewport()
    return {
        button.words.text()
        for button in seen(window.page, CapButton)
        if shown.rect().contains(
            QRect(button.mapTo(shown, button.rect().topLeft()), button.size())
        )
    }


def out_of_sight(window):
    """Return what the main buttons of the page say that cannot be seen whole."""
    mains = (b for b in seen(window.page, CapButton) if b.objectName() == "main")
    return {button.words.text() for button in mains} - whole_buttons(window)


def test_the_main_button_of_every_page_is_in_sight(desk):
    """Of the hall board's page it was below the edge of a small screen with large text."""
    found = []
    try:
        for size in SIZES:
            at(desk, *size)
            for name in NAMES:
                desk.go(name)
                for _ in range(20):
                    QApplication.processEvents()
                    if not (lost := out_of_sight(desk)):
                        break
                    QTest.qWait(25)
                found += [f"{name} {size}: {text}" for text in lost]
    finally:
        at(desk, 1280, 800, 0)
    assert not found, "\n".join(found)


def test_nothing_is_cut_on_the_first_page(window):
    """It is there while no event is open: with it closed, as an official finds it."""
    found = []
    try:
        for size in SIZES:
            at(window, *size)
            found += [f"{size}: {what}" for what in faults_of(window, START, *size)]
            found += [f"{size}: {what} out of sight" for what in out_of_sight(window)]
    finally:
        at(window, 1280, 800, 0)
    assert not found, "\n".join(found)


def test_list_and_detail_take_turns_in_a_small_window(desk):
    names = ("findings", "settle", "rules", "results", "tasks")
    try:
        at(desk, 1024, 640, 4)
        for name in names:
            desk.go(name)
            shown, first = desk.page, desk.page.sides[0]
            assert shown.form is Form.SMALL
            assert [s.isVisible() for s in shown.sides].count(True) == 1
            assert first.isVisible()
            seen = set()
            for _ in shown.panes:
                desk.next_pane()
                now = [s for s in shown.sides if s.isVisible()]
                assert len(now) == 1
                focus = QApplication.focusWidget()
                assert focus is not None
                assert focus.isVisible()
                seen.add(shown.sides.index(now[0]))
            assert seen == set(range(len(shown.sides)))
            assert first.isVisible()
        at(desk, 1280, 800, 0)
        for name in names:
            desk.go(name)
            assert all(side.isVisible() for side in desk.page.sides)
    finally:
        at(desk, 1280, 800, 0)


@pytest.mark.parametrize("step", [0, 4])
@pytest.mark.parametrize("name", ["findings", "keying", "results", "tasks"])
def test_shift_f6_goes_back_through_the_panes_that_f6_goes_through(desk, name, step):
    try:
        at(desk, 1024, 640, step)
        desk.go(name)
        desk.page.to_pane(desk.page.panes[0])
        there = []
        for _ in range(3):
            there.append(QApplication.focusWidget())
            press(Qt.Key.Key_F6)
        for before in reversed(there):
            press(Qt.Key.Key_F6, SHIFT)
            assert QApplication.focusWidget() is before
            assert before.isVisible()
    finally:
        at(desk, 1280, 800, 0)


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("rules", Qt.Key.Key_Return),
        ("publish", Qt.Key.Key_D),
        ("publish", Qt.Key.Key_F7),
        ("prizes", Qt.Key.Key_N),
        ("tasks", Qt.Key.Key_Return),
        ("results", Qt.Key.Key_Return),
    ],
)
def test_whatever_leads_into_a_detail_shows_it_in_a_small_window(desk, name, key):
    """Enter on a question went to the answer, which a small window had put away."""
    try:
        at(desk, 1024, 640, 4)
        desk.go(name)
        desk.page.to_pane(desk.page.sides[0])
        if key is Qt.Key.Key_N:
            press(key, CTRL)
        else:
            press(key)
        focus = QApplication.focusWidget()
        assert focus is not None
        assert focus.isVisible()
        assert focus is not desk.page.panes[0]
    finally:
        at(desk, 1280, 800, 0)


def test_a_map_of_places_never_shrinks_to_a_line(desk):
    try:
        at(desk, 1024, 640, 4)
        desk.go("places")
        places = desk.page
        places.to_pane(places.line.name)
        QApplication.processEvents()
        assert places.map.widget.height() >= LOOK.px(100)
    finally:
        at(desk, 1280, 800, 0)


def test_the_box_of_pages_names_the_page_in_front_also_where_no_rail_has_it(desk):
    at(desk, 1024, 768, 4)
    assert desk.frame.form is Form.SMALL
    for name, title in (("complaints", "Complaints"), ("pilot", "Pilot")):
        desk.go(name)
        box = desk.frame.top.pages
        assert (box.currentText() or box.placeholderText()) == title
    at(desk, 1280, 800, 0)


def test_a_bar_that_comes_up_stands_whole_where_a_frame_takes_room(qtbot, desk):
    """The frame of a window on a screen 640 high leaves 610: Record stood below the edge."""
    try:
        at(desk, 1024, 610, 0)
        pilot = desk.page_named("pilot")
        desk.lead("pilot", 2)
        pilot.actions_.all["decide"].trigger()
        area = desk.frame.stack.currentWidget()
        bar = pilot.bar

        def whole():
            low = bar.mapTo(area, bar.rect().bottomLeft()).y()
            return (
                bar.mapTo(area, bar.rect().topLeft()).y() >= 0 and low <= area.height()
            )

        qtbot.waitUntil(whole)
        press(Qt.Key.Key_2)
        type_text("400")
        qtbot.waitUntil(lambda: "→" in bar.preview.text())
        qtbot.waitUntil(whole)
        bar.drop()
    finally:
        at(desk, 1280, 800, 0)


def test_commands_are_read_whole_in_a_small_window(desk):
    """With large text each stood there by its beginning."""
    try:
        at(desk, 1024, 640, 4)
        for name in ("matters", "publish", "keying"):
            page(desk, name)
            desk.help()
            QApplication.processEvents()
            found, goals = desk.finder.list, desk.finder.goals
            assert goals.found
            for row, goal in enumerate(goals.found):
                box = found.visualRect(goals.index(row, 0))
                assert box.width() <= found.viewport().width() + HINT_EDGE
                room = QRect(0, 0, box.width(), 9999)
                high = found.fontMetrics().boundingRect(room, ANY, goal.text).height()
                assert high <= box.height(), goal.text
            desk.finder.reject()
    finally:
        desk.finder.reject()
        at(desk, 1280, 800, 0)
