"""The two outputs, of which one may end before the work does.

Who reads them may have read enough (`| head`), or the disk behind them may be full.  That
ends no work that somebody asked for: what is still printed goes nowhere, and `main` tells
at the end what was lost.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from io import BufferedWriter, FileIO, TextIOWrapper
from typing import Any


class Lost:
    """What kept an output from being written; None = nothing, or its reader left."""

    error: OSError | None = None


@contextmanager
def lasting() -> Iterator[Lost]:
    """Let both outputs last as long as the work, whatever becomes of what is behind them.

    A terminal stays as it is, and so does what stands in place of an output.
    """
    kept, lost = (sys.stdout, sys.stderr), Lost()
    sys.stdout, sys.stderr = (_lasting(stream, lost) for stream in kept)
    try:
        yield lost
    finally:
        for stream in (sys.stdout, sys.stderr):
            if stream is not None:  # None where it was closed
                stream.flush()
        sys.stdout, sys.stderr = kept


def _lasting(stream: Any, lost: Lost) -> Any:
    if type(stream) is not TextIOWrapper or stream.isatty():
        return stream
    stream.flush()
    return TextIOWrapper(
        BufferedWriter(_Output(stream.fileno(), lost)),
        encoding=stream.encoding,
        errors=stream.errors,
        line_buffering=stream.line_buffering,
        write_through=stream.write_through,
    )


class _Output(FileIO):
    """What cannot be written any more goes nowhere."""

    def __init__(self, number: int, lost: Lost) -> None:
        super().__init__(number, "wb", closefd=False)
        self._lost = lost

    def write(self, data: Any) -> int:
        """Write what can be written."""
        try:
            return super().write(data)
        except BrokenPipeError:  # who reads it has read enough
            return len(data)
        except OSError as error:
            self._lost.error = self._lost.error or error
            return len(data)
