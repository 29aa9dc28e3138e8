"""The registry of log formats: endings, signs in the content and reader in one declaration.

Formats are declared in `scorer.tracks.read`.  Folder, window and manual ask here which
files may be logs.  In the catalogue stand a format's title, `log-format-NAME`, and what is
read of it, `log-format-NAME-about`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from scorer.registry import Registry

ARCHIVE = ".zip"
"""Many logs in one file, of any formats."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogFormat:
    """One format of flight logs."""

    name: str
    suffixes: tuple[str, ...]
    """Endings of its files, in lower case with their dot."""
    signs: Callable[[bytes], float]
    """How many signs of it the beginning of a file shows; 0 = none."""
    read: Callable[..., Any]
    """`(blob, *, near_date, time_zone, periods) -> Track`; raises InputError."""
    fallback: bool = False
    """Its signs count only in a file that shows none of any other format."""


LOG_FORMATS: Registry[LogFormat] = Registry("log format", "scorer.tracks.read")
"""Every format by name."""


def log_suffixes() -> tuple[str, ...]:
    """Return the endings of files that may hold logs, those of archives last."""
    every = (suffix for form in LOG_FORMATS.values() for suffix in form.suffixes)
    return (*dict.fromkeys(every), ARCHIVE)
