"""What is printed: read back by pypdf and poppler, which share nothing with the writer.

Structure is checked by hand against what PDF/UA-1 (ISO 14289-1) asks for: tagged content
with a structure tree, a language, a title that is shown, alternative texts of figures,
heads of tables, headings that skip no level, embedded fonts, and the mark that says so.
"""

import io
import re
import shutil
import subprocess
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from scorer.errors import InputError, ScorerError
from scorer.event import rulebook as rules
from scorer.event.model import TargetEvent, TargetLine
from scorer.ledger.head import read_head
from scorer.sheets import typeset
from scorer.sheets.awards import write_awards
from scorer.sheets.board import board_setting
from scorer.sheets.forms import write_field_form
from scorer.sheets.issue import changed, lines_of
from scorer.sheets.sheet import clean
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import Binding, TaskStage
from scorer.sheets.task_sheet import task_sheet, write_task_sheet
from scorer.sheets.typeset import Paper, PrintWish, signs_not_printed
from scorer.words.voice import Voice
from tests.scorer.sheets import meet

pypdf = pytest.importorskip("pypdf", reason="nothing else reads the PDFs back")
AT = "2026-09-12T04:00:00Z"
POPPLER = pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="poppler's pdftotext is not installed"
)
WORD = re.compile(
    r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">([^<]*)<'
)
PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', re.DOTALL)
SIDE_PT, FOOT_PT = 12 / 25.4 * 72, 5.0
"""Margin of our sheets left and right; nothing is printed nearer to the upper edge."""


@cache
def read(data):
    return pypdf.PdfReader(io.BytesIO(data))


@cache
def texts(data):
    """The text of each page."""
    return tuple(words(page) for page in read(data).pages)


def words(page):
    return " ".join(page.extract_text().replace("\u200b", "").split())


def whole(data):
    return " ".join(texts(data))


def boxes(data, tmp_path):
    """Every word of every page with its box, and the page's size, as poppler finds them."""
    path = tmp_path / "sheet.pdf"
    path.write_bytes(data)
    found = subprocess.run(
        ["pdftotext", "-bbox", str(path), "-"],
        capture_output=True,
        check=True,
        text=True,
    ).stdout
    for width, height, inner in PAGE.findall(found):
        placed = [(*map(float, w[:4]), w[4]) for w in WORD.findall(inner)]
        yield float(width), float(height), placed


def many_tasks(pilots, tasks):
    """The invented meet with its five tasks flown again and again."""
    results, event = meet.results(pilots), meet.event(pilots)
    flown = [t for t in results.tasks if t.state == "flown"]
    again = tuple(replace(flown[n % 5], task=n + 1) for n in range(tasks))
    rows = tuple(
        replace(
            row,
            counted=(),
            tasks={t.task: t.score_of(row.pilot).score for t in again},
        )
        for row in results.standings.rows
    )
    standings = replace(results.standings, rows=rows)
    return replace(results, tasks=again, standings=standings, class_standings=()), event


@pytest.fixture(scope="module")
def board(results, event, stamp):
    return board_setting(results, event, stamp).pdf()


@pytest.fixture(scope="module")
def slips(results, event, stamp, tracks):
    return slips_setting(results, event, stamp, tracks).pdf()


@pytest.fixture(scope="module")
def documents(board, slips, results, event, stamp):
    return {
        "board": board,
        "slips": slips,
        "form": write_field_form(event, 1, printed_at=AT),
        "blank form": write_field_form(event, 1, printed_at=AT, blank=True),
        "task sheet": write_task_sheet(event, meet.MORNING, printed_at=AT),
        "awards": write_awards(results, event, stamp),
    }


# What they say.


def test_board_has_standings_and_every_task_with_score_and_place(board, results):
    text = texts(board)
    assert "Standings" in text[0]
    for row in results.standings.rows[:5]:
        assert str(row.total) in text[0]
    for task in results.tasks:
        assert any(f"Task {task.task} · " in page for page in text)
    cancelled = next(page for page in text if "Task 6 · " in page)
    assert "This task is cancelled" in cancelled


