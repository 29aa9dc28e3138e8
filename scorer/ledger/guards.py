"""Whether a database still refuses changes: its guards as this program made them.

A guard may be taken away, made to refuse nothing, or kept company by one that swallows
entries in silence.  So what is there is compared, word for word, with what a new ledger
of the same format has.
"""

import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing

from sqlalchemy import Connection, text

from scorer.ledger.schema import STEPS, format_of, server_guards
from scorer.ledger.server import GUARDED

Flaw = tuple[str, str]
"""Table, and what is wrong with its guards."""
_MADE = "SELECT type, name, tbl_name, sql FROM sqlite_master"
_TRIGGERS = """SELECT c.relname, t.tgname, t.tgtype, t.tgenabled, t.tgqual IS NULL, p.prosrc
    FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
    JOIN pg_proc p ON p.oid = t.tgfoid JOIN pg_namespace n ON n.oid = c.relnamespace
    WHERE NOT t.tgisinternal AND n.nspname = current_schema()
    AND c.relname = ANY (:tables)"""
_RULES = """SELECT tablename, rulename FROM pg_rules
    WHERE schemaname = current_schema() AND tablename = ANY (:tables)"""
_HIDING = """SELECT relname FROM pg_class
    WHERE relnamespace = current_schema()::regnamespace AND relrowsecurity
    AND relname = ANY (:tables)"""
_EACH_ONCE = 2
"""The format since which a token is taken once, but for what a merge brings again."""
_UNMERGED = """SELECT count(*) FROM entry WHERE again <> 0
    AND token NOT IN (SELECT token FROM entry WHERE again = 0)"""
_TAKEN_AWAY = "the guard that refuses changes was taken away"
_CHANGED = "the guard that refuses changes was changed: it may refuse nothing now"


def flaws(connection: Connection) -> Iterator[Flaw]:
    """Yield what is wrong with the guards of an event's tables."""
    found = format_of(connection)
    if found >= _EACH_ONCE and connection.execute(text(_UNMERGED)).scalar():
        yield "entry", "somebody marked entries as merged, so tokens may be taken again"
    if connection.dialect.name == "sqlite":
        rows = connection.execute(text(_MADE))
        there = {(r[0], r[1]): (r[2], _words(r[3])) for r in rows}
        yield from _compared(there, _as_made(found))
        return
    tables = {"tables": list(GUARDED)}
    triggers = connection.execute(text(_TRIGGERS), tables).all()
    there = {
        ("trigger", f"{table}.{name}"): (
            table,
            _words(f"{kind} {enabled in {'O', 'A'}} {always} {body}"),
        )
        for table, name, kind, enabled, always, body in triggers
    }
    wanted = {
        ("trigger", f"{table}.{name}"): (table, _words(f"{kind} True True {body}"))
        for table, name, kind, body in server_guards(found)
    }
    yield from _compared(there, wanted)
    for table, name in connection.execute(text(_RULES), tables):
        yield table, f"somebody made a rule for it, {name}, which may swallow entries"
    for (table,) in connection.execute(text(_HIDING), tables):
        yield table, "somebody lets it hide rows from users"


Made = Mapping[tuple[str, str], tuple[str, str]]


def _compared(there: Made, wanted: Made) -> Iterator[Flaw]:
    for key, (table, own) in wanted.items():
        if key not in there:
            yield table, _TAKEN_AWAY
        elif there[key] != (table, own):
            yield table, _CHANGED
    for key, (table, _) in there.items():
        if key[0] == "trigger" and key not in wanted:
            yield table, f"somebody put in a trigger, {key[1]}, that is none of ours"


def _as_made(found: int) -> Made:
    """Return what stands in a new event file of that format."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as empty:
        for step in STEPS[:found]:
            for statement in step.sqlite:
                empty.execute(statement)
        rows = empty.execute(_MADE).fetchall()
    return {(kind, name): (table, _words(sql)) for kind, name, table, sql in rows}


def _words(sql: str | None) -> str:
    return " ".join((sql or "").split())
