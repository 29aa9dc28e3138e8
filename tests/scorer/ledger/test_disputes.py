"""Complaints, protests, outcomes and notes go to a folder and come back whole."""

import tempfile
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.errors import InputError
from scorer.event.columns import COMPLAINTS, NOTES
from scorer.event.folder import read_folder, write_folder
from scorer.event.model import Level
from scorer.event.raw import RawRow
from scorer.ledger import api
from scorer.ledger.acts import (
    ComplaintDecided,
    ComplaintFiled,
    NoteMade,
    Verdict,
    to_payload,
)
from scorer.ledger.convert import to_drafts
from scorer.ledger.corrections import with_number
from scorer.ledger.event_commands import left_behind
from scorer.ledger.filing import answering
from scorer.ledger.gate import read_act
from scorer.ledger.merge import merge_into
from tests.helpers import said
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    Watch,
    create,
    open_at,
    row,
    small_event,
)

TEXT = (
    st.text(st.characters(codec="utf-8", exclude_characters="\0"), min_size=1)
    .map(str.strip)
    .filter(bool)
)
MAYBE = st.one_of(st.just(""), TEXT)
TIME = st.one_of(
    st.just(""),
    st.datetimes(datetime(2000, 1, 1), datetime(2099, 1, 1))  # noqa: DTZ001
    .filter(lambda moment: moment.hour > 3)  # no clock changes then
    .map(lambda moment: moment.isoformat(sep=" ", timespec="minutes")),
)


@st.composite
def complaints(draw):
    """Draw rows as people fill them in, numbered in order or not at all."""
    rows = []
    numbers = draw(st.lists(st.integers(1, 99), max_size=4, unique=True))
    for place, number in enumerate(numbers):
        kind = draw(st.sampled_from(["complaint", "protest"]))
        above = ["", *map(str, numbers[:place])]
        cells = {
            "task": draw(st.sampled_from(["", "1"])),
            "pilot": draw(st.sampled_from(["1", "2"])),
            "number": str(number),
            "kind": kind,
            "against": draw(st.sampled_from(above)) if kind == "protest" else "",
            "text": draw(TEXT),
            "by": draw(MAYBE),
            "at": draw(TIME),
            "note": draw(MAYBE),
            "steward": draw(MAYBE),  # a column of their own
        }
        if draw(st.booleans()):
            cells |= {
                "outcome": str(draw(st.sampled_from(Verdict))),
                "reason": draw(MAYBE),
                "decided_by": draw(MAYBE),
                "decided_at": draw(TIME),
            }
        rows.append(RawRow(fields=cells))
    return tuple(rows)


@st.composite
def notes(draw):
    """Draw rows of notes.csv."""
    cells = st.fixed_dictionaries({"at": TIME, "text": TEXT, "by": MAYBE})
    return tuple(RawRow(fields=c) for c in draw(st.lists(cells, max_size=3)))


def given_cells(rows):
    return [{name: cell for name, cell in r.fields.items() if cell} for r in rows]


def bring_in(folder, target, **more):
    return api.import_folder(
        folder, target, desk=HALL, who="ann", clock=Watch(), **more
    )


@settings(max_examples=15)
@given(complaints(), notes())
def test_rows_come_back_from_folder_to_ledger_to_folder(filed, noted):
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        raw = replace(small_event(), complaints=filed, notes=noted)
        write_folder(raw, place / "folder")
        bring_in(place / "folder", place / "e")
        api.export_folder(place / "e", place / "again")
        again = read_folder(place / "again")
        count = bring_in(place / "again", place / "e", into=True)

    assert given_cells(again.complaints) == given_cells(filed)
    assert given_cells(again.notes) == given_cells(noted)
    assert count == 0


@pytest.fixture
def ledger(tmp_path):
    with create(tmp_path / "e") as made:
        made.record_all(to_drafts(small_event()))
        yield made


