"""Logs stay packed until they are read; those that do not fit are told all the same."""

import pickle
import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.ledger import files
from scorer.ledger.convert import to_drafts
from scorer.ledger.faults import DamagedError
from scorer.ledger.files import checked, pack
from scorer.recall import Recall
from scorer.remembered import remembering_in
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from tests.scorer.ledger.ledger_desks import blob, create, open_at, small_event

SAMPLE = Path("sample_events/quillowen")


@pytest.fixture(name="memory")
def _memory(tmp_path):
    """Remember from one opening to the next, as the program does."""
    with remembering_in(lambda: Recall(tmp_path / "kept.sqlite")):
        yield


@pytest.fixture(name="unpacked")
def _unpacked(monkeypatch):
    """List what is unpacked."""
    seen, unpack = [], files._unpacked

    def listed(data, encoding):
        seen.append(data)
        return unpack(data, encoding)

    monkeypatch.setattr(files, "_unpacked", listed)
    return seen


def altered(path, sql):
    """Change stored files behind the ledger's back."""
    with closing(sqlite3.connect(path)) as file, file:
        file.execute("DROP TRIGGER blob_no_update")
        file.execute(sql)


def test_packed_logs_score_as_those_of_the_folder(tmp_path):
    raw = read_folder(SAMPLE)
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(raw))
        held = build_event(ledger.raw())
    logs = [log.blob for flight in held.flights for log in flight.logs]
    assert logs
    assert not any(isinstance(own.content, bytes) for own in logs)
    flights = [
        replace(
            f,
            logs=tuple(
                replace(log, blob=blob(log.blob.name, log.blob.data)) for log in f.logs
            ),
        )
        for f in held.flights
    ]
    plain = replace(held, flights=tuple(flights))
    assert plain == held
    assert to_json(score(plain)) == to_json(score(held))


def test_logs_that_fitted_are_unpacked_again_only_where_they_are_read(
    tmp_path, memory, unpacked
):
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
        (own,) = ledger.raw().flights[0].logs
        assert unpacked
    unpacked.clear()
    with open_at(tmp_path / "e") as ledger:
        (log,) = ledger.raw().flights[0].logs
    assert log == own
    assert (log.blob.size, log.blob.start(4)) == (2700, b"AXXX")
    assert not unpacked
    assert log.blob.data == b"AXXX001\r\n" * 300  # the ledger is closed
    assert unpacked
    sent = pickle.dumps(log)
    assert len(sent) < 700
    assert pickle.loads(sent).blob.data == log.blob.data


@pytest.mark.parametrize(
    "change",
    [
        "data = substr(data, 1, length(data) - 1)",
        "data = x'00' || data",
        "size = size + 1",
        "size = size - 1",
        "encoding = 'plain'",
    ],
)
def test_a_log_that_was_altered_is_told_though_it_fitted_before(
    tmp_path, memory, change
):
    path = tmp_path / "e"
    with create(path) as ledger:
        ledger.record_all(to_drafts(small_event()))
        assert not ledger.raw().flights[0].logs[0].problem
    altered(path, f"UPDATE blob SET {change}")
    for _ in range(2):
        with open_at(path) as ledger:
            (log,) = ledger.raw().flights[0].logs
            assert "was altered" in log.problem
            assert log.blob.data == b""


def test_files_that_do_not_fit_are_never_taken_for_fitting(memory):
    one, other = (blob("x", data) for data in (b"abc" * 99, b"abd" * 99))
    good = [pack(own.sha256, own.data) for own in (one, other)]
    assert list(checked(good, "e")) == [one.sha256, other.sha256]
    swapped = [
        replace(good[0], sha256=other.sha256),
        replace(good[1], sha256=one.sha256),
    ]
    for wrong in (
        swapped,
        [good[0], swapped[0]],
        [replace(good[0], size=296), good[1]],
    ):
        for _ in range(2):
            with pytest.raises(DamagedError):
                checked(wrong, "e")
