"""`sandtail sheets`, `slips`, `site`: paper, pages and data of the present state."""

import argparse
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from scorer.cli.compute import compute
from scorer.cli.ledger import FILE, who_option
from scorer.cli.output import (
    language_option,
    print_options,
    stamp_of,
    tell_signs,
    wish_of,
    write_file,
    write_files,
)
from scorer.cli.screen import say
from scorer.cli.target import HELP, checked, load, refuse_unknown
from scorer.facts import count, fact, number, words
from scorer.ledger import api
from scorer.scoring.analysis import Tracks
from scorer.sheets.issuing import give_out, issue_of, last_issued, next_issued
from scorer.sheets.kinds import SHEET_KINDS, Material, made
from scorer.sheets.site import write_site
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import local
from scorer.sheets.task_sheet import write_task_sheet
from scorer.words.voice import Voice


def add(commands: Any) -> None:
    """Add the commands."""
    for name, run, text in (
        (
            "sheets",
            run_sheets,
            "notice board, workbook, field forms, task sheets, data",
        ),
        ("site", run_site, "static pages for phones and any web host"),
    ):
        own = commands.add_parser(name, description=f"Write {text}.")
        own.add_argument("event", metavar="EVENT", help=HELP)
        own.add_argument(
            "--out", type=Path, required=True, metavar="DIR", help="write them here"
        )
        own.set_defaults(run=run)
        if run is run_sheets:
            own.add_argument(
                "--only",
                action="append",
                choices=tuple(SHEET_KINDS),
                metavar="SHEET",
                help=f"only this: {', '.join(SHEET_KINDS)}",
            )
            own.add_argument(
                "--task",
                type=int,
                action="append",
                default=[],
                metavar="N",
                help="board, field forms and task sheets of this task alone",
            )
            own.add_argument(
                "--pilot",
                type=int,
                action="append",
                default=[],
                metavar="N",
                help="slips of this pilot alone",
            )
            print_options(own)
        else:
            language_option(own, "of pages")
    _add_issue(commands)
    own = commands.add_parser("slips")
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument(
        "--out", type=Path, required=True, metavar="FILE", help="write it here, a PDF"
    )
    own.add_argument(
        "--pilot",
        type=int,
        action="append",
        metavar="N",
        help="only this one, once for each; unset: all",
    )
    print_options(own)
    own.set_defaults(run=run_slips)


def _add_issue(commands: Any) -> None:
    own = commands.add_parser(
        "issue",
        description="Give out a flight's task sheet: it gets a version and a time, and "
        "later ones say first what changed since. Where nothing changed, nothing is done.",
    )
    own.add_argument("target", metavar="EVENT", help=FILE)
    own.add_argument("flight", metavar="FLIGHT")
    own.add_argument(
        "--out", type=Path, required=True, metavar="FILE", help="write it here, a PDF"
    )
    own.add_argument("--why", default="", help="the reason, printed on the sheet")
    print_options(own)
    who_option(own)
    own.set_defaults(run=run_issue)


def run_issue(given: argparse.Namespace) -> int:
    """Issue a task sheet."""
    desk = api.this_desk()
    with api.Ledger.open(given.target, desk=desk, who=given.by) as ledger:
        state = api.sound(ledger.state()).state
        event = checked(ledger.raw(state), [])
        voice = Voice.of(event)
        act = next_issued(state, event, given.flight, ledger.clock())
        if act is None:
            last = last_issued(state, given.flight)
            version = number(last.version if last else 1)
            say(voice.say(fact("issued-unchanged", version=version)))
            return 0
        issue, wish = issue_of(state, act, given.why), wish_of(given)
        pdf = write_task_sheet(event, given.flight, issue=issue, wish=wish)
        write_file(given.out, pdf)
        entry = give_out(ledger, api.Draft(act=act, why=given.why))
    moment = words(local(act.at, event.time_zone))
    issued = voice.say(fact("issued-at", version=number(act.version), at=moment))
    say(f"{issued}, {entry.label}: {given.out}")
    return 0


def run_sheets(given: argparse.Namespace) -> int:
    """Write all sheets, or those asked for."""
    event = load(given.event)
    refuse_unknown("--task", given.task, [task.number for task in event.tasks])
    refuse_unknown("--pilot", given.pilot, [pilot.number for pilot in event.pilots])
    results = compute(event)
    wanted = [
        kind
        for name, kind in SHEET_KINDS.items()
        if (name in given.only if given.only else kind.working)
    ]
    with TemporaryDirectory() as room:
        material = Material(
            event=event,
            results=results,
            stamp=stamp_of(results),
            tracks=Tracks(event, results),
            room=Path(room),
            wish=wish_of(given),
            tasks=tuple(given.task),
            pilots=tuple(given.pilot),
        )
        written = write_files(made(wanted, material), given.out)
    below = fact("files-below", files=count(len(written)), folder=words(str(given.out)))
    say(Voice().say(below))
    tell_signs(event)
    return 0


def run_slips(given: argparse.Namespace) -> int:
    """Write slips."""
    event = load(given.event)
    known = [pilot.number for pilot in event.pilots]
    refuse_unknown("--pilot", given.pilot or (), known)
    results = compute(event)
    data = slips_setting(
        results,
        event,
        stamp_of(results),
        Tracks(event, results),
        pilots=given.pilot,
        wish=wish_of(given),
    ).pdf()
    write_file(given.out, data)
    say(f"wrote {given.out}")
    tell_signs(event)
    return 0


def run_site(given: argparse.Namespace) -> int:
    """Write the pages; open index.html."""
    event = load(given.event)
    results = compute(event)
    stamp = stamp_of(results)
    written = write_files(
        write_site(
            results, event, stamp, Tracks(event, results), language=given.language
        ),
        given.out,
    )
    first = words(str(given.out / "index.html"))
    say(Voice().say(fact("pages-written", files=count(len(written)), first=first)))
    return 0
