"""The pages in real Chromium: used, measured, read in light and dark, on a phone."""

import json
import re
import shutil
import subprocess
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser

import pypdf
import pytest

from scorer.cli.output import write_files
from scorer.event.finding import Verdict
from scorer.scoring.results import RuledFinding, RulingState
from scorer.sheets.site import write_site
from tests.scorer.sheets import meet

CHROMIUM = next(
    (
        found
        for name in ("chromium", "chromium-browser", "google-chrome")
        if (found := shutil.which(name))
    ),
    None,
)
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--enable-logging=stderr",
    "--v=0",
)
DARK = "--blink-settings=preferredColorScheme=0"


def chromium(url, profile, *flags):
    if CHROMIUM is None:
        pytest.skip("Chromium is not installed: nothing shows the pages")
    command = [
        CHROMIUM,
        *FLAGS,
        f"--user-data-dir={profile}",
        *flags,
        "--dump-dom",
        url,
    ]
    done = subprocess.run(
        command, capture_output=True, text=True, timeout=120, check=True
    )
    console = [line for line in done.stderr.splitlines() if "CONSOLE" in line]
    return done.stdout, console


def probed(address, profile, *flags):
    dom, console = chromium(
        f"{address}/probe.html", profile, "--virtual-time-budget=20000", *flags
    )
    text = re.search(r'<pre id="report">(.*?)</pre>', dom, re.DOTALL)[1]
    return json.loads(unescape(text)), console


@pytest.fixture(scope="module")
def light(address, tmp_path_factory):
    return probed(address, tmp_path_factory.mktemp("light"))


@pytest.fixture(scope="module")
def dark(address, tmp_path_factory):
    return probed(address, tmp_path_factory.mktemp("dark"), DARK)


def test_pages_run_without_errors(light, dark):
    for report, console in (light, dark):
        assert report["errors"] == []
        assert console == []


def test_tables_sort_by_every_kind_of_column(light, results):
    used = light[0]["used"]
    totals = [row.total for row in results.standings.rows]
    assert [int(t) for t in used["totalUp"]] == sorted(totals)
    assert [int(t) for t in used["totalDown"]] == sorted(totals, reverse=True)
    assert used["sortSaid"] == "descending"
    assert used["byName"].index("Ada Fenn 16") < used["byName"].index("Greta Moor 20")


def test_search_finds_numbers_and_names_without_their_accents(light, results):
    used = light[0]["used"]
    assert used["accent"] == {"names": ["Ærø Łukasz Żółć"], "said": "1 found"}
    assert used["number"]["names"] == [meet.LONG_NAME]
    assert used["arabic"]["names"] == [meet.NASTY[8]]
    assert used["none"] == {"names": [], "said": "0 found"}
    assert used["script"]["names"] == [meet.NASTY[2]]
    assert used["all"] == len(results.standings.rows)


def test_enter_in_the_search_leads_to_the_pilot(light):
    assert light[0]["used"]["went"] == "/pilot-12.html"


def test_nothing_scrolls_sideways_on_a_phone(light):
    wide = {page: found["wide"] for page, found in light[0]["pages"].items()}
    assert max(wide.values()) <= 390, wide


def test_score_is_in_sight_on_a_phone_and_the_name_stays_while_scrolling(light):
    found = light[0]["pages"]
    for page in ("index.html", "task-1.html"):
        assert found[page]["table"]["score"] <= 390 - 8, page
        assert found[page]["table"]["moved"] > 50, page
        assert found[page]["table"]["name"] == pytest.approx(0, abs=1), page


def test_a_result_in_words_may_take_two_lines_that_the_score_stays_in_sight():
    """Some languages need thrice the width of a number for it."""
    pages = write_site(meet.results(), meet.event(), meet.STAMP, {}, language="de")
    words = "gefahren, kein Ergebnis"
    found = {
        (name, cell)
        for name, data in pages.items()
        if name.endswith(".html")
        for cell in re.findall(f'<td class="([^"]+)"[^>]*>{words}', data.decode())
    }
    assert {name for name, _ in found} >= {"task-1.html", "pilot-20.html"}
    assert {cell for _, cell in found} == {"number words"}
    assert ".number.words { white-space: normal; }" in pages["board.css"].decode()


