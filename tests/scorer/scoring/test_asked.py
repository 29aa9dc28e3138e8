"""Rules as questions: complete, answered in words, worked by what charges infringements."""

from fractions import Fraction
from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scorer.checks.charge import charge
from scorer.event.answering import (
    LEFT,
    Cost,
    Costs,
    costs_of,
    plain_costs,
    plain_of,
    typed,
    with_answers,
)
from scorer.event.model import Units
from scorer.event.questions import QUESTIONS, question_of, variable
from scorer.event.rulebook import COMPLAINT_TIME, SECTIONS, rules_of
from scorer.event.rules_reader import book_names, load_book, override, read_value
from scorer.scoring.asked import asked, warnings, worked
from scorer.units import Unreadable
from scorer.words.catalogue import has, message
from scorer.words.voice import Voice

KEYS = [f"{section}.{key}" for section in SECTIONS for key in rules_of(section)]
FEET = Voice(units=Units.IMPERIAL)


def answered(rules, name="festival"):
    faults = []
    book = override(load_book(name), rules, "this event", lambda *f: faults.append(f))
    assert faults == []
    return book


def test_every_rule_of_a_book_is_asked_for_by_just_one_question():
    asked_for = [key for question in QUESTIONS for key in question.rules]

    assert sorted(asked_for) == sorted(KEYS)
    assert all(question_of(key) in QUESTIONS for key in KEYS)


def test_every_question_has_its_sentence_with_a_gap_for_each_rule():
    text = resources.files("scorer.words").joinpath("en.ftl").read_text("utf-8")
    for question in QUESTIONS:
        assert has(f"question-{question.name}")
        assert has(f"questions-{question.part}")
        if question.keys:
            gaps = {variable(key): f"<{key}>" for key in question.keys}
            said = message(f"sentence-{question.name}", gaps)
            assert all(gap in said for gap in gaps.values()), question.name
        assert f"answer-{question.name} =" in text


@pytest.mark.parametrize("name", book_names())
def test_questions_that_wait_come_first_and_every_answer_can_be_said(name):
    listed = asked(load_book(name))

    assert [a.waits for a in listed] == sorted((a.waits for a in listed), reverse=True)
    assert any(COMPLAINT_TIME in a.question.rules for a in listed if a.waits)
    for voice in (Voice(), FEET, Voice(language="de")):
        for one in listed:
            assert voice.say(one.answer).strip(" ;:")
            assert voice.word(one.title).endswith("?")


def test_a_question_that_no_task_asks_for_holds_nothing_up_and_is_not_answered():
    """Nobody declares a goal: the question stood among those that must be answered."""
    book = load_book("championship")
    every, needed = asked(book), asked(book, ["contact.penalty"])
    (goals,) = [a for a in needed if a.question.name == "declarations"]
    assert goals.left
    assert not goals.waits
    assert goals.part != "questions-asked"
    assert [a.question.name for a in needed if a.waits] == ["contact"]
    assert needed[0].waits
    left = {a.question.name for a in every if a.left}
    assert left == {a.question.name for a in needed if a.left}


def test_an_answered_question_says_what_was_answered():
    rules = {
        "floor": {
            "height": "75 ft",
            "within": "none",
            "penalty": {"unit": "task points", "per": 1, "of": "ft", "cap": 500},
        }
    }
    (floor,) = [a for a in asked(answered(rules)) if a.question.name == "floor"]

    assert not floor.waits
    assert FEET.say(floor.answer) == "75 ft; 1 task point for each foot, at most 500"


def test_worked_cases_are_what_the_engine_charges():
    """The picture's own figures: 67 ft 8 points, 50 ft 25, half the minimum 38."""
    costs = {"unit": "task points", "per": 1, "of": "ft", "cap": 500}
    book = answered({"floor": {"height": "75 ft", "within": "none", "penalty": costs}})
    cases = worked(question_of("floor.height"), book, Units.IMPERIAL)

    told = [(FEET.value(c.found), FEET.value(c.over), FEET.say(c.costs)) for c in cases]
    assert told == [
        ("67 ft", "8 ft", "8 task points"),
        ("50 ft", "25 ft", "25 task points"),
        ("38 ft", "38 ft", "38 task points"),
    ]
    for case in cases:
        (amount,) = charge(book.floor.penalty, case.over.amount)
        assert FEET.say(amount.says) == FEET.say(case.costs)
    (doubt,) = warnings(question_of("floor.height"), book)
    assert FEET.say(doubt).startswith("Half the minimum height costs 38 of 1000")


