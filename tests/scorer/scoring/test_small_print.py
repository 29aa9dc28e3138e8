"""Small things that pilots ask about: own paragraphs, one figure, areas across 180 degrees."""

import numpy as np
import pytest
from shapely import Polygon

from scorer.event import matters
from scorer.geodesy.areas import project_ring
from scorer.geodesy.plane import Plane
from scorer.scoring.score import score
from scorer.words.voice import Voice
from tests.scorer.tiny import RULES, tiny, tiny_flight

MARKS = "task,pilot,method,distance\n1,1,tape,5\n1,2,tape,6\n"


def test_the_events_own_paragraph_stands_wherever_the_rule_does():
    rules = RULES + 'results.source = "§ 9.4"\npoints.source = { method = "annex C" }\n'
    results = score(tiny(tiny_flight(marks=MARKS), rules=rules))

    assert results.voice.rule("results.decimals").endswith("(§ 9.4)")
    assert results.voice.rule("points.method").endswith("(annex C)")
    assert "§" not in results.voice.rule("points.ties")


def test_every_rule_that_an_event_sets_can_be_told():
    rules = RULES + 'results.step = "1/4 in"\n'
    event = tiny(tiny_flight(), rules=rules, units="imperial")
    voice = Voice.of(event)

    assert voice.value(event.book.answer("results.step")) == "0.25 in"
    assert "0.25" in voice.say(event.book.cite("results.step"))


@pytest.mark.parametrize("source", ["7", '{ methode = "§ 1" }', '{ method = " " }'])
def test_a_paragraph_is_text_of_a_known_rule(source):
    with pytest.raises(Exception, match="source"):
        tiny(tiny_flight(), rules=f"{RULES}points.source = {source}\n")


@pytest.mark.parametrize("again", ["late", "other"])
def test_a_penalty_added_twice_word_for_word_is_asked_about(again):
    rulings = "task,pilot,finding,decision,amount,unit,reason\n" + "".join(
        f"1,1,,impose,50,task points,{why}\n" for why in ("late", again)
    )
    results = score(tiny(tiny_flight(marks=MARKS, rulings=rulings)))

    told = [m for m in results.matters if m.says.kind == "penalty-added-again"]
    assert bool(told) is (again == "late")
    assert all(m.kind is matters.RULING and m.holds_up for m in told)
    assert results.tasks[0].score_of(1).task_penalty == 100


def test_an_area_on_both_sides_of_180_degrees_is_the_small_one():
    """By hand: 0.02 degrees by 0.01 at 17 S: 2 129 m by 1 107 m, within 1 %."""
    plane = Plane("EPSG:32701")
    ring = np.array(
        [(179.99, -17.0), (-179.99, -17.0), (-179.99, -16.99), (179.99, -16.99)]
    )

    area = Polygon(project_ring(ring, plane))
    assert area.area == pytest.approx(2129 * 1107, rel=0.01)
    assert area.covers(area.representative_point())


@pytest.mark.parametrize("name", ["nowhere", "area"])
def test_the_place_above_which_a_height_counts_is_a_point_of_the_event(name):
    with pytest.raises(Exception, match=r"floor\.above"):
        tiny(tiny_flight(), rules=f'{RULES}floor.above = "{name}"\n')
