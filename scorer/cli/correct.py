"""`sandtail correct`: entries from the command line, shown before they are recorded."""

import argparse
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, date, datetime
from functools import partial
from pathlib import Path
from typing import Any

from scorer.cli.columns import show_table
from scorer.cli.compute import compute
from scorer.cli.ledger import FILE, who_option
from scorer.cli.screen import say
from scorer.errors import Fault, InputError, ScorerError, nearest
from scorer.event.build import build_event
from scorer.event.columns import RULINGS, TABLES
from scorer.event.model import AwardFor, AwardTies, TargetEvent, TaskState
from scorer.event.reading import Faults
from scorer.event.tables import decode, read_csv
from scorer.facts import count, fact, inner, pilot, several, task
from scorer.ledger import api, corrections
from scorer.ledger.as_meant import as_meant
from scorer.ledger.matters import matters
from scorer.ledger.sound import sound
from scorer.ledger.tried import Tried, try_out
from scorer.units import Unreadable, angle_deg, number
from scorer.words.voice import Voice

Make = Callable[[argparse.Namespace, api.Ledger], Sequence[api.Draft]]
"""Drafts a correction of what a ledger holds."""


def add(commands: Any) -> None:
    """Add the command with its actions."""
    own = commands.add_parser(
        "correct",
        description="Enter or correct something in an event file or database. What it "
        "changes in results, ranks and points is shown first; --dry-run records nothing. "
        "In a folder, edit its files, and read it in again with import --into.",
    )
    own.add_argument("target", metavar="EVENT", help=FILE)
    actions = own.add_subparsers(metavar="WHAT", required=True)
    _rows(actions)
    _pilots(actions)
    _event(actions)


def _action(actions: Any, name: str, help_: str, make: Make) -> argparse.ArgumentParser:
    own: argparse.ArgumentParser = actions.add_parser(name, help=help_)
    own.add_argument("--why", required=True, help="the reason, kept with the entry")
    own.add_argument("--dry-run", action="store_true", help="show, and record nothing")
    who_option(own)
    own.set_defaults(run=run, make=make)
    return own


def _rows(actions: Any) -> None:
    own = _action(
        actions,
        "row",
        "a mark, declaration, report, decision, line of a target log, or pilot",
        _enter,
    )
    own.add_argument("table", choices=[*corrections.ROWS, corrections.PILOTS])
    own.add_argument(
        "cells", nargs="+", metavar="COLUMN=TEXT", help="as in the table of a folder"
    )
    own.add_argument(
        "--instead",
        metavar="ENTRY",
        help='the entry it corrects, "hall-3f9a1c #12": other cells stay as they are',
    )
    own = _action(
        actions,
        "decisions",
        "all decisions of a table; with --dry-run what they would come to, recorded "
        "nowhere",
        _decisions,
    )
    own.add_argument(
        "table",
        type=Path,
        metavar="FILE.csv",
        help="written as rulings.csv of a flight",
    )
    own = _action(
        actions, "holds", "decide where desks clash: this entry holds", _holds
    )
    own.add_argument("entry", metavar="ENTRY", help='as in "hall-3f9a1c #12"')
    own = _action(
        actions, "remove", "an entry no longer holds, nor what it replaced", _remove
    )
    own.add_argument("entry", metavar="ENTRY", help='as in "hall-3f9a1c #12"')
    own = _action(
        actions,
        "as-meant",
        "take a mark as an open matter says it fits, with all that it touches",
        _as_meant,
    )
    own.add_argument(
        "number", type=int, metavar="N", help="the matter's number in open-matters"
    )


def _pilots(actions: Any) -> None:
    own = _action(
        actions, "not-flown", "pilots who did not fly a task, with one reason", _absent
    )
    own.add_argument(
        "--task", type=int, required=True, metavar="N", help="the task they did not fly"
    )
    own.add_argument(
        "--pilot",
        type=int,
        action="append",
        metavar="N",
        help="who; unset: everybody who is not accounted for",
    )
    own = _action(actions, "withdraw-pilot", "a pilot takes no further part", _leave)
    own.add_argument("pilot", type=int, metavar="PILOT")
    own.add_argument(
        "--task", type=int, required=True, metavar="N", help="from this task on"
    )
    own = _action(
        actions, "number", "give a pilot another number, with all that has it", _number
    )
    own.add_argument("old", type=int, metavar="OLD")
    own.add_argument("new", type=int, metavar="NEW")


