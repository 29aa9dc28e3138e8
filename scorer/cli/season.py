"""`sandtail season`: standings over several events."""

import argparse
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from scorer.cli.columns import show_table
from scorer.cli.compute import compute
from scorer.cli.output import write_file
from scorer.cli.screen import say, write_plainly
from scorer.cli.target import HELP, load
from scorer.errors import Fault, InputError
from scorer.facts import count, fact, inner, number, words
from scorer.ledger.came import came_to
from scorer.scoring.season import (
    Came,
    Season,
    SeasonLine,
    SeasonRule,
    season_document,
    season_of,
)
from scorer.words.voice import Voice


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "season",
        description="Add up several events, each as it was last put up whole; one that "
        "never was is scored. A pilot is the same where number and name agree; possible "
        "duplicates are listed.",
        epilog="Exit status 1: there is something to look at before it is put up.",
    )
    own.add_argument("events", metavar="EVENT", nargs="+", help=HELP)
    own.add_argument(
        "--best", type=int, metavar="N", help="only the best N events count"
    )
    own.add_argument(
        "--places",
        metavar="25,20,16",
        help="points of the first, second, ... place; unset: the events' totals",
    )
    own.add_argument(
        "--by-name", action="store_true", help="numbers change: go by name"
    )
    own.add_argument(
        "--afresh",
        action="store_true",
        help="score every event now, also where a publication says what it came to",
    )
    own.add_argument("--json", metavar="FILE", help="write it here; - = output")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Add all events up and print the season."""
    rule = SeasonRule(
        best=_best(given.best), places=_places(given.places), by_name=given.by_name
    )
    found = season_of([_came(one, afresh=given.afresh) for one in given.events], rule)
    text = json.dumps(season_document(found), ensure_ascii=False, indent=1) + "\n"
    if given.json == "-":
        write_plainly(text)
    else:
        _show(found)
        if given.json:
            path = Path(given.json)
            write_file(path, text.encode())
            say(Voice().say(fact("written", files=words(str(path)))))
    return 1 if found.notes else 0


def _came(target: str, *, afresh: bool) -> Came:
    """Return what an event came to: as it was put up, else scored now."""
    found = None if afresh else came_to(target)
    if found is not None:
        return found
    event = load(target)
    return Came.of(event, compute(event))


def _best(most: int | None) -> int | None:
    if most is not None and most < 1:
        fault = Fault(where="--best", found=str(most), allowed="1 or more")
        raise InputError([fault])
    return most


def _places(text: str | None) -> tuple[int, ...]:
    try:
        points = tuple(int(part) for part in (text or "").split(",") if part.strip())
    except ValueError:
        points = (-1,)
    if any(p < 0 for p in points):
        allowed = "whole numbers with commas between: 25,20,16"
        raise InputError([Fault(where="--places", found=text or "", allowed=allowed)])
    return points


def _show(found: Season) -> None:
    voice = Voice()
    _table(voice.word("title-season"), found.lines, found)
    for name, lines in found.classes.items():
        title = fact("title-season-class", name=words(name))
        _table(voice.say(title), lines, found)
    for place, name in enumerate(found.events, start=1):
        say(voice.say(fact("event-number", number=number(place), event=words(name))))
    if found.rule.best is not None:
        say(voice.say(fact("in-brackets-events", count=count(found.rule.best))))
    for note in found.notes:
        say(voice.say(fact("look-at", what=inner(note))))


def _table(title: str, lines: Iterable[SeasonLine], found: Season) -> None:
    voice = Voice()
    heads = (
        voice.say(fact("head-event-number", number=number(place)))
        for place, _ in enumerate(found.events, start=1)
    )
    columns = (
        (voice.word("head-rank"), "right"),
        (voice.word("head-number"), "right"),
        (voice.word("head-pilot"), "name"),
        (voice.word("head-country"), "spare"),
        *((head, "right") for head in heads),
        (voice.word("head-total"), "right"),
    )
    rows = [
        (
            str(line.rank),
            str(line.number),
            line.name,
            line.country,
            *(_cell(line, index) for index in range(len(found.events))),
            str(line.total),
        )
        for line in lines
    ]
    show_table(f"\n{title}", columns, rows)


def _cell(line: SeasonLine, index: int) -> str:
    if index not in line.events:
        return "–"
    text = str(line.events[index])
    return text if index in line.counted else f"({text})"
