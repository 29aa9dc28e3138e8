import json
import os
import random
import shutil
import sqlite3
from dataclasses import replace

import pytest

from scorer.errors import ScorerError
from scorer.ledger.acts import MarkKeyed, NoteMade, Stage
from scorer.ledger.audit import Severity, verify
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import hash_of
from scorer.ledger.opening import open_store
from scorer.ledger.publish import publish
from scorer.version import PROGRAM, VERSION, computed_by
from tests.scorer.ledger.ledger_desks import (
    HALL,
    MORNING,
    Watch,
    computed,
    create,
    open_at,
    small_event,
    tape,
)

LONG = 5000 if os.environ.get("SANDTAIL_LONG_TESTS") else 0


def as_results(raw):
    """Stand in for scoring: bytes that depend on every mark."""
    marks = [dict(row.fields) for flight in raw.flights for row in flight.marks]
    return repr(marks).encode()


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    path = tmp_path_factory.mktemp("audit") / "e"
    with create(path) as ledger:
        ledger.record_all(to_drafts(small_event()))
        for number in range(8):
            ledger.record(MarkKeyed(flight="1", fields=tape(2, "12", by=f"o{number}")))
        for _ in range(2):
            done = computed(ledger, _as_json(as_results(ledger.raw())))
            publish(ledger, done, Stage.PROVISIONAL)
            ledger.record(MarkKeyed(flight="1", fields=tape(2, "13", by="last")))
    return path


def _as_json(data):
    return b'{"said": "' + data.hex().encode() + b'"}'


def rescore(raw):
    return _as_json(as_results(raw))


@pytest.fixture
def path(kept, tmp_path):
    return shutil.copy(kept, tmp_path / "e")


def audit(path, rescore=rescore):
    try:
        store = open_store(path, when=MORNING, read_only=True)
    except ScorerError as error:
        return error
    with store:
        return verify(store, rescore=rescore)


def by_hand(path, *statements):
    """Work on the file as somebody would who knows how to take the guards away."""
    connection = sqlite3.connect(path)
    guards = connection.execute(
        "SELECT name, sql FROM sqlite_master WHERE type='trigger'"
    )
    guards = guards.fetchall()
    for name, _ in guards:
        connection.execute(f"DROP TRIGGER {name}")
    for statement in statements:
        connection.execute(*statement) if isinstance(
            statement, tuple
        ) else connection.execute(statement)
    for _, sql in guards:
        connection.execute(sql)
    connection.commit()
    connection.close()


def test_an_untouched_event_is_sound_and_comes_out_again(path):
    found = audit(path)

    assert found.sound, str(found)
    assert (found.entries, found.desks, found.publications) == (24, 1, 2)
    assert found.reproduced == 2
    assert "Nothing was altered in what is here." in str(found)
    assert "it cannot show whether entries were cut off its end" in str(found)


def test_a_verdict_without_scoring_reproduces_nothing(path):
    assert audit(path, rescore=None).reproduced == 0


COLUMNS = {
    "who": "'eve'",
    "why": "'x'",
    "at": "'2026-09-12T05:00:00.000000Z'",
    "payload": "replace(payload, '12', '11')",
    "kind": "'note'",
    "tick": "tick + 1",
    "number": "number + 100",
    "desk": "'eve-000000'",
    "replaces": "prev",
    "token": "token || 'x'",
    "prev": "hash",
}


@pytest.mark.parametrize("column", COLUMNS)
def test_the_first_altered_entry_is_named(path, column):
    by_hand(path, f"UPDATE entry SET {column} = {COLUMNS[column]} WHERE number >= 14")

    found = audit(path)
    assert not found.sound
    first = found.problems[0]
    assert first.severity is Severity.ALTERED
    name = {"number": "hall-00000a #114", "desk": "eve-000000 #14"}
    assert first.where == f"entry {name.get(column, 'hall-00000a #14')}"
    assert "does not fit its hash" in first.text
    assert "Keep this file for the jury" in first.remedy


def test_an_entry_altered_with_a_new_hash_is_named_by_the_one_after_it(path):
    with open_store(path, when=MORNING, read_only=True) as store:
        (entry,) = (entry for entry in store.entries() if entry.number == 14)
    entry = replace(entry, who="eve")
    by_hand(
        path,
        (
            "UPDATE entry SET who = 'eve', hash = ? WHERE number = 14",
            (hash_of(entry),),
        ),
    )

    found = audit(path, rescore=None)
    assert found.problems[0].where == "entry hall-00000a #14"
    assert "entry hall-00000a #15 was written after another content" in str(found)


def test_an_entry_that_was_taken_out_is_named(path):
    by_hand(path, "DELETE FROM entry WHERE number = 14")

    found = audit(path)
    assert (Severity.LOST, "entry hall-00000a #14") in {
        (p.severity, p.where) for p in found.problems
    }


def test_entries_cut_off_the_end_are_missed(path):
    by_hand(path, "DELETE FROM entry WHERE number >= 23")

    found = audit(path)
    assert not found.sound
    assert "24 entries were written to it, 22 are there" in str(found)


def test_a_cut_that_hides_its_count_is_missed_by_a_later_publication(path):
    """Deleting what a publication was computed from, and mending SQLite's count."""
    by_hand(
        path,
        "DELETE FROM entry WHERE number BETWEEN 20 AND 22",
        "DELETE FROM entry WHERE number = 24",
        "UPDATE sqlite_sequence SET seq = 20 WHERE name = 'entry'",
    )

    assert "which it was computed from" in str(audit(path))


def test_an_altered_file_and_a_missing_one_are_named(path):
    by_hand(path, "UPDATE blob SET data = x'00' || data WHERE size > 1000")
    found = audit(path)
    assert "stored file" in found.problems[0].where

    by_hand(path, "DELETE FROM blob")
    assert "the file" in str(audit(path))
    assert any(p.severity is Severity.LOST for p in audit(path).problems)


