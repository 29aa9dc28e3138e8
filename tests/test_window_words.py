"""What the window says is read off its code: the words of its design, no older ones."""

import ast
import re
from pathlib import Path

import pytest

from gui.places_of import CLOSED_ON
from scorer.event.matter import Closes
from scorer.words.voice import Voice

GUI = Path(__file__).parents[1] / "gui"
OLD = re.compile(
    r"(?i)\b(settled?|settles|findings?|keyings?|keyed|floor|field notes?|roster|rulings?|"
    r"ruled|unruled|event points?|event penalt\w+|anchored|groups? [abc]|imposed?|"
    r"(takes?|taken) (in|out|down|back)|overturned|1σ)\b"
)
TITLES = {
    "start": "Start",
    "rules": "Rules",
    "roster": "Pilots",
    "places": "Places",
    "tasks": "Tasks",
    "keying": "Enter marks",
    "settle": "Compare entries",
    "fieldnotes": "Observer reports",
    "logs": "Flight logs",
    "findings": "Infringements",
    "results": "Results",
    "publish": "Publish",
    "complaints": "Complaints",
    "prizes": "Prizes",
    "board": "Hall board",
    "pilot": "Pilot",
    "desks": "Journal",
}
"""Modules of the pages, with what people call the pages."""


def texts(path):
    """Yield what a module may show: texts of several words, or with a capital."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    told = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            shown = " " in node.value or node.value[:1].isupper()
            if shown and id(node) not in told:
                yield node.lineno, node.value


@pytest.mark.parametrize(
    "path", sorted(GUI.rglob("*.py")), ids=lambda p: str(p.relative_to(GUI))
)
def test_no_page_shows_an_older_word(path):
    internal = {"field note"}  # names a form kept over a crash
    found = [
        f"line {line}: {text}"
        for line, text in texts(path)
        if OLD.search(text.replace("&", "")) and text not in internal
    ]
    assert found == []


@pytest.mark.parametrize(("module", "title"), TITLES.items())
def test_pages_are_called_as_the_design_calls_them(module, title):
    text = (GUI / "pages" / f"{module}.py").read_text(encoding="utf-8")
    assert re.search(rf'^    title = "{re.escape(title)}"$', text, re.MULTILINE)


@pytest.mark.parametrize("closes", Closes)
def test_where_a_matter_is_closed_is_called_as_its_page(closes):
    """A row leads to a page that is on the rail under just this name."""
    assert Voice().word(f"page-{closes}") == TITLES[CLOSED_ON[closes]]
