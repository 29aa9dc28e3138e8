"""Commands on event files and databases: new, import, export, merge, archive, restore."""

import argparse
import getpass
import os
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

import tomli_w

from scorer.cli.screen import say
from scorer.cli.target import HELP, checked, load_raw, shown
from scorer.errors import Fault, InputError, ScorerError
from scorer.event.build import build, build_event
from scorer.event.folder import write_folder
from scorer.event.model import Event
from scorer.event.next_event import next_event
from scorer.event.raw import RawEvent
from scorer.event.rules_reader import book_names
from scorer.event.strangers import without_strangers
from scorer.facts import count, fact, inner, several, words
from scorer.files import writing
from scorer.ledger import api
from scorer.ledger.acts import SettingsSet, Undone, Withdrawn
from scorer.ledger.clocks import desk_off
from scorer.ledger.convert import to_drafts
from scorer.ledger.drives import on_network
from scorer.ledger.engine import is_url
from scorer.ledger.event_commands import left_behind, notes_of, pilots_of
from scorer.ledger.tried import refuse_unfit
from scorer.scoring.check_in import of_import
from scorer.words.voice import Voice

PASSWORD_VARIABLE = "SANDTAIL_DESK_PASSWORD"  # noqa: S105 - its name
"""Environment variable with the password of a new desk user."""
FILE = "event file, or postgresql:// address of a database"


def add(commands: Any) -> None:
    """Add the commands."""
    _add_new(commands)
    _add_copying(commands)
    _add_merge(commands)
    _add_archive(commands)
    _add_withdraw(commands)
    _add_desk_user(commands)


def who_option(own: argparse.ArgumentParser) -> None:
    """Add the option that says who acts."""
    name = user_name()
    own.add_argument(
        "--by", default=name, required=not name, metavar="NAME", help="who does this"
    )


def user_name() -> str:
    """Return the user's name in the system; empty where it knows none."""
    try:
        return getpass.getuser()
    except (ImportError, KeyError, OSError):  # by system and version of Python
        return ""


def clock_caution(ledger: api.Ledger, voice: Voice) -> None:
    """Say by how much this computer's clock is off: periods are counted by it."""
    off = desk_off(ledger)
    if off is not None:
        say(f"caution: {voice.say(off.says)}")


def _add_new(commands: Any) -> None:
    own = commands.add_parser("new")
    own.add_argument("target", metavar="FILE", help=f"{FILE}, or a new folder/")
    own.add_argument("--name", required=True, help="name of the event")
    own.add_argument(
        "--from",
        dest="last",
        metavar="EVENT",
        help=f"take rules, places and texts of an event that was: {HELP}",
    )
    own.add_argument(
        "--people",
        action="store_true",
        help="with --from: its pilots too, without private columns",
    )
    own.add_argument("--venue", help="where it is, for the sheets")
    own.add_argument(
        "--time-zone", help="IANA name: Europe/Madrid; needed without --from"
    )
    own.add_argument(
        "--crs",
        help="projected, metres: EPSG:25830 (the UTM zone, say); needed without --from",
    )
    own.add_argument(
        "--units", choices=("metric", "imperial"), help="in what people measure"
    )
    own.add_argument("--book", choices=book_names(), help="the rules it begins with")
    who_option(own)
    own.set_defaults(run=run_new)


def run_new(given: argparse.Namespace) -> int:
    """Make an event from the few things every event needs, or from the last one."""
    raw = _new(given)
    build_event(raw)
    why = f"taken from {Path(given.last).name}" if given.last else "new event"
    if given.target.endswith(("/", "\\")):
        with writing(Path(given.target)):
            write_folder(raw, Path(given.target))
    else:
        first, *rest = to_drafts(raw, why)
        act = SettingsSet(settings=raw.settings, source=tomli_w.dumps(raw.settings))
        drafts = [replace(first, act=act), *rest]
        api.make_event(given.target, drafts, desk=api.this_desk(), who=given.by)
    network_caution(given.target)
    say(f"made {shown(given.target)}. Still to answer in its rules: {_open(raw)}")
    return 0