def test_every_page_of_results_states_event_state_time_and_hash(board, slips, stamp):
    for data in (board, slips):
        for text in texts(data):
            assert 'Meridian Vale & "Sons" <Meet>' in text
            assert "Provisional, version 3" in text or "cancelled" in text
            assert "Published 2026-09-12 12:05 CEST" in text
            assert f"Results SHA-256 {stamp.short_hash}" in text
            assert "not for navigation" in text


def test_boards_and_slips_say_what_the_ledger_can_be_held_against(board, slips, stamp):
    """The head stands there to be read, and as a square code to be scanned."""
    for data in (board, slips):
        text = read(data).pages[0].extract_text().split("Entries and results", 1)[1]
        printed = re.match(r"[0-9a-f:+\s\u200b]+", text.lstrip(": "))[0]
        assert read_head(printed) == read_head(stamp.head)
        told = [str(n["/Alt"]) for n, _ in elements(data) if n["/S"] == "/Figure"]
        assert told.count(stamp.head_code) > 1


def test_board_states_times_rules_and_has_a_line_to_sign_on_its_first_page(
    board, stamp
):
    text = words(read(board).pages[0])
    for fact in (
        "Complaints until 2026-09-12 18:00 CEST",
        "Rules Festival & <target> rules",
        stamp.results_sha256,
        "Competition director",
        "Place, date and time put up",
        "Changes",
        "Task 1, pilot 7: result 31.20 m to 29.87 m",
        "Task 1: Fly in · Task 2: Elbow",
        "A dash: not entered in this task; it adds nothing.",
    ):
        assert fact in text


def test_board_gives_the_cause_of_each_penalty(board):
    text = whole(board)
    assert "flying under the minimum height" in text
    assert "Marker thrown with motion" in text


def test_typst_starts_no_more_threads_than_there_are(
    results, event, stamp, monkeypatch
):
    """It ended all, with pages of its own, where it could not start one for each core."""
    monkeypatch.setattr(typeset, "_with_threads", typeset._with_threads.__wrapped__)
    monkeypatch.setenv("RAYON_NUM_THREADS", "")
    del typeset.os.environ["RAYON_NUM_THREADS"]
    monkeypatch.setattr(typeset, "free_threads", lambda wanted: wanted - 1)
    monkeypatch.setattr(typeset.os, "cpu_count", lambda: 3)
    typeset._with_threads()
    assert typeset.os.environ["RAYON_NUM_THREADS"] == "2"
    monkeypatch.setattr(typeset.os, "cpu_count", lambda: 1)
    with pytest.raises(ScorerError, match="starts no more threads"):
        board_setting(results, event, stamp).pdf()


def test_board_can_be_put_up_for_single_tasks(results, event, stamp):
    text = whole(board_setting(results, event, stamp, tasks={2}, standings=False).pdf())
    assert "Task 2 · Elbow (ELB)" in text
    assert "Standings" not in text
    assert "Task 1 ·" not in text


def test_standings_of_thirty_tasks_show_every_score():
    results, event = many_tasks(24, 30)
    data = board_setting(results, event, meet.STAMP, tasks=()).pdf()
    page = read(data).pages[0]
    assert page.mediabox.width > page.mediabox.height
    text = words(page)
    for row in results.standings.rows[3:6]:
        scores = " ".join(str(row.tasks[task.task]) for task in results.tasks)
        assert scores in text


def test_slip_answers_why_with_place_time_limit_rule_decision_and_sum(
    results, event, stamp, tracks
):
    text = whole(slips_setting(results, event, stamp, tracks, pilots={1}).pdf())
    for answer in (
        "Under the minimum height (certain)",
        "07:25:01 to 07:25:32, 31 s",
        "18.4 m ± 0.7 m",
        "22.9 m",
        "over 99 %",
        "minimum height above the ground",
        "by M. Oake",
        "Track and witness agree <sure>",
        "15 task points",
        "rank 18, score 292 − 15 = 277",
        "Sum: 277 + 1000 + 458 + 375 + 500 = 2610 · place 10 of 24",
        "of 12 Sep",
    ):
        assert answer in text


