"""Fresh programs of our own: the window, what sets long papers, who works on logs."""

import os
import sys
from multiprocessing import parent_process
from multiprocessing.process import BaseProcess
from threading import Thread


def surroundings() -> dict[str, str]:
    """Return the environment of a Python that finds modules where this one does.

    And nowhere else: what lies in the folder in which somebody stands is no part of it.
    """
    known = os.pathsep.join(path for path in sys.path if path)
    return {**os.environ, "PYTHONPATH": known, "PYTHONSAFEPATH": "1"}


def end_with_parent() -> None:
    """End this process when the one that started it is no more, however that ended.

    What waits for work of a pool is told of a parent that closes it, never of one that was
    killed: it would wait for as long as the computer runs.
    """
    parent = parent_process()
    if parent is not None:
        Thread(target=_follow, args=(parent,), daemon=True).start()


def _follow(parent: BaseProcess) -> None:
    parent.join()
    os._exit(1)