def dispute(ledger):
    """A complaint, rejected, and a protest against that, open."""
    filed = ledger.record(
        ComplaintFiled(pilot=2, text="mine was nearer", task=1), why="by radio"
    )
    act = ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED)
    ledger.record(act, why="taped twice", who="ida")
    protest = ComplaintFiled(
        pilot=2, text="slack, “very”", task=1, level=Level.PROTEST, against=filed.id
    )
    ledger.record(protest)
    ledger.record(NoteMade(text="# wind 240°, 4 kt"))


def test_what_was_entered_at_a_desk_is_exported_with_who_and_when(ledger, tmp_path):
    dispute(ledger)
    ledger.close()
    api.export_folder(tmp_path / "e", tmp_path / "out")
    raw = read_folder(tmp_path / "out")

    first, second = given_cells(raw.complaints)
    # The desk's clock starts at 06:00 UTC, 08:00 in Berlin; each reading adds a second.
    assert first.pop("at").startswith("2026-09-12 08:00:")
    assert first.pop("decided_at").endswith("+02:00")
    assert first == {
        "task": "1",
        "pilot": "2",
        "number": "1",
        "kind": "complaint",
        "text": "mine was nearer",
        "by": "ann",
        "note": "by radio",
        "outcome": "rejected",
        "reason": "taped twice",
        "decided_by": "ida",
    }
    assert (second["kind"], second["against"]) == ("protest", "1")
    assert given_cells(raw.notes)[0]["text"] == "# wind 240°, 4 kt"


def test_an_exported_dispute_lives_on_in_a_new_event_file(ledger, tmp_path):
    dispute(ledger)
    ledger.close()
    api.export_folder(tmp_path / "e", tmp_path / "out")
    bring_in(tmp_path / "out", tmp_path / "new")
    api.export_folder(tmp_path / "new", tmp_path / "again")

    with open_at(tmp_path / "new") as new:
        first, second = new.state().complaints
    assert (first.filed_by, first.decided_by, first.reason) == (
        "ann",
        "ida",
        "taped twice",
    )
    assert (second.level, second.against, second.is_open) == ("protest", first, True)
    for name in ("complaints.csv", "notes.csv"):
        texts = [(tmp_path / f / name).read_bytes() for f in ("out", "again")]
        assert texts[0] == texts[1]


def test_an_archive_holds_complaints_as_a_table_too(ledger, tmp_path):
    dispute(ledger)
    ledger.close()
    api.archive(tmp_path / "e", tmp_path / "e.zip")
    api.restore(tmp_path / "e.zip", tmp_path / "again")

    with open_at(tmp_path / "again") as again:
        assert len(again.state().complaints) == 2


def test_a_folder_of_the_event_itself_adds_nothing_to_it(ledger, tmp_path):
    dispute(ledger)
    ledger.close()
    api.export_folder(tmp_path / "e", tmp_path / "out")

    assert bring_in(tmp_path / "out", tmp_path / "e", into=True) == 0


def test_an_answer_written_into_the_folder_is_taken_over(ledger, tmp_path):
    ledger.record(ComplaintFiled(pilot=2, text="mine was nearer", task=1))
    ledger.close()
    api.export_folder(tmp_path / "e", tmp_path / "out")
    path = tmp_path / "out/complaints.csv"
    (one,) = read_folder(tmp_path / "out").complaints
    answered = {
        **one.fields,
        "outcome": "upheld",
        "reason": "seen",
        "decided_by": "Ida",
    }
    lines = [",".join(answered), ",".join(answered.values()), ""]
    path.write_text("\n".join(lines), encoding="utf-8")

    assert bring_in(tmp_path / "out", tmp_path / "e", into=True) == 1
    with open_at(tmp_path / "e") as again:
        (complaint,) = again.state().complaints
    assert (complaint.decided.verdict, complaint.decided_by) == ("upheld", "Ida")


