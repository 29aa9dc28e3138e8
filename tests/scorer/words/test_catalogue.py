"""The catalogue and the code agree: each fact has its sentence, with just its values."""

import ast
import re
from functools import cache
from importlib import resources
from pathlib import Path

import pytest
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl
from fluent.syntax.visitor import Visitor

import scorer.ledger.matters  # noqa: F401 - declares kinds
from scorer import facts
from scorer.event.matter import KINDS, Blocks, Closes, Decides
from scorer.event.rulebook import SECTIONS, rules_of
from scorer.ledger.acts import ACTS, EntryKind
from scorer.tracks.match import BASKET, BY_HAND, MARKS
from scorer.tracks.owner_signs import SIGNS
from scorer.words.catalogue import ENGLISH, languages

ROOT = Path(__file__).parents[3]
CODE = [*sorted((ROOT / "scorer").rglob("*.py")), *sorted((ROOT / "gui").rglob("*.py"))]
WAYS = ("satellite", "pressure")
"""Altitudes of a log."""


def _tree(path):
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def _called(path):
    """Return the calls of a file alone: all that was parsed is big."""
    return tuple(n for n in ast.walk(_tree(path)) if isinstance(n, ast.Call))


@pytest.fixture(scope="module", autouse=True)
def _let_go():
    """What was parsed is no other test's."""
    yield
    _called.cache_clear()
    _body.cache_clear()


class _Variables(Visitor):
    def __init__(self):
        self.names = set()

    def visit_VariableReference(self, node):
        self.names.add(node.id.name)


@cache
def _body(language):
    text = resources.files("scorer.words").joinpath(f"{language}.ftl")
    return FluentParser().parse(text.read_text(encoding="utf-8")).body


