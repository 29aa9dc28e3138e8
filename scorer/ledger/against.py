"""Hold a ledger against what lies outside it: a printed head, a copy, published files.

A ledger cannot show by itself that its end was cut off, or that all of it was written
anew with fitting hashes; anything that left the desk before can.
"""

import hashlib
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from scorer.event.folder import read_folder
from scorer.ledger.acts import DeskId, EntryId, Published
from scorer.ledger.again import read_again
from scorer.ledger.audit import Problem, Severity, difference_of
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Entry, publications
from scorer.ledger.faults import LedgerError
from scorer.ledger.head import Head, heads_in, lacks, read_head
from scorer.ledger.publish import file_hashes
from scorer.ledger.replay import replay
from scorer.ledger.store import Store
from scorer.words.voice import Voice

_ASK = (
    "Keep both for the jury, and find out who had this event file. Go on from the newest "
    "copy or archive that holds everything."
)
MOST_TEXT = 2**24
"""Larger files are not looked through for printed heads."""
MOST_TOLD = 20
_TEXTS = (".html", ".txt")
"""Files that say the head of their time in words."""
_CANNOT_TELL = "it cannot tell whether entries were written anew since"
PublishedEntry = tuple[Entry, Published]


def of_head(entries: Sequence[Entry], head: Head) -> Iterator[Problem]:
    """Yield what of a printed head a ledger does not hold."""
    for lack in lacks(entries, head):
        severity = Severity.ALTERED if lack.altered else Severity.LOST
        yield _problem(severity, f"the head {str(head)[:24]}…", lack.says)


def of_store(here: Store, other: Store) -> Iterator[Problem]:
    """Yield what another copy of the ledger holds and this one does not."""
    ours, theirs = here.entries(), other.entries()
    known = {entry.hash for entry in ours}
    places = {(entry.desk, entry.number) for entry in ours}
    missing = [entry for entry in theirs if entry.hash not in known]
    if theirs and len(missing) == len(theirs):
        says = f"none of the {len(theirs)} entries of {other.where} is here"
        yield _problem(Severity.LOST, "the event", f"{says}: it is another event")
        return
    by_desk: dict[DeskId, list[Entry]] = defaultdict(list)
    for entry in missing:
        if (entry.desk, entry.number) in places:
            says = f"it has other content in {other.where}"
            yield _problem(Severity.ALTERED, f"entry {entry.label}", says)
        else:
            by_desk[entry.desk].append(entry)
    for own in by_desk.values():
        yield _cut(own, other.where)
    for sha256 in sorted(set(other.file_hashes()) - set(here.file_hashes())):
        says = f"{other.where} holds it, and it is not here"
        yield _problem(Severity.LOST, f"stored file {sha256[:12]}…", says)


def _cut(missing: Sequence[Entry], where: str) -> Problem:
    ordered = sorted(missing, key=lambda entry: entry.number)
    labels = ordered[0].label
    if len(ordered) > 1:
        labels += f" to #{ordered[-1].number}"
    says = f"{len(ordered)} of {where} are not here: cut off, or never merged"
    return _problem(Severity.LOST, f"entries {labels}", says)


def of_path(here: Store, path: Path) -> Iterator[Problem]:
    """Yield what a published file, a folder of them, or an event folder contradicts."""
    if path.is_dir():
        folder = (path / "event.toml").exists()
        return of_event_folder(here, path) if folder else of_files(here, path)
    return of_file(here, path)


def of_event_folder(here: Store, path: Path) -> Iterator[Problem]:
    """Yield what an event folder sets down otherwise."""
    state = replay(here.entries(), stored=here.known_files)
    drafts = to_drafts(read_folder(path), f"compared with {path.name}", state)
    found = read_again(drafts, state)
    for told in found.told[: len(found.drafts)][:MOST_TOLD]:
        yield _problem(Severity.LOST, str(path), f"it differs: {Voice().say(told)}")


def of_file(here: Store, path: Path) -> Iterator[Problem]:
    """Yield what is wrong with one published file, and with the heads it names."""
    entries, digest = here.entries(), _sha256(path)
    acts = [act for _, act in publications(entries)]
    found = [act for act in acts if digest in file_hashes(act).values()]
    heads = _heads_of(path)
    yield from _of_heads(here, entries, heads, found)
    if not found and (not heads or path.suffix.casefold() not in {".txt", ""}):
        yield _unpublished(here, entries, path)
    elif not heads:
        yield replace(
            _notice(path, "no head can be read from it", [_CANNOT_TELL]),
            remedy="Give also the head, as a sheet or a page of that time prints it.",
        )


def _of_heads(
    here: Store,
    entries: Sequence[Entry],
    heads: Iterable[Head],
    went_up: Iterable[Published],
) -> Iterator[Problem]:
    """Yield what contradicts some heads, and those on pages that went up.

    Whoever writes the entries anew leaves the pages that are stored, or has them differ
    from those that others have.
    """
    named = [
        sha256
        for act in went_up
        for name, sha256 in file_hashes(act).items()
        if name.endswith(_TEXTS)
    ]
    held = here.known_files(named)
    stored = (
        one
        for sha256 in named
        if sha256 in held
        for one in heads_in(here.file(sha256).decode("utf-8", "replace"))
    )
    for head in dict.fromkeys((*heads, *stored)):
        yield from of_head(entries, head)


