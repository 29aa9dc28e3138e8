"""Tables of the ledger, and the named steps that made them what they are.

A step is never edited once a file was written with it; a change is a new step, and
`tests/scorer/ledger/formats` keeps a file of every format.  Each step runs in one
transaction together with the row that says it was done.
"""

from dataclasses import dataclass

from sqlalchemy import (
    BigInteger,
    Column,
    Connection,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    func,
    inspect,
    select,
)
from sqlalchemy.exc import DBAPIError

from scorer.ledger import server
from scorer.ledger.faults import NewerFormatError, NotALedgerError, StepsGoneError
from scorer.ledger.server import GUARDED

METADATA = MetaData()
ENTRY = Table(
    "entry",
    METADATA,
    Column("seq", BigInteger, primary_key=True),
    Column("hash", String),
    Column("desk", String),
    Column("number", Integer),
    Column("tick", BigInteger),
    Column("kind", String),
    Column("payload", String),
    Column("who", String),
    Column("at", String),
    Column("why", String),
    Column("replaces", String),
    Column("token", String),
    Column("prev", String),
    Column("again", Integer),
)
"""`seq` and `again` belong to this one store; all else is the entry.

`seq` counts arrivals.  `again` is 1 where a merge brought one more entry with a token that
is here already, else 0.
"""
READ = tuple(column for column in ENTRY.columns if column.name != "again")
"""What is read of an entry, in files of every format."""
BLOB = Table(
    "blob",
    METADATA,
    Column("sha256", String, primary_key=True),
    Column("size", BigInteger),
    Column("encoding", String),
    Column("data", LargeBinary),
)
STEP = Table(
    "schema_step",
    METADATA,
    Column("number", Integer, primary_key=True),
    Column("name", String),
    Column("program", String),
    Column("at", String),
)
STEPS_GONE = (
    "the tables of an event stand there, but the list of the steps that made them "
    "(schema_step) is gone or was changed by hand. Keep what is there, copy it aside, "
    "and merge the copy of another desk, or the last archive, into a new event. "
    "Nothing was written."
)
MADE_ALREADY = {"42P07", "42701", "42710", "42723"}
"""What PostgreSQL says where a table, column, trigger or function is there."""
APPLICATION_ID = 0x53_4E_44_54
"""`SNDT` in the header of an event file (SQLite's application_id)."""

TOKENS_ONCE = 2
"""The format since which a token is taken once, but for what a merge brings again."""
SEALING = 3
"""The format since which a server seals entries itself."""

_COLUMNS = """
    hash TEXT NOT NULL UNIQUE, desk TEXT NOT NULL, number INTEGER NOT NULL,
    tick BIGINT NOT NULL, kind TEXT NOT NULL, payload TEXT NOT NULL,
    who TEXT NOT NULL, at TEXT NOT NULL, why TEXT NOT NULL, replaces TEXT NOT NULL,
    token TEXT NOT NULL, prev TEXT NOT NULL"""
_BLOB_COLUMNS = "sha256 TEXT PRIMARY KEY, size BIGINT NOT NULL, encoding TEXT NOT NULL"
_INDEXES = (
    "CREATE INDEX entry_chain ON entry (desk, number)",
    "CREATE INDEX entry_tick ON entry (tick)",
    "CREATE INDEX entry_token ON entry (token)",
)
_STEP_TABLE = """CREATE TABLE schema_step (
    number INTEGER PRIMARY KEY, name TEXT NOT NULL, program TEXT NOT NULL,
    at TEXT NOT NULL)"""
_REFUSAL = "nothing in a ledger is changed or deleted: write an entry that replaces it"


def _guard(table: str, name: str, when: str) -> str:
    refuse = f"SELECT RAISE(ABORT, '{_REFUSAL}')"
    return f"CREATE TRIGGER {table}_{name} BEFORE {when} BEGIN {refuse}; END"


