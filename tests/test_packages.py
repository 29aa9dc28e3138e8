"""The lowest versions that the CI installs are those that pyproject.toml states."""

import re
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))[
    "project"
]
STUBS = {"pandas-stubs", "types-shapely"}
"""For the type checker alone: always the newest."""


def wanted():
    """Return the lower bound of each package, None where it has none."""
    extras = PROJECT["optional-dependencies"].values()
    texts = [*PROJECT["dependencies"], *(text for extra in extras for text in extra)]
    found = {}
    for text in texts:
        name, bounds = re.match(r"([\w.-]+)(?:\[.*?\])?(.*)", text).groups()
        low = re.search(r">=([\d.]+)", bounds)
        found[name] = low and low[1]
    return {name: low for name, low in found.items() if name != PROJECT["name"]}


def test_every_package_states_the_lowest_version_that_works():
    assert {name for name, low in wanted().items() if low is None} == STUBS


def test_the_ci_installs_just_the_lowest_versions():
    done = subprocess.run(
        [sys.executable, ROOT / ".ci" / "lowest.py"],
        capture_output=True,
        text=True,
        check=True,
    )

    pinned = dict(line.split("==") for line in done.stdout.splitlines())
    assert pinned == {name: low for name, low in wanted().items() if low}
    assert ".ci/lowest.py" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_ci_tries_every_python_from_the_lowest_that_the_project_allows():
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    versions = re.search(r'^pythons="(.+)"$', ci, re.MULTILINE)[1].split()

    assert PROJECT["requires-python"] == f">={versions[0]}"
    assert {"3.11", "3.12", "3.13"} <= set(versions)
