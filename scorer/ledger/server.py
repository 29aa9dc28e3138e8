"""What guards a ledger on a PostgreSQL server against its own users.

Each row that comes in is sealed by a trigger with the owner's rights: the server counts
arrivals itself, works the hash out again, and holds the entry against the one before.
A desk's user writes for the one desk that is his, in the names of its officials.  The
owner brings entries of other desks in (`merge`); for him hashes are checked alone.

The rules are read off `scorer.ledger.entry` (hash, chain) and `scorer.ledger.store`.
"""

from collections.abc import Iterator

from sqlalchemy import Connection, text

from scorer.ledger.faults import LedgerError

REFUSED = "SD001"
"""SQLSTATE of a row that the server refuses; its message is for people."""
SEALS = """
DECLARE
  owner boolean := pg_has_role(session_user, (SELECT relowner FROM pg_class
    WHERE oid = TG_RELID), 'USAGE');
  head text; before record; top bigint;
BEGIN
  PERFORM pg_advisory_xact_lock(hashtext('ledger'), hashtext(TG_TABLE_SCHEMA));
  NEW.seq := (SELECT coalesce(max(seq), 0) + 1 FROM entry);
  head := format('{"at":%s,"desk":%s,"kind":%s,"number":%s,"prev":%s,"replaces":[%s],'
    || '"tick":%s,"token":%s,"who":%s,"why":%s}', to_json(NEW.at), to_json(NEW.desk),
    to_json(NEW.kind), NEW.number, to_json(NEW.prev),
    (SELECT string_agg(to_json(name)::text, ',' ORDER BY place) FROM
      unnest(string_to_array(NEW.replaces, ' ')) WITH ORDINALITY AS r(name, place)
      WHERE name <> ''),
    NEW.tick, to_json(NEW.token), to_json(NEW.who), to_json(NEW.why));
  IF encode(sha256(convert_to(head || chr(10) || NEW.payload, 'UTF8')), 'hex')
      <> NEW.hash THEN
    RAISE EXCEPTION 'the content of entry % #% does not fit its hash',
      NEW.desk, NEW.number USING ERRCODE = 'SD001';
  END IF;
  IF owner THEN RETURN NEW; END IF;
  IF NOT EXISTS (SELECT FROM desk_user WHERE role = session_user
      AND desk IN (NEW.desk, '*')) THEN
    IF EXISTS (SELECT FROM desk_user WHERE role = session_user OR desk = NEW.desk)
        OR EXISTS (SELECT FROM entry WHERE desk = NEW.desk) THEN
      RAISE EXCEPTION 'user % may not write as desk %: the owner of the database says '
        'with desk-user whose desk it is', session_user, NEW.desk USING ERRCODE = 'SD001';
    END IF;
    INSERT INTO desk_user VALUES (session_user, NEW.desk);
  ELSIF EXISTS (SELECT FROM desk_user WHERE role <> session_user AND desk = NEW.desk) THEN
    RAISE EXCEPTION 'desk % is another user''s', NEW.desk USING ERRCODE = 'SD001';
  END IF;
  IF EXISTS (SELECT FROM desk_official WHERE role = session_user) AND NOT EXISTS
      (SELECT FROM desk_official WHERE role = session_user AND who = NEW.who) THEN
    RAISE EXCEPTION '% is no official of desk %: the owner of the database adds names '
      'with desk-user --official', NEW.who, NEW.desk USING ERRCODE = 'SD001';
  END IF;
  IF NEW.token = '' OR EXISTS (SELECT FROM entry WHERE token = NEW.token) THEN
    RAISE EXCEPTION 'the token of entry % #% is known already: enter it again',
      NEW.desk, NEW.number USING ERRCODE = 'SD001';
  END IF;
  NEW.again := 0;
  SELECT desk, number, tick, prev INTO before FROM entry WHERE hash = NEW.prev;
  top := (SELECT max(tick) FROM entry);
  IF NOT FOUND AND top IS NULL OR before.desk IS NULL
      OR before.desk = NEW.desk AND NEW.number <> before.number + 1
      OR before.desk <> NEW.desk AND (NEW.number <> 1 OR before.prev <> repeat('0', 64))
      OR NEW.tick <= before.tick OR NEW.tick - 1 > top
      OR EXISTS (SELECT FROM entry WHERE desk = NEW.desk AND number = NEW.number) THEN
    RAISE EXCEPTION 'entry % #% does not follow what is here: the owner of the database '
      'brings it in with merge', NEW.desk, NEW.number USING ERRCODE = 'SD001';
  END IF;
  RETURN NEW;
END """
"""Body of the trigger for each entry that comes in."""
FREES = """
DECLARE holder record; ended integer := 0;
BEGIN
  FOR holder IN SELECT a.pid FROM pg_locks l JOIN pg_stat_activity a USING (pid)
    WHERE l.locktype = 'advisory' AND l.granted AND l.pid <> pg_backend_pid()
    AND l.database = (SELECT oid FROM pg_database WHERE datname = current_database())
    AND l.classid::bigint = hashtext('ledger')::bigint & 4294967295
    AND l.objid::bigint = hashtext(current_schema())::bigint & 4294967295
    AND (a.state IS DISTINCT FROM 'active' AND a.state_change < clock_timestamp()
        - interval '4 s' OR a.wait_event = 'PgSleep' AND a.query_start < clock_timestamp()
        - interval '4 s' OR a.query_start < clock_timestamp() - interval '60 s')
  LOOP
    BEGIN
      IF pg_terminate_backend(holder.pid) THEN ended := ended + 1; END IF;
    EXCEPTION WHEN insufficient_privilege THEN NULL;
    END;
  END LOOP;
  RETURN ended;
END """
"""Ends programs that hold the turn of writing and do nothing with it."""
_OWN_PATH = """DO $$ BEGIN EXECUTE format('ALTER FUNCTION {} SET search_path = %I, pg_temp',
    current_schema()); END $$"""
