"""Comparing entries: both beside each other, what speaks for which, chosen by digits."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel
from shapely import LineString, Point

from gui.blind import blinded
from gui.models.matters import MatterList, MatterRow
from gui.models.settling import (
    SettleAnswer,
    Sort,
    differing,
    drafts_of,
    first_of,
    holds,
    reasons,
    settle_rows,
    whole,
)
from gui.pages.entry_cards import EntryCards
from gui.snapshot import look
from gui.theme import NOON
from scorer.event.matter import Matter, grouped
from scorer.event.matters import MARK_FAR_FROM_TRACK, STACK_UNFIT
from scorer.facts import fact, inner, pilot, place
from scorer.ledger.acts import MarkSettled
from scorer.ledger.faults import LedgerError
from scorer.words.voice import Voice
from tests.gui.helpers import enter, page, press, settled, type_text

K = Qt.Key


@pytest.fixture
def compare(qtbot, desk):
    with qtbot.waitSignal(desk.session.shelf.compared):
        page(desk, "settle")
    return desk.page


def rows_of(desk, who="Yrsa", matters=None):
    return settle_rows(desk.session.snapshot, matters or MatterList(), who)


def marks(desk):
    return [a for _, a in desk.session.snapshot.state.all_of(MarkSettled)]


# The page.


def test_both_values_stand_large_with_what_differs(compare):
    row = compare.rows.row
    assert row.sort is Sort.DIFFER
    assert len(compare.cards.cards) == 2
    for card, side in zip(compare.cards.cards, row.sides, strict=True):
        assert card.value.objectName() == "figure"
        assert "underline" in card.value.text()
        assert side.value in card.accessibleName()


def test_the_map_is_at_the_scale_of_the_entries_and_the_log_is_heard(compare):
    picture = compare.map.picture
    row = compare.rows.row
    assert picture.title.startswith(f"{row.pilots[0]} ")
    values = sorted(keying.distance_m for keying in row.keyings)
    assert sorted(picture.rings_m) == pytest.approx(values)
    (left, right), _ = compare.map.widget.getPlotItem().vb.viewRange()
    assert right - left < 12 * max(values)
    assert "log" in compare.told.text().lower()


def test_of_marks_that_do_not_fit_the_map_shows_where_the_flight_came_near(
    qtbot, desk, compare
):
    keyings = compare.rows.row.keyings
    shelf, names = desk.session.shelf, ("as entered", "of another")
    with qtbot.waitSignal(shelf.compared) as told:
        shelf.ask_compared(compare.name, compare.rows.row.key, keyings, names)
    picture = told.args[1].picture
    shown = [spot.name for spot in picture.marks] + list(picture.ring_names)
    assert sorted(text.partition(":")[0] for text in shown) == sorted(names)
    fixes = np.column_stack([picture.way.east_m, picture.way.north_m])
    way = LineString(fixes[np.isfinite(fixes).all(axis=1)])
    with np.errstate(invalid="ignore"):  # fixes in one place are a leg without a length
        away = [way.distance(Point(place)) for place in picture.focus_m]
    assert sum(distance < 0.1 for distance in away) >= len(keyings)
    assert shown != [spot.name for spot in compare.map.picture.marks]


def test_no_rank_and_no_points_stand_on_the_page(desk, compare):
    words = " ".join(
        w.text() for w in compare.findChildren(QLabel) if "not shown" not in w.text()
    ).lower()
    assert "rank" not in words
    assert "points" not in words


def test_a_digit_chooses_the_next_says_why_and_enter_records(qtbot, desk, compare):
    row = compare.rows.row
    press(K.Key_2)
    assert compare.bar.why == ""
    press(K.Key_1)
    assert row.sides[1].value in compare.bar.sentence.text()
    assert not desk.session.pending
    enter()
    settled(qtbot, desk)
    act = marks(desk)[-1]
    assert act.fields["distance"] == row.sides[1].fields["distance"]
    assert (act.fields["settles"], act.fields["by"]) == ("field sheet", "Yrsa")
    again = next(r for r in rows_of(desk) if r.pilots == row.pilots)
    assert again.sort is Sort.CHOSEN
    compare.rows.choose(again.key)
    assert compare.bar.sentence.text() == Voice().word("compare-was")
    assert not compare.bar.button.isEnabled()
    assert compare.foot_keys == (), "no key takes what was chosen"


@pytest.mark.parametrize(
    "keys",
    [
        (K.Key_Return,),
        (K.Key_2, K.Key_Return),
        (K.Key_2, K.Key_1, K.Key_Escape, K.Key_Return),
        (K.Key_0, K.Key_Return, K.Key_Return),
        (K.Key_3, K.Key_1, K.Key_Return),
    ],
    ids=["alone", "no reason", "dropped", "no value", "no such entry"],
)
def test_keys_in_a_wrong_order_record_nothing(desk, compare, keys):
    for key in keys:
        press(key)
    assert not desk.session.pending


def test_another_value_is_read_before_it_holds(qtbot, desk, compare):
    press(K.Key_0)
    type_text("as if")
    enter()
    assert not desk.session.pending
    QApplication.focusWidget().selectAll()
    type_text("2.55")
    assert "2.55 m" in compare.bar.sentence.text()
    enter()
    press(K.Key_4)
    type_text("taped again, 2 people")
    enter()
    settled(qtbot, desk)
    act = marks(desk)[-1]
    assert act.fields["distance"] == "2.55"
    assert act.fields["settles"] == "taped again, 2 people"


# The models.


def test_differing_digits_are_found():
    assert differing("47 ft 5.25 in", ["46 ft 6.25 in"]) == (
        ("4", False),
        ("7", True),
        (" ft ", False),
        ("5", True),
        (".25 in", False),
    )
    both = differing("41 ft 7.25 in", ["44 ft 6.75 in"])
    assert [text for text, differs in both if differs] == ["1", "7", "2"]
    assert differing("no mark found", ["15.50 m"])[0] == ("no", True)
    assert all(
        differs for text, differs in differing("no mark found", ["15 m"]) if text != " "
    )
    assert differing("same", ["same"]) == (("same", False),)


def test_whoever_made_an_entry_is_told_that_somebody_else_should_choose(desk):
    row = next(r for r in rows_of(desk) if r.sort is Sort.DIFFER)
    own = next(
        r for r in rows_of(desk, row.sides[0].by.upper()) if r.pilots == row.pilots
    )
    assert "speaks-own" in [h.kind for h in own.hints]
    assert "speaks-own" not in [h.kind for h in row.hints]


def swapped(desk, one, other):
    """Matters on two marks that fit each other's flights."""
    task = desk.session.snapshot.event.tasks[0]

    def matter(number, theirs):
        others = fact("marks-swapped", pilot=pilot(number), other=pilot(theirs))
        text = fact("mark-fits-nobody")
        says = fact("mark-astray", what=inner(text), others=inner(others))
        return Matter(
            kind=MARK_FAR_FROM_TRACK,
            flight=task.flight,
            task=task.number,
            pilots=(number,),
            says=says,
        )

    made = (matter(one, other), matter(other, one))
    return MatterList(rows=tuple(MatterRow(matter=m, voice=Voice()) for m in made))