def _new(given: argparse.Namespace) -> RawEvent:
    """Return the new event as entered."""
    asked = {
        "name": given.name,
        "venue": given.venue,
        "time_zone": given.time_zone,
        "crs": given.crs,
        "units": given.units,
    }
    event = {key: text for key, text in asked.items() if text is not None}
    if given.last:
        raw, faults = load_raw(given.last)
        if faults:
            raise InputError(faults)
        return next_event(raw, event, given.book or "", people=given.people)
    needed = {"--time-zone": given.time_zone, "--crs": given.crs}
    lacking = [name for name, text in needed.items() if not text]
    if lacking or given.people:
        found = f"no {' and no '.join(lacking)}" if lacking else "--people alone"
        allowed = (
            "--time-zone and --crs, or --from EVENT to take them from the last one"
        )
        raise InputError([Fault(where="new", found=found, allowed=allowed)])
    event = {"venue": "", "units": "metric", **event}
    rules = {"book": given.book or "festival"}
    return RawEvent(settings={"format": 1, "event": event, "rules": rules})


def _open(raw: RawEvent) -> str:
    """Say which rules wait for an answer, each with the key that `correct` takes."""
    from scorer.scoring.score import unanswered  # noqa: PLC0415 - as in event_commands.py

    event, voice = build_event(raw), Voice()
    named = (f"{voice.value(event.book.named(k))} ({k})" for k in unanswered(event))
    return "; ".join(named) or "nothing"


def _add_copying(commands: Any) -> None:
    own = commands.add_parser("import")
    own.add_argument("folder", metavar="FOLDER", type=Path)
    own.add_argument("target", metavar="FILE", help=FILE)
    own.add_argument(
        "--into",
        action="store_true",
        help="add to an event that exists; what the folder set down before gives way",
    )
    own.add_argument(
        "--withdraw-missing",
        action="store_true",
        help="also take back what the folder set down before and holds no longer",
    )
    own.add_argument("--dry-run", action="store_true", help="tell, and record nothing")
    own.add_argument(
        "--leave-out",
        action="store_true",
        help="leave out rows that name no pilot or task of the event",
    )
    who_option(own)
    own.set_defaults(run=run_import)
    own = commands.add_parser(
        "export",
        description="Write an event as a folder: all that was set down, as it stands "
        "now. Publications, who entered what when, and replaced or withdrawn entries "
        "stay behind; `archive` keeps those.",
    )
    own.add_argument("target", metavar="EVENT", help=HELP)
    own.add_argument("folder", metavar="FOLDER", type=Path)
    own.set_defaults(run=run_export)


def run_import(given: argparse.Namespace) -> int:
    """Import a folder, refused whole if it has any fault; strangers left out if asked."""
    raw, faults = load_raw(str(given.folder))
    if faults and not raw.settings:
        raise InputError(faults)
    left_out: tuple[Fault, ...] = ()
    if given.leave_out:
        raw, left_out = without_strangers(raw)
        event = checked(raw, faults)
    else:
        event = _without_faults(raw, faults)
    for fault in left_out:
        say(f"left out: {fault}")
    voice = Voice.of(event)
    before = pilots_of(given.target) if given.into else ()
    for matter in of_import(event.pilots, before):
        say(voice.sentence(matter.placed))
    entries = api.import_folder(
        given.folder,
        given.target,
        desk=api.this_desk(),
        who=given.by,
        into=given.into,
        leave_out=given.leave_out,
        withdraw=given.withdraw_missing,
        dry_run=given.dry_run,
        tell=lambda told: say(voice.say(told)),
    )
    _tell_taken(given.target, entries, given.folder)
    network_caution(given.target)
    if given.dry_run:
        say("nothing was recorded")
    return 0


