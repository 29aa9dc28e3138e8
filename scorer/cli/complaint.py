"""`sandtail complaint`: list, file and decide complaints and protests in an event file."""

import argparse
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from scorer.cli.ledger import FILE, clock_caution, who_option
from scorer.cli.screen import say
from scorer.cli.target import HELP, checked, load_raw
from scorer.errors import Fault, InputError
from scorer.event.model import Event, Level
from scorer.event.moments import EventTime, told_again, zone_of
from scorer.event.raw import RawRow
from scorer.facts import count, fact, words
from scorer.ledger import api
from scorer.ledger.acts import Verdict
from scorer.ledger.engine import is_url
from scorer.ledger.filing import answering, filing
from scorer.words.voice import Voice


def add(commands: Any) -> None:
    """Add the command with its actions."""
    own = commands.add_parser(
        "complaint",
        description="List complaints and protests of an event with their times and "
        "outcomes; in an event file or database, file one, or decide one. Results cannot "
        "become final while one is open, or while the rule book's protest period runs.",
    )
    own.add_argument("target", metavar="FILE", help=f"{FILE}; to list, any {HELP}")
    own.set_defaults(run=run_list)
    actions = own.add_subparsers(metavar="file | decide")
    filing = actions.add_parser("file", help="a pilot disputes a result")
    filing.add_argument(
        "--pilot", type=int, required=True, metavar="N", help="who complains"
    )
    filing.add_argument(
        "--task",
        type=int,
        metavar="N",
        help="unset: the whole event, or that of the complaint protested against",
    )
    filing.add_argument("--text", required=True, help="what the pilot says")
    filing.add_argument(
        "--protest",
        metavar="COMPLAINT",
        help="a protest against the outcome of this complaint: its number in the list",
    )
    who_option(filing)
    filing.set_defaults(run=run_file)
    deciding = actions.add_parser("decide", help="answer one")
    deciding.add_argument("number", metavar="COMPLAINT", help="its number in the list")
    deciding.add_argument("verdict", choices=[v.replace(" ", "-") for v in Verdict])
    deciding.add_argument("--why", required=True, help="the reason, told to the pilot")
    who_option(deciding)
    deciding.set_defaults(run=run_decide)


def run_list(given: argparse.Namespace) -> int:
    """List all, open ones too; exit 1 while one is open."""
    if not is_url(given.target) and Path(given.target).is_dir():
        raw, faults = load_raw(given.target)
        checked(raw, faults)
        rows = raw.complaints
        zone = zone_of(raw.settings)
        told = [_told(row, zone) for row in rows]
    else:
        state = api.load(given.target).state
        complaints = state.complaints if state else ()
        rows = tuple(complaint.row for complaint in complaints)
        protest_s = _protest_s(state) if state else None
        told = [[*_told(c.row, c.zone), *_protests(c, protest_s)] for c in complaints]
    for line in (line for lines in told for line in lines):
        say(line)
    open_ones = sum(not row.fields.get("outcome") for row in rows)
    every = count(len(rows))
    say(Voice().say(fact("complaints-counted", every=every, open=count(open_ones))))
    return 1 if open_ones else 0


def _protest_s(state: api.State) -> float | None:
    """Return the event's protest period; faults elsewhere do not matter here."""
    return api.sound(state).event.book.publication.protest_s


def _told(row: RawRow, zone: ZoneInfo) -> list[str]:
    """Tell a line of complaints.csv in words."""
    cells = {name: text for name, text in row.fields.items() if text}
    number = f"{cells['number']}. " if "number" in cells else ""
    what = f"task {cells['task']}" if "task" in cells else "the event"
    against = (
        f" against the outcome of {cells['against']}" if "against" in cells else ""
    )
    kind = cells.get("kind", str(Level.COMPLAINT)).casefold()
    filed = _who_when(cells, "by", "at", zone)
    note = f" ({cells['note']})" if "note" in cells else ""
    first = (
        f"{number}{kind} of pilot {cells['pilot']}{against}, {what}, filed{filed} "
        f"[{_place(row)}]: {cells['text']}{note}"
    )
    if "outcome" not in cells:
        return [first, "   open"]
    reason = f": {cells['reason']}" if "reason" in cells else ""
    decided = _who_when(cells, "decided_by", "decided_at", zone)
    return [first, f"   {cells['outcome'].casefold()}{decided}{reason}"]


