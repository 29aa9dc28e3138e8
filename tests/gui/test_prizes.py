"""Prizes are declared, changed and removed by keys, and say who would get them."""

from PySide6.QtCore import Qt

from gui.models.prizes import PrizeForm, draft_of
from scorer.event.model import AwardFor
from scorer.scoring.awarding import given
from scorer.words.voice import Voice
from tests.gui.helpers import (
    CTRL,
    because,
    enter,
    page,
    press,
    settled,
    type_text,
    write,
)


def test_a_prize_is_declared_changed_and_removed_by_keys(qtbot, desk):
    prizes = page(desk, "prizes")
    press(Qt.Key.Key_N, CTRL)
    enter()
    assert "Give the prize a name" in prizes.told.text()
    type_text("Dawn cup")
    write({"What it is for": "each class", "Places": "0"})
    enter()
    assert "from 1 up" in prizes.told.text()
    write({"Places": "2"})
    enter()
    settled(qtbot, desk)
    (award,) = desk.session.snapshot.event.awards
    assert (award.name, award.given_for, award.places) == ("Dawn cup", "class", 2)

    prizes.table.setFocus()
    assert prizes.table.choose("Dawn cup")
    scored = desk.session.results
    told_ = prizes.would.text()
    for one in given(scored.event, scored.results):
        for place, pilot in one.places:
            assert f"{place}. {scored.results.voice.pilot(pilot)}" in told_
        assert f"class {one.award.class_name}" in told_

    enter()
    write({"What it is for": "the whole event"})
    enter()  # in a box too
    settled(qtbot, desk)
    (award,) = desk.session.snapshot.event.awards
    assert (award.given_for, award.class_name) == (AwardFor.OVERALL, "")

    prizes.table.setFocus()
    prizes.table.choose("Dawn cup")
    press(Qt.Key.Key_Delete)
    because("the cup broke")
    settled(qtbot, desk)
    assert desk.session.snapshot.event.awards == ()


def test_a_prize_that_another_desk_removed_is_not_lost_while_it_is_changed(desk):
    snapshot, voice = desk.session.snapshot, Voice()
    form = PrizeForm(name="Dawn cup", places="1")
    (draft,), faults = draft_of(snapshot, form, "Dusk cup", voice)
    assert not faults
    assert [row["name"] for row in draft.act.settings["award"]] == ["Dawn cup"]


def test_a_prize_keeps_only_what_its_kind_has():
    form = PrizeForm(name="x", given_for=AwardFor.OVERALL, task="2", class_name="sport")

    assert form.cells(Voice()) == {"for": "overall", "ties": "shared", "places": 3}
