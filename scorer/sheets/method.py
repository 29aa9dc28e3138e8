"""How results became points, in words: the page that every publication carries."""

from dataclasses import fields

from scorer.event.rulebook import SECTIONS, RuleBook
from scorer.sheets.sheet import Sheet, clean

ORDER_OF_WORK = (
    (
        "Marks give a result in the task's unit (metres, degrees, square kilometres, "
        "seconds)."
    ),
    "Penalties in metres are put into the result, always the losing way.",
    (
        "Group A has a result, group B flew without one, group C did not fly or is "
        "disqualified."
    ),
    "Results are rounded as the rule book says (decimal, half up) and ranked.",
    "Ranks and results become points by the formula of the rule book.",
    "Task penalties are taken from the points; a task score is never under 0.",
    "Event penalties are taken from the total, which may go under 0.",
    (
        "A certain finding is charged provisionally until it is ruled on; a possible one "
        "counts only when officials rule so."
    ),
)
INTERNATIONAL = (
    (
        "P pilots entered in the task; A pilots in group A; M = P ÷ 2 rounded up, or A "
        "where fewer have a result; L rank; R result; W best result; RM result at rank M; "
        "SM rounded points of rank M by (2)."
    ),
    "(1) Ranks better than M: 1000 − (1000 − SM) · (R − W) ÷ (RM − W).",
    "(2) Rank M and below: 1000 · (P + 1 − L) ÷ P.",
    "The best result always gets 1000. Points are whole, half up.",
    (
        "Group B shares what is left: 1000 · (P + 1 − A) ÷ P ÷ 2 each, 500 each when "
        "nobody has a result; where the rule book says zero, 0. Group C: 0."
    ),
    (
        "The formula is that of the published model event rules, chapter 14; the wording "
        "of its symbols, fewer than half with a result, and group B are from memory: a "
        "championship checks its own edition."
    ),
)
BY_PLACE = (
    (
        "Each place gets the points the rule book lists for it; places beyond the list "
        "get none."
    ),
)
WITHOUT_POINTS = ("This rule book gives ranks only, no points.",)
METHODS = {
    "international": INTERNATIONAL,
    "places": BY_PLACE,
    "none": WITHOUT_POINTS,
}


def formula_words(method: str) -> tuple[str, ...]:
    """Explain a points formula, a sentence each."""
    return METHODS.get(method, (f"Points by {method}.",))


def methods_used(sheet: Sheet) -> tuple[str, ...]:
    """Return the points formulas in use, in the order of the tasks."""
    used = dict.fromkeys(task.formula.method for task in sheet.results.tasks)
    return tuple(used) or (sheet.event.book.points.method,)


def rule_rows(book: RuleBook) -> tuple[tuple[str, str, str, str], ...]:
    """Return each value of a book that was set: key, value, source, certainty."""
    return tuple(
        (key, clean(p.entered), clean(p.source), p.certainty.value)
        for key, p in sorted(book.provenance.items())
    )


def default_rows(book: RuleBook) -> tuple[tuple[str, str], ...]:
    """Return the values nobody set: key and this program's default."""
    rows = []
    for section, kind in SECTIONS.items():
        values = getattr(book, section)
        for item in fields(kind):
            key = f"{section}.{item.metadata['rule'].key}"
            value = getattr(values, item.name)
            if key not in book.provenance and value not in (None, ()):
                rows.append((key, clean(value)))
    return tuple(rows)


def method_rules(book: RuleBook) -> list[tuple[str, str, str, str]]:
    """Return every value of a book: key, value, source, how sure; what is unset too."""
    unset = [(key, "not set", "the event decides", "") for key in book.unset]
    program = "default of this program"
    defaults = [
        (key, value, program, "our choice") for key, value in default_rows(book)
    ]
    return [*rule_rows(book), *unset, *defaults]
