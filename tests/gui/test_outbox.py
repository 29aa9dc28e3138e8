"""Nothing recorded is lost: not with the database gone, not with the program dead."""

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QObject

from gui.outbox import Outbox
from gui.waiting import WaitingFile
from scorer.ledger import drives
from scorer.ledger.acts import MarkKeyed, NoteMade
from scorer.ledger.api import Draft, Ledger, new_desk
from scorer.ledger.faults import LedgerError, UnreachableError
from tests.gui.helpers import key_mark, page, settled

GONE = "the server at desk-room does not answer; check the cable"


class Line:
    """The way to the database, which can be cut."""

    def __init__(self, store, monkeypatch):
        self.cut = False
        self._append, self._new, self._last = store.append, store.new_since, store.last
        monkeypatch.setattr(store, "append", self.append)
        monkeypatch.setattr(store, "new_since", self.new_since)
        monkeypatch.setattr(store, "last", self.last)

    def append(self, *args, **named):
        self._check()
        return self._append(*args, **named)

    def new_since(self, *args):
        self._check()
        return self._new(*args)

    def last(self):
        self._check()
        return self._last()

    def _check(self):
        if self.cut:
            raise UnreachableError(GONE)


@pytest.fixture
def ledger(tmp_path):
    with Ledger.create(tmp_path / "e.sandtail", desk=new_desk("a"), who="Yrsa") as made:
        yield made


def notes(ledger):
    return [act.text for _, act in ledger.state().all_of(NoteMade)]


def test_entries_wait_in_order_and_go_when_the_line_is_back(
    qtbot, ledger, tmp_path, monkeypatch
):
    line, parent = Line(ledger.store, monkeypatch), QObject()
    outbox = Outbox(parent, ledger, tmp_path / "waiting.jsonl")
    line.cut = True
    with qtbot.waitSignal(outbox.waiting) as waiting:
        for text in ("one", "two", "three"):
            outbox.put([Draft(act=NoteMade(text=text))], who="Obafemi")
    assert waiting.args[1] == GONE
    line.cut = False
    outbox.retry()
    qtbot.waitUntil(lambda: not outbox.drafts)
    assert notes(ledger) == ["one", "two", "three"]
    assert {e.who for e in ledger.state().entries[1:]} == {"Obafemi"}
    outbox.close()


def test_what_waited_when_the_program_died_is_sent_by_the_next(
    qtbot, ledger, tmp_path, monkeypatch
):
    line, parent = Line(ledger.store, monkeypatch), QObject()
    first = Outbox(parent, ledger, tmp_path / "waiting.jsonl")
    line.cut = True
    with qtbot.waitSignal(first.waiting):
        first.put([Draft(act=NoteMade(text="kept"))], who="Yrsa")
    first.close()
    line.cut = False
    second = Outbox(parent, ledger, tmp_path / "waiting.jsonl")
    with qtbot.waitSignal(second.written):
        second.retry()
    assert notes(ledger) == ["kept"]
    second.close()


def test_an_entry_that_arrived_although_nobody_heard_is_not_written_twice(
    qtbot, ledger, tmp_path
):
    parent = QObject()
    draft = Draft(act=NoteMade(text="once"))
    ledger.record_all([draft])
    outbox = Outbox(parent, ledger, tmp_path / "waiting.jsonl")
    with qtbot.waitSignal(outbox.written):
        outbox.put([draft], who="Yrsa")
    assert notes(ledger) == ["once"]
    outbox.close()


def test_what_the_ledger_never_takes_is_set_aside_and_told(
    qtbot, ledger, tmp_path, monkeypatch
):
    parent = QObject()

    def refuse(*_, **__):
        raise LedgerError("this cannot be")

    monkeypatch.setattr(ledger.store, "append", refuse)
    outbox = Outbox(parent, ledger, tmp_path / "waiting.jsonl")
    with qtbot.waitSignal(outbox.refused) as refused:
        outbox.put([Draft(act=NoteMade(text="no"))], who="Yrsa")
    assert refused.args[1] == "this cannot be"
    assert not outbox.drafts
    aside = (tmp_path / "refused-waiting.jsonl").read_text(encoding="utf-8")
    assert '"text":"no"' in aside.replace(" ", "").replace("\\", "")
    outbox.close()


