"""The rules of an event as people read them: each value in words, and where it is from."""

from scorer.event.rulebook import SECTIONS, Certainty, RuleBook, rules_of
from scorer.words.voice import Voice

Row = tuple[str, str, str, str]
"""Key in the event's file, value, what it is, where it comes from."""


def describe(book: RuleBook, voice: Voice) -> list[Row]:
    """Return every rule of a book, in the order of the file."""
    return [
        _row(book, f"{section}.{key}", voice)
        for section in SECTIONS
        for key in rules_of(section)
    ]


def answered(book: RuleBook, voice: Voice) -> list[Row]:
    """Return the rules that have a value, or wait for one."""
    empty = voice.term("rule-not-set")
    return [row for row in describe(book, voice) if row[1] != empty]


def _row(book: RuleBook, key: str, voice: Voice) -> Row:
    title = voice.value(book.named(key))
    return key, voice.value(book.answer(key)), title, _source(book, key, voice)


def _source(book: RuleBook, key: str, voice: Voice) -> str:
    known = book.provenance.get(key)
    if known is not None and known.certainty is Certainty.EVENT:
        return voice.term("certainty-event")
    if known is not None:
        sure = voice.term(f"certainty-{known.certainty.name.casefold()}")
        return f"{voice.term(f'source-{known.source}')} ({sure})"
    if key in book.asked:
        return voice.word("source-event-must-say")
    return voice.term("certainty-choice")