def test_answers_that_differ_are_listed_and_none_counts(ledger, tmp_path):
    dispute(ledger)
    ledger.close()
    api.export_folder(tmp_path / "e", tmp_path / "out")
    path = tmp_path / "out/complaints.csv"
    text = path.read_text(encoding="utf-8").replace("rejected", "upheld")
    path.write_text(text, encoding="utf-8")
    bring_in(tmp_path / "out", tmp_path / "e", into=True)

    with open_at(tmp_path / "e") as again:
        state = again.state()
    assert state.complaints[0].is_open
    assert "the answer to a complaint" in said(state.conflicts[0])


def test_numbers_given_are_kept_and_others_keep_clear_of_them(ledger):
    rows = (
        row(2, pilot="1", text="a"),
        row(3, pilot="2", text="b", number="1"),
        row(4, pilot="2", text="c"),
    )
    raw = replace(small_event(), complaints=rows)
    drafts = [d for d in to_drafts(raw) if isinstance(d.act, ComplaintFiled)]
    ledger.record_all(drafts)

    assert [c.number for c in ledger.state().complaints] == [2, 1, 3]


def test_faulty_rows_never_become_entries():
    raw = replace(small_event(), complaints=(row(2, pilot="1", text=""),))

    with pytest.raises(InputError, match="what the pilot says"):
        to_drafts(raw)


