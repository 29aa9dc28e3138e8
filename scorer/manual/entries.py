"""The manual of what people set down: files, columns, places, log formats."""

from collections.abc import Iterator

from scorer.event.awards import AWARD_KEYS
from scorer.event.build import EVENT_KEYS, FLIGHT_KEYS
from scorer.event.columns import TABLES, Column, Table
from scorer.event.folder import AIR_FILE
from scorer.event.log_formats import ARCHIVE, LOG_FORMATS, log_suffixes
from scorer.event.place_kinds import PLACE_KINDS
from scorer.event.task_reader import TASK_KEYS
from scorer.words.voice import Voice

_WHERE = {
    "roster": "{}.csv",
    "event": "{}.csv",
    "flight": "flights/FLIGHT/{}.csv",
    "logs": "flights/FLIGHT/logs/{}.csv",
}


def files(voice: Voice) -> Iterator[str]:
    """Write which files an event folder has, and the keys of those that hold settings."""
    for name in ("event.toml", "places.geojson", "flights/FLIGHT/flight.toml"):
        yield f"- `{name}`: {voice.word(_key('file', name.rpartition('/')[2]))}"
    for table in TABLES.values():
        yield f"- `{_path(table)}`: {voice.word(f'table-{table.name}-about')}"
    endings = ", ".join(log_suffixes())
    yield f"- `flights/FLIGHT/logs/`: {voice.word('file-logs')} ({endings})"
    yield f"- `flights/FLIGHT/{AIR_FILE}`: {voice.word('file-air-json')}"
    yield ""
    yield voice.word("manual-files-written")
    yield ""
    for title, holder, keys in (
        ("[event]", "event", EVENT_KEYS),
        ("flight.toml", "flight", FLIGHT_KEYS),
        ("[[task]]", "task", TASK_KEYS),
        ("[[award]]", "award", AWARD_KEYS),
    ):
        yield f"## {title}"
        yield ""
        for key in keys:
            yield f"- `{key}`: {voice.word(_key(f'key-{holder}', key))}"
        yield ""


def columns(voice: Voice) -> Iterator[str]:
    """Write every column of every table: what it means and how it is written."""
    for table in TABLES.values():
        yield f"## {_path(table)}"
        yield ""
        yield _sentence(voice.word(f"table-{table.name}-about"))
        yield ""
        for column in table.columns:
            means = voice.word(_key(f"column-{table.name}", column.name))
            yield f"- `{column.name}`: {means}. {_how(column, voice)}"
        yield ""


def places(voice: Voice) -> Iterator[str]:
    """Write every kind of place."""
    yield voice.word("manual-places-written")
    yield ""
    for name, kind in PLACE_KINDS.items():
        title = voice.word(f"place-kind-{name}")
        about = voice.word(f"place-kind-{name}-about")
        yield f"- `{name}` ({title}, {kind.geometry}): {about}"
        for level in kind.levels:
            yield f"  - `{level}`: {voice.word(_key('level', level))}"
    yield ""


def log_formats(voice: Voice) -> Iterator[str]:
    """Write every format of flight logs."""
    for name, form in LOG_FORMATS.items():
        endings = ", ".join(f"`{suffix}`" for suffix in form.suffixes)
        title = voice.word(f"log-format-{name}")
        yield f"- {title} ({endings}): {voice.word(f'log-format-{name}-about')}"
    yield f"- `{ARCHIVE}`: {voice.word('log-format-archive')}"
    yield ""
    yield voice.word("manual-log-formats-told")
    yield ""


def _path(table: Table) -> str:
    return _WHERE[table.of].format(table.name)


def _how(column: Column, voice: Voice) -> str:
    if column.choices:
        written = ", ".join(f"`{choice}`" for choice in column.choices)
    else:
        written = voice.word(f"written-{column.written}")
    return f"{_sentence(written)} `{column.example}`"


def _key(*parts: str) -> str:
    return "-".join(part.replace("_", "-").replace(".", "-") for part in parts)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
