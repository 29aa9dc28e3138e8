"""What is printed: read back by pypdf, which shares nothing with the writer."""

import io

import pytest

from scorer.errors import InputError
from scorer.sheets import typeface
from scorer.sheets.board import write_board
from scorer.sheets.forms import write_field_form
from scorer.sheets.slips import write_slips
from scorer.sheets.task_sheet import write_task_sheet
from tests.scorer.sheets import meet

pypdf = pytest.importorskip("pypdf", reason="nothing else reads the PDFs back")
AT = "2026-09-12T04:00:00Z"


def read(data):
    return pypdf.PdfReader(io.BytesIO(data))


def words(page):
    return " ".join(page.extract_text().split())


def whole(data):
    return " ".join(words(page) for page in read(data).pages)


@pytest.fixture(scope="module")
def board(results, event, stamp):
    return write_board(results, event, stamp)


@pytest.fixture(scope="module")
def slips(results, event, stamp, tracks):
    return write_slips(results, event, stamp, tracks)


@pytest.fixture(scope="module")
def documents(board, slips, event):
    return {
        "board": board,
        "slips": slips,
        "form": write_field_form(event, 1, printed_at=AT),
        "task sheet": write_task_sheet(event, meet.MORNING, printed_at=AT),
    }


def test_board_has_standings_and_every_task_with_score_and_place(board, results):
    text = [words(page) for page in read(board).pages]
    assert "Standings" in text[0]
    for row in results.standings.rows[:5]:
        assert str(row.total) in text[0]
    for task in results.tasks:
        assert any(f"Task {task.task} · " in page for page in text)
    cancelled = next(page for page in text if "Task 6 · " in page)
    assert "This task is cancelled" in cancelled


def test_every_page_of_results_states_event_state_time_and_hash(board, slips, stamp):
    for data in (board, slips):
        for page in read(data).pages:
            text = words(page)
            assert 'Meridian Vale & "Sons" <Meet>' in text
            assert "Provisional, version 3" in text
            assert "Published 2026-09-12 12:05 CEST" in text
            assert stamp.short_hash in text


def test_board_states_times_rules_caution_and_has_a_line_to_sign(board, stamp):
    text = words(read(board).pages[0])
    for fact in (
        "Complaints until 2026-09-12 18:00 CEST",
        "Rules Festival & <target> rules",
        stamp.results_sha256,
        "not for navigation",
        "Competition director",
        "Place, date and time put up",
        "Changed: Task 1, pilot 7",
    ):
        assert fact in text


def test_board_can_be_put_up_for_single_tasks(results, event, stamp):
    text = whole(write_board(results, event, stamp, tasks={2}, standings=False))
    assert "Task 2 · Elbow (ELB)" in text
    assert "Standings" not in text
    assert "Task 1 ·" not in text


def test_slip_answers_why_with_place_time_limit_rule_ruling_and_sum(
    results, event, stamp, tracks
):
    text = whole(write_slips(results, event, stamp, tracks, pilots={1}))
    for answer in (
        "Under the minimum height (certain)",
        "07:25:01 to 07:25:32, 31 s",
        "18.4 m ± 0.7 m",
        "Limit 22.9 m",
        "Sure certain, over 99 %",
        "minimum height above the ground: 22.9 m",
        "confirmed, by M. Oake",
        "Track and witness agree <sure>",
        "15 task points",
        "292 − 15 = 277",
        "Sum: 277 + 1000 + 458 + 375 + 500 = 2610 · place 10 of 24",
        "m above the ground; the band holds two cases of three",
    ):
        assert answer in text


def test_slip_names_imposed_waived_and_open_decisions(results, event, stamp, tracks):
    def slip(number):
        return whole(write_slips(results, event, stamp, tracks, pilots={number}))

    assert "40 task points; added, by M. Oake" in slip(3)
    assert "waived, by M. Oake" in slip(2)
    assert "not yet decided" in slip(8)
    assert "no mark was found" in slip(20)


def test_every_pilot_gets_a_slip_of_his_own(slips, event):
    outline = [entry.title for entry in read(slips).outline]
    assert outline == [f"{p.number} · {p.name}" for p in event.pilots]


def test_a_slip_without_log_says_so(results, event, stamp):
    text = whole(write_slips(results, event, stamp, {}, pilots={8}))
    assert "22.1 m ± 0.7 m" in text
    assert "the band holds" not in text