def test_slip_names_added_waived_and_open_decisions(results, event, stamp, tracks):
    def slip(number):
        return whole(
            slips_setting(results, event, stamp, tracks, pilots={number}).pdf()
        )

    assert "40 task points" in slip(3)
    assert "added" in slip(3)
    assert "waived, by M. Oake" in slip(2)
    assert "not yet decided" in slip(8)
    assert "no mark was found" in slip(20)


def test_a_faint_suspicion_is_no_headline(results, event, stamp, tracks):
    faint = tuple(
        replace(ruled, finding=replace(ruled.finding, probability=0.05))
        if ruled.finding.verdict == "possible"
        else ruled
        for ruled in results.findings
    )
    data = slips_setting(
        replace(results, findings=faint), event, stamp, tracks, pilots={8}
    ).pdf()
    assert "(possible, 5 %)" in whole(data)
    assert not any("possible" in title for title, _ in headings(data))


def test_every_pilot_has_a_slip_and_short_ones_share_a_page(
    slips, results, event, stamp
):
    titles = [title for title, level in headings(slips) if level == 1]
    assert titles == [f"{p.number} · {p.name}" for p in event.pilots]
    one_task = replace(results, tasks=results.tasks[1:2], findings=())
    short = read(slips_setting(one_task, event, stamp, {}).pdf())
    assert len(short.pages) <= (len(event.pilots) + 1) // 2


def test_slips_of_three_tasks_share_a_sheet(results, event, stamp):
    three = replace(results, tasks=results.tasks[:3], findings=())
    pages = texts(slips_setting(three, event, stamp, {}).pdf())
    assert len(pages) <= len(event.pilots) * 0.6
    assert " ".join(pages).count(f"Event: {clean(event.name)}") == len(event.pilots)


def test_what_a_task_came_to_stands_together_on_a_page():
    many, own = many_tasks(24, 21)
    for page in texts(slips_setting(many, own, meet.STAMP, {}, pilots={1, 4}).pdf()):
        headings_ = re.findall(r"Task \d+ · [\w ]+ \(", page)
        assert headings_
        assert len(headings_) == len(re.findall(r"rank \d+ gives", page))


def test_what_is_seen_of_an_infringement_stands_together_on_a_page(results, event):
    for count in (3, 4, 5):
        seen = [f for f in results.findings if f.finding.pilot == 1][:1] * count
        own = replace(results, findings=tuple(seen))
        pages = texts(slips_setting(own, event, meet.STAMP, {}, pilots={1}).pdf())
        begun = [len(re.findall(r"Sure (?:certain|possible)", page)) for page in pages]
        ended = [len(re.findall(r"Evidence logs/", page)) for page in pages]
        assert begun == ended
        assert sum(begun) == count


def test_a_task_says_its_state_where_it_is_another_than_the_slips(results, event):
    """What stands above for all is not said again."""
    alike = whole(slips_setting(results, event, meet.STAMP, {}, pilots={1}).pdf())
    assert alike.count("Provisional, version 3") == 1
    above = TaskStage(task=2, state=Binding.OFFICIAL, version=1)
    stamp = replace(meet.STAMP, tasks=(above,))
    differs = whole(slips_setting(results, event, stamp, {}, pilots={1}).pdf())
    assert differs.count("Official, version 1 · Flight") == 1


def test_a_slip_without_log_says_so(results, event, stamp):
    data = slips_setting(results, event, stamp, {}, pilots={8}).pdf()
    assert "22.1 m ± 0.7 m" in whole(data)
    told = [str(n["/Alt"]) for n, _ in elements(data) if n["/S"] == "/Figure"]
    assert not any("height above the ground from" in alt for alt in told)


def test_field_form_lists_pilots_by_number_with_room_to_write(event, imperial_event):
    text = whole(write_field_form(event, 1, printed_at=AT))
    places = [text.index(f" D-O{p.number:03d}") for p in event.pilots]
    assert places == sorted(places)
    assert "Second reading" in text
    assert "metres and centimetres" in text
    assert "feet and inches" in whole(write_field_form(imperial_event, 1))


