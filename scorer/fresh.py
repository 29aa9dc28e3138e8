"""Fresh programs of our own: the window, what sets long papers, who works on logs."""

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import (
    BrokenExecutor,
    Executor,
    Future,
    ProcessPoolExecutor,
    ThreadPoolExecutor,
)
from contextlib import contextmanager, suppress
from multiprocessing import get_context, parent_process
from multiprocessing.context import BaseContext
from multiprocessing.process import BaseProcess
from multiprocessing.spawn import get_executable
from threading import Event, RLock, Thread
from typing import ParamSpec, TypeVar

FEW_LOGS = 60
"""Up to this many logs, starting fresh processes costs more than it saves."""
_SAFE = "PYTHONSAFEPATH"
_P = ParamSpec("_P")
_T = TypeVar("_T")


def processes(workers: int | None = None, method: str | None = "spawn") -> Executor:
    """Give processes, one for each core, that end with this one; work starts them.

    A fork of a program with threads can hang; a spawned one cannot.  None = as this
    computer starts them by itself, sooner: where nothing else runs.  Where it starts none,
    all work is refused with BrokenExecutor, as by processes that died.
    """
    context = get_context(method)
    if context.get_start_method() != "fork" and not _starts(get_executable()):
        return _Nobody()
    try:
        with _looking_nowhere_else():
            return _Processes(workers, context)
    except (OSError, ImportError, NotImplementedError):  # nothing they could share, say
        return _Nobody()


_ONE = RLock()


@contextmanager
def _looking_nowhere_else() -> Iterator[None]:
    """Let Pythons that start meanwhile find modules where this one does.

    A `threading.py` in the folder in which somebody stands, an event's say, was run.
    """
    with _ONE:
        before = os.environ.get(_SAFE)
        os.environ[_SAFE] = "1"
        try:
            yield
        finally:
            if before is None:
                del os.environ[_SAFE]
            else:
                os.environ[_SAFE] = before


def _starts(program: str | bytes | None) -> bool:
    """Tell whether a Python starts: of one that does not, multiprocessing prints pages."""
    command = [program or sys.executable, "-I", "-S", "-c", ""]
    try:
        subprocess.run(command, check=True, stderr=subprocess.DEVNULL)  # noqa: S603
    except (OSError, subprocess.SubprocessError):
        return False
    return True


class _Nobody(Executor):
    """Takes no work."""

    def submit(self, *_: object, **__: object) -> Future[_T]:
        """Refuse it."""
        raise BrokenExecutor(_NONE_STARTS)


class _Processes(ProcessPoolExecutor):
    """Processes of which one may die, for want of memory, say.

    Before Python 3.11.7, as Debian 12 has it, who ends them then waits for good for what
    was on its way to them (https://github.com/python/cpython/issues/94777).
    """

    def __init__(self, workers: int | None, context: BaseContext) -> None:
        super().__init__(workers, mp_context=context, initializer=_begin)
        queue = vars(self)["_call_queue"]
        self._put, queue.put = queue.put, self._sent

    def _sent(self, obj: object, *how: bool, **named: bool) -> None:
        """Send work on; where the thread that does so cannot start, all of it is refused.

        The thread of the pool ended there, and who waited for it waited for good.
        """
        try:
            self._put(obj, *how, **named)
        except RuntimeError:
            self._let_go()

    def submit(
        self, fn: Callable[_P, _T], /, *args: _P.args, **kwargs: _P.kwargs
    ) -> Future[_T]:
        """Hand out work; BrokenExecutor also where no process starts for it."""
        try:
            with _looking_nowhere_else():
                return super().submit(fn, *args, **kwargs)
        except (OSError, RuntimeError) as error:
            self._let_go()
            raise BrokenExecutor(_NONE_STARTS) from error

    def _let_go(self) -> None:
        """Take no more work, and end those that did start: nobody else would."""
        own = vars(self)
        own["_broken"] = own["_broken"] or _NONE_STARTS
        for one in list((own["_processes"] or {}).values()):
            one.kill()
        thread = own["_executor_manager_thread"]
        if thread is not None and thread.ident is None:  # no thread starts either
            own["_executor_manager_thread"] = None

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:  # noqa: FBT001, FBT002
        """End the processes; where one died, let go what was on its way to it."""
        sent = getattr(self, "_call_queue", None)
        if sys.version_info < (3, 11, 7) and sent is not None:
            if getattr(self, "_broken", False):
                sent._reader.close()  # noqa: SLF001 - as later Pythons do there
        super().shutdown(wait, cancel_futures=cancel_futures)


class Threads(ThreadPoolExecutor):
    """Threads beside this one; where this computer starts none, work is done here."""

    def submit(
        self, fn: Callable[_P, _T], /, *args: _P.args, **kwargs: _P.kwargs
    ) -> Future[_T]:
        """Hand out work; it has ended already where it had to be done here."""
        future = super().submit(fn, *args, **kwargs)
        if not self._threads:
            self._work_queue.get().run()
        return future

    def _adjust_thread_count(self) -> None:
        with suppress(RuntimeError):
            super()._adjust_thread_count()


def free_threads(most: int) -> int:
    """Return how many threads this computer would start now, up to `most`."""
    over, begun = Event(), 0
    with suppress(RuntimeError):
        for _ in range(most):
            Thread(target=over.wait, daemon=True).start()
            begun += 1
    over.set()
    return begun


_NONE_STARTS = "this computer starts no more processes"


def _begin() -> None:
    """Begin to work: what a user stops at the keyboard, the program who asked ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    end_with_parent()


def surroundings() -> dict[str, str]:
    """Return the environment of a Python that finds modules where this one does.

    And nowhere else: what lies in the folder in which somebody stands is no part of it.
    """
    known = os.pathsep.join(path for path in sys.path if path)
    return {**os.environ, "PYTHONPATH": known, _SAFE: "1"}


def end_with_parent() -> None:
    """End this process when the one that started it is no more, however that ended.

    What waits for work of a pool is told of a parent that closes it, never of one that was
    killed: it would wait for as long as the computer runs.
    """
    parent = parent_process()
    if parent is None:
        return
    try:
        Thread(target=_follow, args=(parent,), daemon=True).start()
    except RuntimeError:  # no more threads: whoever asked goes on without this process
        os._exit(1)


def _follow(parent: BaseProcess) -> None:
    parent.join()
    os._exit(1)