def _without_faults(raw: RawEvent, faults: list[Fault]) -> Event:
    """Build an event; where rows of strangers are all that is wrong, say how to go on."""
    try:
        return checked(raw, faults)
    except InputError as error:
        with suppress(InputError):
            checked(without_strangers(raw)[0], faults)
            raise ScorerError(f"{error}\n{HINT}") from error
        raise


HINT = (
    "Rows that name no pilot or task of the event can be left out: "
    "import --leave-out takes in all others, and names those rows."
)


def run_export(given: argparse.Namespace) -> int:
    """Export, and tell what a folder does not hold and what desks disagree on."""
    exported = api.export_folder(given.target, given.folder)
    state = exported.state
    say(f"wrote {given.folder}")
    _tell_private(given.target)
    for note in exported.renamed:
        say(note)
    if state is None:
        return 0
    for told in (left_behind(state), *notes_of(state)):
        say(Voice().say(told))
    return 1 if state.conflicts or state.set_aside else 0


def _tell_private(target: str) -> None:
    """Say which private parts a whole copy holds."""
    event, _ = build(load_raw(target)[0])
    columns = [words(name) for name in event.private_columns]
    notes = [row.note for f in event.flights for row in f.keyings]
    notes += [row.note for f in event.flights for row in f.reports]
    parts = [fact("private-columns", columns=several(columns))] if columns else []
    if any(notes):
        parts.append(fact("private-remarks"))
    if parts:
        say(Voice.of(event).say(fact("holds-private", what=several(map(inner, parts)))))


def _add_merge(commands: Any) -> None:
    own = commands.add_parser(
        "merge",
        description="Unite event files of several desks. The first takes in what the "
        "others hold, or a new file does (--to). Conflicts are listed; you decide.",
    )
    own.add_argument("first", metavar="A", help=FILE)
    own.add_argument("others", metavar="B", nargs="+", help=FILE)
    own.add_argument("--to", metavar="FILE", help="unite into this one instead of A")
    own.set_defaults(run=run_merge)
    own = commands.add_parser(
        "copy",
        description="Make a whole copy of an event while others write in it: every entry "
        "and file that is there now, each checked. Copying the file by other programs "
        "while somebody writes can give a broken one.",
    )
    own.add_argument("target", metavar="EVENT", help=FILE)
    own.add_argument("copy", metavar="FILE", help=f"new {FILE}")
    own.set_defaults(run=run_copy)


def run_merge(given: argparse.Namespace) -> int:
    """Merge; exit 1 when desks disagree."""
    sources = [given.first, *given.others] if given.to else given.others
    merged = api.merge_files(sources, given.to or given.first)
    for told in merged.says or (fact("nothing-new"),):
        say(Voice().say(told))
    return 1 if merged.conflicts or merged.disagreements or merged.set_aside else 0


def run_copy(given: argparse.Namespace) -> int:
    """Copy, and say how much is in it."""
    merged = api.merge_files([given.target], given.copy, new=True)
    entries = sum(number for _, number in merged.fresh)
    whole = fact("whole-copy", file=words(shown(given.copy)), entries=count(entries))
    say(Voice().say(whole))
    network_caution(given.copy)
    return 0


def _tell_taken(target: str, entries: int, source: Path) -> None:
    """Say how many entries an event file took in, and from where."""
    about = {"file": words(shown(target)), "source": words(str(source))}
    say(Voice().say(fact("entries-taken", entries=count(entries), **about)))


def network_caution(target: str) -> None:
    """Say what not to do with an event file on a network drive."""
    if not is_url(target) and on_network(Path(target)):
        say(f"caution: {Voice().say(fact('on-network', file=words(target)))}")


