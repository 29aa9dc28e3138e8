"""`sandtail complaint`: list, file and decide complaints and protests in an event file."""

import argparse
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from scorer.cli.ledger import FILE, who_option
from scorer.cli.screen import say
from scorer.cli.target import checked
from scorer.errors import Fault, InputError
from scorer.event.model import Event
from scorer.ledger import api
from scorer.ledger.acts import ComplaintDecided, ComplaintFiled, EntryId, Verdict
from scorer.ledger.publish import complaint_end

PROTEST = "Protest against the outcome of "


def add(commands: Any) -> None:
    """Add the command with its actions."""
    own = commands.add_parser(
        "complaint",
        help="list, file and decide complaints and protests",
        description="List complaints and protests of an event file or database with "
        "their times and outcomes; file one, or decide one. Results cannot become final "
        "while one is open.",
    )
    own.add_argument("target", metavar="FILE", help=FILE)
    own.set_defaults(run=run_list)
    actions = own.add_subparsers(metavar="file | decide")
    filing = actions.add_parser("file", help="a pilot disputes a result")
    filing.add_argument("--pilot", type=int, required=True, metavar="N")
    filing.add_argument("--task", type=int, metavar="N", help="unset: the whole event")
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
    with api.Ledger.open(given.target, desk=api.this_desk(), who="") as ledger:
        complaints = ledger.state().complaints
    for number, complaint in enumerate(complaints, start=1):
        for line in _told(number, complaint):
            say(line)
    open_ones = sum(complaint.is_open for complaint in complaints)
    say(f"{len(complaints)} complaints and protests, {open_ones} open")
    return 1 if open_ones else 0


def _told(number: int, complaint: api.Complaint) -> list[str]:
    act, entry = complaint.act, complaint.entry
    what = "the event" if act.task is None else f"task {act.task}"
    filed = (
        f"{number}. pilot {act.pilot}, {what}, filed {_at(entry.when)} by {entry.who} "
        f"(entry {entry.label}): {act.text}"
    )
    outcome, decided = complaint.outcome, complaint.decided
    if outcome is None or decided is None:
        return [filed, "   open"]
    reason = f": {outcome.why}" if outcome.why else ""
    return [
        filed,
        f"   {decided.verdict} {_at(outcome.when)} by {outcome.who}{reason}",
    ]


def _at(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M} UTC"


def run_file(given: argparse.Namespace) -> int:
    """File a complaint or protest; say so when it comes late."""
    with api.Ledger.open(given.target, desk=api.this_desk(), who=given.by) as ledger:
        state = ledger.state()
        event = checked(state.raw(ledger.file), [])
        _check_names(given, event)
        text, late = given.text, ""
        if given.protest:
            against = _find(state.complaints, given.protest)
            text = f"{PROTEST}{against.entry.label}: {text}"
            late = _late_protest(against, event, ledger.clock())
        publication = _published(state.publications, given.task)
        if publication is not None and not given.protest:
            late = _late(publication, ledger.clock())
        act = ComplaintFiled(
            pilot=given.pilot,
            text=text,
            task=given.task,
            publication=publication.entry.id if publication else EntryId(""),
        )
        entry = ledger.record(act, why=late)
    say(f"filed {_at(entry.when)}, entry {entry.label}")
    if late:
        say(f"{late}; it is recorded, and whether it is heard is for officials")
    return 0


def _check_names(given: argparse.Namespace, event: Event) -> None:
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
    if faults:
        raise InputError(faults)


def _listed(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers)) or "none yet"


def _find(complaints: Sequence[api.Complaint], number: str) -> api.Complaint:
    """Find a complaint by its number in the list, or by its entry."""
    named = {str(i): c for i, c in enumerate(complaints, start=1)}
    named |= {c.entry.label: c for c in complaints}
    if number not in named:
        allowed = f"a number of the list: {', '.join(map(str, named)) or 'none yet'}"
        raise InputError([Fault(where="complaint", found=number, allowed=allowed)])
    return named[number]


def _published(
    publications: Sequence[api.Publication], task: int | None
) -> api.Publication | None:
    """Return the last publication that a complaint is about."""
    fitting = [
        p
        for p in publications
        if not p.withdrawn and (not p.act.tasks or task is None or task in p.act.tasks)
    ]
    return fitting[-1] if fitting else None


def _late(publication: api.Publication, now: datetime) -> str:
    end = complaint_end(publication)
    if end is None or now <= end:
        return ""
    return f"the complaint period ended {_at(end)}"


def _late_protest(against: api.Complaint, event: Event, now: datetime) -> str:
    period_s = event.book.publication.protest_s
    if against.outcome is None:
        return "the complaint it is about is not decided yet"
    if period_s is None:
        return ""
    end = against.outcome.when + timedelta(seconds=period_s)
    return "" if now <= end else f"the protest period ended {_at(end)}"


def run_decide(given: argparse.Namespace) -> int:
    """Record an outcome."""
    with api.Ledger.open(given.target, desk=api.this_desk(), who=given.by) as ledger:
        complaint = _find(ledger.state().complaints, given.number)
        verdict = Verdict(given.verdict.replace("-", " "))
        act = ComplaintDecided(complaint=complaint.entry.id, verdict=verdict)
        entry = ledger.record(act, why=given.why)
    say(f"{verdict}, {_at(entry.when)}, entry {entry.label}")
    if verdict is Verdict.UPHELD:
        say(
            "Set down what follows from it (a ruling, a settled mark), then publish "
            "again: the change is shown with its reason."
        )
    return 0