def test_a_page_that_was_kept_says_when_a_newer_version_is_up(light):
    assert light[0]["newer"]
    assert light[0]["newest"], "the newest one says nothing"


def test_the_head_of_a_table_is_printed_on_each_of_its_pages(tmp_path):
    pages = write_site(meet.results(150), meet.event(150), meet.STAMP, {})
    for name, data in pages.items():
        if name in {"task-1.html", "board.css", "board.js"}:
            (tmp_path / name).write_bytes(data)
    out = tmp_path / "printed.pdf"
    chromium(
        (tmp_path / "task-1.html").as_uri(),
        tmp_path / "profile",
        "--no-pdf-header-footer",
        f"--print-to-pdf={out}",
    )
    texts = [page.extract_text() for page in pypdf.PdfReader(out).pages]
    with_rows = [text for text in texts if len(re.findall(r" \d+\.\d\d m", text)) > 5]
    assert len(with_rows) > 2
    assert all("Places 95" in text for text in with_rows)


def test_a_name_of_one_long_word_may_break_and_is_found_whole(results, event, stamp):
    word = "x" * 80
    own = replace(event, pilots=(replace(event.pilots[0], name=word),))
    text = write_site(results, own, stamp, {})["index.html"].decode()
    assert "<wbr>".join(["x" * 16] * 5) in text
    assert f'data-find="1 {word}"' in text


def test_what_stands_in_tables_is_explained_in_words(pages):
    text = unescape(pages["index.html"].decode())
    assert "A dash: not entered in this task; it adds nothing." in text
    assert "Places 95 %: the places within" in unescape(pages["task-1.html"].decode())


def test_a_faint_suspicion_heads_no_page(results, event, stamp, tracks):
    faint = meet.finding(1, Verdict.POSSIBLE, 0.05, 21.0)
    ruled = RuledFinding(
        finding=faint, state=RulingState.UNRULED, ruling=None, charges=()
    )
    own = replace(results, findings=(ruled,))
    text = write_site(own, event, stamp, tracks)["pilot-1.html"].decode()
    assert "possible, 5 %" in text
    assert not re.search(r"<h\d[^>]*>[^<]*possible", text)


def test_pages_that_are_no_more_are_taken_away_and_nothing_else(
    results, event, stamp, tmp_path
):
    first = write_site(results, event, stamp, {})
    write_files(first, tmp_path)
    (tmp_path / "notes.html").write_text("the director's own")
    (tmp_path.parent / "outside.html").write_text("not of the pages")
    with (tmp_path / "pages.txt").open("a") as file:
        file.write("../outside.html\n/etc/hostname\n")
    fewer = {name: data for name, data in first.items() if name != "pilot-9.html"} | {
        "pages.txt": first["pages.txt"].replace(b"pilot-9.html\n", b"")
    }

    write_files(fewer, tmp_path)

    assert not (tmp_path / "pilot-9.html").exists()
    assert (tmp_path / "pilot-8.html").exists()
    assert (tmp_path / "notes.html").read_text() == "the director's own"
    assert (tmp_path.parent / "outside.html").exists()


def test_pages_below_a_publications_folder_are_tidied_as_well(tmp_path):
    write_files({"site/pages.txt": b"a.html\nb.html\n", "site/a.html": b"a"}, tmp_path)
    (tmp_path / "a.html").write_text("mine")
    write_files({"site/pages.txt": b"b.html\n", "site/b.html": b"b"}, tmp_path)
    assert [p.name for p in sorted((tmp_path / "site").iterdir())] == [
        "b.html",
        "pages.txt",
    ]
    assert (tmp_path / "a.html").exists()


def test_pages_are_written_in_german(results, event, stamp):
    pages = write_site(results, event, stamp, {}, language="de")
    text = unescape(pages["task-1.html"].decode())
    assert '<html lang="de"' in text
    for word in ("Aufgabe 1", "Wertung", "Pilot suchen", "Platz", "veröffentlicht"):
        assert word in text


