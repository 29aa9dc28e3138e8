"""Every format ever written stays readable; newer ones are refused with advice.

`formats/vN.sqlite` was written by the version that introduced format N, by
`formats/make.py`, and is never written again.
"""

import shutil
import sqlite3
from pathlib import Path

import pytest

from scorer.event.build import build_event
from scorer.event.model import Level
from scorer.ledger import opening, schema
from scorer.ledger.acts import EntryKind, NoteMade, PilotSet
from scorer.ledger.audit import verify
from scorer.ledger.entry import Draft
from scorer.ledger.faults import DamagedError, NewerFormatError
from scorer.ledger.opening import open_store
from scorer.ledger.schema import STEPS, SchemaStep
from tests.scorer.ledger.ledger_desks import FIELD, HALL, MORNING, create, open_at

FORMATS = Path(__file__).parent / "formats"
LATER = {
    EntryKind.ACCEPTANCE,
    EntryKind.REOPENED,
    EntryKind.TARGET,
    EntryKind.AIR_RENEWED,
    EntryKind.AIR_SET,
    EntryKind.SHEET,
}
"""Kinds that came after the formats kept here, with no change of tables."""
KEPT = sorted(FORMATS.glob("v*.sqlite"))


def test_a_file_of_every_format_is_kept():
    assert [path.name for path in KEPT] == [f"v{s.number}.sqlite" for s in STEPS]


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.name)
def test_a_file_of_every_format_stays_readable(path, tmp_path):
    """What stands in them is in make.py; the head's hash is fixed for good."""
    before = path.read_bytes()
    with open_at(path, read_only=True) as ledger:
        raw, state = ledger.raw(), ledger.state()
        audit = verify(ledger.store)

    assert audit.sound, str(audit)
    assert {entry.kind for entry in state.entries} == set(EntryKind) - LATER
    event = build_event(raw)
    assert [pilot.name for pilot in event.pilots] == ["Ödön Vigh", "Ines Roth"]
    assert [str(d) for d in (event.flights[0].date, event.name)] == [
        "2026-09-12",
        "Meet at Ölmühle",
    ]
    assert [k.entered["distance"] for k in event.flights[0].keyings] == [
        "12.34",
        "40 ft 3 1/2 in",
        "13.24",
        "12.34",
    ]
    assert event.flights[0].logs[0].blob.data == b"AXXX001\r\n" * 300
    assert len(state.publications) == 1
    assert not state.complaints[0].is_open
    assert state.complaints[0].level is Level.COMPLAINT
    assert path.read_bytes() == before


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.name)
def test_a_file_of_every_format_can_be_gone_on_with(path, tmp_path):
    shutil.copy(path, tmp_path / "e")
    with open_at(tmp_path / "e", FIELD) as ledger:
        before = len(ledger.state().entries)
        ledger.record(NoteMade(text="on"))
        audit = verify(ledger.store)

    assert audit.sound, str(audit)
    assert audit.entries == before + 1


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.name)
def test_every_format_keeps_its_hashes(path):
    """The hash of the last entry of the file, as written on the day it was made."""
    head = path.with_suffix(".head").read_text(encoding="utf-8").strip()

    with open_at(path, read_only=True) as ledger:
        assert ledger.state().heads == (head,)


NEXT = SchemaStep(
    number=len(STEPS) + 1,
    name="a column for tests",
    sqlite=("CREATE TABLE extra (a INTEGER)", "INSERT INTO extra VALUES (7)"),
    postgresql=(),
)
BROKEN = SchemaStep(
    number=len(STEPS) + 1,
    name="one that fails half way",
    sqlite=("CREATE TABLE extra (a INTEGER)", "INSERT INTO nowhere VALUES (7)"),
    postgresql=(),
)


@pytest.fixture
def event(tmp_path):
    with create(tmp_path / "e") as ledger:
        ledger.record(PilotSet(fields={"number": "1", "name": "A"}))
    return tmp_path / "e"


def with_step(monkeypatch, step):
    for module in (schema, opening):
        monkeypatch.setattr(module, "STEPS", (*STEPS, step))


def tables(path):
    connection = sqlite3.connect(path)
    found = connection.execute("SELECT name FROM sqlite_master WHERE type='table'")
    names = {name for (name,) in found}
    steps = connection.execute("SELECT number, name FROM schema_step").fetchall()
    connection.close()
    return names, steps