def test_one_refused_entry_of_a_backlog_does_not_hold_up_the_others(
    qtbot, ledger, tmp_path, monkeypatch
):
    line, parent = Line(ledger.store, monkeypatch), QObject()
    outbox = Outbox(parent, ledger, tmp_path / "waiting.jsonl")
    line.cut = True
    with qtbot.waitSignal(outbox.waiting):
        for text in ("one", "\ud800 broken", "three"):
            outbox.put([Draft(act=NoteMade(text="x"), why=text)], who="Yrsa")
    line.cut = False
    with qtbot.waitSignal(outbox.refused):
        outbox.retry()
    qtbot.waitUntil(lambda: not outbox.drafts)
    assert [e.why for e in ledger.state().entries[1:]] == ["one", "three"]
    outbox.close()


def test_keying_goes_on_while_the_database_is_gone(qtbot, desk, monkeypatch):
    keying = page(desk, "keying")
    desk.session.choose_task(2)
    desk.session.set_who("Ingrid")
    keying.line.to_start()
    line = Line(desk.session.ledger.store, monkeypatch)
    line.cut = True
    key_mark(4, "12 m")
    # once, where people without a mouse read it
    qtbot.waitUntil(lambda: GONE in desk.note.text())
    for pilot in (5, 6):
        key_mark(pilot, "12 m")
    qtbot.waitUntil(lambda: "wait for the event file" in desk.link.text())
    on_the_way = {row.pilot for row in keying.table.rows_model.rows if not row.ids}
    assert on_the_way == {4, 5, 6}
    assert GONE in desk.link.toolTip()
    line.cut = False
    desk.again()
    settled(qtbot, desk)
    mine = [
        a.fields["pilot"]
        for _, a in desk.session.snapshot.state.all_of(MarkKeyed)
        if a.fields["by"] == "Ingrid"
    ]
    assert mine == ["4", "5", "6"]
    qtbot.waitUntil(lambda: desk.link.text() == "All up to date")


def test_closing_with_the_database_gone_keeps_what_waits(qtbot, desk, monkeypatch):
    keying = page(desk, "keying")
    desk.session.set_who("Ingrid")
    desk.session.choose_task(2)
    keying.line.to_start()
    Line(desk.session.ledger.store, monkeypatch).cut = True
    with qtbot.waitSignal(desk.session.waiting):
        key_mark(4, "12 m")
    target = desk.session.target
    desk.session.close()
    monkeypatch.undo()
    with qtbot.waitSignal(desk.session.recorded):
        desk.open_target(str(target), "Ingrid")
    settled(qtbot, desk)
    assert any(
        a.fields["by"] == "Ingrid"
        for _, a in desk.session.snapshot.state.all_of(MarkKeyed)
    )


def test_two_windows_on_one_event_keep_entries_apart(
    qtbot, ledger, tmp_path, monkeypatch
):
    """Each has a file of its own; a third takes over from those that are gone."""
    line, parent = Line(ledger.store, monkeypatch), QObject()
    file = tmp_path / "waiting.jsonl"
    line.cut = True
    one, two = Outbox(parent, ledger, file), Outbox(parent, ledger, file)
    for number, outbox in enumerate((one, two, one, two, one)):
        outbox.put([Draft(act=NoteMade(text=str(number)))], who="Yrsa")
    assert [len(box.drafts) for box in (one, two)] == [3, 2]
    two.close()  # as when its window is gone
    three = Outbox(parent, ledger, file)
    assert len(three.drafts) == 2
    one.close()
    three.close()
    line.cut = False
    last = Outbox(parent, ledger, file)
    last.retry()
    qtbot.waitUntil(lambda: not last.drafts)
    assert sorted(notes(ledger)) == ["0", "1", "2", "3", "4"]
    last.close()
    assert not list(tmp_path.glob("waiting*"))


DIES = """
import os, sys
from pathlib import Path
from gui.waiting import WaitingFile
kept = WaitingFile(Path(sys.argv[1]))
kept.keep([sys.argv[2]])
print("kept", flush=True)
sys.stdin.read()
"""


