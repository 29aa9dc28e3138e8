"""What a ledger alone cannot show, a printed head, a copy or published files do.

Each attack is done with all rights on the file or the database, as somebody would who
knows how everything is checked.
"""

import hashlib
import json
import shutil
import sqlite3
import zipfile
from dataclasses import replace

import pytest
from sqlalchemy import create_engine, text

from scorer.cli.main import main
from scorer.ledger.acts import MarkKeyed, NoteMade, Published, Stage
from scorer.ledger.audit import Severity
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import NO_ENTRY, hash_of
from scorer.ledger.event_commands import archive, compute, export_folder, verify_target
from scorer.ledger.faults import LedgerError
from scorer.ledger.head import Head, heads_in, read_head
from scorer.ledger.opening import empty_store, open_store
from scorer.sheets.edition import prepare, put_up
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    MORNING,
    create,
    open_at,
    small_event,
    tape,
)


def fill(ledger):
    """Publish twice, with a mark between; return the heads that the sheets say."""
    ledger.record_all(to_drafts(small_event()))
    heads = []
    for distance in ("12", "13"):
        ledger.record(MarkKeyed(flight="1", fields=tape(2, distance, by=distance)))
        prepared = prepare(ledger, compute(ledger), Stage.PROVISIONAL)
        pages = {"pages/index.html": f"<p>{prepared.stamp.head}".encode()}
        put_up(ledger, prepared, pages)
        heads.append(prepared.stamp.head)
    return heads


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    path = tmp_path_factory.mktemp("heads") / "e"
    with create(path) as ledger:
        heads = fill(ledger)
    return path, heads


@pytest.fixture
def event(kept, tmp_path):
    return shutil.copy(kept[0], tmp_path / "e"), kept[1]


def held(target, *against):
    return verify_target(target, against=[str(one) for one in against], scoring=None)


def severities(audit):
    return {p.severity for p in audit.problems} - {Severity.NOTICE}


def guardless(path, *statements):
    """Work on an event file with its guards away, and put them back."""
    connection = sqlite3.connect(path)
    guards = connection.execute(
        "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
    ).fetchall()
    for name, _ in guards:
        connection.execute(f"DROP TRIGGER {name}")
    for statement in statements:
        connection.execute(*statement)
    for _, sql in guards:
        connection.execute(sql)
    connection.commit()
    connection.close()


def cut(path, count):
    """Delete the last entries, and let the file's own count fit."""
    last = "(SELECT max(seq) FROM entry)"
    guardless(
        path,
        (f"DELETE FROM entry WHERE seq > {last} - {count}",),
        (f"UPDATE sqlite_sequence SET seq = {last} WHERE name = 'entry'",),
    )


def rewritten(entries, change):
    """Write a history anew with fitting hashes, one entry changed."""
    new, fresh = {NO_ENTRY: NO_ENTRY}, []
    for entry in entries:
        own = replace(change(entry), prev=new[entry.prev])
        own = replace(own, replaces=tuple(new.get(r, r) for r in own.replaces))
        if isinstance(own.act, Published):
            payload = json.loads(own.payload)
            payload["heads"] = [new[head] for head in payload["heads"]]
            own = replace(own, payload=json.dumps(payload))
        own = replace(own, hash=hash_of(own))
        new[entry.hash] = own.hash
        fresh.append(own)
    return fresh


def forged(path, copy, change):
    """Make an event file whose history was always another one."""
    with open_store(path, when=MORNING, read_only=True) as old:
        entries = rewritten(old.entries(), change)
        with empty_store(copy, when=MORNING) as made:
            made.take(entries, map(old.stored_file, old.file_hashes()))
    return copy


def nearer(entry):
    return replace(entry, payload=entry.payload.replace("12.34", "02.34"))


def test_sheets_say_a_head_that_the_ledger_keeps_for_good(event):
    path, heads = event
    with open_at(path) as field:
        field.record(NoteMade(text="later"))

    assert held(path, *heads).sound
    assert "holds all that" in str(held(path, *heads))
    assert [read_head(head).entries for head in heads] == [13, 15]


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_entries_cut_off_the_end_are_found_by_the_head_alone(event, count):
    path, heads = event
    cut(path, count)

    assert held(path).sound  # which says that it cannot know
    assert "it cannot show whether entries were cut off" in str(held(path))
    found = held(path, heads[-1])
    assert not found.sound
    assert severities(found) <= {Severity.LOST, Severity.ALTERED}
    if count > 1:
        assert f"there were 15 entries then, {16 - count} are here" in str(found)


