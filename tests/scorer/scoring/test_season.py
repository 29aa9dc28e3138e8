"""Season standings: sums, best-of-N, points of places, and who is who."""

import pytest

from scorer.scoring.score import score
from scorer.scoring.season import SeasonRule, season, season_document
from tests.helpers import said
from tests.scorer.tiny import PILOTS, tiny, tiny_flight

HEAD = "task,pilot,method,distance,by\n"


def event(name, distances, pilots=PILOTS):
    """One fly-in; distances by pilot number in metres, None = no mark found."""
    lines = [
        f"1,{pilot},none,,Eva" if metres is None else f"1,{pilot},tape,{metres},Eva"
        for pilot, metres in distances.items()
    ]
    made = tiny(
        tiny_flight(marks=HEAD + "\n".join(lines) + "\n"), pilots=pilots, name=name
    )
    return made, score(made)


# By hand, four entered, all with a result: ranks have 1000, 750, 500, 250 points where
# rank 2 is the median (M = 2).
SPRING = event("Spring", {1: 10, 2: 20, 3: 30, 4: 40})
SUMMER = event("Summer", {1: 40, 2: 30, 3: 20, 4: 10})
AUTUMN = event("Autumn", {1: 10, 2: 20, 3: 40, 4: 30})


def lines(found):
    return [(line.rank, line.number, line.total) for line in found.lines]


def test_totals_of_all_events_add_up():
    found = season([SPRING, SUMMER], SeasonRule())

    assert lines(found) == [(1, n, 1250) for n in (1, 2, 3, 4)]
    assert found.notes == ()


def test_only_the_best_events_count():
    found = season([SPRING, SUMMER, AUTUMN], SeasonRule(best=2))

    # 1: 1000 + 1000; 2: 750 + 750; 3: 750 + 500; 4: 1000 + 500
    assert lines(found) == [(1, 1, 2000), (2, 2, 1500), (2, 4, 1500), (4, 3, 1250)]
    assert found.lines[0].counted == (0, 2)


def test_places_may_count_instead_of_totals():
    rule = SeasonRule(places=(25, 20, 16))

    found = season([SPRING, AUTUMN], rule)

    assert lines(found) == [(1, 1, 50), (2, 2, 40), (3, 3, 16), (3, 4, 16)]


def test_who_did_not_fly_gets_no_points_of_a_place():
    absent = event("Winter", {1: 10, 2: 20})

    found = season([absent], SeasonRule(places=(25, 20, 16, 13)))

    assert lines(found) == [(1, 1, 25), (2, 2, 20), (3, 3, 0), (3, 4, 0)]


def test_who_was_not_entered_has_no_line_for_the_event():
    few = event("Small", {1: 10}, pilots="number,name\n1,Ann\n")

    found = season([SPRING, few], SeasonRule())

    second = next(line for line in found.lines if line.number == 2)
    assert dict(second.events) == {0: 750}


def test_classes_are_ranked_within_themselves():
    found = season([SPRING, AUTUMN], SeasonRule())

    assert [(r.rank, r.number) for r in found.classes["AX-8"]] == [(1, 2), (2, 4)]


def test_one_name_under_two_numbers_is_kept_apart_and_told():
    other = event("Abroad", {11: 10}, pilots="number,name\n11,Ann\n")

    apart = season([SPRING, other], SeasonRule())
    joined = season([SPRING, other], SeasonRule(by_name=True))

    assert len(apart.lines) == 5
    assert "“Ann” has numbers 1 and 11" in said(apart.notes[0])
    assert lines(joined)[0] == (1, 11, 2000)
    assert joined.notes == ()


def test_a_name_misspelt_is_suspected_and_another_person_is_not():
    first = event("One", {7: 10}, pilots="number,name\n7,Annika Berg\n8,Max Low\n")
    second = event("Two", {7: 10}, pilots="number,name\n7,Anika Berg\n8,Ida Ruhl\n")

    found = season([first, second], SeasonRule())

    # pilot 8 is not accounted for in either, which keeps both events open
    assert [note.kind for note in found.notes[:2]] == ["season-still-open"] * 2
    (suspect,) = found.notes[2:]
    assert "Number 7 is “Annika Berg” and “Anika Berg”" in said(suspect)


def test_letters_and_spaces_written_otherwise_are_the_same_name():
    first = event("One", {7: 10}, pilots="number,name\n7,Zoë  Kent\n")
    second = event("Two", {7: 10}, pilots="number,name\n7,ZOE\u0308 KENT\n")

    assert len(season([first, second], SeasonRule()).lines) == 1


def test_two_entries_of_one_name_in_an_event_are_told():
    twins = event("Twins", {1: 10, 2: 20}, pilots="number,name\n1,Ann\n2,Ann\n")

    found = season([twins], SeasonRule(by_name=True))

    told = [said(note) for note in found.notes]
    assert any("entered 2 times in Twins, as 1 and 2" in text for text in told)


def test_an_event_with_open_matters_is_told():
    made = tiny(
        tiny_flight(marks=HEAD + "1,1,tape,10,Eva\n1,1,tape,20,Max\n"), name="Open"
    )

    found = season([(made, score(made))], SeasonRule())

    assert "Open: something is open" in said(found.notes[0])


@pytest.mark.parametrize("best", [None, 1])
def test_the_document_tells_what_counted(best):
    tree = season_document(season([SPRING, SUMMER], SeasonRule(best=best)))

    assert tree["events"] == ["Spring", "Summer"]
    first = tree["standings"][0]
    assert first["total"] == sum(first["events"][str(i)] for i in first["counted"])
    assert len(first["counted"]) == (best or 2)
