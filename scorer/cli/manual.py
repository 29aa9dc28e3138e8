"""`sandtail manual`: the reference, written from what the program itself declares."""

import argparse
import json
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from rich.markdown import Markdown

from scorer.cli.commands import parser
from scorer.cli.output import write_files
from scorer.cli.screen import say, screen, write_plainly
from scorer.errors import Fault, InputError, nearest
from scorer.manual.guides import PICTURE
from scorer.manual.pages import manual_pages
from scorer.manual.topics import TOPICS, contents, written
from scorer.sheets.schema import results_schema
from scorer.words.voice import Voice

COMMANDS, SCHEMA = "commands", "schema"
"""Topics that come from the parser, and from the form of results.json."""


def chapters() -> dict[str, Callable[[Voice], str]]:
    """Return what writes each chapter as Markdown, by name, in reading order."""
    known: dict[str, Callable[[Voice], str]] = {
        name: partial(written, name) for name in TOPICS
    }
    return known | {
        COMMANDS: lambda voice: "\n".join(_commands(parser(), voice)) + "\n"
    }


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "manual",
        description="Print the manual, or one topic of it. Without a topic it lists "
        f"them. `{SCHEMA}` prints the JSON schema of results.json.",
    )
    own.add_argument("topic", nargs="?", metavar="TOPIC", help="one of the list")
    own.add_argument(
        "--out",
        type=Path,
        metavar="FOLDER",
        help="write the whole manual there as pages for a browser, with its pictures",
    )
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Print a topic, or the list of them; write all of it."""
    voice, known = Voice(), chapters()
    if given.out is not None:
        write_files(manual_pages(known, voice), given.out)
        say(f"wrote {given.out / 'index.html'}")
    if given.topic == SCHEMA:
        write_plainly(json.dumps(results_schema(), ensure_ascii=False, indent=1) + "\n")
    elif given.topic in known:
        _show(known[given.topic](voice))
    elif given.topic is not None:
        names = [*known, SCHEMA]
        fault = Fault(
            where="manual",
            found=given.topic,
            allowed=", ".join(names),
            remedy=nearest(given.topic, names),
        )
        raise InputError([fault])
    elif given.out is None:
        more = (f"- **{n}**: {voice.word(f'manual-{n}')}\n" for n in (COMMANDS, SCHEMA))
        _show(contents(voice) + "".join(more))
    return 0


def _show(text: str) -> None:
    """Print Markdown: laid out on a terminal, as it is elsewhere.

    What a picture shows is told; the pages that `--out` writes show it.
    """
    text = PICTURE.sub(r"*Picture: \1*", text)
    if screen.is_terminal:
        screen.print(Markdown(text))
    else:
        write_plainly(text)


def _commands(parser: argparse.ArgumentParser, voice: Voice) -> Iterator[str]:
    yield f"# {voice.word('manual-commands')}"
    for name, own in _parsers(parser):
        yield ""
        yield f"## sandtail {name}"
        yield ""
        yield own.description or ""
        yield ""
        for action in own._actions:  # noqa: SLF001 - argparse has no other list
            if action.help != argparse.SUPPRESS and action.dest not in {
                "help",
                "command",
            }:
                yield _option(action)
    yield ""


def _option(action: argparse.Action) -> str:
    names = ", ".join(f"`{name}`" for name in action.option_strings)
    value = str(action.metavar or "") or "|".join(map(str, action.choices or ()))
    shown = " ".join(part for part in (names, f"`{value}`" if value else "") if part)
    return f"- {shown or f'`{action.dest}`'}" + (
        f": {action.help}" if action.help else ""
    )


def _parsers(
    parser: argparse.ArgumentParser, name: str = ""
) -> Iterator[tuple[str, argparse.ArgumentParser]]:
    """Yield every command with its parser, those within commands too."""
    for action in parser._actions:  # noqa: SLF001 - argparse has no other list
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            for own, inner in action.choices.items():
                yield f"{name} {own}".strip(), inner
                yield from _parsers(inner, f"{name} {own}".strip())
