"""Pages that an earlier version left behind in the folder of the pages."""

from collections.abc import Iterable
from pathlib import Path, PurePosixPath

from scorer.errors import InputError
from scorer.files import inside

PAGES = "pages.txt"
"""Names every file of the pages, beside `index.html`."""


def lists_in(names: Iterable[str]) -> tuple[str, ...]:
    """Return the names of those files that list pages."""
    return tuple(name for name in names if PurePosixPath(name).name == PAGES)


def listed(folder: Path, name: str) -> frozenset[str]:
    """Return the files, by name within `folder`, that a list written earlier has."""
    path = inside(folder, name)
    if not path.is_file():
        return frozenset()
    text = path.read_text("utf-8", errors="replace")
    return frozenset(
        str(PurePosixPath(name).parent / line) for line in text.splitlines() if line
    )


def remove(folder: Path, names: Iterable[str]) -> None:
    """Remove files that are no more: only those within `folder`, and no folders."""
    for name in names:
        try:
            path = inside(folder, name)
        except InputError:
            continue
        if path.is_file() and not path.is_symlink():
            path.unlink()
