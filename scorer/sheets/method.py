"""How results became points, in words: the page that every publication carries."""

from scorer.facts import fact, task, words
from scorer.sheets.sheet import Sheet, clean
from scorer.words.rules import answered

ORDER_OF_WORK = tuple(f"order-{n}" for n in range(1, 9))
"""Messages of the order of work."""
METHODS = {
    "international": tuple(f"formula-of-model-{n}" for n in range(1, 8)),
    "places": ("formula-of-places-1",),
    "none": ("formula-of-none-1",),
}
"""Messages that explain a points formula, a sentence each."""


def order_of_work(sheet: Sheet) -> tuple[str, ...]:
    """Say how marks become points, a sentence each."""
    return tuple(sheet.word(name) for name in ORDER_OF_WORK)


def formula_words(sheet: Sheet, method: str) -> tuple[str, ...]:
    """Explain a points formula, a sentence each."""
    return tuple(sheet.word(name) for name in METHODS[method])


def method_title(sheet: Sheet, method: str) -> str:
    """Return the name of a points formula."""
    name = sheet.voice.term(f"choice-method-{method}")
    return f"{name[:1].upper()}{name[1:]}"


def methods_used(sheet: Sheet) -> tuple[str, ...]:
    """Return the points formulas in use, in the order of the tasks."""
    used = dict.fromkeys(task.formula.method for task in sheet.results.tasks)
    return tuple(used) or (sheet.event.book.points.method,)


def method_rules(sheet: Sheet) -> list[tuple[str, str, str]]:
    """Return every rule that has a value or waits for one: what, value, where from."""
    event, voice = sheet.event, sheet.voice
    rows = answered(event.book, voice)
    told = [(t, v, source) for _, v, t, source in rows]
    for one in event.tasks:
        for row in answered(event.book_of(one), voice):
            if row not in rows:
                _, value, title, source = row
                of_task = fact("rule-in-task", rule=words(title), task=task(one.number))
                told.append((voice.say(of_task), value, source))
    return [(clean(t), clean(v), clean(source)) for t, v, source in told]
