"""Desk users of a server, who may speak SQL and mean no good.

Whatever they send, the server itself decides: whose desk an entry is of, in whose name,
when it arrived and what it follows.
"""

import contextlib
import threading
import time
from dataclasses import replace

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.exc import DBAPIError

from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Draft, hash_of, seal
from scorer.ledger.faults import LedgerError
from scorer.ledger.opening import empty_store
from scorer.ledger.store import _row_of
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    MORNING,
    TENT,
    create,
    open_at,
    small_event,
)


@pytest.fixture
def ledger(server):
    with create(server.url()) as made:
        made.record_all(to_drafts(small_event()))
        yield made


@pytest.fixture
def url(ledger):
    return ledger.store.engine.url.render_as_string().replace("+psycopg", "")


@pytest.fixture
def as_desk(ledger, url):
    ledger.store.add_desk_role(
        "crew", "secret", desks=(FIELD,), officials=("bob", "Zoë")
    )
    return url.replace("owner@", "crew@")


def engine_of(url):
    return create_engine(url.replace("postgresql:", "postgresql+psycopg:"))


def send(url, entry, **more):
    """Insert a row by hand, its hash fitting unless it is given."""
    if "hash" not in more:
        entry = replace(entry, hash=hash_of(entry))
    row = {**_row_of(entry, again=False), **more}
    names = ", ".join(row)
    values = ", ".join(f":{name}" for name in row)
    engine = engine_of(url)
    try:
        with engine.begin() as connection:
            connection.execute(
                text(
                    f"INSERT INTO entry ({names}) OVERRIDING SYSTEM VALUE VALUES ({values})"
                ),
                row,
            )
    finally:
        engine.dispose()


def next_entry(ledger, desk=FIELD, who="bob"):
    """Return an entry as a desk would write it next."""
    with ledger.store.turn() as connection:
        link = ledger.store._next_link(connection, desk)
    return seal(Draft(act=NoteMade(text="x")), link, who=who, when=MORNING)


def test_a_desk_s_own_entries_come_in_with_signs_of_all_kinds(as_desk, ledger):
    with open_at(as_desk) as desk:
        desk.record(NoteMade(text='a "quote" \\ tab\t line\n bell\x07 del\x7f é 漢 🎈'))
        entry = desk.record(NoteMade(text="again"), why='why\n"so" \x1f', who="Zoë")
        other = desk.record(NoteMade(text="beside it"))
        desk.record(NoteMade(text="third"), replaces=[entry.id, other.id])

    assert verify(ledger.store).sound
    assert not verify(ledger.store).problems


ATTACKS = {
    "another official": ("no official of desk", lambda e: replace(e, who="eve")),
    "another desk": ("may not write as desk", lambda e: replace(e, desk=HALL)),
    "a new desk": ("may not write as desk", lambda e: replace(e, desk=TENT)),
    "no token": ("token of entry", lambda e: replace(e, token="")),
    "a gap in the chain": ("does not follow", lambda e: replace(e, number=7)),
    "a tick far ahead": ("does not follow", lambda e: replace(e, tick=2**62)),
    "a tick of the past": ("does not follow", lambda e: replace(e, tick=1)),
    "a second root": ("does not follow", lambda e: replace(e, prev="0" * 64)),
    "after nothing": ("does not follow", lambda e: replace(e, prev="a" * 64)),
}


@pytest.mark.parametrize("way", ATTACKS)
def test_what_no_desk_writes_is_refused(as_desk, ledger, way):
    says, change = ATTACKS[way]
    with pytest.raises(DBAPIError, match=says):
        send(as_desk, change(next_entry(ledger)))

    assert verify(ledger.store).sound


def test_content_that_does_not_fit_its_hash_is_refused_even_from_the_owner(
    as_desk, url, ledger
):
    entry = next_entry(ledger)
    for address in (as_desk, url):
        with pytest.raises(DBAPIError, match="does not fit its hash"):
            send(address, replace(entry, who="eve"), hash=entry.hash)


def test_a_known_token_is_never_taken_again_however_it_is_said(as_desk, url, ledger):
    known = ledger.store.entries()[3]
    entry = replace(next_entry(ledger), token=known.token)
    for again in (0, 1):
        with pytest.raises(DBAPIError, match="is known already"):
            send(as_desk, entry, again=again)
    with pytest.raises(DBAPIError, match="entry_token_once"):
        send(url, entry)


def test_the_server_counts_arrivals_itself(as_desk, ledger):
    """A reader that is open would else miss every entry after one of number 2^62."""
    cursor = ledger.store.last()
    send(as_desk, next_entry(ledger), seq=2**62)
    with open_at(as_desk) as desk:
        desk.record(NoteMade(text="later"))

    fresh, last = ledger.store.new_since(cursor)
    assert len(fresh) == 2
    assert last == cursor + 2


