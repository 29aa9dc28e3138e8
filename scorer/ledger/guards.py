"""Whether a database still refuses changes: its guards as this program made them.

A guard may be taken away, made to refuse nothing, or kept company by one that swallows
entries in silence.  So what is there is compared, word for word, with what a new ledger
of the same format has.
"""

import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing

from sqlalchemy import Connection, select, text

from scorer.ledger.schema import (
    STEP,
    STEPS,
    TOKENS_ONCE,
    format_of,
    server_functions,
    server_guards,
    server_once,
)
from scorer.ledger.server import DESK_TABLES, GUARDED, desk_users, too_much, unbound

Flaw = tuple[str, str]
"""Table, and what is wrong with its guards."""
Made = Mapping[tuple[str, str], tuple[str, str]]
"""By kind and name: the table, and what it is."""
_MADE = "SELECT type, name, tbl_name, sql FROM sqlite_master"
_TRIGGERS = """SELECT c.relname, t.tgname, t.tgtype, t.tgenabled,
    t.tgqual IS NULL AND t.tgattr::text = '' AND p.pronamespace = c.relnamespace, p.proname
    FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
    JOIN pg_proc p ON p.oid = t.tgfoid
    WHERE NOT t.tgisinternal AND c.relnamespace = current_schema()::regnamespace
    AND c.relname = ANY (:tables)"""
_FUNCTIONS = """SELECT proname, prosecdef, proconfig IS NOT DISTINCT FROM CASE
    WHEN prosecdef THEN ARRAY[format('search_path=%I, pg_temp', current_schema())] END
    AND pg_has_role(proowner, (SELECT relowner FROM pg_class
    WHERE oid = 'entry'::regclass), 'MEMBER') AS bound, prosrc
    FROM pg_proc WHERE pronamespace = current_schema()::regnamespace AND pronargs = 0"""
_ONCE = """SELECT c.relname, pg_get_indexdef(i.indexrelid) FROM pg_index i
    JOIN pg_class c ON c.oid = i.indrelid
    WHERE i.indisunique AND i.indisvalid AND c.relname = ANY (:tables)
    AND c.relnamespace = current_schema()::regnamespace"""
_ASKED = {
    """SELECT tablename, rulename FROM pg_rules
    WHERE schemaname = current_schema() AND tablename = ANY (:tables)""": (
        "somebody made a rule for it, {}, which may swallow entries"
    ),
    """SELECT relname, '' FROM pg_class
    WHERE relnamespace = current_schema()::regnamespace AND relrowsecurity
    AND relname = ANY (:tables)""": "somebody lets it hide rows from users",
    """SELECT relname, '' FROM pg_class
    WHERE relnamespace = current_schema()::regnamespace AND relpersistence <> 'p'
    AND relname = ANY (:tables)""": (
        "somebody had it kept without a journal: the server empties it after a crash"
    ),
    """SELECT c.relname, pg_get_userbyid(c.relowner) FROM pg_class c, pg_class o
    WHERE c.relnamespace = current_schema()::regnamespace
    AND o.oid = 'schema_step'::regclass AND c.relowner <> o.relowner
    AND NOT pg_has_role(c.relowner, o.relowner, 'MEMBER')
    AND c.relname = ANY (:tables)""": "it was given to {}, who may do anything to it now",
    """SELECT p.relname, c.relname FROM pg_inherits i
    JOIN pg_class p ON p.oid = i.inhparent JOIN pg_class c ON c.oid = i.inhrelid
    WHERE p.relnamespace = current_schema()::regnamespace
    AND p.relname = ANY (:tables)""": (
        "what stands in another table, {}, shows in it, and no guard watches that one"
    ),
    """SELECT 'entry', own FROM (SELECT unnest(setconfig) AS own FROM pg_db_role_setting
    WHERE setdatabase IN (0, (SELECT oid FROM pg_database
    WHERE datname = current_database())) UNION
    SELECT 'session_replication_role=' || current_setting('session_replication_role')) s
    WHERE own LIKE 'session_replication_role=%' AND own NOT LIKE '%=origin'""": (
        "a setting of the server, {}, keeps the guards from being asked"
    ),
    """SELECT 'entry', own FROM (SELECT oid, proname AS own, pronamespace AS room
    FROM pg_proc UNION SELECT oid, oprname, oprnamespace FROM pg_operator) s
    WHERE NOT EXISTS (SELECT FROM pg_depend WHERE objid = s.oid AND deptype = 'e')
    AND room = current_schema()::regnamespace AND (own IN
    (SELECT proname FROM pg_proc WHERE pronamespace = 'pg_catalog'::regnamespace)
    OR own IN (SELECT oprname FROM pg_operator))""": (
        "somebody put in a function or sign, {}, that the guards may take for the server's"
    ),
}
"""What is asked of a server, table and name each, and what is wrong where it has one."""
_UNMERGED = """SELECT count(*) FROM entry WHERE again <> 0
    AND token NOT IN (SELECT token FROM entry WHERE again = 0)"""
