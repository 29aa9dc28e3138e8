"""Background work of the window: one worker, progress, cancel, four kinds of ending."""

import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from PySide6.QtCore import QObject, Signal, Slot

from scorer.errors import Cancelled, ScorerError
from scorer.progress import Control

log = logging.getLogger(__name__)


class Jobs(QObject):
    """One background worker; lives as long as its parent.

    After `start`, any number of `progress` and then exactly one of `finished`,
    `refused`, `crashed` and `stopped` arrive, all in the window's thread.
    """

    started = Signal(str)  # what is being done
    progress = Signal(int, int, str)  # done, total, what is being done
    finished = Signal(object)  # what work() returned
    refused = Signal(str)  # a ScorerError: show its sentence
    crashed = Signal(object)  # any other exception: our bug
    stopped = Signal()  # the user cancelled: show nothing
    ended = Signal()  # after any of the four
    _ended = Signal(object)

    def __init__(self, parent: QObject, name: str = "job") -> None:
        super().__init__(parent)
        self._executor = ThreadPoolExecutor(max_workers=1, thread_name_prefix=name)
        self._control: Control | None = None
        self._done: Callable[[object], None] | None = None
        self._refused: Callable[[str], None] = self.refused.emit
        self._percent, self._stopping = -1, False
        self._ended.connect(self._on_ended)

    @property
    def stopping(self) -> bool:
        """True from `cancel` until the last signal."""
        return self.busy and self._stopping

    @property
    def busy(self) -> bool:
        """True from `start` until the last signal."""
        return self._control is not None

    def start(
        self,
        work: Callable[[Control], object],
        *,
        text: str = "",
        done: Callable[[object], None] | None = None,
        refused: Callable[[str], None] | None = None,
    ) -> None:
        """Run work(control) in the background; `done` gets what it returned.

        `refused` shows a refusal in the page that it is about, in place of the signal.

        Refuses to queue a second one: its action should be disabled meanwhile.
        """
        if self.busy:
            raise RuntimeError("a job is running: its action should be disabled")
        self._percent, self._stopping = -1, False
        self._done = done
        self._refused = refused or self.refused.emit
        self._control = Control(self._report)
        self.started.emit(text)
        self._executor.submit(self._run, work, self._control)

    def cancel(self) -> None:
        """Ask the work to stop.  `stopped` follows at its next step."""
        if self._control is not None:
            self._stopping = True
            self._control.cancel()

    def shutdown(self) -> None:
        """Stop and wait.  Call from closeEvent, before anything is destroyed."""
        self.cancel()
        self._executor.shutdown(wait=True)

    # In the worker's thread: touches no widget, only emits.

    def _run(self, work: Callable[[Control], object], control: Control) -> None:
        ending: tuple[str, object]
        try:
            ending = "finished", work(control)
        except Cancelled:
            ending = "stopped", None
        except ScorerError as error:
            ending = "refused", str(error)
        except OSError as error:
            where = f" ({error.filename})" if error.filename else ""
            ending = "refused", f"{error.strerror or error}{where}"
        except Exception as error:
            log.exception("background job crashed")
            ending = "crashed", error
        self._ended.emit(ending)

    def _report(self, done: int, total: int, text: str) -> None:
        percent = 100 * done // max(total, 1)
        if percent != self._percent:  # at most 101 signals, however long the work
            self._percent = percent
            self.progress.emit(done, total, text)

    # Back in the window's thread.

    @Slot(object)
    def _on_ended(self, ending: tuple[str, object]) -> None:
        self._control = None
        name, value = ending
        done, self._done = self._done, None
        if name == "finished":
            if done is not None:
                done(value)
            self.finished.emit(value)
        elif name == "stopped":
            self.stopped.emit()
        elif name == "refused":
            self._refused(str(value))
        else:
            self.crashed.emit(value)
        self.ended.emit()
