"""What the owner of a database, or a superuser, may do to its guards: verify tells it."""

import pytest
from sqlalchemy import text

from scorer.ledger.faults import LedgerError
from scorer.ledger.guards import flaws
from tests.scorer.ledger.ledger_desks import FIELD, create

QUIET = (
    "CREATE FUNCTION quiet() RETURNS trigger LANGUAGE plpgsql AS "
    "'BEGIN RETURN NULL; END'"
)
AGAIN = "CREATE TRIGGER entry_stays BEFORE {} ON entry FOR EACH STATEMENT {} EXECUTE "
STAYS = "UPDATE OR DELETE OR TRUNCATE"
OTHER_ROOM = ("CREATE SCHEMA other", QUIET.replace("quiet", "other.ledger_refuses"))
WEAKER = {
    "trigger off": ["ALTER TABLE entry DISABLE TRIGGER entry_sealed"],
    "trigger for replicas": ["ALTER TABLE blob ENABLE REPLICA TRIGGER blob_stays"],
    "trigger gone": ["DROP TRIGGER entry_sealed ON entry"],
    "trigger of a column": [
        "DROP TRIGGER entry_stays ON entry",
        AGAIN.format("UPDATE OF token OR DELETE OR TRUNCATE", "")
        + "FUNCTION ledger_refuses()",
    ],
    "trigger never asked": [
        "DROP TRIGGER entry_stays ON entry",
        AGAIN.format(STAYS, "WHEN (false)") + "FUNCTION ledger_refuses()",
    ],
    "trigger calls another": [
        *OTHER_ROOM,
        "DROP TRIGGER entry_stays ON entry",
        AGAIN.format(STAYS, "") + "FUNCTION other.ledger_refuses()",
    ],
    "one more trigger": [
        QUIET,
        (
            "CREATE TRIGGER a BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION "
            "quiet()"
        ),
    ],
    "trigger on whose desk it is": [
        QUIET,
        (
            "CREATE TRIGGER a BEFORE INSERT ON desk_user FOR EACH ROW EXECUTE FUNCTION "
            "quiet()"
        ),
    ],
    "refuses nothing": [
        QUIET.replace("CREATE", "CREATE OR REPLACE").replace("quiet", "ledger_refuses")
    ],
    "frees nobody": [
        (
            "CREATE OR REPLACE FUNCTION ledger_frees_turn() RETURNS integer LANGUAGE "
            "plpgsql SECURITY DEFINER AS 'BEGIN RETURN 0; END'"
        )
    ],
    "seal without rights": ["ALTER FUNCTION ledger_seals() SECURITY INVOKER"],
    "seal looks elsewhere": ["ALTER FUNCTION ledger_seals() SET search_path = pg_temp"],
    "seal looks anywhere": ["ALTER FUNCTION ledger_seals() RESET search_path"],
    "seal given away": ["ALTER FUNCTION ledger_seals() OWNER TO crew"],
    "table given away": ["ALTER TABLE blob OWNER TO stranger"],
    "tokens may repeat": ["DROP INDEX entry_token_once"],
    "few tokens once": [
        "DROP INDEX entry_token_once",
        (
            "CREATE UNIQUE INDEX entry_token_once ON entry (token) WHERE again = 0 AND "
            "token = 'x'"
        ),
    ],
    "hashes may repeat": ["ALTER TABLE entry DROP CONSTRAINT entry_hash_key"],
    "numbers may repeat": ["ALTER TABLE entry DROP CONSTRAINT entry_pkey"],
    "files may repeat": ["ALTER TABLE blob DROP CONSTRAINT blob_pkey"],
    "may change": ["GRANT UPDATE ON entry TO crew"],
    "may change a column": ["GRANT UPDATE (who) ON entry TO crew"],
    "all may delete": ["GRANT DELETE ON blob TO PUBLIC"],
    "may put triggers in": ["GRANT TRIGGER ON entry TO stranger"],
    "may by a group": [
        "CREATE ROLE hands",
        "GRANT TRUNCATE ON entry TO hands",
        "GRANT hands TO crew",
    ],
    "may change everything": ["GRANT pg_write_all_data TO crew"],
    "may take desks": ["GRANT INSERT ON desk_user TO crew"],
    "may take names": ["GRANT DELETE ON desk_official TO crew"],
    "may say the format": ["GRANT INSERT ON schema_step TO crew"],
    "may make functions": [
        (
            "DO $$ BEGIN EXECUTE format('GRANT CREATE ON SCHEMA %%I TO crew', "
            "current_schema()); END $$"
        )
    ],
    "a desk owns all": ["GRANT owner TO crew"],
    "a desk rules": ["ALTER ROLE crew SUPERUSER"],
    "a desk makes users": ["ALTER ROLE crew CREATEROLE"],
    "a desk passes by": ["ALTER ROLE crew BYPASSRLS"],
    "swallowing rule": ["CREATE RULE quiet AS ON INSERT TO entry DO INSTEAD NOTHING"],
    "hidden rows": ["ALTER TABLE entry ENABLE ROW LEVEL SECURITY"],
    "rows of another table": ["CREATE TABLE side () INHERITS (entry)"],
    "view in its place": [
        "ALTER TABLE entry RENAME TO entry_kept",
        "CREATE VIEW entry AS SELECT * FROM entry_kept",
    ],
    "emptied after a crash": ["ALTER TABLE entry SET UNLOGGED"],
    "guards never asked": [
        "ALTER DATABASE postgres SET session_replication_role = replica"
    ],
    "guards never asked of one": [
        "ALTER ROLE crew SET session_replication_role = replica"
    ],
    "function taken for the server's": [
        (
            "CREATE FUNCTION to_json(text) RETURNS json LANGUAGE sql AS "
            "'SELECT ''1''::json'"
        )
    ],
}


