"""Every command in one table, and the parser: only what is asked for is loaded."""

import argparse
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from scorer.version import PROGRAM

CAUTION = (
    "Results and heights are evidence for a sport, with stated uncertainty. They are not "
    "for navigation and do not say whether a flight was lawful or safe: the aviation "
    "authority, the event's waiver, the director and licensed pilots decide that."
)


@dataclass(frozen=True, slots=True)
class Command:
    """A command as the list of commands shows it."""

    name: str
    module: str
    """Module of `scorer.cli` with `add(commands)`; the parser it adds sets `run`."""
    about: str


COMMANDS = (
    Command("score", "score", "score an event and print its results"),
    Command("explain", "explain", "show a pilot every step to the points"),
    Command(
        "open-matters", "matters", "list what is open or doubtful, and what closes it"
    ),
    Command("accept", "matters", "accept an open matter as it stands, with a reason"),
    Command("check", "check", "report every fault of an event at once"),
    Command(
        "rules",
        "rules",
        "print a rule book: every value, what it means, where it comes from",
    ),
    Command("season", "season", "standings over several events"),
    Command("winds", "winds", "show the winds that the flights met, layer by layer"),
    Command("new", "ledger", "make a new, empty event"),
    Command("import", "ledger", "take an event folder into an event file or database"),
    Command("export", "ledger", "write an event as a folder"),
    Command("merge", "ledger", "unite event files of several desks; nothing is lost"),
    Command("copy", "ledger", "make a whole copy of an event, also while it is in use"),
    Command("archive", "ledger", "make one file that a jury can run again"),
    Command("restore", "ledger", "make an event file from an archive"),
    Command(
        "withdraw", "ledger", "take an entry back: what it set down no longer holds"
    ),
    Command(
        "desk-user",
        "ledger",
        "make a database user for the desks: may read and add, nothing else",
    ),
    Command(
        "correct",
        "correct",
        "enter or correct something in an event file, shown before it is recorded",
    ),
    Command("publish", "publish", "publish results: provisional, official or final"),
    Command("complaint", "complaint", "list, file and decide complaints and protests"),
    Command(
        "sheets",
        "sheets",
        "write notice board, workbook, field forms, task sheets, data",
    ),
    Command("issue", "sheets", "give out a flight's task sheet, with its version"),
    Command("site", "sheets", "write static pages for phones and any web host"),
    Command("slips", "sheets", "write every pilot's slip, or some, as a PDF"),
    Command(
        "verify",
        "verify",
        "recompute results by a second way; look whether anything was altered",
    ),
    Command("desk", "desk", "open the scoring desk, a window"),
    Command(
        "manual",
        "manual",
        "print the manual: guides, files, columns, tasks, rules, commands and more",
    ),
    Command("completion", "completion", "print what makes the Tab key finish commands"),
)


class _Adding:
    """What a module adds its commands to: each gets its line of the table as help."""

    def __init__(self, commands: Any) -> None:
        self._commands = commands
        self.added: set[str] = set()

    def add_parser(self, name: str, **given: Any) -> argparse.ArgumentParser:
        about = next(command.about for command in COMMANDS if command.name == name)
        self.added.add(name)
        made: argparse.ArgumentParser = self._commands.add_parser(
            name, help=about, **given
        )
        return made


def parser(asked: str | None = None, *, alone: bool = False) -> argparse.ArgumentParser:
    """Make the parser of all commands, or of the one asked for: others are names only.

    A known command that stands `alone` needs no others, and making thirty parsers takes
    longer than to do what a short command asks for.
    """
    top = argparse.ArgumentParser(
        prog="sandtail",
        description="Score target competitions of balloons: marks, logs, rulings, points.",
        epilog=CAUTION,
    )
    top.add_argument("--version", action="version", version=PROGRAM)
    commands = _Adding(top.add_subparsers(required=True, metavar="COMMAND"))
    wanted = [c.module for c in COMMANDS if asked in {None, c.name}]
    for module in dict.fromkeys(wanted):
        import_module(f"scorer.cli.{module}").add(commands)
    for command in () if alone and wanted else COMMANDS:
        if command.name not in commands.added:
            commands.add_parser(command.name)
    return top
