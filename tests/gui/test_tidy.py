"""No widget is freed in the thread of a worker."""

import gc
import threading
import weakref


class Held:
    """Something that only the collector frees."""

    def __init__(self, freed_in):
        self.own = self
        self.many = [[n] for n in range(200_000)]  # Python would collect by itself here
        weakref.finalize(self, lambda: freed_in.append(threading.current_thread()))


def test_what_workers_leave_is_collected_in_the_window_s_thread(
    qtbot, window, monkeypatch
):
    freed_in = []
    monkeypatch.setattr(window.tidy, "idle_s", 0.0)

    worker = threading.Thread(target=lambda: [Held(freed_in) for _ in range(3)])
    worker.start()
    worker.join()
    assert freed_in == []
    qtbot.waitUntil(lambda: bool(freed_in))
    assert set(freed_in) == {threading.main_thread()}


def test_a_window_that_is_closed_leaves_python_as_it_was(window):
    assert not gc.isenabled()
    window.tidy.stop()
    assert gc.isenabled()


def test_what_an_event_is_made_of_is_gone_through_when_nobody_is_at_the_desk(
    window, monkeypatch
):
    asked = []
    monkeypatch.setattr(window.tidy, "idle_s", 1e9)
    monkeypatch.setattr(gc, "collect", lambda *age: asked.append(age))
    monkeypatch.setattr(gc, "get_count", lambda: (30_000, 20, 20))
    window.tidy.collect()
    assert asked == [], "an event that a worker handed over is set aside unseen"
    due = gc.get_threshold()[0] + 1  # Python's own, other from version to version
    monkeypatch.setattr(gc, "get_count", lambda: (due, 0, 0))
    window.tidy.collect()
    assert asked == [(0,)], "what pages leave is collected while it is young"
    due = gc.get_threshold()[1] + 1
    monkeypatch.setattr(gc, "get_count", lambda: (0, due, 0))
    monkeypatch.setattr(gc, "get_objects", lambda **_: [0] * 30_000)
    window.tidy.collect()
    assert asked == [(0,)], "nor is it gone through where it came in pieces"
    monkeypatch.setattr(gc, "get_objects", lambda **_: [0] * 300)
    window.tidy.collect()
    assert asked.pop() == (1,)
    monkeypatch.setattr(window.tidy, "idle_s", 0.0)
    thawed = []
    monkeypatch.setattr(gc, "unfreeze", lambda: thawed.append(True))
    monkeypatch.setattr(gc, "get_freeze_count", lambda: 1_000_000)
    window.tidy.learn()
    window.tidy.collect()
    assert asked[1:] == [()], "what came since, once nobody touches the desk"
    assert thawed == [], "but not what an event took that is open"
    window.tidy.collect()
    assert asked[2:] == [(1,)], "and once is enough"
    monkeypatch.setattr(gc, "get_freeze_count", lambda: 2_000_001)
    monkeypatch.setattr(gc, "get_objects", lambda **_: [0] * 30_000)
    window.tidy.collect()
    window.tidy.collect()
    assert thawed, "all of it where twice as much was set aside"
    monkeypatch.setattr(gc, "get_freeze_count", lambda: 5_000_000)
    window.tidy.collect()
    window.tidy.collect()
    assert len(thawed) == 2, "what is set aside after that is not usual"
    monkeypatch.undo()
    window.tidy.learn()
