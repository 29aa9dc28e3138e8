"""Tasks are planned, flown or cancelled; a flown one is complete when all are accounted for."""

from dataclasses import replace

import pytest

from scorer.event import matters
from scorer.event.model import Blob, Pilot
from scorer.event.raw import RawLog
from scorer.scoring import told
from scorer.scoring.check_in import of_roster
from scorer.scoring.document import document, to_json
from scorer.scoring.score import score
from scorer.verify import read_results, verify
from tests.bench.rosters import table
from tests.helpers import said
from tests.scorer.tiny import FIN, tiny, tiny_flight

HEAD = "task,pilot,method,distance,by\n"
MARKS = HEAD + "1,1,tape,3 m,K\n1,2,tape,5 m,K\n"
REPORTS = "task,pilot,kind,by\n"
SECOND = FIN.replace("number = 1", "number = 2")


def scored(*flights, **event):
    """Score a tiny event."""
    return score(tiny(*flights, **event))


def of_kind(results, kind):
    """Return the matters of one kind."""
    return [m for m in results.matters if m.kind is kind]


def test_a_task_of_which_nothing_is_known_is_planned_and_ranks_nobody():
    results = scored(
        tiny_flight(marks=MARKS), tiny_flight("f2", tasks=SECOND, day="2026-06-02")
    )
    task = results.task(2)
    assert (task.state, task.scores, task.formula.P) == ("planned", (), 0)
    assert [set(row.tasks) for row in results.standings.rows] == [{1}] * 4
    assert not [m for m in results.matters if m.task == 2]
    assert not verify(read_results(to_json(results), "results.json"))


def test_one_set_down_as_flown_holds_official_up_while_nothing_is_known_of_it():
    results = scored(tiny_flight(tasks=FIN + 'state = "flown"\n'))
    (matter,) = of_kind(results, matters.NOT_FLOWN)
    assert matter.holds_up
    assert matter.says.kind == "nobody-known"
    assert results.task(1).scores == ()


def test_a_planned_task_gives_nothing_for_what_is_entered_and_says_so():
    results = scored(tiny_flight(tasks=FIN + 'state = "planned"\n', marks=MARKS))
    (matter,) = of_kind(results, matters.PLANNED)
    assert matter.holds_up
    assert matter.says.get("entries") == 2
    assert results.task(1).scores == ()


def test_a_planned_task_whose_logs_are_in_says_what_to_do():
    """It said nothing, and only a refused publication told that it was not flown."""
    log = RawLog(blob=Blob(name="logs/001.igc", sha256="0" * 64, content=b"AXXX001"))
    flight = replace(tiny_flight(tasks=FIN + 'state = "planned"\n'), logs=(log, log))
    (matter,) = of_kind(scored(flight), matters.PLANNED)
    assert matter.holds_up
    assert said(matter.says).startswith("2 logs of its flight are in, and the task is")
    assert "Set the task flown, or cancelled" in said(matter.says)
    assert not of_kind(scored(replace(flight, logs=())), matters.PLANNED)


def test_a_forgotten_pilot_is_missing_and_holds_official_up():
    results = scored(tiny_flight(marks=MARKS + "1,3,none,,K\n"))
    task = results.task(1)
    (matter,) = of_kind(results, matters.NOT_FLOWN)
    assert (task.accounted, task.missing) == (3, (4,))
    assert matter.pilots == (4,)
    assert matter.holds_up
    assert said(told.accounted(task), results.voice) == (
        "3 of 4 accounted for. Missing: 4 Dot"
    )
    tree = document(results)["tasks"][0]
    assert (tree["accounted_for"], tree["missing"]) == (3, [4])


def test_those_who_flew_and_have_no_mark_yet_are_one_matter_of_their_task():
    """Logs come before the marks of a morning: a matter for each pilot hides the rest."""
    flown = "".join(f"2,{pilot},tape,9 m,K\n" for pilot in (1, 2, 3, 4))
    results = scored(tiny_flight(tasks=FIN + SECOND, marks=MARKS + flown))
    (matter,) = [m for m in results.told if m.kind is matters.NO_MARK]

    assert matter.pilots == (3, 4)
    assert matter.holds_up
    assert not matter.kind.acceptable
    assert results.task(1).missing == (3, 4)
    assert not any(own.settled for own in results.task(1).scores if own.pilot in (3, 4))
    assert not verify(read_results(to_json(results), "results.json"))


@pytest.mark.parametrize("kind", ["not-flown", "still-flying"])
def test_a_report_accounts_for_a_pilot_and_says_who_said_so(kind):
    marks = MARKS + "1,3,none,,K\n"
    results = scored(
        tiny_flight(marks=marks, reports=f"{REPORTS}1,4,{kind},Eve Observer\n")
    )
    own = results.task(1).score_of(4)
    assert results.task(1).missing == ()
    assert not of_kind(results, matters.NOT_FLOWN)
    flying = kind == "still-flying"
    assert str(own.group) == ("B" if flying else "C")
    told_by = of_kind(results, matters.STILL_FLYING) if flying else [own.why]
    assert "Eve Observer" in said(told_by[0])


