"""Flight logs as they come: files, folders, zips; read in a worker, taken in whole."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from scorer.errors import InputError
from scorer.event.log_formats import ARCHIVE, log_suffixes
from scorer.event.model import Blob
from scorer.files import leads_out
from scorer.ledger.acts import LogAdded
from scorer.ledger.api import Draft, Ledger, sha256_of
from scorer.progress import Control
from scorer.tracks.archive import MAX_TOTAL_BYTES, is_archive, read_archive
from scorer.tracks.lines import MAX_LOG_BYTES

AT_ONCE = 50
"""Logs that are written together."""


def choosable() -> str:
    """Name the files that may be chosen, as file dialogs want it."""
    endings = " ".join(f"*{suffix}" for suffix in log_suffixes())
    return f"Flight logs ({endings});;All files (*)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gathered:
    """Logs that were found, and what could not be used."""

    logs: tuple[tuple[str, bytes], ...]
    """Name and content."""
    problems: tuple[str, ...] = field(default=())


@dataclass(frozen=True, slots=True, kw_only=True)
class DroppedLogs:
    """What became of files that were dropped on the window."""

    added: int
    known: int
    """Already in the event, byte for byte."""
    problems: tuple[str, ...]
    drafts: tuple[Draft, ...] = ()
    """What was recorded of them."""

    def __str__(self) -> str:
        parts = [f"{self.added} logs imported"]
        if self.known:
            parts.append(f"{self.known} were there already")
        if self.problems:
            parts.append(f"{len(self.problems)} could not be used: {self.problems[0]}")
        return "; ".join(parts)


def gather(paths: Sequence[Path], control: Control) -> Gathered:
    """Read all logs that paths lead to."""
    found = {file: path for path in paths for file in _files(path)}
    out = {f for f, path in found.items() if f != path and leads_out(path, f)}
    logs: list[tuple[str, bytes]] = []
    problems = [
        f"{file.name}: a link that leads out of the folder; put a copy in its place"
        for file in sorted(out)
    ]
    files = sorted(found.keys() - out)
    for file in control.steps(files, "reading logs"):
        try:
            data = _read(file)
        except OSError as error:
            problems.append(f"{file.name}: {error.strerror or error}")
            continue
        blob = Blob(name=file.name, sha256=sha256_of(data), content=data)
        if not is_archive(blob):
            logs.append((file.name, data))
            continue
        try:
            archive = read_archive(blob)
        except InputError as error:
            problems.append(str(error))
            continue
        problems += [str(fault) for fault in archive.faults]
        logs += [(PurePosixPath(b.name).name, b.data) for b in archive.blobs]
    return Gathered(logs=tuple(logs), problems=tuple(problems))


def take_in(
    ledger: Ledger, flight: str, paths: Sequence[Path], control: Control
) -> DroppedLogs:
    """Read logs and record them for a flight; those the flight holds are passed over.

    Cancelling leaves what was recorded before it: whole logs, each with its entry.
    """
    found = gather(paths, control)
    state = ledger.state()
    known = {log.sha256 for log in state.logs if log.flight == flight}
    names = {log.name.casefold() for log in state.logs if log.flight == flight}
    drafts = []
    for name, data in found.logs:
        sha256 = sha256_of(data)
        if sha256 in known:
            continue
        known.add(sha256)
        own = _free(f"logs/{name}", names, sha256)
        act = LogAdded(flight=flight, name=own, sha256=sha256, size=len(data))
        drafts.append(Draft(act=act, why="log imported", files={sha256: data}))
    batches = [drafts[i : i + AT_ONCE] for i in range(0, len(drafts), AT_ONCE)]
    for batch in control.steps(batches, "recording logs"):
        ledger.record_all(batch)
    return DroppedLogs(
        added=len(drafts),
        known=len(found.logs) - len(drafts),
        problems=found.problems,
        drafts=tuple(drafts),
    )


def _files(path: Path) -> Iterator[Path]:
    if not path.is_dir():
        yield path
        return
    for file in path.rglob("*"):
        # a file named by itself is always taken
        if file.is_file() and file.suffix.casefold() in log_suffixes():
            yield file


def _read(file: Path) -> bytes:
    packed = file.suffix.casefold() == ARCHIVE
    most = MAX_TOTAL_BYTES if packed else MAX_LOG_BYTES
    if file.stat().st_size > most:
        what = "folder of logs" if packed else "flight log"
        raise OSError(0, f"larger than {most / 2**20:.0f} MiB, no {what}")
    return file.read_bytes()


def _free(name: str, taken: set[str], sha256: str) -> str:
    """Keep names apart: two teams may both call their log `flight.igc`."""
    if name.casefold() in taken:
        path = PurePosixPath(name)
        name = str(path.with_name(f"{path.stem}~{sha256[:8]}{path.suffix}"))
    taken.add(name.casefold())
    return name
