"""Paper: templates beside this file, filled with ready words, set by typst as tagged PDF.

A template gets one tree of words, numbers and pictures as JSON.  What people entered is
data there and never markup; no package is loaded and no font of the system is used.
"""

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from functools import cache, lru_cache
from importlib.resources import files
from itertools import groupby
from pathlib import Path
from typing import Any
from unicodedata import category

import segno
import typst

from scorer.errors import ScorerError
from scorer.event.model import Event, Units
from scorer.facts import Fact, fact, words
from scorer.fresh import free_threads, surroundings
from scorer.sheets.scene import Label, Scene
from scorer.sheets.scene_svg import label_fill, standing_svg
from scorer.words.catalogue import ENGLISH
from scorer.words.voice import Voice

HERE = Path(str(files("scorer.sheets")))
TEMPLATES, FONTS = HERE / "typst", HERE / "fonts"
FIRST_FONT, LAST_FONTS = "Noto Sans", ("Sheet Han", "Sheet Hangul", "Sheet Signs")
_LACKING = re.compile(r'the text `"(.+?)"` could not be displayed')
LONG_WORD = re.compile(r"[^\s-]{16}(?=[^\s-]{4})")
"""The beginning of a word that is wider than a column: it may break after this."""
LONG = 300_000
"""Bytes of words and pictures from which on a sheet is long: typst takes, and keeps, some
thousand times as much for rows of tables, and less for pictures."""
_HASH = re.compile(r"[0-9a-f]{64}")


class Paper(StrEnum):
    """Paper that sheets can be set for; values are typst's names."""

    A4 = "a4"
    LETTER = "us-letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintWish:
    """How somebody wants sheets to be printed."""

    paper: Paper | None = None
    """None = as usual where lengths are read so: letter with feet, A4 with metres."""
    language: str = ENGLISH

    def paper_for(self, event: Event) -> Paper:
        """Return the paper of an event's sheets."""
        usual = Paper.LETTER if event.units is Units.IMPERIAL else Paper.A4
        return self.paper or usual


@cache
def _fonts() -> typst.Fonts:
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(FONTS)],
    )


@cache
def _families() -> tuple[str, ...]:
    others = sorted({*_fonts().families()} - {FIRST_FONT, *LAST_FONTS})
    return (FIRST_FONT, *others, *LAST_FONTS)


def typeset(template: str, tree: Mapping[str, Any], moment: datetime) -> bytes:
    """Set a template as PDF/UA-1, dated with `moment`, the same bytes every time.

    Where no font has a sign the standard cannot be kept: the sheet is set all the same,
    with a box for it; `signs_not_printed` tells which.
    """
    compiler, moment = _compiler(template, tree), moment.replace(microsecond=0)
    try:
        made = compiler.compile(format="pdf", pdf_standards="ua-1", timestamp=moment)
    except typst.TypstError as error:
        if not _LACKING.search(error.diagnostic):
            raise
        made = compiler.compile(format="pdf", timestamp=moment)
    assert isinstance(made, bytes)
    return made


@dataclass(frozen=True, slots=True)
class ReadySheet:
    """A sheet ready to be set: setting it takes long, and beside other work."""

    template: str
    tree: Mapping[str, Any]
    moment: datetime

    def pdf(self) -> bytes:
        """Set it; what is long in a process of its own, for its memory ends with it."""
        given = json.dumps([self.template, self.tree, self.moment.isoformat()]).encode()
        made = _set_apart(given) if len(given) > LONG else None
        return made or typeset(self.template, self.tree, self.moment)

    def pictures(self, dots_per_inch: float) -> list[bytes]:
        """Set it as one PNG a page."""
        compiler = _compiler(self.template, self.tree)
        made = compiler.compile(format="png", ppi=dots_per_inch)
        pages = made if isinstance(made, list) else [made]
        return [page for page in pages if page is not None]


