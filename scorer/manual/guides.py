"""The guides: chapters of the manual that people wrote, each a Markdown file.

Blocks marked `console` are commands with what they answer, and `csv FILE` are rows to add
to a file: the tests run them in a folder with the sample event.
"""

from importlib.resources import files

GUIDES = (
    "morning",
    "window",
    "official",
    "pilot",
    "desks",
    "work",
    "folder",
    "times",
    "offline",
    "licence",
)
"""Chapters in reading order; the title of each stands in the catalogue."""


def guide(name: str) -> str:
    """Return the text of a guide, without its title."""
    text = files("scorer.manual").joinpath(f"guides/{name}.md")
    return text.read_text(encoding="utf-8")