def _event(actions: Any) -> None:
    own = _action(actions, "task", "a task is planned, flown or cancelled", _state)
    own.add_argument("task", type=int, metavar="TASK")
    own.add_argument("state", choices=[str(state) for state in TaskState])
    own = _action(actions, "times", "other times of a task: an extension, say", _times)
    own.add_argument("task", type=int, metavar="TASK")
    for period in ("launch", "scoring"):
        own.add_argument(
            f"--{period}",
            nargs=2,
            metavar=("FROM", "TO"),
            help=f"the {period} period, local times HH:MM",
        )
    own = _action(
        actions, "reopen", "an official task takes the rules of today", _reopen
    )
    own.add_argument("task", type=int, metavar="TASK")
    own = _action(
        actions, "log", "say whose a log is, where its signs leave doubt", _log
    )
    own.add_argument("log", metavar="LOG", help="its name, as open-matters tells it")
    own.add_argument(
        "pilot",
        metavar="PILOT",
        help="number of the pilot; none takes back what was said",
    )
    own.add_argument(
        "--flight", metavar="FLIGHT", help="where several flights have such a log"
    )
    own = _action(
        actions,
        "air",
        "heights of a flight from all its logs again, late ones too",
        _air,
    )
    own.add_argument("flight", metavar="FLIGHT")
    own = _action(actions, "move", "move a target or another point", _move)
    own.add_argument("place", metavar="PLACE")
    _position(own, "where it is now")
    own = _action(
        actions, "target", "a target was seen clear, opened, closed or moved", _target
    )
    own.add_argument("task", type=int, metavar="TASK")
    own.add_argument("event", choices=[str(event) for event in TargetEvent])
    own.add_argument("--at", required=True, metavar="TIME", help="local time HH:MM")
    own.add_argument(
        "--place", default="", metavar="PLACE", help="unset: the task's first"
    )
    _position(own, "of a moved one, where it stands since")
    own = _action(actions, "rule", "answer a rule of the event", _rule)
    own.add_argument("key", metavar="RULE", help="as `sandtail rules` names it")
    own.add_argument("value", metavar="ANSWER", help="as in event.toml")
    own = _action(
        actions,
        "setting",
        "set the event's venue, ground elevation and so on",
        _setting,
    )
    own.add_argument("key", metavar="KEY", help="of [event]: `sandtail manual files`")
    own.add_argument(
        "value", metavar="VALUE", help="as in event.toml; none takes it out"
    )
    own = _action(actions, "prize", "declare a prize, or take one out", _prize)
    own.add_argument("name", metavar="NAME", help="what it is called")
    own.add_argument(
        "--for",
        dest="given_for",
        choices=[str(a) for a in AwardFor],
        default=str(AwardFor.OVERALL),
        help="what it is for; unset: overall",
    )
    own.add_argument("--task", type=int, metavar="N", help="unset: each task")
    own.add_argument(
        "--day", type=date.fromisoformat, metavar="YYYY-MM-DD", help="unset: each day"
    )
    own.add_argument("--class", dest="among", metavar="CLASS", help="unset: each class")
    own.add_argument("--places", type=int, metavar="N", help="how many; unset: 3")
    own.add_argument(
        "--ties",
        choices=[str(ties) for ties in AwardTies],
        help="what becomes of equal places; unset: shared",
    )
    own.add_argument("--remove", action="store_true", help="there is no such prize")


def _position(own: argparse.ArgumentParser, what: str) -> None:
    own.add_argument(
        "--lat-lon",
        nargs=2,
        metavar=("LAT", "LON"),
        help=f"{what}, WGS84: 40.12345 -3.45678, or 40°07.407N 3°27.407W, or with seconds",
    )
    own.add_argument(
        "--grid",
        nargs=2,
        metavar=("EASTING", "NORTHING"),
        help=f"{what}, metres of the event's map grid",
    )