def seen(desk):
    """Two pilots whose marks one person entered, who that is, and all that stands."""
    whole = look(desk.session.ledger)
    slots = [s for s in whole.slots if not s.disputed and s.agreed.keying.distance_m]
    who = slots[0].people[0]
    return [s for s in slots if who in s.people][:2], who, whole


def test_swapped_marks_are_one_decision_for_two_pilots(desk):
    slots, who, seen_all = seen(desk)
    one, other = (int(s.slot.pilot) for s in slots)
    rows = settle_rows(seen_all, swapped(desk, one, other), who)
    (row,) = (r for r in rows if r.sort is Sort.UNFIT)
    assert set(row.pilots) == {one, other}
    made = drafts_of(row, 1, "", "both numbers on the sheet", "Yrsa")
    got = {d.act.fields["pilot"]: d.act.fields["distance"] for d in made}
    texts = {s.slot.pilot: s.agreed.keying.entered["distance"] for s in slots}
    assert got == {str(one): texts[str(other)], str(other): texts[str(one)]}
    assert "swapped" in Voice().say(holds(row, 1, ""))
    accepted = drafts_of(row, 2, "", "seen to fall there", "Yrsa")
    assert len(accepted) == 2
    assert {d.act.kind for d in accepted} == {"acceptance"}


