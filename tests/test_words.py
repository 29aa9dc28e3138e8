"""What officials and pilots read is plain English: every output of both samples.

Exempt are column headers, lines of evidence (file names, SHA-256) and what people wrote.
"""

import csv
import io
import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pypdf
import pytest

from scorer.cli import show
from scorer.cli.compute import compute
from scorer.cli.screen import screen
from scorer.cli.target import load
from scorer.event.rulebook import SECTIONS, rules_of
from scorer.scoring.document import to_json
from scorer.scoring.explain import explain
from scorer.sheets import kinds, site
from scorer.sheets.board import board_setting
from scorer.sheets.forms import write_field_form
from scorer.sheets.kinds import SHEET_KINDS, Material
from scorer.sheets.records import all_tables
from scorer.sheets.sheet import Sheet
from scorer.sheets.site import write_site
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import Binding, Stamp
from scorer.sheets.tables import csv_bytes
from scorer.sheets.task_sheet import write_task_sheet
from scorer.sheets.typeset import PrintWish
from scorer.sheets.workbook import write_workbook
from scorer.tasks.kinds import KINDS
from scorer.words import voice
from scorer.words.catalogue import ENGLISH, has, message
from scorer.words.voice import Voice

SAMPLES = Path(__file__).parents[1] / "sample_events"
STAMP = Stamp(
    state=Binding.PROVISIONAL,
    version=1,
    published_at="2026-09-12T10:05:00Z",
    by="R. Keel",
    results_sha256="3f" * 32,
)
RULES = {f"{section}.{key}" for section in SECTIONS for key in rules_of(section)}
KEYS = {
    key
    for key in (
        *(key for section in SECTIONS for key in rules_of(section)),
        *(setting.key for kind in KINDS.values() for setting in kind.settings),
        "distance2",
        "from2",
    )
    if "_" in key or key[-1].isdigit()
}
FORBIDDEN = (
    *(re.escape(key) for key in sorted(RULES)),
    *(rf"\b{re.escape(key)}\b" for key in sorted(KEYS)),
    r"\b[a-z-]+:\d+:\d+:\S+",  # an identifier: kind:task:pilot:start
    r"\bdesk-[0-9a-f]{4,}",
    r"\b(?=[0-9a-f]*[a-f])[0-9a-f]{12,}\b",
    r"\b(ground-contact|launch-(distance|period|area)|scoring-(period|area)|not-flown)\b",
    r"\b(late-declaration|shared-rank|best-scores|least-advantageous|no-mark)\b",
    r"(?<![\d.,:] )(?<![\d.,:])\b1 (?!(kts|hrs|bis|was|is|has|as|ends|holds)\b)[a-z]{2,}s\b",
    r"\b(P|A|M|W|RM|SM) (=|≥|\d|·)",
    r"\b(RM|SM)\b",
    r"(?i)\bfloor\b|\bfindings?\b|\bkeyings?\b|\banchored\b|\bgroups? [abc]\b",
    r"(?i)\bunruled\b|\bevent points\b|\bunsettled\b",
    r"1σ",
)


@pytest.fixture(scope="module", params=["vashkorim", "quillowen"])
def scored(request):
    event = load(str(SAMPLES / request.param))
    return event, compute(event)


def faults(text):
    """Return what must not be read, with what stands round it."""
    plain = re.sub(r"SHA-256 \S+|\[[^\]]*, line \d+\]|\S+\.(csv|igc|toml)\b", "", text)
    found = []
    for pattern in FORBIDDEN:
        for match in re.finditer(pattern, plain):
            start, end = max(0, match.start() - 40), match.end() + 40
            found.append(f"{match.group()!r} in …{plain[start:end]}…")
    return found[:5]


def printed(event, results):
    """Return what `score` prints."""
    out = io.StringIO()
    screen.file = out
    try:
        show.results(event, results, None)
    finally:
        screen.file = None  # wherever the output goes then
    return out.getvalue()


def test_the_terminal_speaks_plain_english(scored):
    assert faults(printed(*scored)) == []


def test_every_breakdown_speaks_plain_english(scored):
    event, results = scored
    for pilot in event.pilots:
        text = "\n".join(explain(event, results, pilot.number))
        assert faults(text) == [], pilot.number
        assert text.count("The aviation authority") == 1


def test_the_texts_of_results_json_speak_plain_english(scored):
    tree = json.loads(to_json(scored[1]))
    assert "aviation authority" in tree["caution"]
    for told in (*tree["findings"], *tree["warnings"]):
        assert faults(told["text"]) == []
    whys = [score["why"] for task in tree["tasks"] for score in task["scores"]]
    assert faults("\n".join(whys)) == []