def test_a_table_of_ones_own_does_not_deceive_the_server(as_desk, ledger):
    engine = engine_of(as_desk)
    entry = replace(next_entry(ledger), who="eve")
    row = _row_of(replace(entry, hash=hash_of(entry)), again=False)
    with engine.connect() as connection:
        for table in ("entry", "desk_user", "desk_official"):
            connection.execute(text(f"CREATE TEMP TABLE {table} (role text, who text)"))
        names = ", ".join(row)
        values = ", ".join(f":{name}" for name in row)
        schema = connection.execute(
            text(
                "SELECT nspname FROM pg_namespace WHERE nspname LIKE 'event%' AND "
                "has_schema_privilege(nspname, 'USAGE') ORDER BY oid DESC LIMIT 1"
            )
        ).scalar_one()
        with pytest.raises(DBAPIError, match="no official"):
            connection.execute(
                text(f"INSERT INTO {schema}.entry ({names}) VALUES ({values})"), row
            )
    engine.dispose()


def test_the_first_desk_a_user_writes_as_is_his_and_nobody_else_s(ledger, url):
    for name in ("one", "two"):
        ledger.store.add_desk_role(name, "x")
    one, two = (url.replace("owner@", f"{name}@") for name in ("one", "two"))
    with open_at(one, FIELD) as desk:
        desk.record(NoteMade(text="mine"))
    for address, desk in ((one, TENT), (two, FIELD), (two, HALL)):
        with (
            open_at(address, desk) as other,
            pytest.raises(LedgerError, match="may not write as desk") as caught,
        ):
            other.record(NoteMade(text="not mine"))
        assert "Nothing was written" in str(caught.value)
        assert "CONTEXT" not in str(caught.value)
    with open_at(two, TENT) as desk:
        desk.record(NoteMade(text="mine"))


def test_the_owner_brings_in_what_other_desks_wrote(ledger, url, tmp_path):
    with empty_store(tmp_path / "copy", when=MORNING) as copy:
        copy.take(ledger.store.entries(), ())
    with open_at(tmp_path / "copy", TENT) as tent:
        for number in range(3):
            tent.record(NoteMade(text=str(number)))
            ledger.record(NoteMade(text=f"meanwhile {number}"))
        assert ledger.store.take(tent.store.entries(), ()) == 3
    assert verify(ledger.store).sound


HOLDS = (
    "SELECT pg_advisory_lock(hashtext('ledger'), hashtext(current_schema()))",
    (
        "SELECT pg_advisory_xact_lock(hashtext('ledger'), hashtext(current_schema())), "
        "pg_sleep(600)"
    ),
)


@pytest.mark.parametrize("statement", HOLDS)
def test_a_turn_that_is_held_idly_stops_nobody_for_long(as_desk, ledger, statement):
    engine = engine_of(as_desk)
    holder = engine.connect()
    holding = threading.Thread(target=_held, args=(holder, statement), daemon=True)
    holding.start()
    time.sleep(1)
    began = time.monotonic()
    ledger.record(NoteMade(text="all the same"))

    assert time.monotonic() - began < 60
    assert verify(ledger.store).sound
    holding.join(20)
    engine.dispose()


def _held(connection, statement):
    with contextlib.suppress(DBAPIError):
        connection.execute(text(statement))


def test_a_user_whom_nothing_binds_is_refused_and_loses_nothing(ledger, url):
    with ledger.store.engine.begin() as connection:
        connection.exec_driver_sql("CREATE ROLE boss LOGIN CREATEROLE")
        connection.exec_driver_sql("CREATE ROLE friend LOGIN IN ROLE owner")
    for name, says in (
        ("owner", "is a superuser"),
        ("boss", "may make users"),
        ("friend", "owns the event, or may become"),
    ):
        with pytest.raises(LedgerError, match=says):
            ledger.store.add_desk_role(name, "x")
    with ledger.store.engine.begin() as connection:
        connection.exec_driver_sql("GRANT UPDATE ON entry TO PUBLIC")
    with pytest.raises(LedgerError, match="has UPDATE on entry by other ways"):
        ledger.store.add_desk_role("late", "x")
    ledger.record(NoteMade(text="the owner still may"))


def test_an_owner_who_is_no_superuser_makes_desk_users_too(server):
    url = server.url()
    engine = engine_of(url)
    with engine.begin() as connection:
        connection.exec_driver_sql("CREATE ROLE chief LOGIN CREATEROLE")
        connection.exec_driver_sql(
            "DO $$ BEGIN EXECUTE format('ALTER SCHEMA %%I OWNER TO chief', "
            "current_schema()); END $$"
        )
    engine.dispose()
    mine = url.replace("owner@", "chief@")
    with create(mine) as ledger:
        ledger.store.add_desk_role("hand", "x", desks=(FIELD,))
        with open_at(mine.replace("chief@", "hand@")) as desk:
            desk.record(NoteMade(text="x"))
            holder = desk.store.engine.connect()
            holder.exec_driver_sql(HOLDS[0])
            ledger.record(NoteMade(text="all the same"))
            holder.invalidate()
            holder.close()
        assert verify(ledger.store).sound