def _sqlite_guards() -> tuple[str, ...]:
    keys = {"entry": "hash", "blob": "sha256", "schema_step": "number"}
    return tuple(
        _guard(table, name, when)
        for table, key in keys.items()
        for name, when in (
            ("no_update", f"UPDATE ON {table}"),
            ("no_delete", f"DELETE ON {table}"),
            # INSERT OR REPLACE deletes without asking the trigger above.
            ("no_replace", f"INSERT ON {table} WHEN {_there(table, key)}"),
        )
    )


def _there(table: str, key: str) -> str:
    return f"EXISTS (SELECT 1 FROM {table} WHERE {key} = NEW.{key})"  # noqa: S608


_ENTRY_THERE = " OR ".join(
    (
        _there("entry", "hash"),
        # A row that is replaced goes by any of its unique columns.
        _there("entry", "seq"),
        (
            "(NEW.again = 0 AND NEW.token <> '' AND EXISTS "
            "(SELECT 1 FROM entry WHERE token = NEW.token AND again = 0))"
        ),
    )
)
_REPEATED = """UPDATE entry SET again = 1 WHERE token <> '' AND EXISTS (SELECT 1
    FROM entry AS before WHERE before.token = entry.token AND before.seq < entry.seq)"""
_UNIQUE_INDEX = """CREATE UNIQUE INDEX entry_token_once ON entry (token)
    WHERE again = 0 AND token <> ''"""


_REFUSES = f" BEGIN RAISE EXCEPTION '{_REFUSAL}'; END "
_STAYS = 58
"""PostgreSQL's number for: before any UPDATE, DELETE or TRUNCATE statement."""


def server_guards(found: int) -> tuple[tuple[str, str, int, str], ...]:
    """Return table, name, type (pg_trigger.tgtype) and function of a format's guards."""
    refuses = "ledger_refuses"
    stay = tuple((t, f"{t}_stays", _STAYS, refuses) for t in GUARDED) if found else ()
    sealed = ("entry", "entry_sealed", server.SEALED, "ledger_seals")
    return (*stay, sealed) if found >= SEALING else stay


def server_functions(found: int) -> tuple[tuple[str, bool, str], ...]:
    """Return name, whether it has its owner's rights, and body of what guards call."""
    refuses = (("ledger_refuses", False, _REFUSES),) if found else ()
    if found < SEALING:
        return refuses
    return (
        *refuses,
        ("ledger_seals", True, server.SEALS),
        ("ledger_frees_turn", True, server.FREES),
    )


def server_once(found: int) -> tuple[tuple[str, str], ...]:
    """Return table and column, with the condition, of what may be there but once."""
    token = ("entry", "token WHERE again = 0 AND token <> ''")
    return (
        *((("entry", "seq"), ("entry", "hash")) if found else ()),
        *((("blob", "sha256"), ("schema_step", "number")) if found else ()),
        *((token,) if found >= TOKENS_ONCE else ()),
    )


