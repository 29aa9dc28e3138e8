"""On which line each key of a TOML text stands: `tomllib` does not tell."""

import re

_HEADER = re.compile(r"^\s*(\[{1,2})\s*([^\[\]]+?)\s*\]{1,2}\s*(?:#.*)?$")
_KEY = re.compile(
    r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*[\w"'-]+)*)\s*="""
)


def key_lines(text: str) -> dict[str, int]:
    """Map dotted paths (`event.crs`, `task.0.kind`) to line numbers from 1.

    Keys inside inline tables are not listed: their table is.  A text inside a multi-line
    string that looks like a key may add a path that nobody asks for.
    """
    lines: dict[str, int] = {}
    counts: dict[str, int] = {}
    table = ""
    for number, line in enumerate(text.splitlines(), start=1):
        if header := _HEADER.match(line):
            table = _table(header[1], _plain(header[2]), counts)
            lines.setdefault(table, number)
        elif key := _KEY.match(line):
            path = _plain(key[1])
            lines.setdefault(f"{table}.{path}" if table else path, number)
    return lines


def _table(brackets: str, name: str, counts: dict[str, int]) -> str:
    head, dot, rest = name.partition(".")
    if brackets == "[[":
        counts[name] = counts.get(name, -1) + 1
        return f"{name}.{counts[name]}"
    return f"{head}.{counts[head]}{dot}{rest}" if head in counts else name


def _plain(path: str) -> str:
    return ".".join(part.strip().strip("\"'") for part in path.split("."))
