"""The folder in an archive is the one that its entries come to, whatever its manifest says."""

import csv

import pytest

from scorer.ledger.audit import Severity
from scorer.ledger.event_commands import archive, verify_target
from tests.scorer.ledger.ledger_desks import create
from tests.scorer.ledger.test_archive_bounds import forged, refused
from tests.scorer.ledger.test_heads import fill


@pytest.fixture(scope="module")
def zipped(tmp_path_factory):
    room = tmp_path_factory.mktemp("archived")
    with create(room / "event") as ledger:
        fill(ledger)
    archive(room / "event", room / "event.zip")
    return room / "event.zip"


def altered_marks(members):
    name = next(n for n in members if n.startswith("event/") and "marks.csv" in n)
    members[name] = members[name].replace(b"12.34", b"02.34")


def without(folder, part=""):
    def change(members):
        for name in [n for n in members if n.startswith(folder) and part in n]:
            del members[name]

    return change


def put_in(members):
    members["event/more.csv"] = b"a,b\n"


def a_bomb(members):
    name = next(n for n in members if n.startswith("event/") and "marks.csv" in n)
    members[name] += b"\n" * 2**17


def no_table(members):
    members["event/event.toml"] = b"\xff"


ALTERED_FOLDERS = {
    "a mark": (altered_marks, "marks.csv: it is not what the entries come to"),
    "no folder": (without("event/"), "event/event.toml: it is missing"),
    "no logs": (without("event/", "logs/"), "it is missing"),
    "a table more": (put_in, "event/more.csv: it was put in"),
    "noise": (no_table, "event/event.toml: it cannot be read"),
    "no page": (without("README"), "README.txt: it is missing"),
    "a bomb": (a_bomb, "marks.csv: it holds far more"),
}


@pytest.mark.parametrize("how", ALTERED_FOLDERS)
def test_the_folder_in_an_archive_is_the_one_the_entries_come_to(zipped, tmp_path, how):
    change, words = ALTERED_FOLDERS[how]
    path = forged(zipped, tmp_path / "a", lambda members, _: change(members))

    found = verify_target(path, scoring=None).problems

    assert any(words in str(p) for p in found if p.severity is Severity.ALTERED)


def test_an_archive_as_it_was_written_has_nothing_to_tell(zipped):
    assert verify_target(zipped, scoring=None).problems == ()


def test_a_page_or_columns_of_another_version_are_a_notice(zipped, tmp_path):
    def older(members, _):
        members["README.txt"] += b"x"
        name = next(n for n in members if n.startswith("event/") and "marks.csv" in n)
        rows = list(csv.reader(members[name].decode().splitlines()))
        at = rows[0].index("by")
        lines = (",".join(f'"{c}"' for c in row[:at] + row[at + 1 :]) for row in rows)
        members[name] = "\n".join(lines).encode()

    found = verify_target(forged(zipped, tmp_path / "a", older), scoring=None).problems

    assert {p.severity for p in found} == {Severity.NOTICE}
    assert sorted(p.where.rsplit("/")[-1] for p in found) == ["README.txt", "marks.csv"]


def test_a_remark_put_into_a_table_is_a_notice(zipped, tmp_path):
    def remark(members, _):
        members["event/event.toml"] = b"# by the jury\n" + members["event/event.toml"]

    found = verify_target(forged(zipped, tmp_path / "a", remark), scoring=None).problems

    assert [(p.severity, p.where) for p in found] == [
        (Severity.NOTICE, "event/event.toml")
    ]


@pytest.mark.parametrize("part", ["published/", "001"])
def test_what_went_up_stands_in_an_archive(zipped, tmp_path, part):
    path = forged(zipped, tmp_path / "a", lambda m, _: without("published/", part)(m))
    refused(path, r"published/.* is missing")
