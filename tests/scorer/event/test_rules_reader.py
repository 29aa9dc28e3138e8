"""Rule books: shipped ones are whole, each value has a source, overrides are told."""

import re
import tomllib
from importlib.resources import files

import pytest

from scorer.errors import InputError
from scorer.event.rulebook import Certainty, Count, PenaltyStep
from scorer.event.rules_reader import book_names, load_book, override
from scorer.words.catalogue import ENGLISH, languages
from scorer.words.rules import describe
from scorer.words.voice import Voice


def overridden(text, book="festival"):
    faults = []
    rules = tomllib.loads(text)
    read = override(load_book(book), rules, "event.toml", lambda *f: faults.append(f))
    return read, faults


@pytest.mark.parametrize("whole", ["no result", "disqualified"])
def test_a_penalty_without_an_amount_is_its_name(whole):
    read, faults = overridden(f'[floor]\npenalty = "{whole}"')

    assert not faults
    assert [(str(p.unit), p.base) for p in read.floor.penalty] == [(whole, 0.0)]


def test_a_penalty_of_points_is_no_bare_name():
    _, faults = overridden('[floor]\npenalty = "task points"')
    assert len(faults) == 1
    assert '"no result" or "disqualified"' in str(faults[0])


@pytest.mark.parametrize("name", book_names())
def test_every_shipped_value_has_a_source_and_a_certainty(name):
    book = load_book(name)

    assert book.provenance
    for key, known in book.provenance.items():
        assert known.certainty in Certainty
        for language in languages():
            assert Voice(language=language).term(f"source-{known.source}"), key


def test_a_source_is_said_in_the_sheets_language():
    cited = load_book("festival").cite("floor.height")

    assert "festival practice" in Voice().say(cited)
    assert "Festivalpraxis" in Voice(language="de").say(cited)


def test_no_catalogue_names_a_source_that_no_book_has():
    catalogue = files("scorer.words").joinpath(f"{ENGLISH}.ftl").read_text("utf-8")
    used = {
        f"term-source-{known.source}"
        for name in book_names()
        for known in load_book(name).provenance.values()
    }

    assert used == set(re.findall("^term-source-[a-z0-9-]+", catalogue, re.MULTILINE))


def test_the_books_are_the_ones_the_product_ships():
    assert book_names() == ("championship", "festival", "gas-race")


@pytest.mark.parametrize("name", book_names())
def test_what_a_book_leaves_open_is_a_key_it_does_not_set(name):
    book = load_book(name)

    keys = {row[0] for row in describe(book, Voice())}
    assert set(book.unset) <= keys
    assert not set(book.unset) & set(book.provenance)


def test_no_section_of_a_shipped_book_is_passed_over():
    for name in book_names():
        path = files("scorer.event") / "books" / f"{name}.toml"
        content = tomllib.loads(path.read_text(encoding="utf-8"))
        values = {
            f"{s}.{k}" for s, t in content.items() if isinstance(t, dict) for k in t
        }
        assert values == set(load_book(name).provenance)


def test_festival_floor_is_seventy_five_feet():
    """75 ft above the ground: common practice, no source; 75·0.3048 = 22.86 m."""
    floor = load_book("festival").floor

    assert floor.height_m == pytest.approx(22.86)
    assert floor.penalty == ()  # the scale is the event's to set


def test_an_events_value_takes_the_events_name_as_source():
    book, faults = overridden('[floor]\nheight = "30 m"')

    assert not faults
    assert book.floor.height_m == 30
    assert book.provenance["floor.height"].certainty is Certainty.EVENT
    assert book.floor.least_time_s == 3  # kept from the book


def test_an_answer_to_an_open_question_closes_it():
    book, _ = overridden('[publication]\ncomplaint_time = "2 h"', "championship")

    assert "publication.complaint_time" not in book.unset


def test_none_takes_a_rule_away():
    book, faults = overridden('[floor]\nheight = "none"\npenalty = "none"')

    assert not faults
    assert book.floor.height_m is None
    assert book.floor.penalty == ()


