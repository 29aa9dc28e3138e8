"""README.md is held to what the project does."""

import argparse
import re
from pathlib import Path

import pytest

from scorer.cli.commands import COMMANDS, parser
from scorer.manual.guides import GUIDES, guide

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_ci_runs_the_readmes_test_command():
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")

    assert "/^Run the tests:/" in ci
    section = README.split("Run the tests:", 1)[1]
    command = re.search(r"```sh\n(.+?)\n```", section, re.DOTALL)[1]
    assert "pytest" in command
    assert "\n" not in command


def test_the_scoring_command_names_a_sample_event_that_is_there():
    name = re.search(r"sandtail score (sample_events/\S+)", README)[1]

    assert (ROOT / name / "event.toml").is_file()


def test_files_that_the_readme_names_are_there():
    named = re.findall(r"`((?:scorer|gui|tests|sample_events)/[\w./-]+\w)`", README)

    assert named
    for path in named:
        assert (ROOT / path).exists(), f"README.md names {path}"


OTHERS = {
    *("--dest", "--no-deps", "--wheel-dir", "--no-index", "--find-links", "--files"),
    "--dist",
}
"""Options of pip and pytest that the pages show."""
PAGES = {
    "README.md": README,
    **{name: guide(name) for name in GUIDES},
}


def options(parser, name="sandtail"):
    """Yield (command, action) of every option, those of commands within commands too."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for own, inner in action.choices.items():
                yield from options(inner, f"{name} {own}")
        elif action.option_strings:
            yield name, action


def test_every_option_says_what_it_does_and_stands_in_readme_or_a_guide():
    named = set(re.findall(r"(?<![\w-])--[a-z][\w-]+", "\n".join(PAGES.values())))
    for command, action in options(parser()):
        assert action.help, f"{command} {action.option_strings}"
        missing = {"--help", *named}.isdisjoint(action.option_strings)
        assert not missing, f"{command} {action.option_strings} stands on no page"


@pytest.mark.parametrize("page", PAGES)
def test_every_option_that_a_page_names_is_there(page):
    known = {name for _, action in options(parser()) for name in action.option_strings}
    named = set(re.findall(r"(?<![\w-])--[a-z][\w-]+", PAGES[page]))

    assert named - known - OTHERS == set()


def test_readme_lists_every_command():
    listed = re.findall(r"`sandtail ([a-z-]+)", README)

    assert {command.name for command in COMMANDS} <= set(listed)


def test_licences_are_told():
    licence = (ROOT / "LICENSE").read_text(encoding="utf-8")
    told = (ROOT / "scorer/manual/guides/licence.md").read_text(encoding="utf-8")

    assert licence.startswith("MIT License")
    assert "the Sandtail developers" in licence
    for word in ("Apache", "Open Font", "PySide6", "psycopg"):
        assert word in told


def test_pictures_are_there_and_small():
    named = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)

    assert named
    for path in named:
        assert (ROOT / path).read_bytes().startswith(b"\x89PNG")
        assert (ROOT / path).stat().st_size < 200_000