def test_a_newer_format_is_refused_and_left_alone(event, monkeypatch):
    with monkeypatch.context() as newer:
        with_step(newer, NEXT)
        open_at(event).close()
    before = event.read_bytes()

    for read_only in (True, False):
        with pytest.raises(NewerFormatError, match="Update the program") as caught:
            open_at(event, read_only=read_only)
    assert f"format {NEXT.number}" in str(caught.value)
    assert "Nothing was changed" in str(caught.value)
    assert event.read_bytes() == before


def test_opening_for_writing_upgrades_and_records_the_step(event, monkeypatch):
    with_step(monkeypatch, NEXT)
    with open_at(event) as ledger:
        assert len(ledger.state().entries) == 2
        ledger.record(NoteMade(text="on"))

    names, steps = tables(event)
    assert "extra" in names
    assert steps[-1] == (NEXT.number, NEXT.name)


def test_opening_for_reading_upgrades_a_copy_only(event, monkeypatch):
    before = event.read_bytes()
    with_step(monkeypatch, NEXT)

    with open_at(event, read_only=True) as ledger:
        assert len(ledger.state().entries) == 2
        assert ledger.store.where == str(event)
    assert event.read_bytes() == before


def test_a_step_that_fails_leaves_the_file_as_it_was(event, monkeypatch):
    with_step(monkeypatch, BROKEN)
    with pytest.raises(Exception, match="no such table"):
        open_at(event)
    monkeypatch.undo()

    assert "extra" not in tables(event)[0]
    with open_store(event, when=MORNING) as store:
        assert len(store.entries()) == 2


def test_opening_twice_does_each_step_once(event, monkeypatch):
    with_step(monkeypatch, NEXT)
    open_at(event, HALL).close()
    open_at(event, FIELD).close()

    assert [n for n, _ in tables(event)[1]] == [*(s.number for s in STEPS), NEXT.number]


def test_an_old_file_with_a_doubled_token_opens_and_loses_nothing(tmp_path):
    """The first format had no rule that a token stands once."""
    shutil.copy(FORMATS / "v1.sqlite", tmp_path / "e")
    connection = sqlite3.connect(tmp_path / "e")
    connection.execute(
        "INSERT INTO entry SELECT (SELECT max(seq) + 1 FROM entry), 'f' || "
        "substr(hash, 2), 'tent-00000c', 1, tick, kind, payload, who, at, why, "
        "replaces, token, prev FROM entry WHERE seq = 3"
    )
    connection.commit()
    before = connection.execute("SELECT * FROM entry").fetchall()
    connection.close()

    with open_at(tmp_path / "e", FIELD) as ledger:
        ledger.store.append(
            [Draft(act=NoteMade(text="on"))], desk=FIELD, who="bob", when=MORNING
        )
    connection = sqlite3.connect(tmp_path / "e")
    after = connection.execute("SELECT * FROM entry").fetchall()
    with pytest.raises(sqlite3.IntegrityError, match="write an entry that replaces it"):
        connection.execute("UPDATE entry SET again = 0")
    connection.close()
    assert [row[:-1] for row in after[:-1]] == before
    assert [row[-1] for row in after[-2:]] == [1, 0]


GONE = {
    "the last step": "DELETE FROM schema_step WHERE number = 3",
    "all steps": "DELETE FROM schema_step",
    "their numbers": "UPDATE schema_step SET number = -number",
    "the list": "DROP TABLE schema_step",
}


@pytest.mark.parametrize("statement", GONE.values(), ids=GONE)
@pytest.mark.parametrize("read_only", [True, False])
def test_an_event_whose_list_of_steps_is_gone_is_told_and_not_written(
    statement, read_only, tmp_path
):
    file = tmp_path / "event.sandtail"
    create(file).close()
    connection = sqlite3.connect(file)
    words = "SELECT sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'schema_step'"
    guards = [row[0] for row in connection.execute(words)]
    for guard in guards:
        connection.execute(f"DROP TRIGGER {guard.split()[2]}")
    connection.execute(statement)
    if not statement.startswith("DROP"):
        for guard in guards:
            connection.execute(guard)
    connection.commit()
    connection.close()
    before = file.read_bytes()
    with pytest.raises(
        DamagedError, match=r"event\.sandtail: .* list of the steps that made them"
    ):
        open_at(file, read_only=read_only)
    assert file.read_bytes() == before