def test_the_blank_form_has_lines_for_marks_in_the_order_found(event):
    text = whole(write_field_form(event, 1, blank=True))
    assert "as it is found" in text
    assert "D-O001" not in text


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
        "48.00000° N, 11.00000° E",
        "1021 hPa",
        "Minimum height above the ground 22.9 m",
        "Where the minimum height holds field",
        "The event has not said: time for complaints after official results",
        "Not for navigation",
        "Low flight near people",
    ):
        assert fact in text


def test_task_sheet_tells_where_a_moved_target_stands_since(event):
    """An issue after it says so first; where nobody entered the place, it says that."""
    flight = event.flights[0]
    moved = TargetLine(
        task=1,
        target="centre",
        event=TargetEvent.MOVED,
        time_s=meet.START + 1800.0,
        lat_deg=48.001,
        lon_deg=11.002,
    )
    unsaid = replace(moved, lat_deg=None, lon_deg=None, time_s=meet.START + 2400.0)
    opened = replace(moved, event=TargetEvent.OPENED, time_s=meet.START)
    own = replace(flight, targets=(unsaid, opened, moved))
    after = replace(event, flights=(own, *event.flights[1:]))
    before, now = (lines_of(task_sheet(one, flight.id)) for one in (event, after))
    (place, unknown) = changed(before, now)
    assert "48.00100° N, 11.00200° E" in place[2]
    assert place[0].startswith("Task 1 · Fly in (FIN) · Target moved at ")
    assert unknown[2] == "Nobody entered where it stands since"
    assert "above mean sea level" not in place[2]


def test_task_sheet_prints_every_limit_a_rule_sets_and_what_it_costs(event):
    """Each rule that limits a flight is set to a value that stands nowhere else."""
    text = whole(write_task_sheet(every_limit(event), meet.MORNING))
    for limit in (
        "Minimum height above the ground 31.0 m",
        "2 task points for each m",
        "Least distance of the launch from the target 1.70 km",
        "Greatest distance of the launch from the target 9.10 km",
        "Earliest launch before sunrise 11 min",
        "Latest landing after sunset 13 min",
        "Penalty for flying at night 77 task points",
        "Earliest launch 06:",
        "Penalty for entering prohibited airspace 88 task points",
        "Penalty for leaving the boundary 99 task points",
        "Penalty for a mark outside the scoring period officials decide",
    ):
        assert limit in text


def test_a_task_without_a_minimum_height_says_so_and_names_no_penalty_for_it(event):
    full = every_limit(event)
    book = replace(full.book, floor=replace(full.book.floor, height_m=None))
    text = whole(write_task_sheet(replace(full, book=book), meet.MORNING))
    assert "Minimum height above the ground none" in text
    assert "Penalty for flying under the minimum height" not in text


def every_limit(event):
    def points(base=0.0, **more):
        return (rules.PenaltyRule(unit="task points", base=base, **more),)

    book = replace(
        event.book,
        floor=rules.FloorRule(
            height_m=31.0, within="field", penalty=points(per=2.0, of="m")
        ),
        launch=rules.LaunchRule(least_distance_m=1700.0, most_distance_m=9100.0),
        night=rules.NightRule(
            before_sunrise_s=660.0, after_sunset_s=780.0, penalty=points(77.0)
        ),
        airspace=rules.AirspaceRule(penalty=points(88.0)),
        boundary=rules.BoundaryRule(within="field", penalty=points(99.0)),
    )
    flights = tuple(
        replace(f, tasks=tuple(replace(t, book=None) for t in f.tasks))
        for f in event.flights
    )
    return replace(event, book=book, flights=flights)


def test_award_list_has_three_places_of_each_task_and_of_the_whole(documents, results):
    text = whole(documents["awards"])
    for place, row in enumerate(results.standings.rows[:3], 1):
        assert re.search(rf"{place} {row.pilot} .*{row.total}", text)
    for task in results.tasks:
        assert (f"Task {task.task} · " in text) == (task.state == "flown")