def test_a_pilot_with_another_number_keeps_complaint_answer_and_protest(
    ledger, tmp_path
):
    """The entry with the new number is another one than the answer names."""
    dispute(ledger)
    before = ledger.state().complaints
    (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
    ledger.record_all(with_number(ledger.state(), 2, 22, "typed wrongly"))
    with open_at(tmp_path / "copy", FIELD) as field:  # has not heard of it
        (_, open_one) = field.state().complaints
        field.record_all(
            [answering(field.state(), open_one, Verdict.UPHELD, "seen on the photo")]
        )
        merge_into(ledger.store, [field.store])

    complaint, protest = ledger.state().complaints
    assert (complaint.act.pilot, protest.act.pilot) == (22, 22)
    for own, was in ((complaint, before[0]), (protest, before[1])):
        told = ("filed_by", "filed_at", "note", "number")
        assert [getattr(own, name) for name in told] == [
            getattr(was, name) for name in told
        ]
    assert (complaint.reason, protest.reason) == ("taped twice", "seen on the photo")
    assert protest.against == complaint


def test_an_answer_takes_the_place_of_all_that_stand_or_clash(ledger, tmp_path):
    dispute(ledger)
    (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
    with open_at(tmp_path / "copy", FIELD) as field:
        for desk, verdict in ((ledger, Verdict.UPHELD), (field, Verdict.REJECTED)):
            own = desk.state().complaints[1]
            desk.record_all([answering(desk.state(), own, verdict, "heard")])
        merge_into(ledger.store, [field.store])
    first, clashing = ledger.state().complaints
    assert clashing.is_open
    assert len(ledger.state().conflicts) == 1

    for own, verdict in ((first, Verdict.UPHELD), (clashing, Verdict.REJECTED)):
        drafts = [answering(ledger.state(), own, verdict, "the jury")]
        ledger.record_all(drafts)
    found = ledger.state()
    assert found.conflicts == ()
    verdicts = [own.decided.verdict for own in found.complaints]
    assert verdicts == [Verdict.UPHELD, Verdict.REJECTED]
    assert {own.reason for own in found.complaints} == {"the jury"}


def test_a_batch_that_fails_leaves_neither_complaint_nor_answer(ledger, monkeypatch):
    cells = {"pilot": "1", "text": "a", "outcome": "upheld", "reason": "bro\0ken"}
    raw = replace(small_event(), complaints=(RawRow(fields=cells),))
    drafts = [
        d
        for d in to_drafts(raw)
        if isinstance(d.act, ComplaintFiled | ComplaintDecided)
    ]
    with pytest.raises(api.LedgerError, match="broken character"):
        ledger.record_all(drafts)

    assert ledger.state().complaints == ()


def test_acts_without_the_later_fields_are_written_as_they_always_were():
    """Payload as of format 1, before complaints had a level."""
    old = '{"pilot":2,"text":"mine was nearer","task":1,"publication":""}'
    act = ComplaintFiled(pilot=2, text="mine was nearer", task=1)

    assert to_payload(act) == old
    assert read_act("complaint", old) == act
    assert act.level is Level.COMPLAINT
    protest = replace(act, level=Level.PROTEST, extra={"note": "late"})
    assert read_act("complaint", to_payload(protest)) == protest


HOUR_S = 3600.0


def test_the_protest_period_runs_from_the_outcome(ledger):
    dispute(ledger)
    first, second = ledger.state().complaints

    assert first.protest_end(HOUR_S) == first.outcome.when + timedelta(hours=1)
    assert first.protest_end(None) is None
    assert second.protest_end(HOUR_S) is None  # open, and no protest against a protest


def test_an_imported_outcome_starts_the_period_at_its_own_time(ledger):
    cells = row(
        2,
        pilot="1",
        text="a",
        outcome="rejected",
        reason="b",
        decided_at="2026-09-11 21:00",
    )
    raw = replace(small_event(), complaints=(cells,))
    ledger.record_all(
        [
            d
            for d in to_drafts(raw)
            if isinstance(d.act, ComplaintFiled | ComplaintDecided)
        ]
    )
    (complaint,) = ledger.state().complaints

    # 21:00 in Berlin in September is 19:00 UTC
    assert complaint.protest_end(HOUR_S) == datetime(2026, 9, 11, 20, tzinfo=UTC)


def test_nobody_protests_against_what_was_taken_back(ledger):
    filed = ledger.record(ComplaintFiled(pilot=2, text="x"))
    act = ComplaintDecided(complaint=filed.id, verdict=Verdict.TAKEN_BACK)
    ledger.record(act, why="slip")

    assert ledger.state().complaints[0].protest_end(HOUR_S) is None


def test_what_a_folder_leaves_behind_is_counted(ledger):
    (mark,) = ledger.state().keyings("1", "1", "1")
    ledger.record(mark.act, replaces=mark.ids, why="again")

    assert "0 publications" in said(left_behind(ledger.state()))
    assert "and 1 entry that was replaced" in said(left_behind(ledger.state()))


def test_desks_that_filed_apart_keep_both(ledger, tmp_path):
    (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
    ledger.record(ComplaintFiled(pilot=1, text="a"))
    with open_at(tmp_path / "copy", FIELD) as field:
        field.record(ComplaintFiled(pilot=2, text="b"))
    ledger.close()
    api.merge_files([tmp_path / "copy"], tmp_path / "e")

    with open_at(tmp_path / "e") as both:
        found = both.state().complaints
    assert [c.number for c in found] == [1, 2]
    assert {c.act.text for c in found} == {"a", "b"}


def test_every_column_of_the_files_is_written(ledger):
    dispute(ledger)
    state = ledger.state()

    assert tuple(state.complaints[0].row.fields) == COMPLAINTS.names
    assert tuple(state.note_rows[0].fields) == NOTES.names


@pytest.mark.parametrize(
    ("decided", "ends"),
    [
        # Clocks of Berlin change on 29 March and 25 October 2026 (Directive 2000/84/EC).
        ("2026-03-29 01:30", "2026-03-29T02:30:00+00:00"),
        ("2026-10-25 01:30", "2026-10-25T01:30:00+00:00"),
        ("2026-10-25 02:30 second", "2026-10-25T03:30:00+00:00"),
    ],
)
def test_a_protest_period_of_two_hours_has_two_hours(decided, ends, tmp_path):
    """An imported outcome on the night of a clock change."""
    cells = row(
        pilot="7", text="x", kind="complaint", outcome="rejected", decided_at=decided
    )
    base = small_event()
    settings = {
        **base.settings,
        "event": {**base.settings["event"], "time_zone": "Europe/Berlin"},
    }
    raw = replace(base, settings=settings, complaints=(cells,))
    with create(tmp_path / "event.sandtail") as ledger:
        ledger.record_all(to_drafts(raw, "import"))
        (complaint,) = ledger.state().complaints

    assert complaint.protest_end(7200.0).isoformat() == ends
