"""Make and open ledgers: files, databases, and copies in memory."""

import os
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path

from sqlalchemy import Engine

from scorer.ledger.acts import Created, DeskId
from scorer.ledger.engine import (
    explained,
    file_engine,
    fill,
    is_sqlite_file,
    is_url,
    may_write,
    memory_engine,
    server_engine,
    shown,
)
from scorer.ledger.entry import Draft, utc_text
from scorer.ledger.faults import LedgerError, NotALedgerError, ReadOnlyError
from scorer.ledger.schema import STEPS, check_format, format_of, upgrade
from scorer.ledger.served import Served
from scorer.ledger.store import Store

PROGRAM = "sandtail"


def create_store(
    target: str | Path, *, desk: DeskId, who: str, when: datetime
) -> Store:
    """Make a new, empty event; the desk writes its root entry."""
    with _making(target) as store, store.turn() as connection:
        upgrade(connection, program=PROGRAM, at=utc_text(when))
        root = Draft(act=Created(format=STEPS[-1].number, program=PROGRAM))
        store.insert(connection, [root], desk, who, when)
    return store


def empty_store(target: str | Path, *, when: datetime) -> Store:
    """Make a ledger without any entry, to be filled from another by `Store.take`."""
    with _making(target) as store, store.turn() as connection:
        upgrade(connection, program=PROGRAM, at=utc_text(when))
    return store


def memory_store(*, when: datetime) -> Store:
    """Make a ledger without any entry that lives only as long as the program."""
    store = Store(memory_engine(), "a ledger in memory", writing=True, in_memory=True)
    with store.turn() as connection:
        upgrade(connection, program=PROGRAM, at=utc_text(when))
    return store


def open_store(target: str | Path, *, when: datetime, read_only: bool = False) -> Store:
    """Open an event; an older format is upgraded, in memory only if read only."""
    store = _existing(target, read_only=read_only)
    try:
        with explained(store.where), store.engine.begin() as connection:
            found = format_of(connection)
        check_format(found, store.where)
        if store.writing:
            store.last()  # from here on the file is watched over
    except BaseException:
        store.engine.dispose()
        raise
    if found == STEPS[-1].number:
        return store
    if not store.writing:
        if is_url(target):
            return store  # every format can be read; only writing needs the newest
        store = _copy_in_memory(store)
    try:
        _upgrade(store, when)
    except BaseException:
        store.engine.dispose()
        raise
    return store


def open_at_desk(
    target: str | Path,
    *,
    clock: Callable[[], datetime],
    read_only: bool = False,
    or_copy: bool = False,
) -> Store:
    """Open an event as a desk does: of one on a server, what is read is kept here.

    With `or_copy` that copy is opened where the server is away.
    """
    if not is_url(target):
        return open_store(target, when=clock(), read_only=read_only)
    # What keys marks into a file need not wait for the scoring modules to load.
    from scorer.recall import cache_folder  # noqa: PLC0415

    folder = cache_folder()
    if folder is None:
        return open_store(target, when=clock(), read_only=read_only)
    store = Served(
        str(target),
        lambda: open_store(target, when=clock(), read_only=read_only),
        folder=folder,
        clock=clock,
    )
    store.open(or_copy=or_copy)
    return store


def _upgrade(store: Store, when: datetime) -> None:
    turn = Store(store.engine, store.where, writing=True, in_memory=True).turn()
    try:
        with turn as connection:
            upgrade(connection, program=PROGRAM, at=utc_text(when))
    except ReadOnlyError as error:
        raise ReadOnlyError(
            f"{store.where} is in the format of an older version, and this user may not "
            "bring it to the new one. Let the owner of the database open it once with "
            "this version (with `sandtail desk-user`); then try again."
        ) from error


@contextmanager
def _making(target: str | Path) -> Iterator[Store]:
    """Give a place for a new ledger; leave nothing behind where that fails."""
    store = _new(target)
    try:
        _check_empty(store)
        yield store
    except BaseException:
        store.engine.dispose()
        if store.is_file:
            Path(store.where).unlink(missing_ok=True)
        raise


def _check_empty(store: Store) -> None:
    with explained(store.where), store.engine.begin() as connection:
        if format_of(connection):
            raise LedgerError(
                f"{store.where} holds an event already; choose another name, or open it"
            )


def _new(target: str | Path) -> Store:
    if is_url(target):
        return _server(str(target), writing=True)
    path = Path(target)
    if os.path.lexists(path):
        raise LedgerError(f"{path} exists already; choose another name")
    if not path.absolute().parent.is_dir():
        raise LedgerError(f"there is no folder {path.parent}; make it first")
    try:
        path.open("xb").close()
    except OSError as error:
        raise LedgerError(
            f"{path} cannot be made ({error.strerror}); choose another folder"
        ) from error
    return Store(file_engine(path), str(path), writing=True)


def _existing(target: str | Path, *, read_only: bool) -> Store:
    if is_url(target):
        return _server(str(target), writing=not read_only)
    path = Path(target)
    if not path.is_file():
        if path.is_dir():
            raise NotALedgerError(
                f"{path} is an event folder, not an event file: edit its files, or take "
                f"it into an event file with `sandtail import {path} FILE`"
            )
        raise NotALedgerError(f"there is no event file {path}; check the name")
    if not is_sqlite_file(path):
        raise NotALedgerError(
            f"{path} is no event file. Choose one that `sandtail new` or "
            "`sandtail import` made."
        )
    writing = may_write(path) and not read_only
    return Store(file_engine(path, writing=writing), str(path), writing=writing)


def _server(url: str, *, writing: bool) -> Store:
    engine: Engine = server_engine(url)
    return Store(engine, shown(engine.url), writing=writing)


def _copy_in_memory(store: Store) -> Store:
    engine = memory_engine()
    with store, closing(store.engine.raw_connection()) as source:
        fill(engine, source.driver_connection)  # type: ignore[arg-type]
    return Store(engine, store.where, writing=False, in_memory=True)