def test_forms_refuse_tasks_and_flights_that_do_not_exist(event):
    with pytest.raises(
        InputError, match="found 77; allowed: a task of the event: 1, 2"
    ):
        write_field_form(event, 77)
    with pytest.raises(InputError, match="2026-09-13-am"):
        write_task_sheet(event, "noon")


@pytest.mark.parametrize(
    "names",
    [(), ("Ann",)],
    ids=["no pilot", "one pilot"],
)
def test_sheets_of_few_pilots_are_whole(names, results, event, stamp):
    pilots = event.pilots[: len(names)]
    few = replace(event, pilots=pilots)
    kept = {p.number for p in pilots}
    standings = replace(
        results.standings,
        rows=tuple(r for r in results.standings.rows if r.pilot in kept),
    )
    tasks = tuple(
        replace(t, scores=tuple(s for s in t.scores if s.pilot in kept))
        for t in results.tasks
    )
    own = replace(
        results, tasks=tasks, standings=standings, class_standings=(), findings=()
    )
    for data in (
        board_setting(own, few, stamp).pdf(),
        slips_setting(own, few, stamp, {}).pdf(),
        write_awards(own, few, stamp),
        write_field_form(few, 1),
        write_field_form(few, 1, blank=True),
    ):
        assert len(read(data).pages) >= 1


# Names of all scripts.

SCRIPTS = {
    "Arabic": "عبد الله السالم",
    "Hebrew": "שרה כהן",
    "Thai": "สมชาย ใจดี",
    "Devanagari": "प्रिया क्षत्रिय",
    "Bengali": "শ্রীমতী বাংলা",
    "Tamil": "தமிழ்ச்செல்வி",
    "Ethiopic": "አበበ ቢቂላ",
    "Armenian": "Արամ Խաչատրյան",
    "Georgian": "ნინო ქართველი",
    "Gujarati": "ગુજરાતી",
    "Khmer": "ភាសាខ្មែរ",
    "Myanmar": "မြန်မာ",
    "Han": "王小明",
    "kana": "田中さくら カナ",
    "Hangul": "김민수",
    "Cyrillic": "Елена Ђорђевић",
    "Greek": "Λεωνίδας Ύψος",
    "Vietnamese": "Nguyễn Thị Phượng",
    "emoji": "Nia 🎈",
}


@pytest.mark.parametrize("name", SCRIPTS.values(), ids=SCRIPTS)
def test_no_sign_of_a_name_is_lost(name, event):
    own = replace(event, pilots=(replace(event.pilots[0], name=name),))
    assert signs_not_printed(own) == ()
    data = write_field_form(own, 1)
    assert b"pdfuaid" in read(data).trailer["/Root"]["/Metadata"].get_data()


def test_a_sign_no_font_has_is_told_with_its_name_and_the_sheet_still_made(event):
    pilots = (replace(event.pilots[0], name="Ra 𓀀"), *event.pilots[1:])
    own = replace(event, pilots=pilots)
    (lacking,) = signs_not_printed(own)
    assert lacking.kind == "sign-not-printed"
    assert lacking.get("sign") == "𓀀 (U+13000)"
    assert lacking.get("name") == "Ra 𓀀"
    assert "D-O001" in whole(write_field_form(own, 1))


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


@pytest.mark.parametrize(
    "name",
    [
        "#panic()",
        '#read("base.typ")',
        "$x$ *bold* _it_ @ref <label>",
        "= Heading",
        "//",
    ],
)
def test_what_people_write_is_never_markup(name, event):
    pilots = (replace(event.pilots[0], name=name), *event.pilots[1:])
    assert " ".join(name.split()) in whole(
        write_field_form(replace(event, pilots=pilots), 1)
    )


def test_fonts_weigh_no_more_than_twelve_megabytes():
    assert sum(path.stat().st_size for path in typeset.FONTS.glob("*")) <= 12_000_000


def test_no_font_of_the_system_is_asked(monkeypatch):
    families = set(typeset._families())
    assert families
    assert all(name.startswith(("Noto Sans", "Sheet ")) for name in families)
    own = {Path(info.path).parent for info in typeset._fonts().fonts()}
    assert own == {typeset.FONTS}