def test_taking_the_guards_away_is_noticed(path):
    connection = sqlite3.connect(path)
    connection.execute("DROP TRIGGER entry_no_update")
    connection.commit()
    connection.close()

    found = audit(path)
    assert found.problems[0].where == "table entry"
    assert "the guard that refuses changes was taken away" in found.problems[0].text


def test_a_publication_that_does_not_come_out_again_is_named(path):
    found = audit(path, rescore=lambda _: b'{"tasks": []}')

    assert [p.severity for p in found.problems] == [Severity.NOT_REPRODUCED] * 2
    assert "provisional results version 1" in found.problems[0].where
    assert f"computed by version {VERSION}, as now" in found.problems[0].remedy
    assert not found.sound


OTHER = {
    "sandtail 0.1.0": "0.1.0",
    "sandtail 9.12.0rc1": "9.12.0rc1",
    "sandtail, not installed": "0.1.0",
    "": "0.1.0",
}


def test_what_other_libraries_computed_may_differ_with_a_notice(tmp_path):
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
        publish(
            ledger,
            computed(
                ledger, b'{"tasks": [], "a": 1}', program=f"{PROGRAM} with numpy 1.0"
            ),
            Stage.PROVISIONAL,
        )
    found = audit(tmp_path / "e", rescore=lambda _: b'{"tasks": [], "a": 2}')
    assert found.sound, str(found)
    assert [p.severity for p in found.problems] == [Severity.NOTICE]
    assert f"made by {PROGRAM} with numpy 1.0; differs in a" in found.problems[0].text
    assert computed_by() in found.problems[0].remedy


@pytest.mark.parametrize("program", OTHER)
def test_what_another_version_published_may_differ_with_a_notice(tmp_path, program):
    score = {"pilot": 1, "rank": 1, "score": 900, "measured": 1, "settled": True}
    tree = {"tasks": [{"task": 1, "scores": [score]}], "findings": [], "warnings": []}
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
        done = computed(ledger, json.dumps(tree).encode(), program=program)
        publish(ledger, done, Stage.PROVISIONAL)
    tree["tasks"][0]["scores"] = [{**score, "score": 1000}]

    found = audit(tmp_path / "e", rescore=lambda _: json.dumps(tree).encode())
    (notice,) = found.problems
    assert found.sound, str(found)
    assert notice.severity is Severity.NOTICE
    assert (
        f"made by version {OTHER[program]}; scores and totals that differ: 1"
        in notice.text
    )
    assert "score 900 → 1000" in notice.text
    assert found.reproduced == 0

    tree["tasks"][0]["scores"], tree["warnings"] = [score], ["new"]
    found = audit(tmp_path / "e", rescore=lambda _: json.dumps(tree).encode())
    assert "differs in warnings, with the same scores" in str(found.problems[0])


def test_an_altered_entry_is_no_matter_of_versions(tmp_path):
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
        done = computed(ledger, b"{}", program="sandtail 0.1.0")
        publish(ledger, done, Stage.PROVISIONAL)
    by_hand(tmp_path / "e", "UPDATE blob SET data = x'00' WHERE size > 2000")

    found = audit(tmp_path / "e", rescore=lambda _: b'{"a": 1}')
    assert not found.sound
    assert Severity.NOTICE not in {p.severity for p in found.problems}
    assert found.problems[0].severity is Severity.ALTERED


def test_a_publication_that_cannot_be_computed_again_says_why(path):
    def fails(raw):
        raise ScorerError("no such place")

    found = audit(path, rescore=fails)
    assert "they cannot be computed again: no such place" in found.problems[0].text


def test_work_in_two_copies_is_a_notice_not_a_fault(path, tmp_path):
    shutil.copy(path, tmp_path / "copy")
    with open_at(path, HALL) as one, open_at(tmp_path / "copy", HALL) as other:
        one.record(NoteMade(text="one"))
        other.record(NoteMade(text="other"))
        one.store.take(other.store.entries(), ())

    found = audit(path)
    assert found.sound
    assert "in two copies" in found.problems[0].text


def test_flipped_bytes_are_found_or_hurt_nothing(kept, tmp_path):
    """A byte anywhere in the file: noticed, or everything reads as before."""
    data = bytearray(kept.read_bytes())
    with open_store(kept, when=MORNING, read_only=True) as store:
        entries = store.entries()
        files = {sha: store.file(sha) for sha in store.file_hashes()}
    dice = random.Random(5)
    noticed = 0
    for _ in range(LONG or 60):
        at, bit = dice.randrange(len(data)), 1 << dice.randrange(8)
        data[at] ^= bit
        damaged = tmp_path / "damaged"
        damaged.write_bytes(data)
        data[at] ^= bit

        found = audit(damaged)
        if isinstance(found, ScorerError) or not found.sound:
            noticed += 1
            continue
        with open_store(damaged, when=MORNING, read_only=True) as store:
            assert store.entries() == entries, f"byte {at}"
            assert {sha: store.file(sha) for sha in store.file_hashes()} == files
    assert noticed > 8


def test_every_flip_within_an_entry_is_found(kept, tmp_path):
    data = kept.read_bytes()
    at = data.index(b'"distance":"12.34"')
    damaged = tmp_path / "damaged"
    damaged.write_bytes(data[: at + 13] + b"3" + data[at + 14 :])

    found = audit(damaged)
    assert found.problems[0].where == "entry hall-00000a #7"


def test_an_empty_ledger_of_one_root_is_sound(tmp_path):
    create(tmp_path / "e", clock=Watch()).close()

    assert audit(tmp_path / "e").sound
