"""The manual as pages for a browser: each chapter one page, with its pictures."""

from collections.abc import Callable, Mapping
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined
from markdown_it import MarkdownIt
from markupsafe import Markup

from scorer.manual.guides import beside, pictures_in
from scorer.words.voice import Voice

STYLE = "manual.css"


def manual_pages(
    chapters: Mapping[str, Callable[[Voice], str]], voice: Voice
) -> dict[str, bytes]:
    """Return the files of the manual by relative name, `index.html` its contents.

    Chapters are Markdown, each beginning with its title as a heading.
    """
    surroundings = Environment(
        loader=PackageLoader("scorer.manual", "guides"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    page = surroundings.get_template("page.html")
    titles = {name: voice.word(f"manual-{name}") for name in chapters}
    shown = {"titles": titles, "voice": voice, "style": STYLE}
    made = {"index.html": page.render(**shown, here="", text="")}
    pictures: dict[str, bytes] = {}
    for name, write in chapters.items():
        text = write(voice)
        own = Markup(chapter_html(text))  # noqa: S704 - our own Markdown, HTML escaped
        made[f"{name}.html"] = page.render(**shown, here=name, text=own)
        pictures |= {path: beside(path) for path in pictures_in(text)}
    board = files("scorer.sheets").joinpath("static/board.css")
    style = board.read_bytes() + beside(STYLE)
    return {n: t.encode() for n, t in made.items()} | {STYLE: style} | pictures


def chapter_html(text: str) -> str:
    """Return a chapter (Markdown) as HTML without its surroundings."""
    read = MarkdownIt("commonmark", {"html": False, "xhtmlOut": False}).enable("table")
    read.add_render_rule("table_open", _table_open)
    read.add_render_rule("table_close", _table_close)
    return str(read.render(text))


def _table_open(*_: object) -> str:
    return '<div class="scroll" role="region" tabindex="0" aria-label="table"><table>'


def _table_close(*_: object) -> str:
    return "</table></div>\n"