# What programs that read aloud need.


@cache
def elements(data):
    """Every structure element with its depth-first parent."""
    return tuple(walked(data))


def walked(data):

    def below(node, parent):
        node = node.get_object()
        if isinstance(node, list):
            for kid in node:
                yield from below(kid, parent)
        elif hasattr(node, "get"):
            if node.get("/S"):
                yield node, parent
            kids = node.get("/K")
            if kids is not None:
                yield from below(kids, node)

    yield from below(read(data).trailer["/Root"]["/StructTreeRoot"]["/K"], None)


def headings(data):
    """Titles and levels of a document's headings."""
    found = []

    def walk(entries, level):
        for entry in entries:
            if isinstance(entry, list):
                walk(entry, level + 1)
            else:
                found.append((entry.title.replace("\u200b", ""), level))

    walk(read(data).outline, 1)
    return found


def test_sheets_are_tagged_as_the_standard_for_accessible_pdf_asks(documents):
    for name, data in documents.items():
        root = read(data).trailer["/Root"]
        assert root["/MarkInfo"]["/Marked"], name
        assert root["/Lang"] == "en", name
        assert root["/ViewerPreferences"]["/DisplayDocTitle"], name
        metadata = root["/Metadata"].get_data().decode()
        assert re.search(r"pdfuaid:part>\s*1\s*<|pdfuaid:part=\"1\"", metadata), name
        assert read(data).metadata["/Title"], name


def test_every_figure_has_words_and_every_table_heads(documents):
    for name, data in documents.items():
        kinds = [str(node["/S"]) for node, _ in elements(data)]
        figures = [n for n, _ in elements(data) if n["/S"] == "/Figure"]
        assert all(str(figure.get("/Alt") or "").strip() for figure in figures), name
        assert kinds.count("/Table") == 0 or "/TH" in kinds, name
        for node, parent in elements(data):
            if node["/S"] in {"/TD", "/TH"}:
                assert parent["/S"] == "/TR", name


def test_headings_begin_at_the_first_level_and_skip_none(documents):
    for name, data in documents.items():
        levels = [
            int(str(node["/S"])[2:])
            for node, _ in elements(data)
            if re.fullmatch(r"/H\d", str(node["/S"]))
        ]
        assert levels[0] == 1, name
        assert all(after <= before + 1 for before, after in pairwise(levels)), name


def test_all_fonts_are_embedded(documents):
    for name, data in documents.items():
        for page in read(data).pages:
            for font in page["/Resources"]["/Font"].values():
                inner = font.get_object()["/DescendantFonts"][0].get_object()
                descriptor = inner["/FontDescriptor"].get_object()
                assert {"/FontFile2", "/FontFile3"} & set(descriptor), name


# How they look.


@POPPLER
def test_nothing_is_printed_outside_the_frame(documents, tmp_path):
    for name, data in documents.items():
        for width, height, placed in boxes(data, tmp_path):
            for left, top, right, below, word in placed:
                assert left >= SIDE_PT - 1.5, (name, word)
                assert right <= width - SIDE_PT + 1.5, (name, word)
                assert top >= FOOT_PT, (name, word)
                assert below <= height - FOOT_PT, (name, word)


@POPPLER
@pytest.mark.parametrize(("pilots", "tasks"), [(24, 21), (60, 30), (1, 30)])
def test_nothing_of_wide_standings_is_clipped_or_overprinted(pilots, tasks, tmp_path):
    results, event = many_tasks(pilots, tasks)
    named = replace(
        event,
        pilots=tuple(
            replace(p, name=("x" * 80 if p.number % 2 else meet.LONG_NAME))
            for p in event.pilots
        ),
    )
    data = board_setting(results, named, meet.STAMP, tasks=()).pdf()
    for width, _, placed in boxes(data, tmp_path):
        for left, _, right, _, word in placed:
            assert left >= SIDE_PT - 1.5, word
            assert right <= width - SIDE_PT + 1.5, word
        assert not list(overprinted(placed))


