"""The pages, and those of the manual, before two checkers that others wrote: rules of access, and of the markup.

axe-core (4.14.1) looks at the pages in Chromium against WCAG and good practice; the Nu
Html Checker (vnu 26.9.27), which the W3C runs, reads HTML, SVG and CSS.  Both are npm
packages; SANDTAIL_CHECKERS names the folder they are in (`.ci/run` brings them there).
"""

import json
import os
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path

import pytest

from scorer.cli.manual import chapters
from scorer.cli.output import write_files
from scorer.manual.pages import manual_pages
from scorer.words.voice import Voice
from tests.scorer.sheets.test_site import DARK, chromium

ROOM = Path(os.environ.get("SANDTAIL_CHECKERS", "nowhere"))
AXE, NU = ROOM / "axe-core/axe.min.js", ROOM / "vnu-jar/build/dist/vnu.jar"
MANUAL = ("index", "morning", "tasks", "commands")
PAGES = (
    *("index.html", "task-1.html", "task-6.html", "pilot-1.html", "pilot-9.html"),
    *("changes.html", "method.html", "winds.html"),
    *(f"manual/{name}.html" for name in MANUAL),
)
NOT_KNOWN = re.compile(r"“paint-order”")
"""A property of SVG 2 that the checker of CSS has not heard of."""


@pytest.fixture(scope="module")
def folder_with_manual(folder):
    write_files(manual_pages(chapters(), Voice()), folder / "manual")
    return folder


@pytest.mark.skipif(not AXE.is_file(), reason="axe-core is not at hand")
@pytest.mark.parametrize("look", [(), (DARK,)], ids=["light", "dark"])
def test_pages_break_no_rule_of_access(look, address, folder_with_manual, tmp_path):
    shutil.copy(AXE, folder_with_manual)
    url = f"{address}/rules.html?pages={','.join(PAGES)}"
    dom, _ = chromium(url, tmp_path, "--virtual-time-budget=60000", *look)
    found = re.search(r'<pre id="report">(.*?)</pre>', dom, re.DOTALL)[1]
    report = json.loads(unescape(found))
    assert [*report] == [*PAGES]
    assert {page: own["broken"] for page, own in report.items() if own["broken"]} == {}
    assert min(own["held"] for own in report.values()) > 20


@pytest.mark.skipif(
    not NU.is_file() or shutil.which("java") is None,
    reason="the Nu Html Checker is not at hand",
)
def test_pages_drawings_and_styles_are_valid(folder_with_manual):
    kinds = *PAGES, "board.css", "manual/manual.css"
    heads = folder_with_manual.glob("head-*.svg")
    files = [*(str(folder_with_manual / name) for name in kinds), *map(str, heads)]
    command = ["java", "-jar", str(NU), "--also-check-css", "--also-check-svg"]
    done = subprocess.run(
        [*command, "--exit-zero-always", "--format", "gnu", *files],
        capture_output=True,
        text=True,
        timeout=300,
        check=True,
    )
    told = [line for line in done.stderr.splitlines() if not NOT_KNOWN.search(line)]
    assert told == []