def test_a_history_written_anew_is_found_by_the_head_alone(event, tmp_path):
    path, heads = event
    forged(path, tmp_path / "forged", nearer)

    assert held(tmp_path / "forged").sound
    for head in heads:
        found = held(tmp_path / "forged", head)
        assert severities(found) == {Severity.ALTERED}
        assert "they were written anew" in str(found)


def test_another_copy_names_what_was_cut_and_what_was_written_anew(event, tmp_path):
    path, _ = event
    zipped = tmp_path / "e.zip"
    archive(path, zipped)
    whole = shutil.copy(path, tmp_path / "whole")
    cut(path, 2)

    for copy in (whole, zipped):
        found = held(path, copy)
        assert severities(found) == {Severity.LOST}
        assert "entries hall-00000a #15 to #16: 2 of" in str(found)
        assert held(whole, copy).sound
    forged(whole, tmp_path / "forged", nearer)
    assert severities(held(tmp_path / "forged", whole)) == {Severity.ALTERED}
    late = forged(
        whole,
        tmp_path / "late",
        lambda e: replace(e, who="eve") if e.number > 14 else e,
    )
    found = held(late, whole)
    assert severities(found) == {Severity.ALTERED}
    assert "entry hall-00000a #15: it has other content in" in str(found)


def test_an_archive_cut_and_packed_anew_is_found(event, tmp_path):
    path, heads = event
    shutil.copy(path, tmp_path / "whole")
    cut(path, 3)
    archive(path, tmp_path / "cut.zip")

    assert held(tmp_path / "cut.zip").sound
    assert not held(tmp_path / "cut.zip", heads[-1]).sound
    assert not held(tmp_path / "cut.zip", tmp_path / "whole").sound


def test_heads_of_several_desks_hold_in_every_order_of_merging(event, tmp_path):
    path, _ = event
    copy = shutil.copy(path, tmp_path / "copy")
    with open_at(path, HALL) as hall, open_at(copy, FIELD) as field:
        hall.record(NoteMade(text="hall"))
        field.record(NoteMade(text="field"))
        alone = [str(Head.of(one.store.entries())) for one in (hall, field)]
        hall.store.take(field.store.entries(), ())
        field.store.take(hall.store.entries(), ())
        hall.record(NoteMade(text="after"))
    both = str(Head.of(entries_of(copy)))

    assert "+" in both
    assert held(path, *alone, both).sound
    assert held(copy, *alone, both).sound
    fewer = both.replace("18:", "17:")
    assert "18 entries lead up to it, where the sheet counts 17" in str(
        held(copy, fewer)
    )


def entries_of(path):
    with open_store(path, when=MORNING, read_only=True) as store:
        return store.entries()


WEAKER = {
    "taken away": ["DROP TRIGGER entry_no_update"],
    "refuses nothing": [
        "DROP TRIGGER entry_no_update",
        "CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry BEGIN SELECT 1; END",
    ],
    "never asked": [
        "DROP TRIGGER blob_no_delete",
        (
            "CREATE TRIGGER blob_no_delete BEFORE DELETE ON blob WHEN 0 BEGIN "
            "SELECT RAISE(ABORT, 'x'); END"
        ),
    ],
    "swallows": [
        (
            "CREATE TRIGGER quiet BEFORE INSERT ON entry WHEN NEW.kind = 'mark' "
            "BEGIN SELECT RAISE(IGNORE); END"
        )
    ],
    "other table": [
        "DROP TRIGGER entry_no_delete",
        "CREATE TABLE other (a)",
        (
            "CREATE TRIGGER entry_no_delete BEFORE DELETE ON other BEGIN "
            "SELECT RAISE(ABORT, 'x'); END"
        ),
    ],
    "tokens may repeat": ["DROP INDEX entry_token_once"],
}


def test_tokens_that_were_set_free_are_found(event):
    path, _ = event
    guardless(path, ("UPDATE entry SET again = 1",))
    assert severities(held(path)) == {Severity.ALTERED}


LAST = "(SELECT max(seq) FROM entry)"
MOVED = {
    "arrival turned round": [
        "UPDATE entry SET seq = -seq",
        "UPDATE entry SET seq = (SELECT count(*) FROM entry) + 1 + seq",
    ],
    "the last two changed over": [
        f"UPDATE entry SET seq = -seq WHERE seq = {LAST}",
        f"UPDATE entry SET seq = seq + 1 WHERE seq = {LAST}",
        f"UPDATE entry SET seq = {LAST} - 1 WHERE seq < 0",
    ],
    "a step renamed": ["UPDATE schema_step SET name = 'x' WHERE number = 2"],
    "a step counted otherwise": ["UPDATE schema_step SET number = 0 WHERE number = 1"],
    "a step taken out": ["DELETE FROM schema_step WHERE number = 1"],
}