def test_field_form_lists_pilots_by_number_with_room_to_write(event, imperial_event):
    text = whole(write_field_form(event, 1, printed_at=AT))
    places = [text.index(f" D-O{p.number:03d}") for p in event.pilots]
    assert places == sorted(places)
    assert "Second reading" in text
    assert "metres and centimetres" in text
    assert "feet and inches" in whole(write_field_form(imperial_event, 1))


def test_field_form_of_a_triangle_has_a_line_for_each_mark(event):
    page = words(read(write_field_form(event, 2)).pages[0])
    assert "1 Tomas Rill 1 D-O001 A 1 B 1 C" in page


def test_task_sheet_gives_targets_times_limits_and_cautions(event):
    text = whole(write_task_sheet(event, meet.MORNING, printed_at=AT))
    for fact in (
        "Task 1 · Fly in (FIN)",
        "Task 2 · Elbow (ELB)",
        "Launch period 07:00 to 07:45",
        "Scoring period 07:15 to 09:30",
        "48.00000°, 11.00000°",
        "1021 hPa",
        "At least 22.9 m above the ground inside field, until inside the scoring area",
        "The event has not said: time for complaints after official results.",
        "Not for navigation",
        "Low flight near people",
    ):
        assert fact in text


def test_forms_refuse_tasks_and_flights_that_do_not_exist(event):
    with pytest.raises(
        InputError, match="found 77; allowed: a task of the event: 1, 2"
    ):
        write_field_form(event, 77)
    with pytest.raises(InputError, match="2026-09-13-am"):
        write_task_sheet(event, "noon")


def test_names_survive_on_paper(slips):
    text = whole(slips)
    for name in (
        "<b>Bold</b>",
        "=1+1",
        "+4917 Ada",
        "@At Ada",
        "Łukasz Żółć",
        "Елена",
        "王小明",
        "김민수",
        "🎈",
    ):
        assert name in text


def test_right_to_left_names_are_drawn_joined_and_from_the_right():
    """Expected forms: Unicode Standard, Arabic Presentation Forms-B chart."""
    drawn = "".join(piece for _, piece in typeface.runs("سلم"))
    assert drawn == "\ufee2\ufee0\ufeb3"  # meem final, lam medial, seen initial
    assert typeface.visual("שרה") == "הרש"
    assert typeface.visual("2 · שרה · D-O1") == "2 · הרש · D-O1"


def test_a_sign_no_font_has_prints_as_a_frame():
    assert typeface.runs("ꙮ𓀀") == (("SheetBook", "ꙮ□"),) or "□" in "".join(
        piece for _, piece in typeface.runs("𓀀")
    )


def test_all_fonts_are_embedded(documents):
    for name, data in documents.items():
        for page in read(data).pages:
            for font in page["/Resources"]["/Font"].values():
                descriptor = font.get_object()["/FontDescriptor"].get_object()
                assert "/FontFile2" in descriptor, (name, descriptor["/FontName"])


def test_nothing_runs_off_the_page(documents):
    for data in documents.values():
        for page in read(data).pages:
            width, height = float(page.mediabox.width), float(page.mediabox.height)
            seen = []
            page.extract_text(
                visitor_text=lambda text, _cm, tm, _font, _size, seen=seen: seen.append(
                    (text, tm)
                )
            )
            for text, tm in seen:
                if text.strip():
                    assert 0 <= tm[4] <= width, text
                    assert -height <= tm[5] <= height, text


def test_the_same_input_gives_the_same_bytes(documents, event, stamp, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1")
    results, tracks = meet.results(), meet.tracks()
    assert write_board(results, meet.event(), stamp) == documents["board"]
    assert write_slips(results, meet.event(), stamp, tracks) == documents["slips"]
    assert write_field_form(event, 1, printed_at=AT) == documents["form"]
    assert (
        write_task_sheet(event, meet.MORNING, printed_at=AT) == documents["task sheet"]
    )


def test_document_dates_are_those_of_the_publication(board):
    assert read(board).metadata["/CreationDate"].startswith("D:20260912100500")


def test_long_text_is_cut_or_wrapped_to_its_room():
    room = 100.0
    cut = typeface.fitted(meet.LONG_NAME, room, 9)
    assert cut.endswith("…")
    assert typeface.width(cut, 9) <= room
    for line in typeface.wrapped(meet.LONG_NAME + " " + "x" * 80, room, 9):
        assert typeface.width(line, 9) <= room
