"""Work on logs on its way to other processes, with what a flight's logs share."""

import hashlib
import pickle
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from scorer.event.model import LogFile
from scorer.geodesy.cells import Sent, Unsent, bytes_of
from scorer.scoring.work import (
    FirstLook,
    FlightWork,
    Job,
    LogOutcome,
    judge_one,
    look_at_one,
    one_thread,
)

SENT_WHOLE = 4_000_000
"""Bytes of a terrain that is sent to other processes whole; of a larger one they get the
cells that their logs turn out to need."""
_In = TypeVar("_In")
_Out = TypeVar("_Out")


@dataclass(frozen=True, slots=True)
class Packed:
    """What all logs of a flight share, packed once for all batches."""

    key: str
    data: bytes = field(compare=False)
    cells: Sent | None = field(default=None, compare=False)
    """What the logs of one batch need of a large terrain; None = it is in there whole."""

    @classmethod
    def of(cls, shared: FlightWork) -> "Packed":
        """Pack it, without a large terrain."""
        terrain, cells = shared.site.ground.terrain, None
        if terrain is not None and bytes_of(terrain.data) > SENT_WHOLE:
            cells = Sent.of(terrain.data, np.empty(0, dtype=np.intp))
            shared = _over(shared, cells)
        data = pickle.dumps(shared, pickle.HIGHEST_PROTOCOL)
        return cls(hashlib.sha256(data).hexdigest(), data, cells)

    def work(self) -> FlightWork:
        """Unpack it."""
        shared = _unpacked(self)
        return shared if self.cells is None else _over(shared, self.cells)


def _over(shared: FlightWork, cells: Sent) -> FlightWork:
    """Return work over some cells of its terrain."""
    ground = shared.site.ground
    assert ground.terrain is not None
    ground = replace(ground, terrain=replace(ground.terrain, data=cells))
    return replace(shared, site=replace(shared.site, ground=ground))


def look_at_packed(
    shared: Packed, logs: Sequence[LogFile]
) -> tuple[FirstLook, ...] | Unsent:
    """Look at a batch of logs, in any process; or say what of the terrain is needed."""
    return _all_of(look_at_one, shared.work(), logs)


def judge_packed(
    shared: Packed, jobs: Sequence[Job]
) -> tuple[LogOutcome, ...] | Unsent:
    """Judge a batch of tracks, in any process; or say what of the terrain is needed."""
    return _all_of(judge_one, shared.work(), jobs)


def _all_of(
    work: Callable[[FlightWork, _In], _Out], shared: FlightWork, items: Sequence[_In]
) -> tuple[_Out, ...] | Unsent:
    done: list[_Out] = []
    lacking: list[NDArray[np.intp]] = []
    with one_thread():
        for item in items:
            try:
                done.append(work(shared, item))
            except Unsent as unsent:
                lacking.append(unsent.cells)
    return Unsent(np.unique(np.concatenate(lacking))) if lacking else tuple(done)


@lru_cache(maxsize=2)
def _unpacked(shared: Packed) -> FlightWork:
    """Unpack once in each process; batches of two flights may come in turn."""
    work: FlightWork = pickle.loads(shared.data)  # noqa: S301 - our own
    return work
