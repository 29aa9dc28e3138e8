"""`sandtail open-matters` and `accept`: what is open, what closes it, what is let stand."""

import argparse
import csv
import io
import shlex
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zipfile import is_zipfile
from zoneinfo import ZoneInfo

from scorer.cli.compute import compute
from scorer.cli.ledger import FILE, who_option
from scorer.cli.screen import say
from scorer.cli.target import HELP, load_with_state
from scorer.errors import Fault, InputError
from scorer.event.acceptances import rows_of
from scorer.event.columns import ACCEPTED
from scorer.event.finding import read_id
from scorer.event.matter import (
    ACCEPTANCE_GONE,
    MOST_NAMED,
    Acceptance,
    Blocks,
    Matter,
    readiness,
)
from scorer.event.model import Event
from scorer.event.moments import EventTime
from scorer.event.raw import RawEvent, RawRow
from scorer.event.tables import write_csv
from scorer.facts import Fact, Measure, count, fact, log, pilot, several, words
from scorer.files import write_below
from scorer.ledger import api
from scorer.ledger.changes import entered
from scorer.ledger.engine import is_url
from scorer.ledger.entry import Entry
from scorer.ledger.matters import accept, check_acceptance, entries_of, matters
from scorer.ledger.replay import State
from scorer.words.catalogue import takes
from scorer.words.voice import Voice, message_for

TABLE = "accepted.csv"