_BARE = str.maketrans("", "", "()")
_TAKEN_AWAY = "the guard that refuses changes was taken away"
_CHANGED = "the guard that refuses changes was changed: it may refuse nothing now"


def flaws(connection: Connection) -> Iterator[Flaw]:
    """Yield what is wrong with the guards of an event's tables."""
    found = format_of(connection)
    if _steps_differ(connection, found):
        yield (
            "schema_step",
            "somebody changed the list of the steps that made the tables",
        )
    if found >= TOKENS_ONCE and connection.execute(text(_UNMERGED)).scalar():
        yield "entry", "somebody marked entries as merged, so tokens may be taken again"
    if connection.dialect.name == "sqlite":
        rows = connection.execute(text(_MADE))
        there = {(r[0], r[1]): (r[2], _words(r[3])) for r in rows}
        yield from _compared(there, _as_made(found))
        return
    tables = {"tables": [*GUARDED, *DESK_TABLES]}
    yield from _compared(_on_server(connection, tables), _wanted_on_server(found))
    for query, says in _ASKED.items():
        for table, name in connection.execute(text(query), tables):
            yield table, says.format(name)
    for role, table, rights in too_much(connection):
        yield table, f"{role} may do there what no desk needs: {rights}"
    for role in desk_users(connection):
        for says in unbound(connection, role):
            yield "entry", f"{role}, who writes for a desk, {says}: nothing binds him"


def _steps_differ(connection: Connection, found: int) -> bool:
    """Tell whether the steps done are not those that make a format, in their words.

    When and by which program they were done nothing else tells.
    """
    done = connection.execute(
        select(STEP.c.number, STEP.c.name).order_by(STEP.c.number)
    )
    return [tuple(row) for row in done] != [(s.number, s.name) for s in STEPS[:found]]


def _on_server(connection: Connection, tables: Mapping[str, list[str]]) -> Made:
    """Return triggers, functions and what may be there once, as a server has them."""
    made: dict[tuple[str, str], tuple[str, str]] = {}
    for table, name, kind, enabled, always, calls in connection.execute(
        text(_TRIGGERS), tables
    ):
        asked = always and enabled in {"O", "A"}
        made["trigger", f"{table}.{name}"] = table, f"{kind} {asked} {calls}"
    for name, definer, bound, body in connection.execute(text(_FUNCTIONS)):
        made["function", name] = "entry", _words(f"{definer} {bound} {body}")
    for table, sql in connection.execute(text(_ONCE), tables):
        own = sql.partition(" USING ")[2].translate(_BARE).replace("::text", "")
        made["index", f"{table} {own}"] = table, ""
    return made


def _wanted_on_server(found: int) -> Made:
    triggers = {
        ("trigger", f"{table}.{name}"): (table, f"{kind} True {calls}")
        for table, name, kind, calls in server_guards(found)
    }
    functions = {
        ("function", name): ("entry", _words(f"{definer} True {body}"))
        for name, definer, body in server_functions(found)
    }
    once = {
        ("index", f"{table} btree {own}"): (table, "")
        for table, own in server_once(found)
    }
    return triggers | functions | once


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