def test_what_a_killed_window_left_is_taken_over_and_a_living_one_s_is_not(tmp_path):
    file = tmp_path / "waiting.jsonl"
    windows = [
        subprocess.Popen(
            [sys.executable, "-c", DIES, str(file), name],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            cwd=Path(__file__).parents[2],
        )
        for name in ("killed", "lives")
    ]
    for window in windows:
        assert window.stdout.readline() == b"kept\n"
    windows[0].kill()
    windows[0].wait()
    next_one = WaitingFile(file)
    assert next_one.lines == ("killed",)
    next_one.close()
    windows[1].kill()
    for window in windows:
        window.communicate()
    last = WaitingFile(file)
    assert sorted(last.lines) == ["killed", "lives"]
    last.keep([])
    last.close()


def test_entries_wait_while_the_event_file_is_not_at_its_place(qtbot, ledger, tmp_path):
    parent = QObject()
    outbox = Outbox(parent, ledger, tmp_path / "waiting.jsonl")
    (tmp_path / "e.sandtail").rename(tmp_path / "away")
    with qtbot.waitSignal(outbox.waiting) as waiting:
        outbox.put([Draft(act=NoteMade(text="kept"))], who="Yrsa")
    assert "moved or replaced" in waiting.args[1]
    assert len(outbox.drafts) == 1
    (tmp_path / "away").rename(tmp_path / "e.sandtail")
    outbox.retry()
    qtbot.waitUntil(lambda: not outbox.drafts)
    assert notes(ledger) == ["kept"]
    outbox.close()


def test_what_waits_for_a_copy_goes_into_the_copy(qtbot, ledger, tmp_path, monkeypatch):
    """Keyed with the copy open: the event that it is a copy of never gets it."""
    original, copied = tmp_path / "e.sandtail", tmp_path / "copy.sandtail"
    copied.write_bytes(original.read_bytes())
    kept, parent = tmp_path / "waiting.jsonl", QObject()
    with Ledger.open(copied, desk=new_desk("b"), who="Yrsa") as copy:
        line = Line(copy.store, monkeypatch)
        line.cut = True
        outbox = Outbox(parent, copy, kept, str(copied))
        with qtbot.waitSignal(outbox.waiting):
            outbox.put([Draft(act=NoteMade(text="for the copy"))], who="Yrsa")
        outbox.close()

        first = Outbox(parent, ledger, kept, str(original))
        assert first.drafts == ()
        first.close()

        line.cut = False
        again = Outbox(parent, copy, kept, str(copied))
        again.retry()
        qtbot.waitUntil(lambda: not again.drafts)
        again.close()
        assert notes(copy) == ["for the copy"]
    assert notes(ledger) == []


@pytest.mark.parametrize("left", ["moved", "of an earlier version"])
def test_what_waits_for_a_file_that_is_gone_goes_into_its_copy(
    qtbot, ledger, tmp_path, monkeypatch, left
):
    """The file was given another name: nothing that was entered is lost."""
    kept, parent = tmp_path / "waiting.jsonl", QObject()
    line = Line(ledger.store, monkeypatch)
    line.cut = True
    gone = str(tmp_path / "gone.sandtail") if left == "moved" else ""
    outbox = Outbox(parent, ledger, kept, gone)
    with qtbot.waitSignal(outbox.waiting):
        outbox.put([Draft(act=NoteMade(text="still here"))], who="Yrsa")
    outbox.close()
    line.cut = False
    again = Outbox(parent, ledger, kept, str(tmp_path / "e.sandtail"))
    again.retry()
    qtbot.waitUntil(lambda: not again.drafts)
    again.close()
    assert notes(ledger) == ["still here"]
    assert [p.name for p in tmp_path.glob("waiting*.jsonl")] == []


def test_an_event_on_a_network_drive_is_told(
    qtbot, window, small, tmp_path, monkeypatch
):
    listed = tmp_path / "mounts"
    listed.write_text(f"box:/x {small.parent} nfs rw 0 0\n", encoding="utf-8")
    monkeypatch.setattr(drives, "_MOUNTS", listed)
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(small), "Yrsa")

    qtbot.waitUntil(lambda: window.link.text() == "Up to date, on a network drive")
    assert "desks take turns" in window.link.toolTip()
    assert "desks take turns" in page(window, "desks").told.text()
