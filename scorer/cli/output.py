"""Files that commands write."""

import argparse
import hashlib
from collections.abc import Iterable, Mapping
from pathlib import Path

from scorer.cli.screen import say
from scorer.event.model import Event
from scorer.files import drop_left_behind, inside, write_whole, writing
from scorer.ledger.files import HeldFile, SpooledFile
from scorer.scoring.document import to_json
from scorer.scoring.results import Results
from scorer.sheets.leftover import listed, lists_in, remove
from scorer.sheets.stamp import Stamp, working_stamp
from scorer.sheets.typeset import Paper, PrintWish, signs_not_printed
from scorer.words.catalogue import ENGLISH, languages
from scorer.words.voice import Voice


def stamp_of(results: Results) -> Stamp:
    """Return the stamp of a working copy of these results."""
    text = to_json(results).encode()
    return working_stamp(hashlib.sha256(text).hexdigest())


def write_out(event: Event, results: Results, folder: Path) -> list[Path]:
    """Write results.json and the workbook; return where they went."""
    from scorer.sheets.workbook import write_workbook  # noqa: PLC0415 - loaded slowly

    files = {
        "results.json": to_json(results).encode(),
        "results.xlsx": write_workbook(results, event, stamp_of(results)),
    }
    return write_files(files, folder)


def print_options(command: argparse.ArgumentParser) -> None:
    """Add how paper is to be printed."""
    command.add_argument(
        "--paper",
        choices=("a4", "letter"),
        help="letter where the event reads feet, else A4, unless said here",
    )
    language_option(command, "of paper, pages and workbook")


def language_option(command: argparse.ArgumentParser, of: str) -> None:
    """Add the language of what is written."""
    command.add_argument(
        "--language",
        choices=languages(),
        default=ENGLISH,
        help=of,
    )


def wish_of(given: argparse.Namespace) -> PrintWish:
    """Return how paper is to be printed."""
    paper = Paper[given.paper.upper()] if given.paper else None
    return PrintWish(paper=paper, language=given.language)


def tell_signs(event: Event) -> None:
    """Tell which signs of names paper cannot show, each with its name."""
    for lacking in signs_not_printed(event):
        say(Voice.of(event).say(lacking))


def write_files(
    files: Mapping[str, bytes | Iterable[bytes]], folder: Path
) -> list[Path]:
    """Write files by relative name below a folder.

    Pages that were written there before and are no more are taken away, and what a
    program that was killed began to write.  They are many, and the event has what they
    are made of: nobody waits until each is on the disk, and what a power cut took is
    written again by the same command.
    """
    before = [n for name in lists_in(files) for n in listed(folder, name)]
    written = [
        write_file(inside(folder, name), data, to_disk=False)
        for name, data in files.items()
    ]
    remove(folder, set(before) - set(files))
    drop_left_behind(written)
    return written


def write_file(
    path: Path, data: bytes | Iterable[bytes], *, to_disk: bool = True
) -> Path:
    """Write a file, its folder too; InputError where that cannot be done.

    One that stands there as it is to be is left alone: of the many files of a large event
    a new version changes few.  `to_disk` as in `write_whole`.
    """
    with writing(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        if not _stands(path, data):
            write_whole(path, data, to_disk=to_disk)
    return path


def _stands(path: Path, data: bytes | Iterable[bytes]) -> bool:
    """Tell whether an ordinary file holds just these bytes."""
    if path.is_symlink() or not path.is_file():
        return False
    if isinstance(data, bytes):
        return path.stat().st_size == len(data) and path.read_bytes() == data
    if not isinstance(data, SpooledFile | HeldFile):
        return False
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest() == data.sha256