@POPPLER
def test_no_word_is_printed_over_another(documents, tmp_path):
    for name in ("board", "form", "blank form", "awards"):
        for _, _, placed in boxes(documents[name], tmp_path):
            assert not list(overprinted(placed)), name


@POPPLER
def test_a_name_that_reaches_far_below_the_line_keeps_clear_of_the_next(tmp_path):
    """Arabic dots stood upon the registration; what lies beneath goes down for them."""
    results, event = meet.results(2), meet.event(2)
    names = dict(zip((1, 2), ("Anna Thole", "ريحانة النجمراني"), strict=True))
    named = tuple(replace(p, name=names[p.number]) for p in event.pilots)
    data = slips_setting(
        results, replace(event, pilots=named), meet.STAMP, {}, pilots={1, 2}
    ).pdf()
    placed = [w for *_, words_ in boxes(data, tmp_path) for w in words_]
    lower = {}
    for number in names:
        (about,) = (w for w in placed if w[4] == f"D-O{number:03}")
        above = [w for w in placed if w[4] == str(number) and w[1] < about[1]]
        lower[number] = about[1] - max(w[1] for w in above)
    assert lower[2] - lower[1] > 3.0, "points"


@POPPLER
def test_long_names_make_rows_of_a_form_higher(event, tmp_path):
    """None is printed over another or torn apart; all rows leave room to write."""
    pilots = [
        replace(p, name=("x" * 80 if p.number % 3 else meet.LONG_NAME))
        for p in event.pilots
    ]
    form = write_field_form(replace(event, pilots=tuple(pilots)), 1)
    for _, _, placed in boxes(form, tmp_path):
        assert not list(overprinted(placed))
        words_ = [word for *_, word in placed]
        assert sum(word.startswith("xxxx") for word in words_) % 5 == 0
        lines = sorted(top for _, top, *_, word in placed if word.startswith("D-O"))
        assert min(b - a for a, b in pairwise(lines)) >= 8.5 / 25.4 * 72


@POPPLER
def test_limits_of_a_task_sheet_are_not_printed_over_each_other(event, tmp_path):
    full = every_limit(event)
    for _, _, placed in boxes(write_task_sheet(full, meet.MORNING), tmp_path):
        named = [w for w in placed if w[4] in {"Penalty", "Minimum", "task", "points"}]
        assert not list(overprinted(named))


def overprinted(placed):
    """Yield pairs of words that share more than a third of the smaller one's middle.

    Boxes are as high as a font's tallest sign, so only their middle halves are compared.
    """
    middles = [
        (left, top + (below - top) / 4, right, below - (below - top) / 4, word)
        for left, top, right, below, word in placed
    ]
    for n, one in enumerate(middles):
        for other in middles[n + 1 :]:
            across = min(one[2], other[2]) - max(one[0], other[0])
            down = min(one[3], other[3]) - max(one[1], other[1])
            if across > 0 and down > 0:
                least = min((w[2] - w[0]) * (w[3] - w[1]) for w in (one, other))
                if across * down > least / 3:
                    yield one[4], other[4]


def test_no_page_holds_a_lone_row_of_standings():
    """Of every length of field about a page's end, the last page keeps three rows."""
    results, event = meet.results(80), meet.event(80)
    rows = results.standings.rows
    stamp = replace(meet.STAMP, changes=())
    lengths = range(30, 64, 2)
    settings = [
        board_setting(
            replace(
                results,
                standings=replace(results.standings, rows=rows[:count]),
                class_standings=(),
            ),
            event,
            stamp,
            tasks=(),
        )
        for count in lengths
    ]
    parts = [part for setting in settings for part in setting.tree["parts"]]
    made = read(replace(settings[0], tree={**settings[0].tree, "parts": parts}).pdf())
    starts = [made.get_destination_page_number(entry) for entry in made.outline]
    ends = [*starts[1:], len(made.pages)]
    assert len(starts) == len(lengths)
    for count, start, end in zip(lengths, starts, ends, strict=True):
        if end - start > 1:
            last = words(made.pages[end - 1])
            kept = [r for r in rows[:count] if f" {r.total}" in last]
            assert len(kept) >= 3, count
    assert any(end - start > 1 for start, end in zip(starts, ends, strict=True))