@pytest.fixture(scope="module")
def store(server):
    with create(server.url()) as ledger:
        ledger.store.add_desk_role("crew", "x", desks=(FIELD,))
        with ledger.store.engine.begin() as connection:
            connection.execute(text("CREATE ROLE stranger"))
        yield ledger.store


@pytest.fixture
def connection(store):
    """Give a connection whose changes are seen here alone, and taken back."""
    with store.engine.connect() as connection:
        yield connection
        connection.rollback()


def test_a_server_of_ours_has_no_flaw(connection):
    assert not list(flaws(connection))


@pytest.mark.parametrize("way", WEAKER)
def test_every_way_to_weaken_a_guard_is_told(connection, way):
    for statement in WEAKER[way]:
        connection.exec_driver_sql(statement)

    assert list(flaws(connection))


def test_a_user_of_a_desk_sees_the_flaws_too(connection):
    connection.exec_driver_sql("GRANT UPDATE ON entry TO crew")
    connection.exec_driver_sql("DROP TRIGGER entry_stays ON entry")
    connection.exec_driver_sql("SET LOCAL ROLE crew")

    assert [table for table, _ in flaws(connection)] == ["entry", "entry"]


def test_what_an_extension_brings_is_no_flaw(connection):
    for statement in (
        "CREATE FUNCTION to_json(text) RETURNS json LANGUAGE sql AS 'SELECT null::json'",
        "ALTER EXTENSION plpgsql ADD FUNCTION to_json(text)",
    ):
        connection.exec_driver_sql(statement)

    assert not list(flaws(connection))


def test_who_may_make_functions_is_made_no_desk_user(store):
    with store.engine.begin() as connection:
        schema = connection.exec_driver_sql("SELECT current_schema()").scalar()
        connection.exec_driver_sql("CREATE ROLE maker LOGIN")
        connection.exec_driver_sql(f"GRANT CREATE ON SCHEMA {schema} TO maker")

    with pytest.raises(LedgerError, match="maker has CREATE on its schema"):
        store.add_desk_role("maker", "x")
    with store.engine.begin() as connection:
        connection.exec_driver_sql(f"REVOKE CREATE ON SCHEMA {schema} FROM maker")