def test_every_text_has_enough_contrast_in_light_and_dark(light, dark):
    """WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1."""
    assert not light[0]["dark"]
    assert dark[0]["dark"]
    for report, _ in (light, dark):
        for page, found in report["pages"].items():
            assert found["contrast"]["low"] == [], page
            assert found["contrast"]["least"] >= 4.5


def test_pages_have_landmarks_headings_and_names(light):
    for page, found in light[0]["pages"].items():
        assert found["lang"] == "en"
        assert found["landmarks"] == [1, 1, 1, 1], page
        assert found["h1"] == 1
        for fault in ("skipped", "twice", "unnamed", "drawings", "unlabelled"):
            assert not found[fault], (page, fault)


def test_drawings_stay_legible_on_a_phone(light):
    assert light[0]["pages"]["pilot-1.html"]["smallest"] >= 8


def test_nothing_entered_becomes_markup(light, pages):
    for found in light[0]["pages"].values():
        assert found["alerts"] == 0
    for name, data in pages.items():
        if name.endswith(".html"):
            text = data.decode("utf-8")
            assert "<script>alert" not in text
            assert "<tape>" not in text
            assert "<i>" not in text


def test_nothing_is_fetched_from_elsewhere(light, pages):
    assert all(found["outside"] == [] for found in light[0]["pages"].values())
    for name in ("board.css", "board.js"):
        assert b"http" not in pages[name]
        assert b"@import" not in pages[name]


def test_pages_work_from_a_folder(folder, tmp_path):
    dom, console = chromium((folder / "index.html").as_uri(), tmp_path / "profile")
    assert console == []
    assert dom.count("<button") >= 8  # made by the script: it runs


class Links(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.links, self.ids = [], set()
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.ids.add(found.get("id"))
        if tag in {"a", "link"}:
            self.links.append(found["href"])


def test_every_link_leads_to_a_page_or_a_place_on_it(pages):
    for name, data in pages.items():
        if not name.endswith(".html"):
            continue
        parsed = Links(data.decode("utf-8"))
        for link in parsed.links:
            if link == meet.STAMP.site_url:
                continue  # where the newest version stands
            page, _, place = link.partition("#")
            assert link == "data:," or not page or page in pages, (name, link)
            assert not place or page or place in parsed.ids, (name, link)


def test_every_page_states_the_publication(pages, stamp):
    edition = json.loads(pages["newest.json"])["edition"]
    assert f"head-{edition}.svg" in pages
    for name, data in pages.items():
        if name.endswith(".html"):
            text = unescape(data.decode("utf-8"))
            # a cancelled task has no stage of its own
            state = "cancelled" if name == "task-6.html" else "Provisional, version 3"
            for fact in (
                'Meridian Vale & "Sons" <Meet>',
                state,
                "2026-09-12 12:05 CEST",
                "complaints until",
                "Festival & <target> rules",
                stamp.results_sha256,
                stamp.head,
                f'<img src="head-{edition}.svg" width="120" height="120" alt="',
                f'alt="{stamp.head_code}">',
                "not for navigation",
            ):
                assert fact in text, (name, fact)


def test_a_breakdown_answers_why(pages):
    text = unescape(pages["pilot-1.html"].decode("utf-8"))
    for answer in (
        "277 + 1000 + 458 + 375 + 500 = 2610",
        "292 − 15 = 277",
        "07:25:01 to 07:25:32, 31 s",
        "18.4 m ± 0.7 m",
        "confirmed, by M. Oake",
        'class="d-limit"',
        'class="d-band"',
        'class="d-found"',
    ):
        assert answer in text


def test_changes_page_lists_all_versions(pages):
    text = unescape(pages["changes.html"].decode("utf-8"))
    for fact in (
        "Provisional, version 3",
        "mark measured again",
        "Task 2 added.",
        "1d" * 32,
        "First publication.",
    ):
        assert fact in text


def test_the_same_input_gives_the_same_bytes(pages, stamp):
    again = write_site(meet.results(), meet.event(), stamp, meet.tracks())
    assert dict(again) == dict(pages)
