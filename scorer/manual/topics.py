"""The manual: guides that people wrote, then the reference, written from declarations.

Words come from the catalogue; what a declaration holds in code (keys, examples, defaults)
is printed as people have to write it.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from scorer.manual.entries import columns, files, log_formats, places
from scorer.manual.guides import GUIDES, guide
from scorer.manual.work import infringements, journal, matters, rules, sheets, tasks
from scorer.registry import Registry
from scorer.words.voice import Voice

Lines = Iterable[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Topic:
    """One part of the manual; its title stands in the catalogue as `manual-NAME`."""

    name: str
    write: Callable[[Voice], Lines]
    """Its lines in Markdown, headings from `##` on."""


TOPICS: Registry[Topic] = Registry("manual")
"""Every topic by name, in reading order."""


def topic(name: str, write: Callable[[Voice], Lines]) -> Topic:
    """Declare a topic."""
    return TOPICS.declare(name, Topic(name=name, write=write))


def _guide_lines(name: str, _: Voice) -> Lines:
    return guide(name).splitlines()


for _guide in GUIDES:
    topic(_guide, partial(_guide_lines, _guide))
for _name, _write in (
    ("files", files),
    ("columns", columns),
    ("places", places),
    ("tasks", tasks),
    ("rules", rules),
    ("log-formats", log_formats),
    ("infringements", infringements),
    ("matters", matters),
    ("journal", journal),
    ("sheets", sheets),
):
    topic(_name, _write)


def written(name: str, voice: Voice) -> str:
    """Return one topic as Markdown."""
    return "\n".join(_lines(TOPICS[name], voice)) + "\n"


def contents(voice: Voice) -> str:
    """Return the list of topics as Markdown."""
    rows = (f"- **{name}**: {voice.word(f'manual-{name}')}" for name in TOPICS)
    return "\n".join([f"# {voice.word('manual')}", "", *rows, ""])


def _lines(one: Topic, voice: Voice) -> Iterator[str]:
    yield f"# {voice.word(f'manual-{one.name}')}"
    yield ""
    yield from one.write(voice)