def test_half_a_swap_is_never_recorded(desk):
    """The event that pages are given lacks what somebody else entered: a mark was lost."""
    slots, who, seen_all = seen(desk)
    one, other = (int(s.slot.pilot) for s in slots)
    rows = settle_rows(seen_all, swapped(desk, one, other), who)
    (row,) = (r for r in rows if r.sort is Sort.UNFIT)
    hidden = {s.slot for s in slots[:1]}
    lacking = blinded(desk.session.snapshot, "Nobody", frozenset(hidden)).state
    row = replace(row, state=lacking)
    with pytest.raises(LedgerError):
        drafts_of(row, 1, "", "both numbers on the sheet", "Yrsa")
    made = page(desk, "settle")._drafts(row, 1)
    assert {d.act.fields["pilot"] for d in made} == {str(one), str(other)}


def test_a_mark_that_fits_otherwise_is_taken_so_in_one_decision(desk):
    slots, who, seen_all = seen(desk)
    number = int(slots[0].slot.pilot)
    task = desk.session.snapshot.event.tasks[0]
    meant = fact("meant-reference", place=place("bridge"))
    what = fact("mark-not-unusual", mark=inner(fact("mark-of", pilot=pilot(number))))
    matter = Matter(
        kind=MARK_FAR_FROM_TRACK,
        flight=task.flight,
        task=task.number,
        pilots=(number,),
        says=fact("mark-astray", what=inner(what), others=inner(meant)),
    )
    listed = MatterList(rows=(MatterRow(matter=matter, voice=Voice()),))

    (row,) = (r for r in settle_rows(seen_all, listed, who) if r.sort is Sort.UNFIT)

    assert row.sides[0].value == "bridge"
    assert (len(row.keyings), row.names) == (1, ("as entered",))
    (made,) = drafts_of(row, 1, "", "said so", "Yrsa")
    assert (made.act.fields["from"], made.act.fields["by"]) == ("bridge", "Yrsa")
    assert "taken as it fits" in Voice().say(holds(row, 1, ""))
    assert [d.act.kind for d in drafts_of(row, 2, "", "seen", "Yrsa")] == ["acceptance"]
    assert "accepted" in Voice().say(holds(row, 2, ""))


def test_marks_of_one_stack_are_one_decision(desk):
    slots, who, seen_all = seen(desk)
    numbers = tuple(sorted(int(s.slot.pilot) for s in slots))
    task = desk.session.snapshot.event.tasks[0]
    members = [
        Matter(
            kind=STACK_UNFIT,
            flight=task.flight,
            task=task.number,
            pilots=(number,),
            says=fact(
                "stack-reference",
                what=inner(fact("mark-of", pilot=pilot(number))),
                meant=inner(fact("meant-reference", place=place("bridge"))),
                start=place("weighbridge"),
                place=place("bridge"),
            ),
        )
        for number in numbers
    ]
    (matter,) = grouped(members)
    listed = MatterList(rows=(MatterRow(matter=matter, voice=Voice()),))

    (row,) = (r for r in settle_rows(seen_all, listed, who) if r.sort is Sort.UNFIT)

    assert row.pilots == numbers
    assert row.keyings == row.names == ()  # a map is about one flight
    assert "measured from weighbridge" in Voice().say(row.hints[0])
    made = drafts_of(row, 1, "", "said so", "Yrsa")
    assert {d.act.fields["pilot"] for d in made} == {str(n) for n in numbers}
    assert {d.act.fields["from"] for d in made} == {"bridge"}
    assert Voice().say(holds(row, 1, "")).startswith("2 marks of one stack are taken")
    accepted = drafts_of(row, 2, "", "seen", "Yrsa")
    assert [d.act.kind for d in accepted] == ["acceptance"] * 2
    assert "2 marks of one stack are accepted" in Voice().say(holds(row, 2, ""))