def _unpublished(here: Store, entries: Sequence[Entry], path: Path) -> Problem:
    """Say that no publication is this file, and what differs from the newest like it."""
    like = [
        (entry, act, sha256)
        for entry, act in publications(entries)
        for name, sha256 in file_hashes(act).items()
        if Path(name).name == path.name
    ]
    says = "no entry says that this file went up"
    if like and path.name == "results.json":
        entry, act, sha256 = like[-1]
        differs = difference_of(here.file(sha256), path.read_bytes())
        says += f"; against version {act.version} (entry {entry.label}): {differs}"
    elif like:
        says += f"; a file of this name went up with version {like[-1][1].version}"
    return _problem(Severity.ALTERED, str(path), says)


def of_files(here: Store, folder: Path) -> Iterator[Problem]:
    """Yield how a folder of published files differs from the publication it is."""
    found = _files_below(folder)
    publication = _most_alike(here.entries(), found)
    if publication is None:
        says = f"no entry says that any of its {len(found)} files went up"
        yield _problem(Severity.LOST, str(folder), says)
        return
    yield from _compared(folder, found, publication)
    pages = (folder / name for name in found if name.endswith(_TEXTS))
    heads = (head for page in pages for head in _heads_of(page))
    yield from _of_heads(here, here.entries(), heads, [publication[1]])


def of_results(path: Path, what: str) -> Iterator[Problem]:
    """Yield that a results.json is not the one that a head, or a published file, names."""
    head, other = read_head(what), Path(what)
    if head is None and not other.is_file():
        text = (
            f"there is no {what}; give a head as a sheet prints it, or a published file"
        )
        raise LedgerError(text)
    named = [one.results for one in ((head,) if head else _heads_of(other))]
    named = [results for results in named if results]
    own, copy = _sha256(path), head is None and _sha256(path) == _sha256(other)
    if not named and not copy and other.name != path.name:
        raise LedgerError(
            f"{what} names no results: give the whole of what stands on a sheet under "
            "“Entries and results”, or a published file that says it"
        )
    if not copy and not any(own.startswith(results) for results in named):
        says = f"it is not the results.json that {what[:60]} names"
        yield _problem(Severity.ALTERED, str(path), says)


def beside(
    folder: Path, publication: PublishedEntry
) -> tuple[tuple[Problem, ...], int]:
    """Compare published files in a folder; return what is wrong and how many are right."""
    found, listed = _files_below(folder), file_hashes(publication[1])
    same = sum(found.get(name) == sha256 for name, sha256 in listed.items())
    return tuple(_compared(folder, found, publication)), same


def publication_of(entries: Sequence[Entry], path: Path) -> PublishedEntry | None:
    """Return the last publication with just this results.json."""
    digest = _sha256(path)
    found = [own for own in publications(entries) if own[1].results == digest]
    return found[-1] if found else None


def _files_below(folder: Path) -> dict[str, str]:
    return {
        file.relative_to(folder).as_posix(): _sha256(file)
        for file in sorted(folder.rglob("*"))
        if file.is_file() and not file.is_symlink()
    }


def _compared(
    folder: Path, found: Mapping[str, str], publication: PublishedEntry
) -> Iterator[Problem]:
    entry, act = publication
    version = f"version {act.version} (entry {entry.label})"
    listed = file_hashes(act)
    for name in [n for n, sha256 in listed.items() if found.get(n, sha256) != sha256]:
        says = f"it is not the file that went up with {version}"
        yield _problem(Severity.ALTERED, str(folder / name), says)
    if missing := [name for name in listed if name not in found]:
        yield _notice(folder, f"not there, of what went up with {version}", missing)
    if extra := [name for name in found if name not in listed]:
        yield _notice(folder, f"there, though it did not go up with {version}", extra)


def _most_alike(
    entries: Sequence[Entry], found: Mapping[str, str]
) -> PublishedEntry | None:
    """Return the publication that most files of a folder went up with."""
    alike: Counter[EntryId] = Counter()
    by_id = {entry.hash: (entry, act) for entry, act in publications(entries)}
    for name, (_, act) in by_id.items():
        listed = file_hashes(act)
        alike[name] = sum(listed.get(file) == sha for file, sha in found.items())
        alike[name] += len(found) * (act.results == found.get("results.json"))
    best = max(alike, key=lambda name: alike[name], default=None)
    return by_id[best] if best is not None and alike[best] else None


def _heads_of(path: Path) -> tuple[Head, ...]:
    if path.stat().st_size > MOST_TEXT:
        return ()
    return heads_in(path.read_bytes().decode("utf-8", "replace"))


def _sha256(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        text = f"{path} cannot be read ({error.strerror}); give a file that can"
        raise LedgerError(text) from error


def _notice(where: Path, says: str, names: Sequence[str]) -> Problem:
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return Problem(
        severity=Severity.NOTICE,
        where=str(where),
        text=f"{says}: {', '.join(names[:3])}{more}",
        remedy="Nothing in the ledger is wrong for that.",
    )


def _problem(severity: Severity, where: str, says: str) -> Problem:
    return Problem(severity=severity, where=where, text=says, remedy=_ASK)
