"""Lists of pilots as spreadsheets write them, and what taking one in would change."""

import pytest
from openpyxl import Workbook

from gui.roster_file import (
    Happens,
    drafts_of,
    matched,
    outcomes_of,
    proposed,
    read_roster,
    roster_of,
)
from scorer.errors import InputError
from scorer.ledger.acts import PilotSet
from scorer.ledger.api import Ledger, new_desk

TEXT = "No.;Pilot;Reg\r\n7;Jörg Weiß;D-OABC\r\n8;Chloé Çelik;F-ABCD\r\n"


def read(tmp_path, data, name="list.csv"):
    path = tmp_path / name
    path.write_bytes(data)
    return read_roster(path)


@pytest.mark.parametrize(
    ("encoding", "guess"),
    [
        ("utf-8", "utf-8-sig"),
        ("utf-8-sig", "utf-8-sig"),
        ("cp1252", "cp1252"),
        ("utf-16", "utf-16"),
    ],
)
def test_letters_of_a_list_are_guessed_and_told(tmp_path, encoding, guess):
    found = read(tmp_path, TEXT.encode(encoding))
    assert found.encoding == guess
    assert [row.fields["pilot"] for row in found.rows] == ["Jörg Weiß", "Chloé Çelik"]


def test_a_wrong_guess_is_read_again_in_other_letters(tmp_path):
    found = read(tmp_path, "no;pilot\n7;Łukasz Żak\n".encode("cp1250"))
    assert found.encoding == "cp1252"
    again = roster_of(found.name, found.data, "cp1250")
    assert again.rows[0].fields["pilot"] == "Łukasz Żak"


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\0\0\0",
        b"PK\x03\x04 no workbook",
        b"\xff\xfe",
        b'no;pilot\n7;"never closed\n',
        bytes(range(256)) * 9,
    ],
)
@pytest.mark.parametrize("name", ["list.csv", "list.xlsx"])
def test_hostile_lists_are_refused_in_words(tmp_path, data, name):
    with pytest.raises(InputError) as refused:
        read(tmp_path, data, name)
    assert name in str(refused.value)


@pytest.fixture
def state(small):
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as opened:
        ((current, act), *_) = opened.state().all_of(PilotSet)
        fields = {**act.fields, "waiver": "yes", "papers": "2027-03-31"}
        opened.record(PilotSet(fields=fields), replaces=current.ids, why="seen")
        yield opened.state()


def lines(tmp_path, text):
    found = read(tmp_path, text.encode())
    return matched(found, proposed(found.headers))


def of_number(state, number):
    return next(
        act for _, act in state.all_of(PilotSet) if act.fields["number"] == number
    )


def test_what_a_list_does_not_say_stays_as_it_was_entered(tmp_path, state):
    (first, *_) = [act for _, act in state.all_of(PilotSet) if "waiver" in act.fields]
    number, name = first.fields["number"], first.fields["name"]
    rows = lines(tmp_path, f"no,pilot,reg\n{number},{name},X-NEW\n")

    (one,) = outcomes_of(rows, state)
    (draft,) = drafts_of(rows, "list.csv", state)

    assert one.happens is Happens.CHANGED
    assert one.changes == (f"{first.fields['registration']} → X-NEW",)
    assert draft.act.fields["waiver"] == "yes"
    assert draft.act.fields["papers"] == "2027-03-31"
    assert draft.act.fields["registration"] == "X-NEW"


def test_nothing_of_the_one_before_stays_with_somebody_else(tmp_path, state):
    (first, *_) = [act for _, act in state.all_of(PilotSet) if "waiver" in act.fields]
    rows = lines(tmp_path, f"no,pilot\n{first.fields['number']},Quite Another\n")

    (one,) = outcomes_of(rows, state)

    assert one.happens is Happens.OTHER
    assert "waiver" not in one.fields


def test_a_list_taken_in_twice_changes_nothing(tmp_path, state):
    number = "3"
    name = of_number(state, number).fields["name"]
    rows = lines(tmp_path, f"no,pilot\n{number},{name}\n99,Somebody New\n")
    assert [o.happens for o in outcomes_of(rows, state)] == [Happens.SAME, Happens.NEW]
    assert len(drafts_of(rows, "list.csv", state)) == 1


def test_numbers_are_found_by_what_stands_in_them_where_no_header_says_so(tmp_path):
    file = tmp_path / "list.csv"
    file.write_text(
        "Startplatz;Name;Punkte\n7;Bo Ek;3\n8;Ana Roe;3\n", encoding="utf-8"
    )
    found = read_roster(file)
    assert proposed(found.headers, found.rows)["startplatz"] == "number"
    assert "number" not in proposed(found.headers).values()


def test_lists_as_spreadsheets_save_them_are_taken_with_tabs_and_a_title(tmp_path):
    text = "Entries, as of May\n\nNo.\tPilot\tReg\n7\tEk, Bo\tD-OABC\n8\tAna Roe\t\n"
    found = read(tmp_path, text.encode("utf-16"), "list.txt")
    assert found.headers == ("no.", "pilot", "reg")
    rows = matched(found, proposed(found.headers, found.rows))
    assert rows[0].fields == {"number": "7", "name": "Ek, Bo", "registration": "D-OABC"}
    assert [row.origin.line for row in rows] == [4, 5]


def test_names_in_two_columns_are_one_first_names_first(tmp_path):
    found = read(tmp_path, b"Name;Startnummer;Vorname\nvon Ek;7;Bo\nRoe;8;\n")
    rows = matched(found, proposed(found.headers, found.rows))
    assert [row.fields["name"] for row in rows] == ["Bo von Ek", "Roe"]


def test_a_workbook_may_have_a_title_and_merged_headers(tmp_path):
    book = Workbook()
    sheet = book.active
    for line in (["The meet", None, None], [], ["Nr", "Pilot", None], [7, "Bo", "Ek"]):
        sheet.append(line)
    sheet.merge_cells("A1:C1")
    sheet.merge_cells("B3:C3")
    path = tmp_path / "list.xlsx"
    book.save(path)
    found = read_roster(path)
    rows = matched(found, proposed(found.headers, found.rows))
    assert [row.fields for row in rows] == [{"number": "7", "name": "Bo Ek"}]
