"""The guides: chapters of the manual that people wrote, each a Markdown file.

Blocks marked `console` are commands with what they answer, and `csv FILE` are rows to add
to a file: the tests run them in a folder with the sample event.  Pictures are made by
`python -m gui.portrait`.
"""

import re
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
PICTURE = re.compile(r"!\[([^\]]*)\]\((pictures/[\w-]+\.png)\)")
"""A picture in Markdown: what it shows, and its name beside the guides."""


def guide(name: str) -> str:
    """Return the text of a guide, without its title."""
    return beside(f"{name}.md").decode()


def beside(path: str) -> bytes:
    """Return a file by its name beside the guides: a picture as they name it, say."""
    return files("scorer.manual").joinpath(f"guides/{path}").read_bytes()


def pictures_in(text: str) -> list[str]:
    """Return the names of the pictures that a text in Markdown shows, in order."""
    return [path for _, path in PICTURE.findall(text)]