def test_the_workbook_speaks_plain_english(scored):
    event, results = scored
    data = io.BytesIO(write_workbook(results, event, STAMP))
    book = openpyxl.load_workbook(data, data_only=False)
    for page in book:
        cells = [
            cell.value
            for row in page.iter_rows()
            for cell in row
            if isinstance(cell.value, str)
            and not cell.value.startswith("=")
            and not re.fullmatch("[0-9a-f]{64}", cell.value)
        ]
        assert faults("\n".join(cells)) == [], page.title


def test_the_cells_of_every_csv_speak_plain_english(scored):
    event, results = scored
    sheet = Sheet(results=results, event=event, stamp=STAMP)
    for table in all_tables(sheet):
        text = csv_bytes(table).decode("utf-8-sig")
        cells = [
            cell
            for row in list(csv.reader(text.splitlines()))[1:]
            for cell in row
            if not re.fullmatch("[0-9a-f]{64}", cell)
        ]
        assert faults("\n".join(cells)) == [], table.name


class Text(HTMLParser):
    def __init__(self):
        super().__init__()
        self.parts, self.hidden = [], 0

    def handle_starttag(self, tag, attrs):
        self.hidden += tag in {"style", "script", "code", "a"}

    def handle_endtag(self, tag):
        self.hidden -= tag in {"style", "script", "code", "a"}

    def handle_data(self, data):
        if not self.hidden and not re.fullmatch("[0-9a-f]{64}", data.strip()):
            self.parts.append(data)


def test_every_page_speaks_plain_english(scored):
    event, results = scored
    for name, data in write_site(results, event, STAMP, {}).items():
        if name.endswith(".html"):
            page = Text()
            page.feed(data.decode())
            assert faults("\n".join(page.parts)) == [], name


def test_every_sheet_of_paper_speaks_plain_english(scored):
    event, results = scored
    papers = {
        "board": board_setting(results, event, STAMP).pdf(),
        "slips": slips_setting(results, event, STAMP, {}).pdf(),
        "form": write_field_form(event, event.tasks[0].number),
        **{f.id: write_task_sheet(event, f.id) for f in event.flights},
    }
    for name, data in papers.items():
        text = "\n".join(
            p.extract_text() for p in pypdf.PdfReader(io.BytesIO(data)).pages
        )
        assert faults(text.replace("3f" * 32, "").replace("3f" * 6, "")) == [], name


def test_a_second_catalogue_is_one_file_and_what_it_lacks_is_english(scored):
    event, results = scored
    german = replace(results, voice=Voice.of(event, "de"))
    number = event.pilots[0].number
    lines = list(explain(event, german, number))
    english = list(explain(event, results, number))
    assert len(lines) == len(english)
    assert "  Punkte" in lines
    assert any(re.search(r"Platz \d+ von \d+, ", line) for line in lines)
    text = "\n".join(lines)
    assert "Luftfahrtbehörde" in text
    assert re.search(r"\d,\d+ (m|in)\b", text), "numbers by locale"
    assert "1000 ×" in text or "1000 −" in text, "points as in tables, in any language"
    board = board_setting(german, event, STAMP, wish=PrintWish(language="de")).pdf()
    text = pypdf.PdfReader(io.BytesIO(board)).pages[0].extract_text()
    assert "Gesamtwertung" in text


def test_all_paper_pages_and_the_workbook_have_their_german(
    scored, monkeypatch, tmp_path
):
    """Every kind of sheet is made, and no message falls back to English."""
    event, results = scored
    lacking, asked = set(), set()

    def noted(name, values, language=ENGLISH):
        asked.add(language)
        compared = name.startswith("book-")  # whether an event's title is our own
        if not has(name, language) or (language == ENGLISH and not compared):
            lacking.add(name)
        return message(name, values, language)

    for module in (voice, site):
        monkeypatch.setattr(module, "message", noted)
    for module in (site, kinds):
        monkeypatch.setattr(
            module, "write_tables", lambda *_, **__: {}
        )  # programs': English
    material = Material(
        event=event,
        results=results,
        stamp=STAMP,
        tracks={},
        room=tmp_path,
        wish=PrintWish(language="de"),
    )
    for kind in SHEET_KINDS.values():
        if kind.name not in {"data", "tracks"}:
            assert list(kind.make(material)), kind.name

    assert "de" in asked
    assert sorted(lacking) == []


def test_the_german_workbook_answers_in_german(scored):
    event, results = scored
    data = io.BytesIO(write_workbook(results, event, STAMP, "de"))
    book = openpyxl.load_workbook(data)
    assert {"Deckblatt", "Gesamtwertung", "Aufgabe 1", "Marken"} <= set(book.sheetnames)
    cells = {c.value for page in book for row in page.iter_rows() for c in row}
    assert {"ja", "Kennzeichen"} <= cells
    assert not {"yes", "no", "Standings"} & cells
