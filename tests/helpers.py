"""What tests of several layers share."""

import csv
from pathlib import Path

import pytest

from scorer.facts import fact, words
from scorer.words.voice import Voice

REFERENCE = Path(__file__).parent / "reference"
SHARED = Path(__file__).parents[1].parent / "shared" / "data"


def reference_rows(name):
    """Return the rows of `reference/<name>.csv`, its `#` lines left out."""
    path = REFERENCE / f"{name}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def shared_file(name):
    """Return the path of a file of the shared reading, or skip the test without it."""
    path = SHARED / name
    if not path.exists():
        pytest.skip(f"needs {name} of the shared data beside the checkout")
    return path


def shared_rows(name):
    """Return the rows of a shared table, or none where it is absent."""
    path = SHARED / name
    if not path.exists():
        return []
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def said(stated, voice=None):
    """Say a fact, or what a matter, finding or amount states, as people read it."""
    if stated is None or isinstance(stated, str):
        return stated or ""
    own = getattr(stated, "says", stated)
    return (voice or Voice()).say(own)


def lines(steps, voice=None):
    """Say steps, a line each."""
    return [said(step, voice) for step in steps]


def sentence(text):
    """Return a fact that says just this, where a test needs any."""
    return fact("fault-in-words", text=words(text))
