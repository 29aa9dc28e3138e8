"""Keyings of one marker: surveys are adjusted, people are compared."""

import pytest

from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.verify import read_results, verify
from tests.helpers import lines, said
from tests.scorer.tiny import RULES, rows, tiny, tiny_flight

HEAD = "task,pilot,method,distance,bearing,from,easting,northing,time,by,settles\n"

# By hand: a marker 30 m east and 40 m north of T lies 50 m from it, √(70² + 40²) =
# 80.62 m from P (100 m east of T) and √(30² + 60²) = 67.08 m from Q (100 m north of T).
SURVEY = """1,1,tape,50.00,,,,,,Eva,
1,1,tape,80.62,,P,,,,Eva,
1,1,tape,67.08,,Q,,,,Eva,
"""


def own(marks, rules=RULES):
    """Score pilot 1's mark; return the score and the blocking warnings."""
    event = tiny(tiny_flight(marks=HEAD + marks), rules=rules)
    results = score(event)
    tree = read_results(to_json(results), "results.json")
    assert (
        verify(tree, [{"bare": "m", **row.fields} for row in rows(HEAD + marks)]) == []
    )
    told = [said(w) for w in results.matters if w.holds_up and w.pilot == 1]
    return results.task(1).score_of(1), told


def test_one_persons_measurements_from_several_points_are_adjusted_together():
    found, told = own(SURVEY)

    assert told == []
    assert found.settled
    assert found.result == pytest.approx(50.00, abs=0.01)
    assert found.marks[0].method == "adjusted"
    east, north = 30.0, 40.0
    text = "\n".join(lines(found.marks[0].steps))
    assert f"{500_000 + east:.0f} E, {4_500_000 + north:.0f} N" in text
    for part in ("off by", "uncertainty"):
        assert part in text
    assert "worst" not in text  # with one to spare all fit equally well
    assert found.marks[0].sigma_m < 0.05


def test_a_survey_that_contradicts_itself_is_not_settled_and_names_the_worst():
    """R lies 100 m east and north of T: √(70² + 60²) = 92.20 m; figures swapped at P."""
    fourth = "1,1,tape,92.20,,R,,,,Eva,\n"
    found, told = own(SURVEY.replace("80.62", "80.26") + fourth)

    assert not found.settled
    assert "contradict each other" in told[0]
    assert "distance from P" in told[0]


def test_with_one_to_spare_nobody_can_say_which_measurement_is_at_fault():
    found, told = own(SURVEY.replace("80.62", "80.26"))

    assert not found.settled
    assert "cannot be told from so few" in told[0]


def test_coordinates_beside_a_tape_hardly_move_the_distance():
    """GPS within some metres weighs (0.02/3)² of the tape: the tape stands."""
    found, told = own("1,1,tape,50.00,,,,,,Eva,\n1,1,grid,,,,500032,4500041,,Eva,\n")

    assert told == []
    assert found.result == 50.0
    assert found.marks[0].lat_deg is not None


def test_the_same_measurement_twice_by_one_person_is_compared():
    found, told = own("1,1,tape,50.00,,,,,,Eva,\n1,1,tape,51.00,,,,,,Eva,\n")

    assert not found.settled
    assert "Two entries differ by 1 m" in told[0]
    assert found.result == 51.0  # the less advantageous, for now


def test_a_distance_with_and_without_its_bearing_is_one_measurement():
    found, told = own("1,1,tape,50.00,,,,,,Eva,\n1,1,tape,50.00,36.87,,,,,Eva,\n")

    assert told == []
    assert found.marks[0].method == "tape"
    assert found.marks[0].lat_deg is not None


def test_different_measurements_by_different_people_are_compared_not_adjusted():
    found, told = own("1,1,tape,50.00,,,,,,Eva,\n1,1,grid,,,,500032,4500041,,Max,\n")

    assert not found.settled
    assert "Two entries differ" in told[0]


def test_rows_without_a_name_are_never_taken_for_one_survey():
    _, told = own("1,1,tape,50.00,,,,,,,\n1,1,grid,,,,500032,4500041,,,\n")

    assert "Two entries differ" in told[0]


def test_two_people_may_key_the_same_survey():
    again = SURVEY.replace("Eva", "Max")

    found, told = own(SURVEY + again, RULES + "keying.twice = true\n")

    assert told == []
    assert found.marks[0].method == "adjusted"


def test_a_slip_in_the_second_keying_of_a_survey_is_found_row_by_row():
    again = SURVEY.replace("Eva", "Max").replace("67.08", "67.80")

    found, told = own(SURVEY + again)

    assert not found.settled
    assert "Two entries differ" in told[0]
    assert "67.80" in told[0]


def test_a_row_with_a_reason_settles_a_survey():
    found, told = own(
        SURVEY.replace("80.62", "80.26")
        + "1,1,tape,50.02,,,,,,Ida,measured again with Eva\n"
    )

    assert told == []
    assert found.result == 50.02
    assert found.marks[0].method == "tape"


def test_a_row_that_names_no_entries_decides_over_two_values_and_no_third():
    """Ann's second sheet may have come after the decision: nothing says it was seen."""
    rows = "1,1,tape,2.01,,,,,,Ann,\n1,1,tape,2.91,,,,,,Bo,\n"
    decided = rows + "1,1,tape,2.91,,,,,,Eva,the photo\n"

    assert own(decided)[0].settled
    found, told = own(decided + "1,1,tape,3.40,,,,,,Ann,\n")
    assert not found.settled
    assert "3.40" in told[0]


def test_a_survey_that_fixes_two_points_says_what_to_do():
    found, told = own("1,1,tape,80.62,,P,,,,Eva,\n1,1,tape,67.08,,Q,,,,Eva,\n")

    assert not found.settled
    assert "two points" in told[0]


def test_no_mark_found_contradicts_any_measurement_of_it():
    found, told = own("1,1,tape,50.00,,,,,,Eva,\n1,1,none,,,,,,,Eva,\n")

    assert not found.settled
    assert "no mark found" in told[0]


def test_an_offset_from_a_line_may_be_part_of_a_survey():
    """From T towards P (due east) 30 m, and 40 m to the left: the same marker again."""
    head = "task,pilot,method,distance,from,distance2,from2,side,by\n"
    marks = head + "1,1,tape,50.00,,,,,Eva\n1,1,offset,30,T,40,P,L,Eva\n"
    results = score(tiny(tiny_flight(marks=marks)))

    found = results.task(1).score_of(1)
    assert found.settled
    assert found.result == 50.0
    assert found.marks[0].method == "adjusted"
