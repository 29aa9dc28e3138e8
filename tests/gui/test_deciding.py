"""Deciding on infringements: three keys, in one sight, and nothing by mistake."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel

from gui.models.amounts import read_amount
from gui.models.decision import Deciding, overtaken, reasons
from gui.models.findings import FindingGroup, detail_of, finding_rows
from gui.models.giving import Giving, read_given
from gui.models.many import Many, preview_of, try_many
from gui.pages.many import _change
from gui.pool import Pool
from scorer.event.finding import Amount, Verdict, read_id
from scorer.event.model import Decision, PenaltyUnit, Ruling
from scorer.ledger.acts import RulingMade, Undone
from scorer.ledger.api import Draft, Ledger, new_desk
from scorer.progress import Control
from scorer.scoring import told
from scorer.scoring.results import RulingState
from scorer.words.voice import Voice
from tests.gui.helpers import CTRL, enter, page, press, settled, type_text

K = Qt.Key


@pytest.fixture
def findings(qtbot, desk):
    """The page, with the picture of its first row."""
    with qtbot.waitSignal(desk.session.shelf.pictured):
        page(desk, "findings")
    qtbot.waitUntil(lambda: desk.page.pair.profile.picture is not None)
    return desk.page


def rulings(desk):
    return [a for _, a in desk.session.snapshot.state.all_of(RulingMade)]


def keys_in_foot(desk):
    keys = desk.frame.foot.keys
    return " ".join(w.text() for w in keys.findChildren(QLabel) if w.isVisibleTo(keys))


def choose(findings, group):
    row = next(r for r in findings.rows.shown if r.data.group is group)
    findings.rows.choose(row.key)
    findings.rows.setFocus()
    assert QApplication.focusWidget() is findings.rows
    return row.data.ruled.finding


# The page.


def test_text_and_picture_of_the_chosen_row_say_the_same(desk, findings):
    row, voice = findings.rows.row, desk.session.results.results.voice
    finding = row.ruled.finding
    measured = told.measured(voice, finding)
    assert measured in [fact.text for fact in findings.facts.facts]
    assert findings.pair.picture.heights.worst_text == measured
    assert findings.pair.picture.title.startswith(f"{finding.pilot} ")
    assert findings.who.text().split()[0] == str(finding.pilot)
    assert len(findings.facts.facts) == 5


def test_another_row_blanks_the_picture_until_its_own_comes(qtbot, desk, findings):
    asked = []
    findings.session.shelf.ask_picture, kept = (
        lambda *given: asked.append(given),
        findings.session.shelf.ask_picture,
    )
    try:
        first = findings.rows.row.ruled.finding
        press(K.Key_Down)
        other = findings.rows.row.ruled.finding
        assert other.pilot != first.pilot
        assert findings.pair.picture is None
        late = (first.flight, first.pilot, first.task, first.id)
        findings.session.shelf.pictured.emit(late, "the picture of another")
        assert findings.pair.picture is None
    finally:
        findings.session.shelf.ask_picture = kept
    assert [given[2] for given in asked] == [other.pilot]


def test_the_caution_stands_under_the_pictures_once(findings):
    cautions = [w for w in findings.findChildren(QLabel) if w.objectName() == "caution"]
    assert len(cautions) == 1
    assert "not for navigation" in cautions[0].text()


def test_no_rank_and_no_standing_stands_on_the_page(desk, findings):
    words = " ".join(w.text() for w in findings.detail.findChildren(QLabel)).lower()
    assert "rank" not in words
    assert "total" not in words


def test_the_cursor_moves_on_both_by_the_arrows(findings):
    findings.pair.profile.widget.setFocus()
    press(K.Key_Right)
    before = findings.pair.index
    press(K.Key_Right)
    assert findings.pair.index == before + 1
    way, i = findings.pair.picture.way, findings.pair.index
    x, y = findings.pair.map.cursor.getData()
    unit = findings.pair.picture.unit_m
    assert (x[0], y[0]) == (way.east_m[i] / unit, way.north_m[i] / unit)
    assert findings.pair.profile.cursor.value() == pytest.approx(
        way.time_s[i] - way.time_s[0]
    )
    assert "above the ground ±" in findings.pair.readout.text()


def test_f_shows_the_whole_flight_and_back(findings):
    box = findings.pair.profile.widget.getPlotItem().vb
    near = box.viewRange()[0]
    press(K.Key_F)
    whole = box.viewRange()[0]
    assert whole[1] - whole[0] > near[1] - near[0]
    press(K.Key_F)
    assert box.viewRange()[0] == pytest.approx(near)


# Keys.


def test_three_keys_decide_and_the_sentence_stands_before(qtbot, desk, findings):
    finding = choose(findings, FindingGroup.TO_DECIDE)
    before = len(rulings(desk))
    press(K.Key_C)
    assert not desk.session.pending
    press(K.Key_1)
    sentence = findings.bar.sentence.text()
    assert str(finding.pilot) in sentence
    assert "log is clear" in sentence
    assert not desk.session.pending
    enter()
    settled(qtbot, desk)
    act = rulings(desk)[-1]
    assert len(rulings(desk)) == before + 1
    assert act.fields["decision"] == "apply"
    assert act.fields["reason"] == "log is clear"
    assert finding.ruled_on.items() <= act.fields.items()
    assert act.fields["by"] == "Yrsa"


@pytest.mark.parametrize(
    "keys",
    [
        (K.Key_Return,),
        (K.Key_1, K.Key_Return),
        (K.Key_C, K.Key_Return),
        (K.Key_C, K.Key_1, K.Key_Escape, K.Key_Return),
        (K.Key_S, K.Key_Return, K.Key_1, K.Key_Return),
        (K.Key_C, K.Key_1, K.Key_W, K.Key_Return),
    ],
    ids=["alone", "reason first", "no reason", "dropped", "no amount", "other"],
)
def test_keys_in_a_wrong_order_record_nothing(desk, findings, keys):
    choose(findings, FindingGroup.TO_DECIDE)
    for key in keys:
        press(key)
    assert not desk.session.pending


def test_an_abandoned_reason_is_not_that_of_another_decision(qtbot, desk, findings):
    choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_C)
    press(K.Key_4)
    type_text("an old thought")
    press(K.Key_Escape)
    press(K.Key_W)
    assert findings.bar.why == ""
    press(K.Key_2)
    enter()
    settled(qtbot, desk)
    assert rulings(desk)[-1].fields["decision"] == "waive"
    assert "old thought" not in rulings(desk)[-1].fields["reason"]


def test_leaving_a_row_drops_decision_and_reason(desk, findings):
    finding = choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_C)
    press(K.Key_1)
    press(K.Key_Down)
    assert findings.rows.row.ruled.finding.id != finding.id
    enter()
    press(K.Key_Up)
    assert findings.rows.row.ruled.finding.id == finding.id
    enter()
    assert not desk.session.pending


def test_letters_typed_as_a_reason_are_no_commands(desk, findings):
    choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_W)
    press(K.Key_4)
    type_text("was away, 2 saw it")
    assert findings.bar.why == "was away, 2 saw it"
    assert not desk.session.pending


def test_another_amount_needs_amount_and_reason(qtbot, desk, findings):
    finding = choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_S)
    type_text("-5")
    enter()
    assert "how much" in findings.bar.sentence.text().lower()
    QApplication.focusWidget().selectAll()
    type_text("25")
    enter()
    press(K.Key_2)
    enter()
    settled(qtbot, desk)
    act = rulings(desk)[-1]
    assert (act.fields["finding"], act.fields["decision"]) == (finding.id, "set")
    assert (act.fields["amount"], act.fields["unit"]) == ("25", "task points")
    score = desk.session.results.results.task(finding.task).score_of(finding.pilot)
    assert score.task_penalty == 25 or score.group != "A"


def test_hold_keeps_it_open_and_charges_as_before(qtbot, desk, findings):
    finding = choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_H)
    press(K.Key_1)
    enter()
    settled(qtbot, desk)
    row = next(r.data for r in findings.rows.shown if r.key == finding.id)
    assert row.group is FindingGroup.ON_HOLD
    assert row.open
    ruled = next(
        r for r in desk.session.results.results.findings if r.finding.id == finding.id
    )
    assert ruled.state is RulingState.HOLD
    assert row.second == f"the pilot is asked, since {ruled.ruling.at.split()[1][:5]}"
    # the pilot answered: the same row is decided, the hold is replaced
    findings.rows.choose(finding.id)
    press(K.Key_W)
    press(K.Key_1)
    enter()
    settled(qtbot, desk)
    own = [a for a in rulings(desk) if a.fields["finding"] == finding.id]
    assert [a.fields["decision"] for a in own] == ["waive"]


@pytest.fixture
def decided(qtbot, desk, findings):
    """An infringement that was confirmed at this desk."""
    finding = choose(findings, FindingGroup.TO_DECIDE)
    for key in (K.Key_C, K.Key_1, K.Key_Return):
        press(key)
    settled(qtbot, desk)
    findings.rows.choose(finding.id)
    findings.rows.setFocus()
    return finding


def test_a_decided_row_changes_after_f7_only(qtbot, desk, findings, decided):
    before = len(rulings(desk))
    for key in (K.Key_W, K.Key_1, K.Key_Return):
        press(key)
    assert not desk.session.pending
    for key in (K.Key_F7, K.Key_W, K.Key_1, K.Key_Return):
        press(key)
    settled(qtbot, desk)
    assert len(rulings(desk)) == before
    own = [a for a in rulings(desk) if a.fields["finding"] == decided.id]
    assert [a.fields["decision"] for a in own] == ["waive"]


def test_a_decision_is_reverted_by_f7_and_0_with_a_reason(
    qtbot, desk, findings, decided
):
    press(K.Key_0)
    enter()
    assert not desk.session.pending
    press(K.Key_F7)
    press(K.Key_0)
    enter()
    assert not desk.session.pending  # no reason yet
    press(K.Key_2)
    enter()
    settled(qtbot, desk)
    row = next(r.data for r in findings.rows.shown if r.key == decided.id)
    assert row.group is FindingGroup.TO_DECIDE


def test_a_decision_that_names_the_kind_is_not_reverted_for_one(desk, findings):
    finding = choose(
        findings, FindingGroup.DECIDED
    )  # decided in the sample by its kind
    assert finding.id not in [a.fields["finding"] for a in rulings(desk)]
    for key in (K.Key_F7, K.Key_0, K.Key_2, K.Key_Return):
        press(key)
    assert not desk.session.pending


def test_a_decision_by_an_identifier_of_the_first_version_is_replaced(
    qtbot, desk, findings
):
    finding = choose(findings, FindingGroup.TO_DECIDE)
    old = read_id(finding.id).dateless
    fields = {"task": str(finding.task), "pilot": str(finding.pilot), "finding": old}
    act = RulingMade(flight=finding.flight, fields={**fields, "decision": "waive"})
    desk.session.record_all([Draft(act=act, why="as then")])
    settled(qtbot, desk)
    findings.rows.choose(finding.id)
    findings.rows.setFocus()
    for key in (K.Key_F7, K.Key_W, K.Key_1, K.Key_Return):
        press(key)
    settled(qtbot, desk)
    own = [a.fields["finding"] for a in rulings(desk)]
    assert old not in own
    assert own.count(finding.id) == 1


def test_what_another_desk_decided_meanwhile_is_not_decided_again(
    qtbot, desk, findings
):
    finding = choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_C)
    press(K.Key_1)
    fields = {
        "task": str(finding.task),
        "pilot": str(finding.pilot),
        "finding": finding.id,
        "decision": "waive",
        "reason": "seen by two",
        "by": "Piotr",
        "at": "2026-08-22T12:05:00+05:00",
        **finding.ruled_on,
    }
    target, other = desk.session.target, new_desk("field")
    with Ledger.open(target, desk=other, who="Piotr") as ledger:
        ledger.record(RulingMade(flight=finding.flight, fields=fields))
    qtbot.waitUntil(lambda: "Piotr" in desk.note.text())
    assert "not recorded" in desk.note.text()
    enter()
    assert not desk.session.pending
    assert findings.bar.why == ""


def test_a_penalty_that_no_log_shows_is_added(qtbot, desk, findings):
    press(K.Key_Plus)
    type_text("99")
    enter()
    type_text("50")
    enter()
    type_text("rudeness at the briefing")
    enter()
    assert not desk.session.pending  # nobody has number 99
    QApplication.focusWidget().selectAll()
    type_text("2")
    enter()
    enter()
    assert "50" in findings.imposing.sentence.text()
    enter()
    settled(qtbot, desk)
    act = rulings(desk)[-1]
    assert (act.fields["decision"], act.fields["pilot"]) == ("impose", "2")
    task = desk.session.results.results.task(int(act.fields["task"]))
    assert task.score_of(2).task_penalty >= 50


def test_what_was_recorded_last_is_reverted_by_ctrl_z(qtbot, desk, findings):
    finding = choose(findings, FindingGroup.TO_DECIDE)
    for key in (K.Key_C, K.Key_1, K.Key_Return):
        press(key)
    settled(qtbot, desk)
    press(K.Key_Z, CTRL)
    settled(qtbot, desk)
    assert finding.id not in [a.fields["finding"] for a in rulings(desk)]
    assert any(isinstance(e.act, Undone) for e in desk.session.snapshot.state.entries)


# Several at once.


def test_several_are_seen_before_they_are_recorded_together(qtbot, desk, findings):
    choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_Space)
    press(K.Key_W)
    many = findings.many
    assert findings.heading.text() == "Results"
    assert not desk.session.pending
    qtbot.waitUntil(lambda: bool(many.first.rows_model.rows))
    (row,) = many.table.shown
    was = desk.session.results.results.task(row.ruled.finding.task)
    assert row.score[0] == was.score_of(row.number).score
    assert row.rank[0] == was.score_of(row.number).rank
    press(K.Key_Return, CTRL)
    assert not desk.session.pending  # no reason yet
    many.table.setFocus()
    press(K.Key_2)
    press(K.Key_Return, CTRL)
    settled(qtbot, desk)
    then = desk.session.results.results.task(row.ruled.finding.task)
    assert then.score_of(row.number).score == row.score[1]
    assert then.score_of(row.number).rank == row.rank[1]
    assert rulings(desk)[-1].fields["reason"]
    left = [r for r in findings.rows.shown if r.data.open]
    assert findings.rows.row.open or not left  # on to what is left
    press(K.Key_Z, CTRL)
    settled(qtbot, desk)
    back = desk.session.results.results.task(row.ruled.finding.task)
    assert back.score_of(row.number).score == row.score[0]


def test_esc_leaves_several_as_they_are(desk, findings):
    choose(findings, FindingGroup.TO_DECIDE)
    press(K.Key_A, CTRL)
    press(K.Key_W)
    assert findings.stack.currentWidget() is findings.many
    foot = keys_in_foot(desk)
    assert "in or out" in foot
    assert "decide" not in foot  # letters decide nothing here
    press(K.Key_Escape)
    foot = keys_in_foot(desk)
    assert "decide" in foot
    assert findings.stack.currentWidget() is not findings.many
    assert findings.heading.text() == "Infringements"
    assert not desk.session.pending


# The models.


def ruled_of(desk):
    return desk.session.results.results.findings


def test_a_decision_has_a_reason_only_after_what(desk):
    ruled = ruled_of(desk)[0]
    empty = Deciding(ruled=ruled)
    assert not empty.because("early").begun
    made = empty.decide(Decision.APPLY).because(" log is clear ")
    assert made.whole
    assert made.decide(Decision.APPLY) is made
    assert made.decide(Decision.WAIVE).why == ""
    held = (
        empty.decide(Decision.HOLD).because("asked").fields("Ann", "2026-08-22 12:00")
    )
    assert (held["amount"], held["unit"]) == ("", "")


@pytest.mark.parametrize(
    ("text", "unit", "amount"),
    [
        ("25", PenaltyUnit.TASK_POINTS, 25.0),
        ("2.5", PenaltyUnit.TASK_POINTS, None),
        ("2,5", PenaltyUnit.METRES, 2.5),
        ("-3", PenaltyUnit.METRES, None),
        ("nan", PenaltyUnit.METRES, None),
        ("1e9", PenaltyUnit.METRES, None),
        ("", PenaltyUnit.EVENT_POINTS, None),
        ("", PenaltyUnit.NO_RESULT, 0.0),
        ("٣", PenaltyUnit.TASK_POINTS, None),
    ],
)
def test_amounts_are_read_or_refused(text, unit, amount):
    found = read_amount(text, unit)
    assert (found.amount if found else None) == amount


def test_reasons_are_the_events_most_used_of_this_kind(desk):
    snapshot, voice = desk.session.snapshot, Voice()
    finding = ruled_of(desk)[0].finding

    def act(why, kind):
        fields = {"finding": kind, "decision": "apply", "reason": why}
        return None, RulingMade(flight=finding.flight, fields=fields)

    class State:
        def all_of(self, _):
            other = [act("of another kind", "night")] * 5
            kind = finding.kind.name
            return [*other, act("rare", kind), *[act("usual here", kind)] * 2]

    told_ = reasons(replace(snapshot, state=State()), voice, finding, Decision.APPLY)
    assert told_ == ("usual here", "rare", "log is clear")
    waived = reasons(replace(snapshot, state=State()), voice, finding, Decision.WAIVE)
    assert "usual here" not in waived
    assert len(waived) == 3


@pytest.mark.parametrize("decision", [Decision.APPLY, Decision.WAIVE])
def test_no_reason_speaks_of_a_log_where_an_observer_alone_saw_it(desk, decision):
    """“Log is clear” was offered beside “there is no log that counts for this pilot”."""
    snapshot, voice = desk.session.snapshot, Voice()
    by_log = ruled_of(desk)[0].finding
    usual = reasons(snapshot, voice, by_log, decision)
    assert any("log" in why for why in usual)

    class State:
        def all_of(self, _):
            fields = {"finding": by_log.kind.name, "decision": str(decision)}
            return [
                (None, RulingMade(flight="", fields={**fields, "reason": why}))
                for why in (*usual, "in words of ours")
            ]

    told = replace(snapshot, state=State())
    found = reasons(told, voice, replace(by_log, sha256=""), decision)
    assert "in words of ours" in found
    assert not [why for why in found if "log" in why.split()]


def test_a_penalty_on_the_whole_event_is_of_competition_points(desk):
    snapshot = desk.session.snapshot
    amount = Amount(amount=5.0, unit=PenaltyUnit.TASK_POINTS)
    wanted = Giving(pilot=1, task=None, amount=amount, why="late")
    assert wanted.fault(snapshot).kind == "impose-whole-event"
    whole = replace(wanted, amount=replace(amount, unit=PenaltyUnit.EVENT_POINTS))
    assert whole.fault(snapshot) is None


def test_an_amount_is_recorded_with_all_its_digits(desk):
    amount = read_amount("12345,67", PenaltyUnit.METRES)
    wanted = Giving(pilot=1, task=1, amount=amount, why="flew on")
    snapshot, ledger = desk.session.snapshot, desk.session.ledger
    draft = wanted.draft(snapshot, ledger, "Yrsa")
    assert draft.act.fields["amount"] == "12345.67"


@pytest.mark.parametrize("text", ["12.5", "12,5", "12.5 m", "1250 cm"])
def test_what_is_typed_for_a_result_is_read_as_everywhere(desk, text):
    """The page of the pilot takes what Infringements takes, and records the same."""
    snapshot, ledger = desk.session.snapshot, desk.session.ledger
    amount = read_given(snapshot, Decision.RESULT, 1, text)
    assert amount == read_amount(text, PenaltyUnit.METRES)
    given = Giving(pilot=1, task=1, decision=Decision.RESULT, amount=amount, why="so")
    draft = given.draft(snapshot, ledger, "Yrsa")
    assert draft.act.fields["amount"] == "12.5"
    assert draft.act.fields["unit"] == "metres"
    assert read_given(snapshot, Decision.BONUS, 1, text) is None


def test_what_was_decided_meanwhile_is_told_with_who_and_when(desk):
    before = next(r for r in ruled_of(desk) if r.ruling is None)
    given = {"decision": "waive", "by": "Piotr"}
    ruling = Ruling(
        task=1,
        pilot=1,
        decision=Decision.WAIVE,
        by="Piotr",
        at="2026-08-22T12:05:00+05:00",
        entered=given,
    )
    now = replace(before, ruling=ruling, state=RulingState.WAIVE)
    said = Voice().say(overtaken(before, now))
    assert "Piotr waived it at 12:05" in said
    assert overtaken(before, before) is None
    assert overtaken(before, None).kind == "decide-gone"


def several(desk, pilots, kind=None):
    """Undecided infringements of one kind for some pilots."""
    base = next(r for r in ruled_of(desk) if r.ruling is None)
    return [
        replace(
            base,
            finding=replace(base.finding, pilot=n, kind=kind or base.finding.kind),
        )
        for n in pilots
    ]


def test_those_of_one_cause_are_one_row(desk):
    scored = desk.session.results
    base = several(desk, (1, 2, 3, 4, 5))
    late = replace(base[0].finding.kind, name="launch-period", rule="launch.period")
    own = several(desk, (1, 2, 3, 4, 5), late)
    decided = replace(own[4], state=RulingState.WAIVE)
    results = replace(scored.results, findings=(*own[:4], decided))
    rows = finding_rows(replace(scored, results=results))
    assert [len(row.each) for row in rows] == [4, 1]
    assert "4 pilots" in rows[0].name
    few = replace(results, findings=(*own[:3], decided))
    assert [len(r.each) for r in finding_rows(replace(scored, results=few))] == [1] * 4


def test_what_cannot_be_decided_so_is_left_out_and_told(desk):
    voice = Voice()
    open_one, other = several(desk, (1, 2))
    decided = replace(other, state=RulingState.WAIVE)
    many = Many.of(Decision.APPLY, [decided, open_one], voice)
    assert [row.number for row in many.taken] == [1]
    assert "decided already" in voice.say(many.out_told()[0])
    assert many.toggled(decided.finding.id).taken == many.taken
    assert not many.toggled(open_one.finding.id).taken
    assert many.every().taken == ()
    bare = replace(open_one, finding=replace(open_one.finding, penalty=None))
    assert not Many.of(Decision.APPLY, [bare], voice).taken
    assert Many.of(Decision.WAIVE, [bare], voice).taken


def test_a_preview_is_what_recording_gives(desk):
    scored, ledger = desk.session.results, desk.session.ledger
    open_ones = [r for r in ruled_of(desk) if r.ruling is None]
    open_ones = [r for r in open_ones if r.finding.verdict is not Verdict.CLEAR]
    many = Many.of(Decision.WAIVE, open_ones, Voice()).because("as it was")
    drafts = many.drafts(desk.session.snapshot, ledger, "Yrsa")
    before = len(ledger.state().entries)
    after = try_many(ledger, drafts, Pool(), Control())
    assert len(ledger.state().entries) == before  # nothing is recorded
    preview = preview_of(many, scored.results, after)
    task = after.task(open_ones[0].finding.task)
    assert [(f.number, f.score) for f in preview.first] == [
        (s.pilot, s.score) for s in task.scores[:5]
    ]
    old = scored.results.task(task.task)
    moved = sum(s.rank != old.score_of(s.pilot).rank for s in task.scores)
    assert preview.moved == moved


def test_details_name_decision_and_reason_of_a_decided_row(desk):
    scored = desk.session.results
    row = next(r for r in finding_rows(scored) if r.group is FindingGroup.DECIDED)
    captions = {fact.caption: fact for fact in detail_of(scored, row).facts}
    decided = captions["Decision"]
    assert row.ruled.ruling.reason in decided.second
    assert decided.second.startswith("by ")  # what was decided stands above it, once
    for each in finding_rows(scored):
        sure = {f.caption: f for f in detail_of(scored, each).facts}.get("How sure")
        if sure and each.group is FindingGroup.DECIDED:
            assert "not charged yet" not in sure.second
            counts = any(charge.counts for charge in each.ruled.charges)
            assert ("nothing" in sure.second) == (not counts)


def test_evidence_has_more_room_than_what_decides_on_it(qtbot, findings):
    """A bar that waits behind takes nothing from the pictures."""
    qtbot.waitUntil(lambda: findings.bars.height() <= findings.bar.sizeHint().height())
    assert findings.pair.height() > findings.bars.height()


@pytest.mark.parametrize(
    ("both", "said"),
    [(None, "…"), ((425, 425), "425"), ((75, 175), "75 → 175"), ((None, 3), "– → 3")],
)
def test_only_what_changes_has_an_arrow(both, said):
    assert _change(both) == said