STATEMENTS = (
    (
        "CREATE TABLE desk_user (role TEXT NOT NULL, desk TEXT NOT NULL, "
        "PRIMARY KEY (role, desk))"
    ),
    (
        "CREATE TABLE desk_official (role TEXT NOT NULL, who TEXT NOT NULL, "
        "PRIMARY KEY (role, who))"
    ),
    # Users of an older version write for any desk that is nobody's until the owner says.
    """INSERT INTO desk_user SELECT DISTINCT pg_get_userbyid(a.grantee), '*'
    FROM pg_class c, aclexplode(c.relacl) a WHERE c.relname = 'entry'
    AND c.relnamespace = current_schema()::regnamespace AND a.privilege_type = 'INSERT'
    AND a.grantee NOT IN (0, c.relowner)""",
    f"""CREATE FUNCTION ledger_seals() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
    AS $seals${SEALS}$seals$""",
    f"""CREATE FUNCTION ledger_frees_turn() RETURNS integer LANGUAGE plpgsql
    SECURITY DEFINER AS $frees${FREES}$frees$""",
    _OWN_PATH.format("ledger_seals()"),
    _OWN_PATH.format("ledger_frees_turn()"),
    (
        "CREATE TRIGGER entry_sealed BEFORE INSERT ON entry FOR EACH ROW "
        "EXECUTE FUNCTION ledger_seals()"
    ),
)
"""What makes an older ledger such a one."""
SEALED = 7
"""PostgreSQL's number for: before each row inserted."""
GUARDED = ("entry", "blob", "schema_step")
"""Tables in which nothing is ever changed or deleted."""
DESK_TABLES = ("desk_user", "desk_official")
"""Tables in which the owner says whose desk is whose; the seal alone writes there too."""
_REFUSED_RIGHTS = tuple(
    (table, right)
    for tables, rights in (
        (GUARDED, ("UPDATE", "DELETE", "TRUNCATE", "TRIGGER")),
        (("schema_step",), ("INSERT",)),
        (DESK_TABLES, ("INSERT", "UPDATE", "DELETE", "TRUNCATE", "TRIGGER")),
    )
    for table in tables
    for right in rights
)
_TOO_MUCH = """SELECT r.rolname, o.place, string_agg(o.may, ', ') FROM pg_roles r,
    unnest(CAST(:tables AS text[]), CAST(:rights AS text[])) AS o(place, may),
    pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
    WHERE c.oid = 'entry'::regclass AND r.rolname NOT LIKE 'pg\\_%' AND NOT r.rolsuper
    AND NOT pg_has_role(r.oid, c.relowner, 'MEMBER')
    AND NOT pg_has_role(r.oid, n.nspowner, 'MEMBER')
    AND CASE WHEN o.may = 'CREATE' THEN has_schema_privilege(r.oid, n.oid, o.may)
    WHEN o.may IN ('INSERT', 'UPDATE')
    THEN has_any_column_privilege(r.oid, to_regclass(o.place), o.may)
    ELSE has_table_privilege(r.oid, to_regclass(o.place), o.may) END
    GROUP BY r.rolname, o.place ORDER BY r.rolname, o.place"""
_ABOUT = """SELECT rolsuper, rolcreaterole, rolreplication, rolbypassrls,
    pg_has_role(rolname, (SELECT relowner FROM pg_class WHERE oid = 'entry'::regclass),
    'MEMBER') AS owner FROM pg_roles WHERE rolname = :role"""