def test_of_a_large_stack_the_page_names_the_first_and_how_many_follow(compare):
    lines = tuple((f"pilot {n}", f"{n} m") for n in range(1, 41))
    side = replace(compare.rows.row.sides[0], keying=None, lines=lines)
    compare.cards.show_sides((side, side), compare.theme)
    card = compare.cards.cards[0]
    shown = [one.text() for one in card.findChildren(QLabel)]
    assert "38 more" in shown
    assert sum(text.startswith("pilot ") for text in shown) == 2
    assert card.toolTip().count("\n") == 39
    assert "pilot 40: 40 m" in card.accessibleDescription()
    assert first_of(["a", "b", "c"]) == ("a", "b", "c")


def test_a_mark_that_one_person_entered_is_not_shown_to_the_second(desk):
    (first, second), who, seen_all = seen(desk)
    one, other = int(first.slot.pilot), int(second.slot.pilot)
    slots = tuple(
        replace(s, settling=(), keyings=s.keyings[:1]) if s in (first, second) else s
        for s in seen_all.slots
    )
    once = replace(seen_all, slots=slots)
    event = once.event
    keying = replace(event.book.keying, twice=True)
    twice = replace(event, book=replace(event.book, keying=keying))
    asked = replace(once, event=twice)
    for stands, official, shown in (
        (asked, who, 1),
        (asked, "Somebody Else", 0),
        (once, "Somebody Else", 1),  # where one entry counts it is no secret
    ):
        rows = settle_rows(stands, swapped(desk, one, other), official)
        assert len([r for r in rows if r.sort is Sort.UNFIT]) == shown
    # What stands of them is told by results, whose marks are no secret there.
    other_ = blinded(once, "Somebody Else")
    results, listed = desk.session.results.results, swapped(desk, one, other)
    rows = settle_rows(other_, listed, "Somebody Else", None, results)
    (row,) = (r for r in rows if r.sort is Sort.UNFIT)
    assert [keying.pilot for keying in row.keyings] == [one, other]
    assert all(text not in {"", "–"} for side in row.sides for _, text in side.lines)


def test_reasons_used_before_come_first_then_usual_ones(desk):
    row = next(r for r in rows_of(desk) if r.sort is Sort.DIFFER)
    told = reasons(desk.session.snapshot, row, Voice())
    assert len(told) == 3
    said = Voice().say(whole(holds(row, 1, ""), told[0]))
    assert said.endswith(f"{told[0]}.")


def test_what_is_said_in_place_of_a_value_takes_the_room_there_is(qtbot):
    """A long one made the page wider than the screen."""
    said = "pilot 10 Siobhán Pennerfyn of the second crew (26 ft at 07:49:52)"
    cards = EntryCards()
    qtbot.addWidget(cards)
    cards.show_sides(
        [SettleAnswer(title="Take it as it fits", by="", at="", value=said)], NOON
    )
    assert cards.minimumSizeHint().width() < 400
    cards.resize(420, cards.sizeHint().height())
    cards.show()
    value = cards.cards[0].value
    qtbot.waitUntil(lambda: value.height() >= value.heightForWidth(value.width()) > 0)


def test_ctrl_z_reverts_the_choice_made_last_there_once_and_says_what(
    qtbot, desk, compare
):
    told = []
    compare.note.connect(told.append)
    press(K.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert "recorded nothing on this page" in told[-1]
    row = compare.rows.row
    for key in (K.Key_1, K.Key_1, K.Key_Return):
        press(key)
    settled(qtbot, desk)
    assert len(marks(desk)) == 1
    page(desk, "results")  # what it comes to is looked at first
    press(K.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not desk.session.pending
    page(desk, "settle")
    press(K.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert told[-1].startswith("Reverted: ")
    settled(qtbot, desk)
    assert marks(desk) == []
    assert compare.rows.choose(row.key)
    assert compare.rows.row.open
    press(K.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert "recorded nothing on this page" in told[-1]
    assert not desk.session.pending


def test_another_official_reverts_nothing_of_the_one_before(qtbot, desk, compare):
    for key in (K.Key_1, K.Key_1, K.Key_Return):
        press(key)
    settled(qtbot, desk)
    desk.session.set_who("Ingrid")
    press(K.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not desk.session.pending
    assert len(marks(desk)) == 1
