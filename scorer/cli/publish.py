"""`sandtail publish`: put results up, with all their sheets."""

import argparse
import gc
from concurrent.futures import Executor
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from scorer.cli.compute import FEW_FOR_HANDS, compute, hands
from scorer.cli.ledger import FILE, clock_caution, who_option
from scorer.cli.output import print_options, tell_signs, wish_of, write_files
from scorer.cli.screen import say
from scorer.cli.target import checked
from scorer.event.model import Event
from scorer.facts import count, fact, inner, words
from scorer.ledger import api
from scorer.ledger.acts import Stage
from scorer.ledger.event_commands import computed_of
from scorer.ledger.faults import RefusedError
from scorer.ledger.publish import Computed, refused
from scorer.progress import undisturbed
from scorer.recall import keep_of_user
from scorer.scoring.analysis import Tracks
from scorer.scoring.keep import Keep
from scorer.scoring.results import Results
from scorer.sheets.edition import documents, prepare, put_up
from scorer.sheets.unchanged import stayed_told
from scorer.units import duration_s


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "publish",
        description="Put results up, with workbook, notice board, slips, pages and data. "
        "Official is refused while anything is unsettled or unruled, final while the "
        "complaint period or a protest period runs, or a complaint or protest is open.",
    )
    own.add_argument("target", metavar="EVENT", help=FILE)
    own.add_argument("stage", choices=[str(stage) for stage in Stage])
    own.add_argument(
        "--task",
        type=int,
        action="append",
        default=[],
        metavar="N",
        help="only this task, once for each: papers, workbook and tracks are of it, pages "
        "and data of all; unset: the whole event",
    )
    own.add_argument("--out", type=Path, metavar="DIR", help="write the files here too")
    own.add_argument("--why", default="", help="reason, shown with the version")
    own.add_argument("--complaint-time", metavar="TIME", help='such as "2 h"')
    own.add_argument(
        "--url", default="", help="where the pages are put up, for the code"
    )
    print_options(own)
    own.add_argument(
        "--clock-confirmed-by",
        default="",
        metavar="NAME",
        help="who looked at this computer's clock and found it right, where it differs by "
        "5 minutes or more from other desks or the server",
    )
    who_option(own)
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Publish, or list all that stands in the way (exit 1)."""
    stage = Stage(given.stage)
    complaint_s = duration_s(given.complaint_time) if given.complaint_time else None
    keep = keep_of_user()
    with (
        undisturbed(),
        TemporaryDirectory() as room,
        api.Ledger.open(given.target, desk=api.this_desk(), who=given.by) as ledger,
        hands() as pool,
    ):
        event, results, computed = score_ledger(ledger, keep, pool)
        prepared = prepare(
            ledger,
            computed,
            stage,
            tasks=given.task,
            complaint_s=complaint_s,
            why=given.why,
            site_url=given.url,
            clock_confirmed_by=given.clock_confirmed_by,
        )
        clock_caution(ledger, results.voice)
        if prepared.refusals:
            say(str(refused(computed, stage, prepared.refusals)))
            return 1
        tracks = Tracks(event, results, keep)
        wish = wish_of(given)
        files = documents(
            event,
            results,
            prepared.stamp,
            tracks,
            Path(room),
            wish=wish,
            ledger=ledger,
            document=computed.document,
            executor=pool if len(tracks) > FEW_FOR_HANDS else None,
        )
        try:
            entry = put_up(
                ledger,
                prepared,
                files,
                tasks=given.task,
                complaint_s=complaint_s,
                why=given.why,
                clock_confirmed_by=given.clock_confirmed_by,
            )
        except RefusedError as error:  # another desk was first while sheets were made
            say(str(error))
            return 1
        headline = results.voice.say(prepared.stamp.says)
        files["results.json"] = computed.document
        up = fact(
            "put-up-with",
            headline=words(headline),
            entry=words(entry.label),
            files=count(len(files)),
        )
        say(results.voice.say(up))
        if stayed := stayed_told(files, prepared.stamp.version):
            say(results.voice.say(stayed))
        tell_signs(event)
        for told in prepared.taken_back:
            say(results.voice.say(told))
        for change in prepared.changes:
            say(results.voice.say(fact("changed", what=inner(change.says))))
        if given.out:
            write_files(files, given.out)
            say(f"wrote {given.out}")
        gc.freeze()  # the program ends: what it made is not looked through for garbage
    return 0


def score_ledger(
    ledger: api.Ledger, keep: Keep | None = None, pool: Executor | None = None
) -> tuple[Event, Results, Computed]:
    """Score the present state of a ledger, ready to be published."""
    state = api.sound(ledger.state()).state
    event = checked(ledger.raw(state), [])
    results = compute(event, keep=keep, pool=pool)
    computed = computed_of(state, event, results, keep=keep)
    if keep is not None:
        keep.close()
    return event, results, computed
