"""Sandtail's engine.  For a notebook, `import scorer` gives what `scorer.notebook` has.

>>> import scorer
>>> scorer.check("sample_events/vashkorim")
[]

Nothing is loaded before it is asked for.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from scorer.notebook import (
        Scored,
        check,
        explain,
        infringements,
        load,
        marks,
        matters,
        score,
        scores,
        standings,
        table,
        track,
    )

__all__ = [
    "Scored",
    "check",
    "explain",
    "infringements",
    "load",
    "marks",
    "matters",
    "score",
    "scores",
    "standings",
    "table",
    "track",
]


def __getattr__(name: str) -> Any:
    """Load the notebook's part when one of its names is first asked for."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("scorer.notebook"), name)


def __dir__() -> list[str]:
    """Return the names a notebook uses."""
    return __all__