@cache
def _messages(language):
    found = {}
    for entry in _body(language):
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
        for node in _called(path):
            if (
                isinstance(node.func, ast.Name)
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


def _calls(name):
    """Yield the calls of a function or method whose first text argument is written out."""
    for path in CODE:
        for node in _called(path):
            called = getattr(node.func, "id", getattr(node.func, "attr", ""))
            texts = [a.value for a in node.args if isinstance(a, ast.Constant)]
            if called == name and texts and isinstance(texts[0], str):
                yield f"{path.relative_to(ROOT)}:{node.lineno}", texts[0], node


def test_every_word_of_the_trade_that_code_names_stands_in_the_catalogue():
    messages = _messages(ENGLISH)
    found = [(where, name) for where, name, _ in _calls("term")]
    assert found
    for where, name in found:
        assert f"term-{name}" in messages, f"{where}: no word term-{name}"


def test_every_kind_of_finding_has_a_title_and_a_word_within_sentences():
    messages = _messages(ENGLISH)
    names = [name for _, name, _ in _calls("finding_kind")]
    assert len(names) >= 10
    for name in names:
        assert f"finding-{name}" in messages
        assert f"term-finding-{name}" in messages


def test_every_repair_of_a_log_has_a_sentence_of_its_own_values():
    """Kinds are composed of these and of `satellite` and `pressure`."""
    messages = _messages(ENGLISH)
    values = {"count", "start"}
    kinds = {f"{w}-altitude-{k}" for w in WAYS for k in ("beyond", "spike")}
    kinds |= {f"no-{w}-altitude" for w in WAYS}
    kinds |= {f"pressure-altitude-{k}" for k in ("aside", "jump", "dead")}
    for call in ("note", "drop", "_without", "_repair"):
        for where, name, node in _calls(call):
            if "/tracks/" in where:
                kinds.add(name)
                own = values | {k.arg for k in node.keywords}
                assert messages[f"repair-{name}"] <= own, where
    assert len(kinds) >= 30
    assert {n.removeprefix("repair-") for n in messages if n.startswith("repair-")} == (
        kinds
    )


def test_every_sign_of_a_logs_pilot_is_a_word_of_the_catalogue():
    messages = _messages(ENGLISH)
    names = {*(sign.name for sign in SIGNS), BASKET, BY_HAND, MARKS}
    assert len(names) == len(SIGNS) + 3
    assert {f"term-{name}" for name in names} <= set(messages)


@pytest.mark.parametrize("language", languages()[1:])
def test_a_translation_says_every_message_with_just_the_same_values(language):
    """Those of the window alone may wait for their translation."""
    english, own = _messages(ENGLISH), _messages(language)
    assert set(own) <= set(english)
    assert set(english) - set(own) <= _of_the_window()
    for name, names in own.items():
        assert names == english[name], f"{language}: {name}"


def _of_the_window():
    """Return the messages in sections of the English catalogue on the window."""
    found, window = set(), False
    for entry in _body(ENGLISH):
        if isinstance(entry, ftl.GroupComment):
            window = (entry.content or "").startswith("Window")
        elif window and isinstance(entry, ftl.Message):
            found.add(entry.id.name)
    return found


def test_every_kind_of_matter_has_a_title_and_something_that_closes_it():
    messages = _messages(ENGLISH)
    for name in KINDS:
        assert f"matter-{name}" in messages, name
    for place in Closes:
        assert f"closes-{place}" in messages, place
    for who in Decides:
        assert f"decides-{who}" in messages, who
    for what in Blocks:
        assert f"blocks-{what}" in messages, what
    for kind in EntryKind:
        assert f"thing-{kind}" in messages or kind in UNNAMED, kind
        assert f"act-{kind}" in messages, kind
        assert kind in ACTS, kind


UNNAMED = {"pilot", "place", "flight", "log-added", "log-assigned", "publication"}
"""Acts that are named by their own number or name."""


@pytest.mark.parametrize("key", [f"{s}.{k}" for s in SECTIONS for k in rules_of(s)])
def test_every_rule_has_a_title_and_every_answer_a_word(key):
    messages = _messages(ENGLISH)
    section, _, name = key.partition(".")
    how = rules_of(section)[name][1]
    assert f"rule-{key.replace('.', '-').replace('_', '-')}" in messages
    for choice in how.choices:
        word = f"term-choice-{how.key}-{choice}".replace("_", "-").replace(" ", "-")
        assert word in messages, f"{key}: {choice}"


def test_no_code_states_a_sentence_of_its_own():
    """A fact's kind is written out, and no value of `words` is a text of the program."""
    written = r"[A-Za-z]{2,},? [a-z]{2,}"
    for where, node in _facts():
        kind = node.args[0]
        assert not (isinstance(kind, ast.Constant) and kind.value == "plain"), where
    for path in CODE:
        for node in _called(path):
            if getattr(node.func, "id", "") == "words":
                for given in node.args:
                    if isinstance(given, ast.Constant | ast.JoinedStr):
                        text = ast.unparse(given)
                        assert not re.search(written, text), f"{path}: {text}"
    assert not hasattr(facts, "plain")
    assert not hasattr(facts, "stated")


def _facts():
    for path in CODE:
        for node in _called(path):
            if getattr(node.func, "id", "") in {"fact", "Fact"} and node.args:
                yield f"{path.relative_to(ROOT)}:{node.lineno}", node


def test_what_people_read_of_results_is_written_in_the_catalogue_alone():
    """Modules that say results hold no sentence, but for faults of what was entered."""
    found = []
    for path in CODE:
        parts = path.relative_to(ROOT).parts
        if parts[0] == "scorer" and parts[1] == "sheets":
            tree = _tree(path)
            found += [f"{path.name}: {text}" for text in _sentences(tree)]
    assert found == []


def _sentences(tree):
    """Yield texts of several words that are neither documentation nor faults."""
    skipped = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            skipped.add(id(node.value))
        called = getattr(getattr(node, "func", None), "id", "")
        if isinstance(node, ast.Call) and called in {"Fault", "compile", "ValueError"}:
            skipped.update(id(inner) for inner in ast.walk(node))
    texts = (node for node in ast.walk(tree) if isinstance(node, ast.Constant))
    for node in texts:
        told = isinstance(node.value, str) and re.match(
            "[A-Z][a-z]+ [a-z]{2}", node.value
        )
        if told and id(node) not in skipped:
            yield node.value