def _set_apart(given: bytes) -> bytes | None:
    """Set a sheet in a fresh process; None where that cannot be."""
    try:
        done = subprocess.run(  # noqa: S603 - our own program
            [sys.executable, "-c", f"from {__name__} import set_given; set_given()"],
            input=given,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=surroundings(),
            check=True,
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return done.stdout if done.stdout.startswith(b"%PDF") else None


def set_given() -> None:
    """Set the sheet that comes by standard input."""
    template, tree, moment = json.load(sys.stdin.buffer)
    made = typeset(template, tree, datetime.fromisoformat(moment))
    sys.stdout.buffer.write(made)


@cache
def _with_threads() -> None:
    """Let typst start no more threads than this computer has left: it would end all."""
    wanted = os.cpu_count() or 1
    free = free_threads(wanted)
    if not free:
        raise ScorerError(_NO_THREAD)
    if free < wanted:
        os.environ.setdefault("RAYON_NUM_THREADS", str(free))


_NO_THREAD = (
    "no paper can be set, since this computer starts no more threads: so many programs "
    "run, or so few are allowed. Close some, or have more allowed, and do the same again; "
    "nothing was put up or written"
)


def _compiler(template: str, tree: Mapping[str, Any]) -> typst.Compiler:
    _with_threads()
    whole = {"fonts": _families(), **tree}
    return typst.Compiler(
        str(TEMPLATES / f"{template}.typ"),
        root=str(TEMPLATES),
        font_paths=_fonts(),
        sys_inputs={"data": json.dumps(_breakable(whole), ensure_ascii=False)},
    )


def _breakable(value: Any) -> Any:
    """Let words break that are wider than a column; pictures stay as they are."""
    if isinstance(value, Mapping):
        kept = {"svg", "alt"}
        return {k: v if k in kept else _breakable(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_breakable(item) for item in value]
    if isinstance(value, str) and not _HASH.search(value):
        return LONG_WORD.sub("\\g<0>\u200b", value)
    return value


def signs_not_printed(event: Event) -> tuple[Fact, ...]:
    """State which signs of names and titles no font has, each with the name it is in."""
    texts = dict.fromkeys(
        text
        for text in (
            event.name,
            event.venue,
            *(pilot.name for pilot in event.pilots),
            *(pilot.registration for pilot in event.pilots),
            *(place.name for place in event.places),
        )
        if text
    )
    lacking = _lacking(texts)
    return tuple(
        fact("sign-not-printed", sign=words(_told(sign)), name=words(text))
        for text in texts
        for sign in lacking
        if sign in text
    )


def _lacking(texts: Iterable[str]) -> tuple[str, ...]:
    """Return the signs that no font has."""
    compiler = _compiler("signs", {"texts": list(texts)})
    try:
        compiler.compile(format="pdf", pdf_standards="ua-1", timestamp=0)
    except typst.TypstError as error:
        found = _LACKING.findall(error.diagnostic)
        if not found:
            raise
        return tuple(dict.fromkeys(sign for text in found for sign in text))
    return ()


def _told(sign: str) -> str:
    return f"{sign} (U+{ord(sign):04X})"


def around(
    event: Event, voice: Voice, wish: PrintWish, title: str, **own: Any
) -> dict[str, Any]:
    """Return what stands around every page, `own` put over it."""
    name = own.pop("name", event.name)
    tree = {
        "lang": voice.language,
        "paper": str(wish.paper_for(event)),
        "event": name,
        "title": f"{name}: {title}",
        "about": title,
        "author": [],
        "headline": title,
        "published": "",
        "hash": "",
        "caution": "",
        "counts": "all",
        "parts": [],
        "page_of": voice.say(fact("page-of", page=words("{n}"), pages=words("{m}"))),
    }
    return tree | own


def column(
    title: str, width: float | None = None, align: str = "left", *, bold: bool = False
) -> dict[str, Any]:
    """Return a column of a table.

    Its width is a share of the room that columns as wide as needed (None) leave.
    """
    return {
        "title": title,
        "width": "auto" if width is None else width,
        "align": align,
        "bold": bold,
    }


def picture(scene: Scene | None) -> dict[str, Any] | None:
    """Return a drawing with the words that stand for it."""
    if scene is None:
        return None
    labels = [one for one in scene.shapes if isinstance(one, Label) and _joined(one)]
    kept = tuple(one for one in scene.shapes if one not in labels)
    return {
        "svg": standing_svg(replace(scene, shapes=kept)),
        "alt": scene.title,
        "width": scene.width,
        "height": scene.height,
        "labels": [
            {
                "text": one.text,
                "at": one.at,
                "size": one.size,
                "anchor": one.anchor,
                "fill": label_fill(one),
            }
            for one in labels
        ],
    }


def _joined(label: Label) -> bool:
    """Tell whether signs of a label stand upon others: those are set over a picture.

    Within an SVG the letters of such scripts cannot be told from the page any more, as
    PDF/UA wants it.
    """
    return any(category(sign) in {"Mn", "Mc"} for sign in label.text)


def code(url: str, below: str) -> dict[str, Any] | None:
    """Return the square code of an address; None where there is none."""
    if not url:
        return None
    return {"svg": _squares(url), "alt": url, "below": below, "labels": []}


@lru_cache(maxsize=512)  # a publication after it has the same address for each pilot
def _squares(url: str) -> str:
    matrix = segno.make(url, error="m", micro=False, boost_error=False, mask=0).matrix
    squares = "".join(_runs(y, line) for y, line in enumerate(matrix))
    box = f'viewBox="0 0 {len(matrix)} {len(matrix)}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}><path d="{squares}"/></svg>'


def _runs(y: int, line: Iterable[int]) -> str:
    """Return the dark runs of a line of a square code as boxes."""
    x, drawn = 0, ""
    for dark, run in groupby(line):
        wide = len(list(run))
        drawn += f"M{x},{y}h{wide}v1h-{wide}z" if dark else ""
        x += wide
    return drawn