def _postgres_guards() -> tuple[str, ...]:
    return (
        f"""CREATE FUNCTION ledger_refuses() RETURNS trigger LANGUAGE plpgsql AS
        $${_REFUSES}$$""",
        *(
            f"CREATE TRIGGER {table}_stays BEFORE UPDATE OR DELETE OR TRUNCATE "
            f"ON {table} FOR EACH STATEMENT EXECUTE FUNCTION ledger_refuses()"
            for table in GUARDED
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SchemaStep:
    """One change of the tables, in both dialects."""

    number: int
    name: str
    sqlite: tuple[str, ...]
    postgresql: tuple[str, ...]


STEPS: tuple[SchemaStep, ...] = (
    SchemaStep(
        number=1,
        name="entries, files and guards",
        sqlite=(
            _STEP_TABLE,
            f"CREATE TABLE entry (seq INTEGER PRIMARY KEY AUTOINCREMENT, {_COLUMNS})",
            *_INDEXES,
            f"CREATE TABLE blob ({_BLOB_COLUMNS}, data BLOB NOT NULL)",
            *_sqlite_guards(),
            f"PRAGMA application_id = {APPLICATION_ID}",
        ),
        postgresql=(
            _STEP_TABLE,
            f"""CREATE TABLE entry (
            seq BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY, {_COLUMNS})""",
            *_INDEXES,
            f"CREATE TABLE blob ({_BLOB_COLUMNS}, data BYTEA NOT NULL)",
            # Logs come compressed: PostgreSQL need not try again.
            "ALTER TABLE blob ALTER COLUMN data SET STORAGE EXTERNAL",
            *_postgres_guards(),
        ),
    ),
    SchemaStep(
        number=2,
        name="each token once",
        sqlite=(
            "ALTER TABLE entry ADD COLUMN again INTEGER NOT NULL DEFAULT 0",
            "DROP TRIGGER entry_no_update",
            _REPEATED,
            _guard("entry", "no_update", "UPDATE ON entry"),
            "DROP TRIGGER entry_no_replace",
            _guard("entry", "no_replace", f"INSERT ON entry WHEN {_ENTRY_THERE}"),
            _UNIQUE_INDEX,
        ),
        postgresql=(
            "ALTER TABLE entry ADD COLUMN again INTEGER NOT NULL DEFAULT 0",
            "ALTER TABLE entry DISABLE TRIGGER entry_stays",
            _REPEATED,
            "ALTER TABLE entry ENABLE TRIGGER entry_stays",
            _UNIQUE_INDEX,
        ),
    ),
    SchemaStep(
        number=3,
        name="the database seals entries",
        sqlite=(
            # A number of arrival that somebody names would hide what comes after it.
            _guard(
                "entry",
                "no_jump",
                "INSERT ON entry WHEN NEW.seq > 0 AND NEW.seq <> "
                "(SELECT coalesce(max(seq), 0) + 1 FROM entry)",
            ),
        ),
        postgresql=server.STATEMENTS,
    ),
)


def format_of(connection: Connection) -> int:
    """Return the number of the last step done; 0 = no ledger here yet.

    Raises
    ------
    StepsGoneError
        There are entries, but no list of the steps that made their tables.
    """
    there = inspect(connection)
    found = 0
    if there.has_table("schema_step"):
        found = connection.execute(select(func.max(STEP.c.number))).scalar() or 0
    if found < 1 and there.has_table("entry"):
        raise StepsGoneError(STEPS_GONE)
    return int(found)


def check_format(found: int, where: str) -> None:
    """Raise unless this version can read a ledger of that format."""
    if found == 0:
        raise NotALedgerError(
            f"{where} holds no ledger. Create one with `sandtail new` or "
            "`sandtail import`, or open another file."
        )
    if found > STEPS[-1].number:
        raise NewerFormatError(
            f"{where} was written in format {found} by a newer version; this one "
            f"knows formats up to {STEPS[-1].number}. Update the program on this "
            "computer, or export the event as a folder with the newer version. "
            "Nothing was changed."
        )


def _do(connection: Connection, statement: str) -> None:
    """Run a statement of a step; say so where what it makes is there already."""
    # psycopg takes a single % for the place of a parameter.
    many = connection.dialect.name == "postgresql"
    try:
        connection.exec_driver_sql(statement.replace("%", "%%") if many else statement)
    except DBAPIError as error:
        code = getattr(error.orig, "sqlstate", None)
        if code in MADE_ALREADY if code else "already exists" in str(error.orig):
            raise StepsGoneError(STEPS_GONE) from error
        raise


def upgrade(connection: Connection, *, program: str, at: str) -> tuple[SchemaStep, ...]:
    """Do all steps that are still missing; the caller's transaction holds them."""
    done = format_of(connection)
    missing = tuple(step for step in STEPS if step.number > done)
    for step in missing:
        statements = getattr(step, connection.dialect.name)
        for statement in statements:
            _do(connection, statement)
        connection.execute(
            STEP.insert().values(
                number=step.number, name=step.name, program=program, at=at
            )
        )
    return missing
