"""What tests of several layers share."""

import csv
from pathlib import Path

import pytest

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
