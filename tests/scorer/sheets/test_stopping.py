"""Whoever stops a publication while sheets are made need not wait for them."""

import threading
import time
from datetime import UTC, datetime

import pytest

from scorer.errors import Cancelled
from scorer.sheets.kinds import SheetKind, made
from scorer.sheets.typeset import ReadySheet

NOW = datetime(2026, 8, 22, tzinfo=UTC)


def test_making_stops_between_two_files():
    begun = []

    def pages(_):
        for n in range(9):
            begun.append(n)
            yield f"pilot-{n}.html", b""

    def check():
        if len(begun) == 3:
            raise Cancelled

    with pytest.raises(Cancelled):
        made([SheetKind(name="pages", make=pages)], None, check)
    assert begun == [0, 1, 2]


def test_paper_half_set_is_let_go(monkeypatch):
    """Setting paper cannot be broken off; it is not waited for."""
    done = threading.Event()
    monkeypatch.setattr(ReadySheet, "pdf", lambda _: done.wait(30) and b"%PDF-")
    ready = ReadySheet(template="board", tree={}, moment=NOW)
    asked = []

    def check():
        asked.append(1)
        if len(asked) > 2:
            raise Cancelled

    begun = time.monotonic()
    try:
        with pytest.raises(Cancelled):
            made([SheetKind(name="board", make=lambda _: [("b", ready)])], None, check)
        assert time.monotonic() - begun < 20, "it waited for the paper"
    finally:
        done.set()


def test_unstopped_everything_is_made_in_its_order(monkeypatch):
    monkeypatch.setattr(ReadySheet, "pdf", lambda _: b"%PDF-")
    ready = ReadySheet(template="board", tree={}, moment=NOW)
    kinds = [
        SheetKind(name="board", make=lambda _: [("b.pdf", ready)]),
        SheetKind(name="data", make=lambda _: [("d.csv", b"1")]),
    ]
    assert list(made(kinds, None).items()) == [("b.pdf", b"%PDF-"), ("d.csv", b"1")]
