"""`sandtail sheets`, `slips`, `site`: paper, pages and data of the present state."""

import argparse
from pathlib import Path
from typing import Any

from scorer.cli.compute import compute
from scorer.cli.output import stamp_of, write_file, write_files
from scorer.cli.screen import say
from scorer.cli.target import HELP, load, refuse_unknown
from scorer.files import name_key, safe_name
from scorer.scoring.analysis import Tracks
from scorer.sheets.board import write_board
from scorer.sheets.edition import BOARD, WORKBOOK
from scorer.sheets.forms import write_field_form
from scorer.sheets.site import write_site
from scorer.sheets.slips import write_slips
from scorer.sheets.tables import track_files, write_tables
from scorer.sheets.task_sheet import write_task_sheet
from scorer.sheets.workbook import write_workbook


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
        own = commands.add_parser(
            name, help=f"write {text}", description=f"Write {text}."
        )
        own.add_argument("event", metavar="EVENT", help=HELP)
        own.add_argument("--out", type=Path, required=True, metavar="DIR")
        own.set_defaults(run=run)
    own = commands.add_parser(
        "slips", help="write every pilot's slip, or some, as a PDF"
    )
    own.add_argument("event", metavar="EVENT", help=HELP)
    own.add_argument("--out", type=Path, required=True, metavar="FILE")
    own.add_argument("--pilot", type=int, action="append", metavar="N")
    own.set_defaults(run=run_slips)


def run_sheets(given: argparse.Namespace) -> int:
    """Write all sheets; forms and task sheets need no results."""
    event = load(given.event)
    results = compute(event)
    stamp = stamp_of(results)
    files = {
        BOARD: write_board(results, event, stamp),
        WORKBOOK: write_workbook(results, event, stamp),
    }
    for task in event.tasks:
        files[f"field-form-{task.number}.pdf"] = write_field_form(event, task.number)
    for flight in event.flights:
        name = safe_name(f"task-sheet-{flight.id}.pdf", set(map(name_key, files)))
        files[name] = write_task_sheet(event, flight.id)
    data = write_tables(results, event, stamp)
    files |= {f"data/{name}": content for name, content in data.items()}
    written = write_files(files, given.out)
    tracks = dict(track_files(event, Tracks(event, results)))
    written += write_files(tracks, given.out / "data")
    say(f"wrote {len(written)} files below {given.out}")
    return 0


def run_slips(given: argparse.Namespace) -> int:
    """Write slips."""
    event = load(given.event)
    known = [pilot.number for pilot in event.pilots]
    refuse_unknown("--pilot", given.pilot or (), known)
    results = compute(event)
    data = write_slips(
        results,
        event,
        stamp_of(results),
        Tracks(event, results),
        pilots=given.pilot,
    )
    write_file(given.out, data)
    say(f"wrote {given.out}")
    return 0


def run_site(given: argparse.Namespace) -> int:
    """Write the pages; open index.html."""
    event = load(given.event)
    results = compute(event)
    stamp = stamp_of(results)
    written = write_files(
        dict(write_site(results, event, stamp, Tracks(event, results))), given.out
    )
    say(f"wrote {len(written)} files; open {given.out / 'index.html'}")
    return 0
