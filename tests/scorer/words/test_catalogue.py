"""The catalogue and the code agree: each fact has its sentence, with just its values."""

import ast
from importlib import resources
from pathlib import Path

import pytest
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl
from fluent.syntax.visitor import Visitor

from scorer.words.catalogue import ENGLISH, languages

ROOT = Path(__file__).parents[3]
CODE = [*sorted((ROOT / "scorer").rglob("*.py")), *sorted((ROOT / "gui").rglob("*.py"))]


class _Variables(Visitor):
    def __init__(self):
        self.names = set()

    def visit_VariableReference(self, node):
        self.names.add(node.id.name)


def _messages(language):
    text = resources.files("scorer.words").joinpath(f"{language}.ftl")
    tree = FluentParser().parse(text.read_text(encoding="utf-8"))
    found = {}
    for entry in tree.body:
        assert not isinstance(entry, ftl.Junk), f"{language}: {entry.content}"
        if isinstance(entry, ftl.Message):
            assert entry.id.name not in found, f"{entry.id.name} stands twice"
            names = _Variables()
            names.visit(entry)
            found[entry.id.name] = names.names
    return found


def _stated():
    """Yield every `fact("kind", name=…)` of the code: where, kind, names."""
    for path in CODE:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id == "fact"
                and node.args
                and isinstance(node.args[0], ast.Constant)
            ):
                if any(k.arg is None for k in node.keywords):
                    continue  # values gathered elsewhere: the saying of it is tested
                where = f"{path.relative_to(ROOT)}:{node.lineno}"
                yield where, node.args[0].value, {k.arg for k in node.keywords}


def test_every_fact_has_a_sentence_of_its_own_values():
    messages = _messages(ENGLISH)
    for where, kind, names in _stated():
        assert kind in messages, f"{where}: the catalogue has no message {kind}"
        unknown = messages[kind] - names
        assert not unknown, f"{where}: message {kind} asks for {sorted(unknown)}"


@pytest.mark.parametrize("language", languages()[1:])
def test_a_translation_says_the_same_messages_with_the_same_values(language):
    english, own = _messages(ENGLISH), _messages(language)
    assert set(own) <= set(english)
    for name, names in own.items():
        assert names <= english[name], f"{language}: {name}"