@pytest.mark.parametrize("way", MOVED)
def test_rows_that_were_moved_are_found(event, way):
    path, _ = event
    guardless(path, *((statement,) for statement in MOVED[way]))
    assert severities(held(path)) == {Severity.ALTERED}


@pytest.mark.parametrize("way", WEAKER)
def test_a_guard_that_was_weakened_is_found(event, way):
    path, _ = event
    connection = sqlite3.connect(path)
    for statement in WEAKER[way]:
        connection.execute(statement)
    connection.close()

    assert severities(held(path)) == {Severity.ALTERED}


def test_published_files_are_compared_with_the_ledger(event, tmp_path, capsys):
    path, _ = event
    folder = tmp_path / "up"
    put_down(path, folder)
    results, page = folder / "results.json", folder / "pages/index.html"

    assert held(path, folder).sound
    assert held(path, page).sound
    assert main(["verify", str(results), "--with", str(path)]) == 0
    assert "2 files are byte for byte what went up" in capsys.readouterr().out
    page.write_bytes(page.read_bytes() + b" ")
    for against in (folder, page):
        assert severities(held(path, against)) == {Severity.ALTERED}
    assert main(["verify", str(results), "--with", str(path)]) == 1
    assert "index.html: it is not the file that went up" in capsys.readouterr().out
    tree = json.loads(results.read_text(encoding="utf-8"))
    tree["tasks"][0]["scores"][0]["rank"] = 7
    results.write_text(json.dumps(tree), encoding="utf-8")
    assert main(["verify", str(results), "--with", str(path)]) == 1
    assert "no entry says that this file went up; against version 2" in (
        capsys.readouterr().out
    )


def test_verify_names_the_command_for_what_was_given_the_wrong_way_round(
    event, tmp_path, capsys
):
    path, _ = event
    folder = tmp_path / "up"
    put_down(path, folder)

    assert main(["verify", str(path), "--with", str(folder)]) == 2
    instead = f"verify {folder / 'results.json'} --with {path}"
    told = capsys.readouterr()
    assert told.err.strip().endswith(f"Instead: sandtail {instead}")
    assert main(instead.split()) == 0
    assert main(["verify", str(folder), "--with", str(path)]) == 0
    assert main(["verify", str(path), "--with", str(folder / "pages")]) == 2
    instead = f"verify {path} --against {folder / 'pages'}"
    assert capsys.readouterr().err.strip().endswith(instead)
    assert main(["verify", str(folder), "--with", str(folder)]) == 2
    assert "found the folder" in capsys.readouterr().err


def test_a_published_file_that_was_deleted_is_lost_not_just_set_aside(event):
    path, _ = event
    with open_store(path, when=MORNING, read_only=True) as store:
        act = store.entries()[-1].act
    guardless(path, ("DELETE FROM blob WHERE sha256 = ?", (act.results,)))
    audit = held(path)
    assert severities(audit) == {Severity.LOST}
    assert any("while the file is away" in p.remedy for p in audit.problems)


def test_results_alone_are_held_against_what_hangs_in_public(event, tmp_path, capsys):
    path, _ = event
    folder = tmp_path / "up"
    put_down(path, folder)
    results = folder / "results.json"
    sha256 = hashlib.sha256(results.read_bytes()).hexdigest()
    head = Head(entries=3, hashes=("ab" * 16,), results=sha256[:32])
    page = tmp_path / "page.html"
    page.write_text(f"<p>sandtail:{head}</p>", encoding="utf-8")

    assert main(["verify", str(results)]) == 0
    assert "against what a sheet says" in capsys.readouterr().out
    for against in (str(head), str(page), str(results)):
        assert main(["verify", str(results), "--against", against]) == 0
        assert "By itself" not in capsys.readouterr().out
    for against in (head.before, str(tmp_path / "nothing")):
        assert main(["verify", str(results), "--against", against]) == 2
    results.write_bytes(results.read_bytes() + b" ")
    for against in (str(head), str(page)):
        assert main(["verify", str(results), "--against", against]) == 1
    assert "it is not the results.json that" in capsys.readouterr().out


def put_down(path, folder):
    """Write the files of the last publication, as `publish --out` does."""
    with open_store(path, when=MORNING, read_only=True) as store:
        act = store.entries()[-1].act
        for name, sha in (
            ("results.json", act.results),
            *((d.name, d.sha256) for d in act.documents),
        ):
            file = folder / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(store.file(sha))


