"""A token names one draft of one desk: sent again it is harmless, never swallowed."""

import shutil
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import inspect, text
from sqlalchemy.exc import DBAPIError

from scorer.ledger.acts import MarkKeyed, NoteMade, ReportMade
from scorer.ledger.audit import verify
from scorer.ledger.entry import Draft
from scorer.ledger.faults import ReadOnlyError, TokenError
from scorer.ledger.merge import merge_into
from scorer.ledger.opening import open_store
from scorer.ledger.schema import STEPS
from tests.scorer.ledger.ledger_desks import FIELD, HALL, MORNING, create, open_at, tape
from tests.scorer.ledger.postgres_server import psycopg

FORMATS = Path(__file__).parent / "formats"

TOKEN = "7d6cbb1e0fd14e1ba1c1aa01"
MARK = Draft(act=MarkKeyed(flight="1", fields=tape(1, "12.34")), token=TOKEN)


@pytest.fixture(params=["file", "server"])
def target(request, tmp_path):
    if request.param == "file":
        return tmp_path / "e"
    return request.getfixturevalue("server").url()


@pytest.fixture
def hall(target):
    with create(target) as ledger:
        ledger.record_all([MARK])
        yield ledger


OTHERS = {
    "other distance": Draft(
        act=MarkKeyed(flight="1", fields=tape(1, "12.43")), token=TOKEN
    ),
    "other pilot": Draft(
        act=MarkKeyed(flight="1", fields=tape(2, "12.34")), token=TOKEN
    ),
    "other kind": Draft(
        act=ReportMade(flight="1", fields=tape(1, "12.34")), token=TOKEN
    ),
    "other reason": Draft(act=MARK.act, why="typed twice", token=TOKEN),
    "other replaced": Draft(act=MARK.act, replaces=("a" * 64,), token=TOKEN),
    "none": Draft(act=NoteMade(text="x"), token=""),
}


@pytest.mark.parametrize("draft", OTHERS.values(), ids=OTHERS.keys())
def test_a_known_token_with_other_content_is_refused(hall, draft):
    before = hall.store.entries()
    with pytest.raises(TokenError, match="nter it again"):
        hall.record_all([Draft(act=NoteMade(text="with it")), draft])

    assert hall.store.entries() == before


def test_a_known_token_from_another_desk_or_official_is_refused(hall, target):
    with (
        open_at(target, FIELD) as field,
        pytest.raises(TokenError, match="hall-00000a #2"),
    ):
        field.record_all([MARK])
    with pytest.raises(TokenError, match="by ann"):
        hall.record_all([MARK], who="eve")


def test_a_token_twice_in_one_batch_is_refused_too(hall):
    first = Draft(act=NoteMade(text="a"), token="t")
    with pytest.raises(TokenError):
        hall.record_all([first, Draft(act=NoteMade(text="b"), token="t")])

    assert len(hall.store.entries()) == 2


def test_the_same_draft_of_the_same_desk_is_recorded_already(hall):
    (again,) = hall.record_all([MARK])

    assert again.number == 2
    assert len(hall.store.entries()) == 2


def test_the_database_itself_refuses_a_token_twice(hall):
    """Two programs that write past each other's turn."""
    copy = (
        "INSERT INTO entry (hash, desk, number, tick, kind, payload, who, at, why, "
        "replaces, token, prev) SELECT 'f', 'eve-000000', 1, tick, kind, payload, who, "
        "at, why, replaces, token, prev FROM entry WHERE token = :t"
    )
    refused = r"entry_token_once|nothing in a ledger|does not fit its hash"
    with (
        pytest.raises(DBAPIError, match=refused),
        hall.store.engine.connect() as connection,
        connection.execution_options(writing=True).begin(),
    ):
        connection.execute(text(copy), {"t": TOKEN})

    with hall.store.engine.connect() as connection:
        indexes = inspect(connection).get_indexes("entry")
    unique = [index["name"] for index in indexes if index["unique"]]
    assert "entry_token_once" in unique


