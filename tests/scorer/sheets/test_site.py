"""The pages in real Chromium: used, measured, read in light and dark, on a phone."""

import json
import re
import shutil
import subprocess
import threading
from functools import partial
from html import unescape
from html.parser import HTMLParser
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

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


@pytest.fixture(scope="module")
def pages(results, event, stamp, tracks):
    return write_site(results, event, stamp, tracks)


@pytest.fixture(scope="module")
def folder(pages, tmp_path_factory):
    folder = tmp_path_factory.mktemp("site")
    for name, data in pages.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(data)
    (folder / "probe.html").write_bytes(
        Path(__file__).with_name("probe.html").read_bytes()
    )
    return folder


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_):
        """Say nothing."""


@pytest.fixture(scope="module")
def address(folder):
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


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
            page, _, place = link.partition("#")
            assert link == "data:," or not page or page in pages, (name, link)
            assert not place or page or place in parsed.ids, (name, link)


def test_every_page_states_the_publication(pages, stamp):
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
