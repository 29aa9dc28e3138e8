"""What was keyed stays exact to the last printed digit; the oracle reckons in fractions."""

import json
import pickle
import random
from fractions import Fraction

import pytest

from scorer.event.model import Units
from scorer.facts import parts
from scorer.rounding import Exact, exact, to_step
from scorer.scoring.document import document, to_json
from scorer.scoring.score import score
from scorer.units import length_m, show_length
from scorer.verify import read_results, verify
from tests.scorer.tiny import RULES, tiny, tiny_flight

INCH = Fraction(254, 10000)
"""Metres: the international inch (agreement of 1959)."""


def by_hand(value: Fraction, step: Fraction) -> Fraction:
    """Half up by counting steps: the oracle's own rounding."""
    count, rest = divmod(value, step)
    return step * (count + (2 * rest >= step))


def taped(*distances, **changes):
    marks = "task,pilot,method,distance\n" + "".join(
        f"1,{pilot},tape,{distance}\n" for pilot, distance in enumerate(distances, 1)
    )
    imposed = changes.pop("imposed", {})
    rulings = "task,pilot,finding,decision,amount,unit,reason\n" + "".join(
        f"1,{pilot},,impose,{metres},metres,x\n" for pilot, metres in imposed.items()
    )
    flight = tiny_flight(marks=marks, rulings=rulings)
    return score(tiny(flight, **changes))


def by_pilot(results):
    return {s.pilot: s for s in results.tasks[0].scores}


def test_metre_penalties_are_added_as_decimals():
    """By hand: 0.105 + 0.3 = 0.405, so 0.41; two binary floats add up to less."""
    assert 0.105 + 0.3 < 0.405
    found = by_pilot(taped("0.105", "0.41", "7", imposed={1: "0.3"}))

    assert [found[p].result for p in (1, 2)] == [0.41, 0.41]
    assert [found[p].rank for p in (1, 2, 3)] == [1, 1, 3]


def test_hundreds_of_lengths_and_penalties_agree_with_fractions():
    dice = random.Random(14)
    for _ in range(12):
        lengths = [Fraction(dice.randrange(0, 200_000), 1000) for _ in range(4)]
        penalties = {p: Fraction(dice.randrange(1, 9000), 1000) for p in (1, 3)}
        found = by_pilot(
            taped(
                *(f"{float(v)} m" for v in lengths),
                imposed={p: float(v) for p, v in penalties.items()},
            )
        )
        for pilot, keyed in enumerate(lengths, 1):
            wanted = by_hand(keyed + penalties.get(pilot, 0), Fraction(1, 100))
            assert exact(found[pilot].result) == wanted


def test_every_quarter_inch_is_rounded_as_fractions_are():
    """Four decimals of a metre are too few: some quarter inches lie a hair under a half."""
    misread = 0
    for quarters in range(1, 4800):
        keyed = length_m(f"{quarters // 48} ft {(quarters % 48) / 4} in")
        true = quarters * INCH / 4
        wanted = by_hand(true, Fraction(1, 100))
        assert to_step(exact(keyed), Fraction(1, 100)) == wanted
        misread += (
            by_hand(by_hand(true, Fraction(1, 10_000)), Fraction(1, 100)) != wanted
        )
    assert misread > 0


STEPPED = RULES + 'results.step = "1/4 in"\n'


def test_an_imperial_event_rounds_and_ranks_in_its_own_step():
    """By hand: 13 ft 4 5/8 in goes up to 4 3/4; 4.6 in goes down to 4 1/2.

    In centimetres both 13 ft 4.75 in and 13 ft 4.6 in would be 4.08 m, a tie.
    """
    keyed = ("13 ft 4 5/8 in", "13 ft 4.6 in", "13 ft 4.75 in", "20 ft")
    plain = by_pilot(taped(*keyed, units="imperial"))
    found = by_pilot(taped(*keyed, units="imperial", rules=STEPPED))

    assert [plain[p].rank for p in (1, 2, 3)] == [1, 1, 1]
    assert [found[p].rank for p in (1, 2, 3, 4)] == [2, 1, 2, 4]
    inches = [exact(found[p].result) / INCH for p in (1, 2, 3, 4)]
    assert inches == [Fraction(643, 4), Fraction(321, 2), Fraction(643, 4), 240]


