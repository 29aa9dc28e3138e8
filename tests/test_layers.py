"""The layer rule: a module imports only from its own layer or from those below it."""

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
LAYERS = [
    {"rounding"},
    {"facts"},
    {"errors", "version", "registry"},
    {"files", "fresh", "progress", "remembered", "recount"},
    {"units"},
    {"event"},
    {"words", "geodesy"},
    {"tracks"},
    {"checks"},
    {"tasks"},
    {"scoring", "verify"},
    {"recall"},
    {"ledger"},
    {"sheets"},
    {"practice", "manual"},
    {"cli", "__main__"},
    {"notebook"},
]
LEVEL = {name: i for i, names in enumerate(LAYERS) for name in names}
ENGINE = sorted((ROOT / "scorer").rglob("*.py"))
WINDOW = sorted((ROOT / "gui").rglob("*.py"))


@cache
def nodes(path):
    """All nodes of a file that import or call."""
    read = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    return [n for n in read if isinstance(n, ast.Import | ast.ImportFrom | ast.Call)]


def imports(path):
    """Yield every module that a file imports, at any depth of nesting."""
    for node in nodes(path):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: write absolute imports"
            yield node.module


def layer_of(path):
    return path.relative_to(ROOT / "scorer").parts[0].removesuffix(".py")


@pytest.mark.parametrize("path", ENGINE, ids=lambda p: str(p.relative_to(ROOT)))
def test_engine_modules_import_downwards_only(path):
    own = layer_of(path)
    for name in imports(path):
        top, _, rest = name.partition(".")
        assert top not in {"gui", "PySide6", "tests"}, f"{path} imports {name}"
        if top == "scorer" and own != "__init__":
            layer = rest.split(".")[0]
            assert LEVEL[layer] <= LEVEL[own], f"{path} imports {name}"
            same_step = LEVEL[layer] == LEVEL[own] and layer != own
            assert not same_step or own == "__main__", f"{path} imports {name}"


def test_words_are_made_at_the_edge():
    """Whatever finds, measures or ranks states facts; it never makes a sentence of one."""
    for path in (p for p in ENGINE if layer_of(p) in {"tracks", "checks", "tasks"}):
        assert not any(n.startswith("scorer.words") for n in imports(path)), path


def test_verifier_imports_no_scoring_code():
    own = [ROOT / "scorer/verify.py", *(ROOT / "scorer/recount").glob("*.py")]
    for path in own:
        for name in imports(path):
            top, _, rest = name.partition(".")
            assert top != "scorer" or rest.split(".")[0] in {"errors", "recount"}


def test_no_import_cycle_within_the_engine():
    graph = {}
    names = {
        ".".join(p.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): p
        for p in ENGINE
    }
    for name, path in names.items():
        found = set()
        for node in nodes(path):
            if isinstance(node, ast.ImportFrom) and node.module in names:
                inner = {f"{node.module}.{a.name}" for a in node.names}
                found |= (inner & names.keys()) or {node.module}
        graph[name] = found - {name}
    done, path = set(), []

    def visit(name):
        assert name not in path, (
            f"cycle: {' -> '.join([*path[path.index(name) :], name])}"
        )
        if name not in done:
            path.append(name)
            for other in sorted(graph[name]):
                visit(other)
            path.pop()
            done.add(name)

    for name in sorted(graph):
        visit(name)


def test_engine_loads_without_qt():
    code = "import sys, scorer.cli.main; sys.exit('PySide6' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False)
    assert run.returncode == 0


def test_score_reads_no_clock_and_no_file():
    """What may not be called below `score`: the clock, files, the network, chance."""
    banned = {"time.time", "datetime.now", "date.today", "random", "socket", "urllib"}
    inner = {"checks", "tasks", "scoring", "tracks", "geodesy"}
    for path in (p for p in ENGINE if layer_of(p) in inner):
        for node in nodes(path):
            if isinstance(node, ast.Call):
                called = ast.unparse(node.func)
                assert called != "open", f"{path} opens a file"
                assert not any(called.endswith(b) for b in banned), f"{path}: {called}"


@pytest.mark.parametrize("path", WINDOW, ids=lambda p: str(p.relative_to(ROOT)))
def test_window_imports_no_tests(path):
    assert not any(name.split(".")[0] == "tests" for name in imports(path))
