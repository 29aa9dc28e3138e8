"""DEVELOPERS.md names what is there, and is laid out so that people find it."""

import re
from pathlib import Path

from scorer.event.rulebook import SECTIONS, rules_of

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PROSE = re.sub(r"```.*?```", "", PAGE, flags=re.DOTALL)
FILES = {
    f"/{path.relative_to(ROOT).as_posix()}": path
    for tree in ("scorer", "gui", "tests", ".ci")
    for path in (ROOT / tree).rglob("*")
    if "__pycache__" not in path.parts and path != Path(__file__)
}
CODE = [p for p in FILES.values() if p.suffix == ".py"]
TEXTS = {path: path.read_text(encoding="utf-8") for path in CODE}
KNOWN = {p.stem for p in FILES.values()}.union(
    *map(re.compile(r"\w+").findall, TEXTS.values())
)
RULES = {f"{section}.{key}" for section in SECTIONS for key in rules_of(section)}
FILE = re.compile(r"\.(?:py|ftl|toml|css|typ|json|md|kml|gpx|pdf|turn)\b")
CHAPTERS = {"recipes", "evidence", "results", "ledger", "speed", "output"}


def is_there(path):
    return any(name.endswith(f"/{path}") for name in FILES) or (ROOT / path).exists()


def declares(owner, name):
    """Tell whether a module, or one that has a class, has a name too."""
    own = rf"^\s*(?:def |class )?{name}\b *[:=(]"
    return any(
        (path.stem == owner or re.search(rf"^class {owner}\b", text, re.MULTILINE))
        and re.search(own, text, re.MULTILINE)
        for path, text in TEXTS.items()
    )


def names_in(quoted):
    """Yield what a quotation names, each with whether it is there."""
    for path in re.findall(r"[\w./-]+\.(?:py|ftl|toml|css|typ)\b", quoted):
        yield path, is_there(path)
    for path in re.findall(r"\b(?:scorer|gui|tests)[./][\w./-]+\w", quoted):
        plain = path if "/" in path else path.replace(".", "/")
        yield path, is_there(plain) or is_there(f"{plain}.py")
    dotted = re.fullmatch(r"(?:raise )?(\w+)\.(\w+)(?:\(.*\))?", quoted)
    if dotted and not FILE.search(quoted):
        yield quoted, quoted in RULES or declares(*dotted.groups())
    for word in re.findall(r"\w+", quoted):
        if re.search(r"[a-z][A-Z]|[^_]_[^_]", word):
            yield word, word in KNOWN


def test_what_is_quoted_is_there():
    quoted = set(re.findall(r"`([^`\n]+)`", PROSE))
    named = {pair for own in quoted for pair in names_in(own)}

    assert len(named) > 100
    assert sorted(name for name, there in named if not there) == []


def test_every_part_is_linked_and_no_paragraph_is_long():
    _, *headings = re.findall(r"^#+ (.+)$", PROSE, re.MULTILINE)
    anchors = {own.casefold().replace(" ", "-") for own in headings}
    linked = set(re.findall(r"\]\(#([^)]+)\)", PAGE))

    assert linked == anchors - CHAPTERS
    parts = PAGE.partition("\n## ")[2]
    assert max(map(len, parts.splitlines())) < 600