def test_results_that_only_rounding_makes_equal_say_so():
    """Equal results that read differently would look like a mistake.

    By hand: 13 ft 4 5/8 in is 4.0799 m, 13 ft 4.6 in 4.0792 m: both 4.08 m.
    """
    results = taped(
        "13 ft 4 5/8 in", "13 ft 4.6 in", "20 ft", "20 ft", units="imperial"
    )
    told = {
        pilot: [results.voice.say(step) for step in own.steps]
        for pilot, own in by_pilot(results).items()
    }

    assert any("2" in line and "4.08 m" in line for line in told[1])
    assert any("1" in line and "4.08 m" in line for line in told[2])
    assert not any(" m each" in line for pilot in (3, 4) for line in told[pilot])


def test_a_step_in_inches_says_nothing_in_a_metric_event():
    found = by_pilot(taped("4.081", "9", rules=STEPPED))

    assert found[1].result == 4.08


@pytest.mark.parametrize("step", ['"1 cm"', '"0 in"', '"inch"', "1"])
def test_a_step_is_a_length_in_feet_or_inches(step):
    with pytest.raises(Exception, match="step"):
        taped("1", units="imperial", rules=RULES + f"results.step = {step}\n")


def test_results_json_has_the_exact_number_and_its_unit():
    results = taped("9 ft 1.25 in", "20 ft", units="imperial", rules=STEPPED)
    row = document(results)["tasks"][0]["scores"][0]

    assert row["measured_exact"] == "2.77495"
    assert (row["result_exact"], row["result_unit"]) == ("109.25", "in")
    assert row["result"] == pytest.approx(2.77495, abs=1e-12)  # still metres


@pytest.mark.parametrize("rules", [RULES, STEPPED])
@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_the_second_verifier_follows(units, rules):
    results = taped("9 ft 1.25 in", "2.775 m", "1/3 in", "77", units=units, rules=rules)
    tree = read_results(to_json(results), "results.json")
    assert verify(tree) == []

    score_of_2 = next(s for s in tree["tasks"][0]["scores"] if s["pilot"] == 2)
    score_of_2["result"] += Fraction(tree["tasks"][0]["rules"]["step"])
    assert any("result" in d.where for d in verify(tree, digests=False))


def test_a_pilot_reads_what_was_keyed_and_what_it_was_rounded_to():
    results = taped("9 ft 1.25 in", units="imperial")
    steps = [results.voice.say(step) for step in by_pilot(results)[1].steps]

    assert "result: 9 ft 1.25 in" in steps
    assert show_length(Exact(Fraction("1.155")), Units.METRIC) == "1.155 m"
    assert show_length(length_m("5/8 in"), Units.IMPERIAL) == "0 ft 0.625 in"
    assert show_length(length_m("1/3 in"), Units.IMPERIAL) == "0 ft 0.3 in"
    assert show_length(length_m("6 ft 11.99996 in"), Units.IMPERIAL) == "7 ft 0.0 in"


def test_a_loss_below_nothing_is_told():
    """A greatest-best result under 0 is 0, and the step says so."""
    steps = by_pilot(_longest())[1].steps
    kinds = {inner.kind for step in steps for inner in parts(step)}
    assert "step-result-not-under-0" in kinds


def _longest():
    tasks = (
        '[[task]]\nnumber = 1\nkind = "XDI"\nscoring_area = "area"\nreference = "T"\n'
    )
    marks = (
        "task,pilot,method,easting,northing\n1,1,grid,500010,4500000\n"
        "1,2,grid,500200,4500000\n"
    )
    rulings = (
        "task,pilot,finding,decision,amount,unit,reason\n1,1,,impose,50,metres,x\n"
    )
    return score(tiny(tiny_flight(tasks=tasks, marks=marks, rulings=rulings)))


def test_exact_numbers_survive_being_sent_to_another_process():
    back = pickle.loads(pickle.dumps(length_m("1/3 in")))
    assert back.fraction == INCH / 3
    assert json.dumps(back) == json.dumps(float(back))