@pytest.mark.parametrize("name", book_names())
def test_what_a_book_says_reads_back_as_it_is_typed(name):
    book = load_book(name)
    for units in Units:
        for question in QUESTIONS:
            for key in question.keys:
                text = typed(key, book, units)
                plain = plain_of(key, text, units)
                section, _, own = key.partition(".")
                attribute, _, _ = rules_of(section)[own]
                held = getattr(getattr(book, section), attribute)
                if plain is LEFT:
                    assert held in (None, ())
                else:
                    read = read_value(key, plain)
                    if isinstance(held, float):
                        assert float(read) == pytest.approx(held, abs=1e-4), key
                    else:
                        assert read == held, key


def test_a_bare_number_counts_in_the_events_own_unit():
    assert plain_of("floor.height", "75", Units.IMPERIAL) == "75 ft"
    assert plain_of("floor.height", "20,5", Units.METRIC) == "20,5 m"
    assert plain_of("floor.least_time", "3", Units.METRIC) == "3 s"
    assert plain_of(COMPLAINT_TIME, "2 h", Units.METRIC) == "2 h"
    assert plain_of("floor.height", "  ", Units.METRIC) is LEFT


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("floor.height", "minus five"),
        ("floor.height", "-5 m"),
        ("floor.least_time", "soon"),
        ("points.method", "the best"),
        ("results.decimals", "two"),
        ("results.decimals", "-1"),
        ("results.decimals", "٣"),
        ("findings.least_probability", "150 %"),
        ("points.places", "10, x"),
        ("keying.twice", "maybe"),
        ("floor.height", "1" * 5000),
    ],
)
def test_what_is_no_answer_is_refused_with_what_is_allowed(key, text):
    with pytest.raises(Unreadable) as refused:
        plain_of(key, text, Units.METRIC)
    assert refused.value.allowed


@given(st.sampled_from(KEYS), st.text(max_size=30))
def test_whatever_is_typed_is_read_or_refused(key, text):
    if question_of(key).penalty == key:
        return
    try:
        plain = plain_of(key, text, Units.METRIC)
    except Unreadable:
        return
    if plain is not LEFT:
        read_value(key, plain)


SCALES = [
    Costs(way=Cost.DECIDED),
    Costs(way=Cost.NO_RESULT),
    Costs(way=Cost.BY_AMOUNT, per="1", of="ft", most="500"),
    Costs(way=Cost.BY_AMOUNT, base="50"),
    Costs(way=Cost.BY_STEPS, of="ft", steps="50 from 0 ft, 200 from 9 ft"),
]


@pytest.mark.parametrize("costs", SCALES)
def test_the_four_costs_come_back_as_they_were_filled_in(costs):
    plain = plain_costs(costs, "ft")
    read = read_value("floor.penalty", plain)
    back = costs_of(read)

    assert back.way is costs.way
    assert read_value("floor.penalty", plain_costs(back, "ft")) == read


def test_steps_cost_from_where_they_hold():
    plain = plain_costs(SCALES[-1], "ft")
    rules = read_value("floor.penalty", plain)
    foot = float(Fraction("0.3048"))

    amounts = [charge(rules, feet * foot) for feet in (5, 10)]
    assert [a[0].amount for a in amounts] == [50, 200]


@pytest.mark.parametrize(
    "text", ["", "much", "50 from", "-5 from 1 ft", "50 from 1 kg"]
)
def test_steps_that_are_none_are_refused(text):
    with pytest.raises(Unreadable):
        read_value(
            "floor.penalty", plain_costs(Costs(way=Cost.BY_STEPS, steps=text), "ft")
        )


def test_answers_and_paragraphs_go_into_the_rules_and_out_again():
    before = {
        "book": "festival",
        "keying_tolerance": "1 cm",
        "floor": {"source": "§ 9"},
    }
    made = with_answers(
        before,
        {"floor.height": "80 ft", "keying.twice": True},
        {"floor.height": "§ 9.3", "floor.until": ""},
    )

    assert made["floor"]["height"] == "80 ft"
    assert made["floor"]["source"]["height"] == "§ 9.3"
    assert "until" not in made["floor"]["source"]
    assert made["keying"] == {"tolerance": "1 cm", "twice": True}
    assert before["floor"] == {"source": "§ 9"}
    book = answered(made)
    assert book.paragraphs["floor.height"] == "§ 9.3"

    again = with_answers(made, {"floor.height": LEFT})
    assert "height" not in again["floor"]