def test_a_long_slip_counts_its_own_pages(results, event, stamp, tracks):
    many, own = many_tasks(24, 21)
    data = slips_setting(many, own, meet.STAMP, {}, pilots={1, 4}).pdf()
    pages = texts(data)
    counted = [re.search(r"Slip of pilot (\d+) .*?Page (\d) of (\d)", p) for p in pages]
    told = [tuple(map(int, found.groups())) for found in counted]
    last = {pilot: page for pilot, page, _ in told}
    assert set(last) == {1, 4}
    assert min(last.values()) > 1
    assert told == [
        (pilot, page, last[pilot])
        for pilot in (1, 4)
        for page in range(1, last[pilot] + 1)
    ]


def test_a_time_of_publication_may_have_fractions_of_a_second(event):
    data = write_field_form(event, 1, printed_at="2026-09-12T04:00:00.123456Z")
    assert read(data).metadata["/CreationDate"].startswith("D:20260912040000")


# Paper, language, bytes.


@pytest.mark.parametrize(
    ("paper", "size"), [(Paper.A4, (595, 842)), (Paper.LETTER, (612, 792))]
)
def test_paper_is_a_choice_and_follows_the_units_unless_chosen(
    paper, size, event, imperial_event
):
    wish = PrintWish(paper=paper)
    box = read(write_task_sheet(event, meet.MORNING, wish=wish)).pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == size
    usual = read(write_task_sheet(imperial_event, meet.MORNING)).pages[0].mediabox
    assert round(float(usual.width)) == 612


def test_language_is_a_choice(results, event, stamp):
    wish = PrintWish(language="de")
    data = board_setting(results, event, stamp, tasks={1}, wish=wish).pdf()
    assert read(data).trailer["/Root"]["/Lang"] == "de"
    assert "Seite 1 von" in whole(data)


def test_where_evidence_stands_is_said_in_the_language(results, event, stamp):
    """A line of a file is named in words; a log is its name."""
    own = replace(
        results.findings[0].finding,
        evidence="flights/saturday/reports.csv line 12; logs/007.igc",
    )
    found = (replace(results.findings[0], finding=own),)
    data = slips_setting(
        replace(results, findings=found),
        event,
        stamp,
        {},
        pilots={own.pilot},
        wish=PrintWish(language="de"),
    ).pdf()
    assert "reports.csv Zeile 12; logs/007.igc" in whole(data)


def test_the_same_input_gives_the_same_bytes(documents, event, stamp, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1")
    results, tracks = meet.results(), meet.tracks()
    assert board_setting(results, meet.event(), stamp).pdf() == documents["board"]
    assert (
        slips_setting(results, meet.event(), stamp, tracks).pdf() == documents["slips"]
    )
    assert write_field_form(event, 1, printed_at=AT) == documents["form"]
    assert (
        write_task_sheet(event, meet.MORNING, printed_at=AT) == documents["task sheet"]
    )


def test_document_dates_are_those_of_the_publication(board):
    assert read(board).metadata["/CreationDate"].startswith("D:20260912100500")


@pytest.mark.parametrize("name", ["हिमाद्रि जोशी", "สมชาย ผู้ลอย", "سُهيل بن يزقان"])
def test_a_picture_with_a_name_whose_signs_stand_on_others_keeps_pdf_ua(
    name, results, event, stamp, tracks
):
    pilots = (replace(event.pilots[0], name=name), *event.pilots[1:])
    own = replace(event, pilots=pilots)
    spoken = replace(results, voice=Voice.of(own))
    setting = slips_setting(spoken, own, stamp, tracks, pilots={1})

    pictures = [
        picture
        for task in setting.tree["parts"][0]["tasks"]
        for found in task["findings"]
        for picture in found["pictures"]
    ]
    assert any(name in label["text"] for p in pictures for label in p["labels"])
    root = read(setting.pdf()).trailer["/Root"]
    assert b"pdfuaid" in root["/Metadata"].get_data()