def test_a_publication_that_was_cut_off_is_found_by_its_files(event, tmp_path):
    path, _ = event
    put_down(path, tmp_path / "up")
    cut(path, 1)

    assert held(path).sound
    for what in ("up", "up/pages/index.html", "up/results.json"):
        assert not held(path, tmp_path / what).sound


@pytest.mark.parametrize("what", ["up", "up/pages/index.html", "up/results.json"])
def test_a_history_written_anew_is_found_by_what_went_up(event, tmp_path, what):
    path, _ = event
    put_down(path, tmp_path / "up")
    other = forged(path, tmp_path / "other", nearer)

    assert severities(held(path, tmp_path / what)) == set()
    assert held(other).sound
    assert severities(held(other, tmp_path / what)) == {Severity.ALTERED}


def test_what_names_no_head_says_what_it_cannot_tell(event, tmp_path):
    path, _ = event
    put_down(path, tmp_path / "up")

    assert "no head can be read from it" in str(
        held(path, tmp_path / "up/results.json")
    )
    assert not held(path, tmp_path / "up/pages/index.html").problems


def test_an_event_folder_written_before_finds_what_is_gone(event, tmp_path):
    path, _ = event
    export_folder(path, tmp_path / "folder")
    assert held(path, tmp_path / "folder").sound
    cut(path, 2)

    found = held(path, tmp_path / "folder")
    assert severities(found) == {Severity.LOST}
    assert "it differs" in str(found)


def test_a_head_is_read_as_printed_scanned_or_typed_short():
    head = Head(entries=24, hashes=("ab" * 16, "cd" * 16), results="0f" * 16)
    text = str(head)

    assert read_head(text) == head
    assert read_head(f"SANDTAIL:{text.upper()}") == head
    assert read_head(text.replace("abab", "ab ab\u200b\n")) == head
    assert read_head("24:" + "ab" * 6).hashes == ("ab" * 6,)
    assert heads_in(f"<dd>{text}</dd>, <b>{text}</b>") == (head,)
    assert [*map(read_head, ("24", "24:abc", "x.sandtail", "a:b:c"))] == [None] * 4


def test_what_to_hold_it_against_must_be_there(event):
    with pytest.raises(LedgerError, match="there is no nothing; give what stands"):
        held(event[0], "nothing")


@pytest.fixture
def on_server(server, kept):
    path, heads = kept
    url = server.url()
    with (
        open_store(path, when=MORNING, read_only=True) as file,
        empty_store(url, when=MORNING) as made,
    ):
        made.take(file.entries(), map(file.stored_file, file.file_hashes()))
    return url, heads


def psql(url, *statements):
    engine = create_engine(url.replace("postgresql:", "postgresql+psycopg:"))
    with engine.begin() as connection:
        for statement in statements:
            connection.execute(text(statement))
    engine.dispose()


def test_a_tail_cut_on_a_server_is_found_by_head_copy_and_archive(
    on_server, kept, tmp_path
):
    url, heads = on_server
    archive(url, tmp_path / "before.zip")
    assert held(url, *heads, tmp_path / "before.zip").sound
    psql(
        url,
        "ALTER TABLE entry DISABLE TRIGGER USER",
        "DELETE FROM entry WHERE seq > (SELECT max(seq) - 2 FROM entry)",
        "ALTER TABLE entry ENABLE TRIGGER USER",
    )

    assert held(url).sound
    assert not held(url, heads[-1]).sound
    assert not held(url, tmp_path / "before.zip").sound
    assert severities(held(tmp_path / "before.zip", url)) == set()


SERVER_WEAKER = [
    (
        "CREATE OR REPLACE FUNCTION ledger_refuses() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RETURN NULL; END $$"
    ),
    "ALTER TABLE entry DISABLE TRIGGER entry_stays",
    "CREATE RULE quiet AS ON INSERT TO entry WHERE NEW.kind = 'mark' DO INSTEAD NOTHING",
    "ALTER TABLE entry ENABLE ROW LEVEL SECURITY",
]


@pytest.mark.parametrize("statement", SERVER_WEAKER)
def test_a_guard_weakened_on_a_server_is_found(on_server, statement):
    url, _ = on_server
    psql(url, statement)

    assert severities(held(url)) == {Severity.ALTERED}


def test_a_member_put_into_an_archive_or_taken_out_is_refused(event, tmp_path):
    path, _ = event
    archive(path, tmp_path / "e.zip")
    with zipfile.ZipFile(tmp_path / "e.zip", "a") as book:
        book.writestr("extra.txt", "x")

    with pytest.raises(LedgerError, match=r"extra\.txt was put in"):
        held(tmp_path / "e.zip")