_WRITERS = """SELECT DISTINCT pg_get_userbyid(a.grantee) FROM pg_class c,
    aclexplode(c.relacl) a WHERE c.oid = 'entry'::regclass
    AND a.privilege_type = 'INSERT' AND a.grantee NOT IN (0, c.relowner) ORDER BY 1"""
_UNBOUND = {
    "rolsuper": "is a superuser of the server",
    "owner": "owns the event, or may become who owns it",
    "rolcreaterole": "may make users and give them rights",
    "rolreplication": "may copy the whole server",
    "rolbypassrls": "may pass the server's rules by",
}


def desk_role(
    connection: Connection,
    role: str,
    password: str,
    *,
    desks: tuple[str, ...] = (),
    officials: tuple[str, ...] = (),
) -> None:
    """Make a PostgreSQL role that may read and insert for its desk, and nothing else.

    Needs a connection that may create roles.  A role that exists keeps its password.
    Without `desks` the first desk that it writes as is its own; `officials` are the names
    it may write in (none = any).

    Raises
    ------
    LedgerError
        The role could change or delete entries all the same; nothing was done.
    """
    quoted = connection.dialect.identifier_preparer.quote(role)
    if _is_new(connection, role):
        # CREATE ROLE takes no parameters: let the server quote the password.
        create = connection.exec_driver_sql(
            "SELECT format('CREATE ROLE %%I LOGIN PASSWORD %%L', %s::text, %s::text)",
            (role, password),
        ).scalar_one()
        connection.exec_driver_sql(create.replace("%", "%%"))
    _check_harmless(connection, role)
    name = connection.exec_driver_sql(
        "SELECT quote_ident(current_schema())"
    ).scalar_one()
    connection.exec_driver_sql(f"GRANT USAGE ON SCHEMA {name} TO {quoted}")
    for table in GUARDED:
        connection.exec_driver_sql(f"REVOKE ALL ON {table} FROM {quoted}")
        connection.exec_driver_sql(f"GRANT SELECT ON {table} TO {quoted}")
    for table in ("entry", "blob"):
        connection.exec_driver_sql(f"GRANT INSERT ON {table} TO {quoted}")
    left = [
        f"{may} on {place}" for who, place, may in too_much(connection) if who == role
    ]
    if left:
        raise LedgerError(
            f"{role} has {', '.join(left)} by other ways (another role, or what all users "
            "may): no user was made. Take that right away, or choose another name."
        )
    _bind(connection, role, desks, officials)
    if not connection.exec_driver_sql(
        "SELECT pg_has_role(%s, 'USAGE')", (role,)
    ).scalar():
        # So that the owner's function may end a program of his that holds all up.
        connection.exec_driver_sql(f"GRANT {quoted} TO CURRENT_USER")


def _is_new(connection: Connection, role: str) -> bool:
    query = "SELECT 1 FROM pg_roles WHERE rolname = %s"
    return connection.exec_driver_sql(query, (role,)).scalar() is None


def _check_harmless(connection: Connection, role: str) -> None:
    for says in unbound(connection, role):
        raise LedgerError(
            f"{role} {says}: no rule of this event binds him, and he could change or "
            "delete entries. Nothing was done. Choose another name; a new user is made."
        )


def unbound(connection: Connection, role: str) -> Iterator[str]:
    """Yield why the rules of an event do not bind a user."""
    about = connection.execute(text(_ABOUT), {"role": role}).one()
    return (says for right, says in _UNBOUND.items() if getattr(about, right))


def desk_users(connection: Connection) -> tuple[str, ...]:
    """Return the users who may write, but for the owner."""
    return tuple(connection.execute(text(_WRITERS)).scalars())


def too_much(connection: Connection) -> tuple[tuple[str, str, str], ...]:
    """Return user, place and rights where somebody may do what no desk needs.

    Whoever may make functions beside the tables can have the seal call one of his.
    """
    places, rights = zip(*_REFUSED_RIGHTS, ("its schema", "CREATE"), strict=True)
    rows = connection.execute(
        text(_TOO_MUCH), {"tables": list(places), "rights": list(rights)}
    )
    return tuple((role, place, may) for role, place, may in rows)


def _bind(
    connection: Connection,
    role: str,
    desks: tuple[str, ...],
    officials: tuple[str, ...],
) -> None:
    """Say whose desks are whose, and who sits there; what was said before stays."""
    for desk in desks:
        connection.exec_driver_sql(
            "DELETE FROM desk_user WHERE (role = %s AND desk = '*') OR desk = %s",
            (role, desk),
        )
        connection.exec_driver_sql(
            "INSERT INTO desk_user VALUES (%s, %s)", (role, desk)
        )
    for who in officials:
        connection.exec_driver_sql(
            "INSERT INTO desk_official VALUES (%s, %s) ON CONFLICT DO NOTHING",
            (role, who),
        )