def add(commands: Any) -> None:
    """Add the commands."""
    own = commands.add_parser(
        "open-matters",
        description="List what keeps results from becoming official or final, with what "
        "closes each, and what was accepted as it stands.",
        epilog="Exit status: 0 nothing keeps results from becoming official, 1 something "
        "does, 2 the input cannot be used.",
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument("--all", action="store_true", help="what is worth knowing as well")
    own.set_defaults(run=run_list)
    own = commands.add_parser(
        "accept",
        description="Accept an open matter as it stands. The reason is shown with the "
        "results. Once what was accepted changes, the matter is open again. Entries that "
        "differ, pilots not accounted for and rules not answered can only be settled.",
    )
    own.add_argument("event", metavar="EVENT", help=f"event folder, {FILE}")
    own.add_argument("number", metavar="N", type=int, help="its number in open-matters")
    own.add_argument("--why", required=True, help="the reason, shown with the results")
    who_option(own)
    own.set_defaults(run=run_accept)


def run_list(given: argparse.Namespace) -> int:
    """List what is open; exit 1 while official is held up."""
    event, voice, found, _, state = _found(given.event)
    shown = [
        (number, matter)
        for number, matter in enumerate(found, start=1)
        if given.all
        or matter.blocks is not Blocks.NOTHING
        or matter.accepted
        or matter.kind is ACCEPTANCE_GONE
    ]
    writable = not (_is_folder(given.event) or is_zipfile(given.event))
    part = ""
    for number, matter in shown:
        own = "accepted-ones" if matter.accepted else f"blocks-{matter.blocks}"
        if own != part:
            part = own
            say(f"\n{voice.word(part).capitalize()}:")
        for line in _told(number, matter, voice):
            say(line)
        for command in _commands(given.event, matter, voice, state) if writable else ():
            say(f"       {command}")
    left = len(found) - len(shown)
    if left:
        say("\n" + voice.say(fact("more-worth-knowing", matters=count(left))))
    say(f"\n{event.name}: {voice.say(readiness(found))}")
    return 1 if any(matter.holds_up for matter in found) else 0


def run_accept(given: argparse.Namespace) -> int:
    """Accept one matter: an entry of an event file or database, a row of a folder."""
    event, voice, found, raw, _ = _found(given.event)
    if not 1 <= given.number <= len(found):
        fault = Fault(
            where="N",
            found=str(given.number),
            allowed=f"1 to {len(found)}, the numbers of `sandtail open-matters`"
            if found
            else "nothing: no matter is open",
        )
        raise InputError([fault])
    matter = found[given.number - 1]
    if _is_folder(given.event):
        check_acceptance(matter, given.why)
        now = EventTime.of(datetime.now(UTC), ZoneInfo(event.time_zone)).written()
        rows = rows_of(matter, why=given.why.strip(), by=given.by, at=now)
        _write(Path(given.event), raw, tuple(rows))
    else:
        with api.Ledger.open(given.event, desk=api.this_desk(), who=given.by) as ledger:
            accept(ledger, matter, why=given.why)
    for line in _told(given.number, matter, voice, closes=False):
        say(line)
    done = Acceptance(
        matter=matter.key,
        kind=matter.kind.name,
        by=given.by,
        at="",
        why=given.why.strip(),
    )
    say(voice.say(done.says))
    return 0


def _is_folder(target: str) -> bool:
    return not is_url(target) and Path(target).is_dir()


def _found(
    target: str,
) -> tuple[Event, Voice, tuple[Matter, ...], RawEvent, State | None]:
    """Score an event; return what is open in it, in the order of its numbers."""
    event, state, raw = load_with_state(target)
    results = compute(event)
    found = matters(event, results, state, datetime.now(UTC))
    return event, results.voice, found, raw, state


def _told(
    number: int, matter: Matter, voice: Voice, *, closes: bool = True
) -> Sequence[str]:
    """Tell one matter: what is so, of whom, and what closes it."""
    title = voice.title(matter.kind.name)
    lines = [f"{number:3}. {title}: {voice.sentence(matter.placed)}"]
    lines += [f"       {line}" for line in _of_each(matter, voice)]
    if closes and matter.is_open:
        who = voice.word(f"decides-{matter.kind.decides}")
        lines.append(f"     → {voice.closing(matter)} ({who})")
    return lines


def _of_each(matter: Matter, voice: Voice) -> Iterator[str]:
    """Yield what is so of each pilot of several; who they are where it is the same."""
    if len({one.says for one in matter.members}) == 1:
        yield voice.value(several(map(pilot, matter.pilots)))
    else:
        yield from (voice.sentence(one.placed) for one in matter.members)


def _commands(
    target: str, matter: Matter, voice: Voice, state: State | None
) -> Iterator[str]:
    """Yield what a terminal closes a matter with: for each entry that may be named."""
    kind = message_for("command", matter)
    if kind is None or not matter.is_open:
        return
    entries: Sequence[Entry] = ()
    if state is not None and takes(kind, "entry"):
        entries = entries_of(matter, state)
    for entry in entries[:MOST_NAMED] or (None,):
        rules = (v.amount for _, v in matter.says.values if v.measure is Measure.RULE)
        told = {
            "event": shlex.quote(target),
            "task": matter.task or "N",
            "pilot": matter.pilots[0] if len(matter.pilots) == 1 else "N",
            "finding": next(filter(None, map(_asked, matter.evidence)), "…"),
            "rule": next(rules, "RULE"),
            "log": shlex.quote(voice.value(log(next(iter(matter.evidence), "LOG")))),
            "flight": shlex.quote(matter.flight or "FLIGHT"),
            "entry": "ENTRY" if entry is None else shlex.quote(entry.label),
        }
        values = tuple((name, words(str(value))) for name, value in told.items())
        said = voice.say(Fact(kind, values))
        yield said if entry is None else f"{said}  ({voice.say(entered(entry))})"


def _asked(name: str) -> str:
    """Return how a decision names an infringement: by its kind where it has no time."""
    found = read_id(name)
    if found is None:
        return ""
    return name if found.start_s or not found.dated else found.kind


def _write(folder: Path, raw: RawEvent, rows: Sequence[Mapping[str, str]]) -> None:
    """Add rows to accepted.csv: below its own where it is written as this writes it."""
    path = folder / TABLE
    head = ",".join(ACCEPTED.names)
    old = path.read_text(encoding="utf-8-sig") if path.is_file() else ""
    if old.splitlines()[:1] != [head]:
        every = (*raw.accepted, *(RawRow(fields=row) for row in rows))
        text = write_csv(every, ACCEPTED.names)
    else:
        added = io.StringIO(newline="")
        writer = csv.writer(added, lineterminator="\n")
        writer.writerows([row[c] for c in ACCEPTED.names] for row in rows)
        text = old + ("" if old.endswith("\n") else "\n") + added.getvalue()
    write_below(folder, TABLE, text.encode())
