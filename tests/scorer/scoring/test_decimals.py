"""One result is one number: in the list, in its own steps and in the sums of others."""

import pickle
from fractions import Fraction

import pytest

from scorer.rounding import Rounded, exact
from scorer.scoring import told
from scorer.scoring.score import score
from tests.helpers import said
from tests.scorer.tiny import FIN, RULES, tiny, tiny_flight

TAPED = "task,pilot,method,distance\n1,1,tape,2.25\n1,2,tape,7.04\n1,3,tape,30\n1,4,tape,41\n"
SHAPED = "task,pilot,mark,method,easting,northing\n" + "".join(
    f"1,{p},A,grid,500000,4500000\n1,{p},B,grid,50{p}000,4500000\n"
    f"1,{p},C,grid,50{p}000,450{p}000\n"
    for p in (1, 2, 3, 4)
)
BENT = '[[task]]\nnumber = 1\nkind = "ELB"\n'
LAND = '[[task]]\nnumber = 1\nkind = "LRN"\n'


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("decimals", [0, 1, 2, 3])
@pytest.mark.parametrize(
    ("tasks", "marks"), [(FIN, TAPED), (BENT, SHAPED), (LAND, SHAPED)]
)
def test_each_place_prints_the_same_number(tasks, marks, decimals, units):
    rules = (
        f"{RULES}results.decimals = {decimals}\nresults.angle_decimals = {decimals}\n"
    )
    flight = tiny_flight(tasks=tasks, marks=marks)
    results = score(tiny(flight, rules=rules, units=units))
    (task,), voice = results.tasks, results.voice
    for own in task.scores:
        shown = told.result(voice, task, own)
        assert said(own.steps[-1], voice).endswith(shown)
        if own.how.kind == "points-by-result":
            assert f"({shown} − " in said(own.how, voice)


def test_a_rounded_number_stays_so_on_its_way_to_another_process():
    own = pickle.loads(pickle.dumps(Rounded(Fraction(23, 10), 1)))
    assert (exact(own), own.decimals) == (Fraction(23, 10), 1)