def test_graded_penalties_are_read():
    book, faults = overridden(
        """
        [[launch.penalty]]
        unit = "task points"
        of = "m"
        steps = [{ over = "0 m", amount = 50 }, { over = 100, amount = 200 }]
        [[launch.penalty]]
        unit = "event points"
        per = 10
        of = "min"
        count = "started"
        cap = 100
        """
    )

    assert not faults
    graded, timed = book.launch.penalty
    assert graded.steps == (
        PenaltyStep(over=0, amount=50),
        PenaltyStep(over=100, amount=200),
    )
    assert (timed.of_si, timed.count, timed.cap) == (60, Count.STARTED, 100)


@pytest.mark.parametrize(
    ("text", "field", "part"),
    [
        ("[flor]\nheight = '1 m'", "flor", 'Did you mean "floor"?'),
        ("[floor]\nheigt = '1 m'", "floor.heigt", 'Did you mean "height"?'),
        ("[floor]\nheight = 75", "floor.height", "in quotes with its unit"),
        ("[floor]\nheight = '75'", "floor.height", "unit must be written"),
        ("[floor]\nuntil = 'dropp'", "floor.until", 'Did you mean "drop"?'),
        ("[points]\nties = 'meen'", "points.ties", 'Did you mean "mean"?'),
        ("[points]\nshow_up = -1", "points.show_up", "not negative"),
        ("[results]\ndecimals = '2'", "results.decimals", "a whole number"),
        ("[keying]\ntwice = 1", "keying.twice", "true or false"),
        ("[floor]\npenalty = { unit = 'points' }", "floor.penalty", "task points"),
        ("[floor]\npenalty = { unit = 'metres', per = 1 }", "floor.penalty", "`of`"),
        (
            "[floor]\npenalty = { unit = 'metres', base = -1 }",
            "floor.penalty",
            "from 0",
        ),
        ("floor = 3", "floor", "a table"),
    ],
)
def test_a_wrong_rule_is_told_with_its_key(text, field, part):
    _, faults = overridden(text)

    assert len(faults) == 1
    assert faults[0][0] == field
    assert part in " ".join(faults[0])


def test_an_unknown_book_lists_the_known_ones():
    with pytest.raises(InputError, match=r"festival, gas-race.*Did you mean"):
        load_book("festivall")


@pytest.mark.parametrize(
    ("penalty", "words"),
    [
        ('{ unit = "no result" }', "no result"),
        ('{ unit = "event points", base = 200 }', "200 competition points"),
        (
            '{ unit = "task points", per = 1, of = "ft", cap = 500 }',
            "1 task point for each foot, at most 500",
        ),
        (
            '{ unit = "task points", per = 100, of = "min", count = "started" }',
            "100 task points for each minute begun",
        ),
        (
            '{ unit = "metres", base = 50, per = 2, of = "km", count = "full" }',
            "50 metres of result and 2 metres of result for each full kilometre",
        ),
        (
            '{ unit = "task points", of = "m", steps = [{ over = "10 m", amount = 100 }] }',
            "100 task points from 10 m beyond the limit on",
        ),
        (
            '[{ unit = "metres", base = 50 }, { unit = "task points", base = 50 }]',
            "50 metres of result and 50 task points",
        ),
    ],
)
def test_a_briefing_says_penalties_in_words(penalty, words):
    book, faults = overridden(f"airspace.penalty = {penalty}")

    assert not faults
    rows = {key: value for key, value, _, _ in describe(book, Voice())}
    assert rows["airspace.penalty"] == words


@pytest.mark.parametrize(("text", "share"), [("0.2", 0.2), ("1", 1.0), ("0", 0.0)])
def test_a_share_is_a_number_up_to_one(text, share):
    book, faults = overridden(f"findings.least_probability = {text}")

    assert not faults
    assert book.findings.least_probability == share


@pytest.mark.parametrize("text", ["1.2", "-0.1", '"20 %"', "true"])
def test_another_share_is_refused(text):
    _, faults = overridden(f"findings.least_probability = {text}")

    assert len(faults) == 1