def test_a_mark_that_comes_in_later_ends_still_flying():
    marks = MARKS + "1,3,none,,K\n1,4,tape,1 m,K\n"
    results = scored(tiny_flight(marks=marks, reports=f"{REPORTS}1,4,still-flying,E\n"))
    assert results.task(1).score_of(4).rank == 1
    assert not of_kind(results, matters.STILL_FLYING)


def test_who_flew_and_has_no_mark_is_missing_too():
    marks = MARKS + "1,3,none,,K\n1,4,none,,K\n2,1,tape,1 m,K\n"
    results = scored(tiny_flight(tasks=FIN + SECOND, marks=marks))
    assert results.task(1).missing == ()
    assert results.task(2).missing == (2, 3, 4)


@pytest.mark.parametrize(
    ("kind", "roster"),
    [
        ("same-name", "number,name\n1,Bo Ek\n2,bo  ek\n"),
        ("same-name", "number,name\n1,Žofie Ek\n2,EK Zofie\n"),
        ("same-registration", "number,name,registration\n1,A,X-AB\n2,B,x-ab\n"),
        ("same-registration", "number,name,registration\n1,A,X-AB\n2,B,XAB\n"),
        ("same-logger", "number,name,logger\n1,A,1A2\n2,B,1a2\n"),
    ],
)
def test_one_pilot_under_two_numbers_is_asked_about(kind, roster):
    results = scored(tiny_flight(marks=MARKS), pilots=roster)
    (matter,) = of_kind(results, matters.SAME_PERSON)
    assert matter.says.kind == kind
    assert matter.pilots == (1, 2)
    assert matter.holds_up


@pytest.mark.parametrize(
    ("names", "twins"),
    [
        (("Jon Smyth", "John Smith"), 1),
        (("Žofie Nováková", "Zofia Novakova"), 1),
        (("Ann Maria Ek", "Ek, Ann"), 1),
        (("A. Featherstone", "Featherstone, Ann"), 1),
        (("Jan van der Berg", "Jan Vanderberg"), 1),
        (("Ann Ek", "Dan Ek"), 0),
        (("Ann Featherstonehaugh", "Dan Featherstonehaugh"), 0),
        (("Ann Ek", "Bo Ek"), 0),
        (("Jon Smyth", "Jane Rowe"), 0),
        (("Pilot 1", "Pilot 2"), 0),
    ],
)
def test_names_spelt_nearly_alike_are_told_and_hold_nothing_up(names, twins):
    pilots = [Pilot(number=n, name=name) for n, name in enumerate(names, 1)]

    found = list(of_roster(pilots))

    assert [m.kind for m in found] == [matters.ALIKE_NAMES] * twins
    assert all(m.pilots == (1, 2) and not m.holds_up for m in found)


@pytest.mark.parametrize("column", ["registration", "logger"])
def test_a_person_s_name_beside_a_code_as_the_name_asks_whether_columns_are_exchanged(
    column,
):
    pilots = [
        Pilot(number=1, name="X-ABCD", **{column: "Ann Iso"}),
        Pilot(number=2, name="X-ABCE", **{column: "Bo van Ek"}),
        Pilot(number=3, name="MAX", **{column: "X-ABCF"}),
    ]

    (asked,) = of_roster(pilots)

    assert asked.kind is matters.COLUMNS_EXCHANGED
    assert asked.holds_up
    assert asked.pilots == (1, 2)
    assert f"2 pilots have a person’s name in the column {column}" in said(asked)


def test_registrations_as_loggers_ask_whether_columns_are_exchanged():
    pilots = [
        Pilot(number=1, name="Ann Iso", registration="4F7", logger="D-OABC"),
        Pilot(number=2, name="Bo Ek", registration="N1234", logger="4F8"),
        Pilot(number=3, name="Cy Rowe", registration="G-ABCD", logger="G-4F9"),
    ]

    (asked,) = of_roster(pilots)

    assert asked.says.kind == "codes-exchanged"
    assert asked.pilots == (1,)
    assert asked.holds_up


@pytest.mark.parametrize("column", ["class_name", "country"])
def test_classes_and_countries_exchanged_with_registrations_or_names_are_told(column):
    right = [
        Pilot(number=1, name="Ann Iso", registration="Z1-ABC", **{column: "New Sun"}),
        Pilot(number=2, name="Bo Ek", registration="Z1-ABD", **{column: "gold"}),
        Pilot(number=3, name="ROWE", registration="Z1-ABE", **{column: "Old Sun"}),
        Pilot(number=4, name="Di Alm", registration="Z1-ABF", **{column: "gold"}),
    ]
    assert list(of_roster(right)) == []

    coded = [
        replace(p, registration=getattr(p, column).split()[0], **{column: f"Z1-AB{k}"})
        for k, p in enumerate(right)
    ]
    (asked,) = (m for m in of_roster(coded) if m.kind is matters.COLUMNS_EXCHANGED)
    assert (asked.says.kind, asked.pilots) == ("codes-exchanged", (1, 2, 3, 4))

    one = replace(right[3], name="gold", **{column: "Di Alm"})
    (asked,) = of_roster([*right[:3], one])
    assert (asked.says.kind, asked.pilots) == ("columns-exchanged", (4,))


