"""Background work: exactly one ending, cancel between two steps."""

import threading
import time

import pytest
from PySide6.QtCore import QObject, Qt
from PySide6.QtTest import QTest

from gui.jobs import Jobs
from gui.window import Window
from scorer.errors import ScorerError
from scorer.words.voice import Voice


@pytest.fixture
def jobs(qapp):
    parent = QObject()
    jobs = Jobs(parent)
    yield jobs
    jobs.shutdown()
    del parent


def test_cancel_stops_between_two_steps(qtbot, jobs):
    started, go_on, done = threading.Event(), threading.Event(), []

    def work(control):
        for step in control.steps(range(1000), "flight"):
            started.set()
            go_on.wait(60)
            done.append(step)

    with qtbot.waitSignal(jobs.stopped), qtbot.assertNotEmitted(jobs.finished):
        jobs.start(work)
        started.wait(60)
        jobs.cancel()
        go_on.set()

    assert done == [0]
    assert not jobs.busy


def test_f8_is_answered_at_once_and_nothing_overwrites_the_answer(qtbot, window):
    started, go_on, foot = threading.Event(), threading.Event(), window.frame.foot

    def work(control):
        for _ in control.steps(range(9), "Reading logs"):
            started.set()
            go_on.wait(60)

    window.jobs.start(work, text="Reading logs")
    started.wait(60)
    qtbot.waitUntil(lambda: "0 of 9" in foot.bar.format())
    QTest.keyClick(window, Qt.Key.Key_F8)
    assert foot.bar.format() == Voice().word("job-stopping")
    window.jobs.progress.emit(1, 9, "Reading logs")  # on its way when F8 was pressed
    assert foot.bar.format() == Voice().word("job-stopping")
    with qtbot.waitSignal(window.jobs.stopped):
        go_on.set()
    assert not foot.bar.isVisible()


def test_what_a_user_can_put_right_is_refused_with_its_sentence(qtbot, jobs):
    def work(_):
        raise ScorerError("choose another name")

    with qtbot.waitSignal(jobs.refused) as refused:
        jobs.start(work)
    assert refused.args == ["choose another name"]


def test_a_file_that_is_not_there_is_refused_with_its_name(qtbot, jobs, tmp_path):
    with qtbot.waitSignal(jobs.refused) as refused:
        jobs.start(lambda _: (tmp_path / "gone").read_bytes())
    assert "gone" in refused.args[0]


def test_a_mistake_of_ours_is_told_apart(qtbot, jobs, caplog):
    with qtbot.waitSignal(jobs.crashed) as crashed:
        jobs.start(lambda _: 1 / 0)
    assert isinstance(crashed.args[0], ZeroDivisionError)
    assert "crashed" in caplog.text


def test_a_second_job_is_not_queued(qtbot, jobs):
    go_on = threading.Event()
    with qtbot.waitSignal(jobs.finished):
        jobs.start(lambda _: go_on.wait(60))
        with pytest.raises(RuntimeError, match="running"):
            jobs.start(lambda _: None)
        go_on.set()


def test_progress_comes_at_most_once_for_each_percent(qtbot, jobs):
    seen = []
    jobs.progress.connect(lambda *step: seen.append(step))
    with qtbot.waitSignal(jobs.finished):
        jobs.start(lambda control: list(control.steps(range(5000), "logs")))
    assert len(seen) == 101
    assert seen[-1][:2] == (5000, 5000)


def test_a_window_that_closes_waits_for_the_workers_of_its_pages(qtbot, home):
    """One that works on would tell a window that is gone what it found."""
    window = Window(home)
    qtbot.addWidget(window)
    begun, ended = threading.Event(), []

    def work(control):
        begun.set()
        time.sleep(0.2)  # it hears of no stop meanwhile, as a score of one flight
        ended.append(control)

    window.page_named("pilot").bar.trial.jobs.start(work)
    assert begun.wait(60)
    window.close()
    assert ended
