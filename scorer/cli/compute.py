"""Score an event with all cores and a progress bar."""

import os
from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import ExitStack, contextmanager

from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

from scorer.cli.screen import errors
from scorer.event.model import Event
from scorer.fresh import processes
from scorer.progress import Control
from scorer.recall import keep_of_user
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import Results
from scorer.scoring.score import score

FEW_FOR_HANDS = 8
"""Up to this many logs, starting these costs more than it saves; fresh processes take
longer to start (`fresh.FEW_LOGS`)."""


@contextmanager
def hands() -> Iterator[Executor | None]:
    """Give processes, one for each core; they start with the first work.  None = one core.

    They end with the block.
    """
    affinity = getattr(os, "sched_getaffinity", None)
    workers = len(affinity(0)) if affinity else 0
    workers = workers or os.cpu_count() or 1
    if workers < 2:
        yield None
        return
    with processes(workers, method=None) as pool:
        yield pool


def compute(
    event: Event,
    *,
    afresh: bool = False,
    keep: Keep | None = None,
    pool: Executor | None = None,
) -> Results:
    """Score an event; show progress when standard error is a terminal.

    What logs told before is taken from `keep`, or else from the user's cache, unless all
    is to be read `afresh`.  Who has more to do with the same processes gives their `pool`.
    """
    logs = sum(len(flight.logs) for flight in event.flights)
    with Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        console=errors,
        auto_refresh=False,  # that would be a thread, and there may be none left
        transient=True,
        disable=not errors.is_terminal,
    ) as bar:
        row = bar.add_task("logs", total=logs or None)

        def report(done: int, total: int, text: str) -> None:
            bar.update(row, completed=done, total=total, description=text, refresh=True)

        control = Control(report)
        if logs <= FEW_FOR_HANDS:
            return score(event, control=control)
        keep = NOTHING_KEPT if afresh else keep or keep_of_user()
        with ExitStack() as stack:
            stack.callback(keep.close)
            own = pool or stack.enter_context(hands())
            return score(event, own, control=control, keep=keep)
