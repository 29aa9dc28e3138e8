"""What every command prints and every publication holds is plain English."""

import contextlib
import csv
import hashlib
import io
import pickle
import re
import shutil
from importlib import import_module

import openpyxl
import pypdf
import pytest

from scorer.cli.commands import COMMANDS
from scorer.cli.main import main
from scorer.cli.screen import errors, screen
from tests.test_words import SAMPLES, Text, faults

NAMED = re.compile(r"\S+ #\d+|sandtail correct .*|\S+\.sandtail|SHA-256 \S+")
"""Names of entries and files, and commands to type: their columns are headers of files."""
"""Names of entries and files, which people type."""


def read(text):
    """Return the faults of an output; names of entries and files are exempt."""
    return faults(NAMED.sub("", text))


@pytest.fixture(scope="module")
def scored_once():
    """Score like events once: the outputs are looked at here, not the score."""
    real = import_module("scorer.cli.compute").compute
    done = {}

    def compute(event, *, afresh=False, keep=None, pool=None):
        key = hashlib.sha256(pickle.dumps(event)).digest()
        if key not in done:
            done[key] = real(event, afresh=afresh, keep=keep, pool=pool)
        return done[key]

    with pytest.MonkeyPatch.context() as patch:
        for module in {command.module for command in COMMANDS}:
            loaded = import_module(f"scorer.cli.{module}")
            if hasattr(loaded, "compute"):
                patch.setattr(loaded, "compute", compute)
        yield


HEAD = re.compile(r"\b\d+(?::[0-9a-f]{32})+\b")
"""Number and hash of entries, as people hold a sheet against them."""


def run(*words):
    """Run a command; return what it printed."""
    out = io.StringIO()
    screen.file = errors.file = out
    try:
        with contextlib.redirect_stdout(out):
            assert main([str(word) for word in words]) in {0, 1}, (
                words,
                out.getvalue(),
            )
    finally:
        screen.file = errors.file = None
    return out.getvalue()


def _morning(do, room, file, number):
    """Publish, dispute, correct, publish again, verify and hand on."""
    by = ("--by", "Ida Ost")
    do("publish", file, "provisional", *by, "--out", room / "board")
    do("complaint", file, "file", "--pilot", number, "--text", "mine was nearer", *by)
    do("complaint", file, "decide", "1", "rejected", "--why", "taped again", *by)
    do("complaint", file)
    absent = ("not-flown", "--task", "1", "--pilot", number, "--why", "seen")
    do("correct", file, *absent, "--dry-run", *by)
    do("correct", file, *absent, *by)
    do("publish", file, "provisional", *by, "--why", "seen", "--out", room / "again")
    do("explain", file, "--pilot", number, "--version", "1")
    do("verify", file)
    do("export", file, room / "out")
    do("archive", file, room / "a.zip")
    do("restore", room / "a.zip", room / "b.sandtail")
    do("merge", file, room / "b.sandtail")
    do("sheets", file, "--out", room / "sheets")


@pytest.fixture(scope="module", params=["vashkorim", "quillowen"])
def printed(request, tmp_path_factory, scored_once):
    """Do a morning's work with a sample; return what each command printed, the files."""
    room = tmp_path_factory.mktemp("outputs")
    folder, file = room / request.param, room / "e.sandtail"
    shutil.copytree(SAMPLES / request.param, folder)
    told = {}

    def do(*words):
        told[f"{len(told)} {words[0]}"] = run(*words)

    do("check", folder)
    do("winds", folder)
    do("season", folder)
    do("import", folder, file, "--by", "Ida Ost")
    do("open-matters", file, "--all")
    table = (folder / "pilots.csv").read_text(encoding="utf-8").splitlines()
    number = next(csv.DictReader(table))["number"]
    do("explain", file, "--pilot", number)
    by = ("--by", "Ida Ost")
    do("publish", file, "official", *by)
    if request.param == "vashkorim":  # the small one: paper takes long
        _morning(do, room, file, number)
    return told, room


def test_what_every_command_prints_is_plain_english(printed):
    told, _ = printed
    found = {name: read(HEAD.sub("", text)) for name, text in told.items()}
    assert {name: lines for name, lines in found.items() if lines} == {}


def test_every_file_that_goes_up_is_plain_english(printed):
    _, room = printed
    found = {}
    for path in sorted(p for p in room.rglob("*") if p.is_file()):
        if {"board", "again", "sheets"} & set(path.relative_to(room).parts):
            text = HEAD.sub("", _read(path))
            if text and read(text):
                found[str(path.relative_to(room))] = read(text)
    assert found == {}


def _read(path):
    data = path.read_bytes()
    match path.suffix:
        case ".html":
            page = Text()
            page.feed(data.decode())
            return "\n".join(page.parts)
        case ".pdf":
            pages = pypdf.PdfReader(io.BytesIO(data)).pages
            text = "\n".join(page.extract_text() for page in pages)
            return re.sub(r"\b[0-9a-f]{12,64}…?", "", text)
        case ".csv":
            lines = [
                line
                for line in data.decode("utf-8-sig").splitlines()
                if not line.startswith("#")
            ]
            cells = [cell for row in list(csv.reader(lines))[1:] for cell in row]
            return "\n".join(c for c in cells if not re.fullmatch("[0-9a-f]{64}", c))
        case ".xlsx":
            return "\n".join(_cells(openpyxl.load_workbook(io.BytesIO(data))))
    return ""


def _cells(book):
    for page in book:
        yield page.title
        for row in page.iter_rows():
            for cell in row:
                value = cell.value
                if isinstance(value, str) and not re.match(r"=|[0-9a-f]{64}$", value):
                    yield value