def run(given: argparse.Namespace) -> int:
    """Show what a correction changes, then record it unless it is only tried."""
    if not given.why.strip():
        raise ScorerError("a correction needs a reason: say why")
    with api.Ledger.open(given.target, desk=api.this_desk(), who=given.by) as ledger:
        drafts = given.make(given, ledger)
        tried = try_out(ledger, drafts, scoring=compute)
        voice = tried.voice
        _show_who(drafts, voice)
        for moved in tried.moves:
            say(voice.say(moved))
        for change in tried.changes:
            say(voice.say(change.says))
        _side_by_side(tried, voice)
        if not tried.changes:
            say(voice.word("changes-nothing"))
        for matter in tried.opened:
            say(voice.say(fact("opens", what=inner(matter.placed))))
        for matter in tried.closed:
            say(voice.say(fact("is-closed", what=inner(matter.placed))))
        for number, missing in tried.missing:
            names = several(map(pilot, missing))
            say(voice.say(fact("still-missing", task=task(number), pilots=names)))
        if given.dry_run:
            say(voice.word("only-tried"))
            return 0
        made = ledger.record_all(drafts)
    entries = fact("recorded", entries=count(len(made)))
    say(f"{voice.say(entries)}: {', '.join(entry.label for entry in made)}")
    return 0


def _shown(ledger: api.Ledger) -> api.State:
    """Return what holds and can be used: what is set aside is nothing to go on from."""
    return sound(ledger.state()).state


def _side_by_side(tried: Tried, voice: Voice) -> None:
    """Print the standings as they are beside what they would be."""
    if not tried.places:
        return
    columns = (
        (voice.word("head-rank"), "right"),
        (voice.word("head-rank-then"), "right"),
        (voice.word("head-number"), "right"),
        (voice.word("head-pilot"), "name"),
        (voice.word("head-total"), "right"),
        (voice.word("head-total-then"), "right"),
    )
    rows = [
        (
            *(str(rank or "") for rank in one.ranks),
            str(one.pilot),
            voice.pilots.get(one.pilot, ""),
            *map(str, one.totals),
        )
        for one in tried.places
    ]
    show_table(voice.word("title-side-by-side"), columns, rows)


def _show_who(drafts: Sequence[api.Draft], voice: Voice) -> None:
    """Name the pilots, where entries are made for several at once."""
    fields: list[Mapping[str, str]] = [getattr(d.act, "fields", {}) for d in drafts]
    numbers = {int(f["pilot"]) for f in fields if f.get("pilot", "").isdecimal()}
    if len(drafts) > 1 and numbers:
        names = several(map(pilot, sorted(numbers)))
        say(voice.say(fact("entries-for", pilots=names)))


