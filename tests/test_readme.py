"""README.md and DEVELOPERS.md are held to what the project does."""

import re
from pathlib import Path

import pytest

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


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_files_that_the_pages_name_are_there(page):
    text = (ROOT / page).read_text(encoding="utf-8")
    named = re.findall(
        r"`((?:scorer|gui|tests|sample_events)/[\w./-]+\.(?:py|toml|csv))`", text
    )

    assert named
    for path in named:
        assert (ROOT / path).exists(), f"{page} names {path}"


def test_licences_are_told():
    licence = (ROOT / "LICENSE").read_text(encoding="utf-8")
    told = (ROOT / "scorer/manual/guides/licence.md").read_text(encoding="utf-8")

    assert licence.startswith("MIT License")
    assert "the Sandtail developers" in licence
    for word in ("Arev", "Apache", "Open Font", "PySide6", "psycopg"):
        assert word in told


def test_pictures_are_there_and_small():
    named = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)

    assert named
    for path in named:
        assert (ROOT / path).read_bytes().startswith(b"\x89PNG")
        assert (ROOT / path).stat().st_size < 200_000