def test_merging_keeps_what_two_copies_took_under_one_token(tmp_path):
    """One draft reached two copies of the event; another desk's act shares its token."""
    create(tmp_path / "a").close()
    for name in "bc":
        shutil.copy(tmp_path / "a", tmp_path / name)
    with (
        open_at(tmp_path / "a", HALL, "ann") as a,
        open_at(tmp_path / "b", HALL, "ann") as b,
        open_at(tmp_path / "c", FIELD, "bob") as c,
    ):
        a.record_all([MARK])
        b.record(NoteMade(text="x"))
        b.record_all([MARK])
        c.record_all([MARK])
        merge_into(a.store, [b.store, c.store])
        merge_into(c.store, [a.store])
        entries = a.store.entries()

        assert entries == c.store.entries()
        assert len(entries) == 1 + 1 + 2 + 1
        assert len(a.state().all_of(MarkKeyed)) == 1  # all say the same: it counts once
        assert (a.record_all([MARK])[0], c.record_all([MARK])[0]) == tuple(
            next(e for e in entries if e.token == TOKEN and e.desk == desk)
            for desk in (HALL, FIELD)
        )
        assert a.store.entries() == c.store.entries() == entries
        assert verify(a.store).sound


@pytest.fixture
def old_server(server):
    """The first format's tables with the entries of its sample, one token doubled."""
    url = server.url()
    sample = sqlite3.connect(FORMATS / "v1.sqlite")
    rows = sample.execute(f"SELECT {', '.join(OLD)} FROM entry ORDER BY seq").fetchall()
    blobs = sample.execute("SELECT sha256, size, encoding, data FROM blob").fetchall()
    sample.close()
    doubled = ("f" * 64, "tent-00000c", 1, *rows[2][3:])
    with psycopg.connect(url) as connection:
        for statement in STEPS[0].postgresql:
            connection.execute(statement)
        step = (1, STEPS[0].name, "sandtail", "2026-09-12T10:05:00Z")
        connection.execute("INSERT INTO schema_step VALUES (%s, %s, %s, %s)", step)
        marks = ", ".join(["%s"] * len(OLD))
        insert = f"INSERT INTO entry ({', '.join(OLD)}) VALUES ({marks})"
        with connection.cursor() as cursor:
            cursor.executemany(insert, [*rows, doubled])
            cursor.executemany("INSERT INTO blob VALUES (%s, %s, %s, %s)", blobs)
    return url, len(rows) + 1


OLD = [
    "hash",
    "desk",
    "number",
    "tick",
    "kind",
    "payload",
    "who",
    "at",
    "why",
    "replaces",
    "token",
    "prev",
]


def test_a_server_of_the_first_format_is_read_and_brought_to_the_newest(old_server):
    url, count = old_server
    with open_store(url, when=MORNING, read_only=True) as store:
        assert len(store.entries()) == count

    with open_at(url) as ledger:
        ledger.record_all([MARK])
        assert len(ledger.store.entries()) == count + 1
        found = verify(ledger.store).problems
    # The doubled row is this test's forgery; the guards stand as before.
    assert all("table" not in problem.where for problem in found)


def test_a_user_who_may_not_change_tables_is_told_who_may(old_server):
    url, _ = old_server
    with psycopg.connect(url) as connection:
        (name,) = connection.execute("SELECT current_schema()").fetchone()
        connection.execute("CREATE ROLE keyer LOGIN")
        connection.execute(f"GRANT USAGE ON SCHEMA {name} TO keyer")
        connection.execute("GRANT SELECT, INSERT ON entry, blob TO keyer")
        connection.execute("GRANT SELECT ON schema_step TO keyer")

    with pytest.raises(ReadOnlyError, match="owner of the database open it once"):
        open_at(url.replace("owner@", "keyer@"))