def _enter(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    state = _shown(ledger)
    cells = {}
    for text in given.cells:
        name, sign, value = text.partition("=")
        if not sign:
            allowed = "COLUMN=TEXT, such as distance=12.34"
            raise InputError([Fault(where="row", found=text, allowed=allowed)])
        cells[name.strip()] = value.strip()
    _check_columns(given.table, cells)
    if given.table in {"marks", "reports", "rulings", "targets"} and not given.instead:
        cells.setdefault("by", given.by)
    instead = state.find(given.instead) if given.instead else None
    return corrections.enter(state, given.table, cells, given.why, instead)


def _check_columns(table: str, given: Iterable[str]) -> None:
    """Refuse columns that a table does not have; a roster may have more, but none near."""
    known = TABLES[table].names
    faults = [
        Fault(
            where="row", field=name, found=name, allowed=", ".join(known), remedy=hint
        )
        for name in given
        if name not in known
        and ((hint := nearest(name, known)) or table != corrections.PILOTS)
    ]
    if faults:
        raise InputError(faults)


def _decisions(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    state = _shown(ledger)
    faults = Faults()
    try:
        text = decode(given.table.read_bytes(), given.table.name, faults)
    except OSError as error:
        allowed = "a table that can be read"
        fault = Fault(
            where=str(given.table), found=str(error.strerror), allowed=allowed
        )
        raise InputError([fault]) from error
    rows = read_csv(text, given.table.name, RULINGS.names, faults) if text else ()
    if not rows and not faults.found:
        found = Fault(where=given.table.name, found="no row", allowed="decisions")
        raise InputError([found])
    if faults.found:
        raise InputError(faults.found)
    return [
        draft
        for row in rows
        for draft in corrections.enter(
            state,
            "rulings",
            {**row.fields, "by": row.fields.get("by", "").strip() or given.by},
            row.fields.get("reason", "").strip() or given.why,
        )
    ]


def _holds(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    state = _shown(ledger)
    return corrections.holds(state, state.find(given.entry), given.why)


def _as_meant(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    state = _shown(ledger)
    event = build_event(ledger.raw(state))
    found = matters(event, compute(event), state, datetime.now(UTC))
    if not 1 <= given.number <= len(found):
        allowed = f"1 to {len(found)}, the numbers of `sandtail open-matters`"
        raise InputError([Fault(where="N", found=str(given.number), allowed=allowed)])
    return as_meant(state, found[given.number - 1], why=given.why, by=given.by)


def _remove(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    state = _shown(ledger)
    return corrections.removed(state, state.find(given.entry), given.why)


def _absent(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    state, pilots = _shown(ledger), given.pilot
    if not pilots:
        event = build_event(ledger.raw(state))
        result = compute(event).task(given.task)
        pilots = result.missing if result is not None else ()
        if result is not None and not result.scores:
            pilots = tuple(p.number for p in event.pilots)
    return corrections.not_flown(state, given.task, pilots, given.why, given.by)


def _leave(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    return corrections.withdrawn(_shown(ledger), given.pilot, given.task, given.why)


def _number(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    return corrections.with_number(_shown(ledger), given.old, given.new, given.why)


def _state(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    state = _shown(ledger)
    return corrections.task_state(state, given.task, given.state, given.why)


def _times(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    named = {"launch_period": given.launch, "scoring_period": given.scoring}
    periods = {key: list(times) for key, times in named.items() if times}
    if not periods:
        allowed = "--launch FROM TO, --scoring FROM TO or both"
        raise InputError([Fault(where="times", found="neither", allowed=allowed)])
    return corrections.of_task(_shown(ledger), given.task, periods, given.why)


def _reopen(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    return corrections.reopened(_shown(ledger), given.task, given.why)


def _log(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    return corrections.log_given(
        _shown(ledger), given.log, given.pilot, given.flight, given.why
    )


def _air(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    return corrections.air_renewed(_shown(ledger), given.flight, given.why)


def _move(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    if bool(given.lat_lon) == bool(given.grid):
        allowed = "one of --lat-lon LAT LON and --grid EASTING NORTHING"
        raise InputError([Fault(where="move", found="both or none", allowed=allowed)])
    if given.grid:
        east, north = (_read("--grid", number, text) for text in given.grid)
        at = east, north
    else:
        lat, lon = _lat_lon(given.lat_lon)
        at = (
            _read("--lat-lon", partial(angle_deg, axis="longitude"), lon),
            _read("--lat-lon", partial(angle_deg, axis="latitude"), lat),
        )
    return corrections.moved(
        _shown(ledger), given.place, at, given.why, grid=bool(given.grid)
    )


def _lat_lon(given: Sequence[str]) -> tuple[str, str]:
    """Return latitude and longitude; the letter of a side settles the order."""
    first, second = given
    return (second, first) if set(first.upper()) & {"E", "W"} else (first, second)


def _read(option: str, reader: Callable[[str], float], text: str) -> float:
    """Read a text of an option as files have it read."""
    try:
        return reader(text)
    except Unreadable as error:
        fault = Fault(where=option, found=error.found, allowed=error.allowed)
        raise InputError([fault]) from None


def _target(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    cells = {
        "task": str(given.task),
        "target": given.place,
        "event": given.event,
        "time": given.at,
        "by": given.by,
        "note": given.why,
    }
    if given.lat_lon:
        cells |= zip(("lat", "lon"), _lat_lon(given.lat_lon), strict=True)
    if given.grid:
        cells |= zip(("easting", "northing"), given.grid, strict=True)
    return corrections.enter(_shown(ledger), "targets", cells, given.why)


def _rule(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    return corrections.answered(_shown(ledger), given.key, given.value, given.why)


def _setting(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    return corrections.event_set(_shown(ledger), given.key, given.value, given.why)


def _prize(given: argparse.Namespace, ledger: api.Ledger) -> Sequence[api.Draft]:
    told = {
        "for": given.given_for,
        "task": given.task,
        "day": given.day,
        "class": given.among,
        "places": given.places,
        "ties": given.ties,
    }
    cells = {name: value for name, value in told.items() if value is not None}
    own = None if given.remove else cells
    return corrections.prize_set(_shown(ledger), given.name, own, given.why)