def as_read(name, letters):
    """Read the bytes of UTF-8 as other letters; bytes that mean none as they are."""
    each = [bytes([byte]) for byte in name.encode()]
    return "".join(
        b.decode(letters, "replace").replace("\ufffd", chr(b[0])) for b in each
    )


@pytest.mark.parametrize("letters", ["cp1252", "latin-1", "cp1251", "cp1250"])
@pytest.mark.parametrize("name", ["Björn Åke", "Łucja Żak", "Иван Ли", "Γιώτα Νέου"])
def test_names_whose_utf_8_was_read_as_other_letters_are_told(name, letters):
    read = as_read(name, letters)
    (asked,) = of_roster([Pilot(number=1, name=read), Pilot(number=2, name=name[::-1])])
    assert (asked.kind, asked.pilots) == (matters.LETTERS_MISREAD, (1,))
    assert asked.says.get("meant") == name


@pytest.mark.parametrize("name", ["Bj?rn Ek", "Bj\ufffdrn Ek"])
def test_names_that_lost_letters_are_told(name):
    (asked,) = of_roster([Pilot(number=3, name=name), Pilot(number=4, name="Who? Me")])
    assert (asked.says.kind, asked.pilots) == ("letters-lost", (3,))


@pytest.mark.parametrize(("pilots", "rosters"), [(10, 22), (100, 2), (275, 1)])
def test_twins_of_a_roster_are_told_and_few_others(pilots, rosters):
    lines, pairs, told, false = table(pilots, rosters)
    print(f"\n{rosters} rosters of {pilots} pilots", *lines, sep="\n")  # noqa: T201

    assert pairs >= 20
    assert told >= 0.9 * pairs
    assert false <= 0.05 * pilots * rosters


def test_marks_entered_once_are_remarked_on_where_others_were_entered_twice_only():
    once = scored(tiny_flight(tasks=FIN + SECOND, marks=MARKS + "2,1,tape,4 m,K\n"))

    for task in once.tasks:
        assert task.all_entered_once
        assert told.remarks(once.voice, task, task.score_of(1)) == ""


@pytest.mark.parametrize(
    ("entrants", "mixed"),
    [
        ([(48213, "12"), (50117, "7"), (50391, "3")], (48213, 50117, 50391)),
        ([(4821, "12"), (7, "5011"), (3, "5039")], (4821,)),
        ([(71234, "0012"), (7, "50117"), (3, "")], (71234,)),
        ([(101, "1"), (102, "2"), (103, "")], ()),
        ([(1001, "12"), (1002, "7"), (1003, "55")], ()),
        ([(12, "48213"), (48213, "48214"), (50000, "LG-7")], ()),
    ],
)
def test_serials_of_digits_as_numbers_ask_whether_columns_are_exchanged(
    entrants, mixed
):
    names = ("Ann Iso", "Bo Ek", "Cy Rowe")
    pilots = [
        Pilot(number=number, name=name, logger=logger)
        for name, (number, logger) in zip(names, entrants, strict=True)
    ]

    asked = [m for m in of_roster(pilots) if m.kind is matters.COLUMNS_EXCHANGED]

    assert [m.pilots for m in asked] == ([mixed] if mixed else [])
    for matter in asked:
        assert matter.holds_up
        assert f"number {mixed[0]} beside logger “{pilots[0].logger}”" in said(matter)


def test_what_only_one_person_entered_is_told_in_line_remark_and_step():
    both = MARKS + "1,2,tape,5 m,L\n"
    done = scored(tiny_flight(tasks=FIN + SECOND, marks=both))
    task = done.tasks[0]
    one, two = (told.remarks(done.voice, task, task.score_of(n)) for n in (1, 2))
    line = told.formula_line(done.voice, task)
    step = done.voice.say(task.score_of(1).steps[0])

    assert one == "entered by one person only"
    assert two == ""
    assert line.endswith("; 1 of 2 marks entered by one person only")
    assert step.startswith("entered by one person only: ")
    assert '"state":"once"' in to_json(done).replace(" ", "")


def test_a_mark_that_nobody_entered_is_not_called_two_that_differ():
    both = HEAD + "1,1,tape,3 m,K\n1,1,tape,4 m,L\n"
    done = scored(tiny_flight(tasks=FIN + SECOND, marks=both))
    first, second = (told.remarks(done.voice, t, t.score_of(1)) for t in done.tasks)
    assert first == "not settled: the entries differ"
    assert second.startswith("not settled; ")
