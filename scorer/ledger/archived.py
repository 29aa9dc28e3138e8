"""Hold the folder in an archive against its entries: programs read these, people that.

Whoever alters a table in it can write a manifest that fits.  The folder must therefore
be the one that the entries come to: byte by byte, or, where another version of the
program wrote it, in all that it sets down.
"""

import csv
import hashlib
import json
import tempfile
import tomllib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from scorer.event.folder import write_folder
from scorer.event.raw import RawEvent
from scorer.ledger.archive import EVENT, PAGE, README, Archive, addresses_in
from scorer.ledger.audit import Problem, Severity

_REMEDY = (
    "Trust the entries, not this folder: “sandtail restore” makes an event file of them. "
    "Ask for another copy of the archive, and find out who had this one."
)
_OTHER = "Another version wrote it, or somebody else: do not rely on it."


MOST_TIMES = 10
MOST_MORE = 2**16
"""A table is read whole: none of so many times its due bytes, and so many more."""


def folder_problems(book: Archive, raw: RawEvent) -> Iterator[Problem]:
    """Yield what the folder and the page in an archive say otherwise than its entries.

    `raw` is the event that the entries come to, made with `addressed`.
    """
    if README not in book.hashes:
        yield _altered(README, "is missing")
    elif book.hashes[README] != hashlib.sha256(PAGE.encode()).hexdigest():
        yield _notice(README, "it is not the page that this version writes")
    with tempfile.TemporaryDirectory() as room:
        folder = Path(room) / "event"
        write_folder(raw, folder)
        yield from _differences(book, folder, addresses_in(raw, folder))


def _differences(
    book: Archive, folder: Path, addresses: dict[Path, Any]
) -> Iterator[Problem]:
    due = {EVENT + p.relative_to(folder).as_posix(): p for p in folder.rglob("*")}
    kept = {name for name in book.hashes if name.startswith(EVENT)}
    for name in sorted(kept - due.keys()):
        yield _altered(name, "was put in: nothing in the entries comes to it")
    for name, path in sorted(due.items()):
        if path.is_dir():
            continue
        if name not in kept:
            yield _altered(name, "is missing")
        elif path in addresses:
            if book.hashes[name] != addresses[path]:
                yield _altered(name, "is not the file that the entries name")
        elif book.size(name) > MOST_TIMES * path.stat().st_size + MOST_MORE:
            yield _altered(name, "holds far more than the entries come to")
        else:
            yield from _of_table(name, book.member(name), path.read_bytes())


def _of_table(name: str, kept: bytes, due: bytes) -> Iterator[Problem]:
    """Yield how a table sets down other than the entries come to."""
    if kept == due:
        return
    try:
        says, meant = _content(name, kept), _content(name, due)
    except (ValueError, csv.Error, RecursionError):
        yield _altered(name, "cannot be read")
        return
    if says == meant:
        yield _notice(
            name, "it says the same in another way of writing, or with remarks"
        )
        return
    lacking = _lacking_columns(name, says, meant)
    if lacking:
        yield _notice(name, f"it has no column {', '.join(lacking)}, as entries do")
    else:
        yield _altered(name, "is not what the entries come to")


def _content(name: str, data: bytes) -> Any:
    text = data.decode()
    if name.endswith(".csv"):
        return list(csv.DictReader(text.splitlines(keepends=True)))
    if name.endswith(".toml"):
        return tomllib.loads(text)
    return json.loads(text)


def _lacking_columns(name: str, says: Any, meant: Any) -> Sequence[str]:
    """Return the columns that alone set a table apart from what the entries come to."""
    if not name.endswith(".csv") or not says or len(says) != len(meant):
        return ()
    lacking = [column for column in meant[0] if column not in says[0]]
    for row in meant:
        for column in lacking:
            del row[column]
    return lacking if says == meant else ()


def _altered(name: str, says: str) -> Problem:
    return Problem(
        severity=Severity.ALTERED, where=name, text=f"it {says}", remedy=_REMEDY
    )


def _notice(name: str, says: str) -> Problem:
    return Problem(severity=Severity.NOTICE, where=name, text=says, remedy=_OTHER)
