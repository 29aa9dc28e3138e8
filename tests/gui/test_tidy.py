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


def test_what_workers_leave_is_collected_in_the_window_s_thread(qtbot, window):
    freed_in = []

    worker = threading.Thread(target=lambda: [Held(freed_in) for _ in range(3)])
    worker.start()
    worker.join()
    assert freed_in == []
    qtbot.waitUntil(lambda: bool(freed_in), timeout=10_000)
    assert set(freed_in) == {threading.main_thread()}


def test_a_window_that_is_closed_leaves_python_as_it_was(window):
    assert not gc.isenabled()
    window.tidy.stop()
    assert gc.isenabled()