def _add_archive(commands: Any) -> None:
    own = commands.add_parser("archive")
    own.add_argument("target", metavar="EVENT", help=FILE)
    own.add_argument("file", metavar="ARCHIVE", type=Path)
    own.set_defaults(run=run_archive)
    own = commands.add_parser("restore")
    own.add_argument("file", metavar="ARCHIVE", type=Path)
    own.add_argument("target", metavar="FILE", help=FILE)
    own.set_defaults(run=run_restore)


def run_archive(given: argparse.Namespace) -> int:
    """Write the archive and print its hash, to be written down."""
    digest = api.archive(given.target, given.file)
    say(f"wrote {given.file}, SHA-256 {digest}")
    _tell_private(given.target)
    return 0


def run_restore(given: argparse.Namespace) -> int:
    """Make an event file again."""
    _tell_taken(given.target, api.restore(given.file, given.target), given.file)
    return 0


def _add_withdraw(commands: Any) -> None:
    own = commands.add_parser(
        "withdraw",
        description="Take an entry back. What it set down no longer holds, nor anything "
        "it replaced; the entry stays in the file, with the reason. Of an entry that took "
        "another back: that one holds again.",
    )
    own.add_argument("target", metavar="EVENT", help=FILE)
    own.add_argument(
        "entry", metavar="ENTRY", help='desk and number, "hall-3f9a1c #12"'
    )
    own.add_argument("--why", required=True, help="the reason")
    who_option(own)
    own.set_defaults(run=run_withdraw)


def run_withdraw(given: argparse.Namespace) -> int:
    """Withdraw an entry."""
    with api.Ledger.open(given.target, desk=api.this_desk(), who=given.by) as ledger:
        found = ledger.state().find(given.entry)
        again = isinstance(found.act, Withdrawn | Undone)
        act = Undone(entry=found.id) if again else Withdrawn(entry=found.id)
        draft = api.Draft(act=act, why=given.why)
        refuse_unfit(ledger, draft, found)
        (entry,) = ledger.record_all([draft])
    say(f"withdrew entry {found.label}, in entry {entry.label}")
    return 0


def _add_desk_user(commands: Any) -> None:
    own = commands.add_parser(
        "desk-user",
        description="Make a database user for one desk: may read, and add entries of that "
        "desk in the names of its officials, and change or delete none. Who owns the "
        "database, or is a superuser of the server, is bound by no rule of it.",
    )
    own.add_argument(
        "target", metavar="URL", help="postgresql:// address, as its owner"
    )
    own.add_argument("name", metavar="USER")
    own.add_argument(
        "--desk",
        action="append",
        default=[],
        metavar="DESK",
        help='a desk that is his, such as "hall-3f9a1c"; unset: the first he writes as',
    )
    own.add_argument(
        "--official",
        action="append",
        default=[],
        metavar="NAME",
        help="a name he may write in, once for each; unset: any name",
    )
    own.set_defaults(run=run_desk_user)


def run_desk_user(given: argparse.Namespace) -> int:
    """Make the user; the password is asked for, or read from the environment."""
    if not is_url(given.target):
        raise ScorerError(f"{given.target} is no database, and only one has users")
    try:
        password = os.environ.get(PASSWORD_VARIABLE) or getpass.getpass(
            "password of the desks: "
        )
    except EOFError:
        typed = f"no password was typed; type it, or set {PASSWORD_VARIABLE}"
        raise ScorerError(typed) from None
    desk = api.this_desk()
    with api.Ledger.open(
        given.target, desk=desk, who=user_name() or given.name
    ) as ledger:
        ledger.store.add_desk_role(
            given.name,
            password,
            desks=tuple(given.desk),
            officials=tuple(given.official),
        )
    desks = " and ".join(given.desk) or "the first desk he writes as, which is then his"
    names = ", ".join(given.official) or "any name: --official lists those he may use"
    say(f"{given.name} may read, and add entries, and change or delete none")
    say(f"desk: {desks}")
    say(f"in the name of: {names}")
    return 0