def _who_when(cells: dict[str, str], by: str, at: str, zone: ZoneInfo) -> str:
    when = told_again(cells.get(at, ""), zone)
    who = f" by {cells[by]}" if by in cells else ""
    return (f" {when}" if when else "") + who


def _place(row: RawRow) -> str:
    line = row.origin.line
    return row.origin.where if line is None else f"{row.origin.where}, line {line}"


def _protests(complaint: api.Complaint, protest_s: float | None) -> list[str]:
    """Tell until when one may protest against an outcome."""
    end = complaint.protest_end(protest_s)
    if end is None:
        return []
    return [f"   protests until {_at(end, complaint.zone)}"]


def _at(moment: datetime, zone: ZoneInfo) -> str:
    return EventTime.of(moment, zone).stated()


def run_file(given: argparse.Namespace) -> int:
    """File a complaint or protest; say so when it comes late."""
    with api.Ledger.open(given.target, desk=api.this_desk(), who=given.by) as ledger:
        clock_caution(ledger, Voice())
        state = api.sound(ledger.state()).state
        event = checked(ledger.raw(state), [])
        _check_given(given, event)
        against = _find(state.complaints, given.protest) if given.protest else None
        draft = filing(
            state,
            event,
            ledger.clock(),
            pilot=given.pilot,
            text=given.text,
            task=given.task,
            against=against,
        )
        (entry,) = ledger.record_all([draft])
    kind = Level.PROTEST if against else Level.COMPLAINT
    say(f"{kind} filed {_at(entry.when, state.zone)}, entry {entry.label}")
    if draft.why:
        say(Voice().say(fact("heard-or-not", late=words(draft.why))))
    return 0


def _check_given(given: argparse.Namespace, event: Event) -> None:
    pilots = [pilot.number for pilot in event.pilots]
    tasks = [task.number for task in event.tasks]
    faults = [
        Fault(where=option, found=str(number), allowed=f"one of {_listed(known)}")
        for option, number, known in (
            ("--pilot", given.pilot, pilots),
            ("--task", given.task, tasks),
        )
        if number is not None and number not in known
    ]
    if not given.text.strip():
        what = "what the pilot says"
        faults.append(Fault(where="--text", found="nothing", allowed=what))
    if faults:
        raise InputError(faults)


def _listed(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers)) or "none yet"


def _find(complaints: Sequence[api.Complaint], number: str) -> api.Complaint:
    """Find a complaint by its number in the list, or by its entry."""
    named = {str(c.number): c for c in complaints}
    listed = ", ".join(named) or "none yet"
    named |= {c.entry.label: c for c in complaints}
    if number not in named:
        allowed = f"a number of the list: {listed}"
        raise InputError([Fault(where="complaint", found=number, allowed=allowed)])
    return named[number]


def run_decide(given: argparse.Namespace) -> int:
    """Record an outcome."""
    with api.Ledger.open(given.target, desk=api.this_desk(), who=given.by) as ledger:
        clock_caution(ledger, Voice())
        before = api.sound(ledger.state()).state
        complaint = _find(before.complaints, given.number)
        verdict = Verdict(given.verdict.replace("-", " "))
        draft = answering(before, complaint, verdict, given.why)
        (entry,) = ledger.record_all([draft])
        state = api.sound(ledger.state()).state
        after = next(c for c in state.complaints if c.number == complaint.number)
        protests = _protests(after, _protest_s(state))
    say(f"{verdict}, {_at(entry.when, state.zone)}, entry {entry.label}")
    if complaint.decided is not None:
        was = {
            "verdict": words(complaint.decided.verdict),
            "why": words(complaint.reason),
        }
        say(Voice().say(fact("answered-anew", by=words(complaint.decided_by), **was)))
    for line in protests:
        say(line.strip())
    if verdict is Verdict.UPHELD:
        say(
            "Set down what follows from it (a ruling, a settled mark), then publish "
            "again: the change is shown with its reason."
        )
    return 0
