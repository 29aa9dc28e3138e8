"""Small things that pilots ask about: own paragraphs, one figure, areas across 180 degrees."""

import json
from io import BytesIO

import numpy as np
import pytest
from openpyxl import load_workbook
from shapely import Polygon

from scorer.cli.main import main
from scorer.event import matters
from scorer.event.rulebook import rules_of
from scorer.geodesy.areas import project_ring
from scorer.geodesy.plane import Plane
from scorer.ledger.convert import to_drafts
from scorer.scoring.document import document, to_json
from scorer.scoring.explain import explain
from scorer.scoring.score import score
from scorer.scoring.told import remarks
from scorer.sheets.breakdown import finding_facts
from scorer.sheets.method import method_rules
from scorer.sheets.sheet import Sheet
from scorer.sheets.tables import write_tables
from scorer.sheets.workbook import write_workbook
from scorer.verify import read_results, verify
from scorer.words.rules import describe
from scorer.words.voice import Voice
from tests.scorer.ledger.ledger_desks import create
from tests.scorer.sheets.meet import STAMP
from tests.scorer.tiny import FIN, RULES, tiny, tiny_flight, tiny_raw

MARKS = "task,pilot,method,distance\n1,1,tape,5\n1,2,tape,6\n"


def test_the_events_own_paragraph_stands_wherever_the_rule_does():
    rules = RULES + 'results.source = "§ 9.4"\npoints.source = { method = "annex C" }\n'
    event = tiny(tiny_flight(marks=MARKS), rules=rules)
    results = score(event)
    told = "\n".join(explain(event, results, 1))

    assert "decimals of a result (§ 9.4): 2" in told
    assert "points formula (annex C): " in told
    titles = [row[2] for row in describe(event.book, results.voice)]
    assert sum("§ 9.4" in title for title in titles) == len(rules_of("results"))
    assert "points of equal results" in titles


RULES_OF_POINTS = """points.method = "places"
points.places = [9, 5]
points.by_class = true
points.parted_by = "earlier-drop"
points.show_up = 6
points.no_result = "zero"
points.source = "§ 5"
results.source = "§ 6"
results.step = "1/2 in"
standings.source = "§ 7"
standings.best_of = 1
"""


def test_every_rule_that_made_a_score_is_told_with_its_paragraph():
    marks = (
        "task,pilot,method,distance,time\n"
        "1,1,tape,13 ft 4.6 in,07:10\n1,3,tape,13 ft 4.4 in,07:12\n1,2,none,,\n"
    )
    rules = RULES + RULES_OF_POINTS
    event = tiny(tiny_flight(marks=marks), rules=rules, units="imperial")
    results = score(event)

    def cited(pilot):
        lines = (line.strip() for line in explain(event, results, pilot))
        return [line[6:] for line in lines if line.startswith("rule: ")]

    first, none = map(cited, (1, 2))
    assert [line.partition(" (")[2] for line in first[:5]] == [
        "§ 6): 0.5 in (set by the event)",
        "§ 5): points for each place (set by the event)",
        "§ 5): 9 and 5 (set by the event)",
        "§ 5): yes (set by the event)",
        "§ 5): the earlier drop (set by the event)",
    ]
    assert any("least points" in line and "(§ 5): 6" in line for line in none)
    assert any("flew without a result (§ 5)" in line for line in none)
    assert all("§ 7" in own[-1] for own in (first, none))


def test_what_nobody_noted_the_time_of_has_none():
    event = tiny(tiny_flight(marks=MARKS, reports="task,pilot,kind,by\n1,1,low,Eva\n"))
    results = score(event)
    told = "\n".join(explain(event, results, 1))
    assert "time not noted" in told
    assert "1 Jan" not in told
    sheet = Sheet(results=results, event=event, stamp=STAMP)
    found = write_tables(results, event, STAMP)["infringements.csv"].decode()
    assert "1970-01" not in found.partition("\n#")[0]
    (ruled,) = results.findings
    assert dict(finding_facts(sheet, ruled))["When"] == "time not noted"
    assert (ruled.finding.ruled_on["from"], ruled.finding.ruled_on["to"]) == ("", "")
    (own,) = document(results)["findings"]
    assert (own["from"], own["to"]) == (None, None)


def test_the_command_that_decides_it_names_no_time_that_nobody_noted(tmp_path, capsys):
    reports = "task,pilot,kind,by\n1,1,low,Eva\n"
    with create(tmp_path / "e") as ledger:
        ledger.record_all(
            to_drafts(tiny_raw(tiny_flight(marks=MARKS, reports=reports)))
        )
    assert main(["open-matters", str(tmp_path / "e")]) == 1
    told = capsys.readouterr().out
    assert "finding=floor decision=apply|waive" in told
    assert "1970" not in told


HEAD_ROWS = 6
DEFERS = "waiver, the event director and licensed pilots come first"


def test_lists_of_what_somebody_is_charged_with_carry_the_caution():
    event = tiny(tiny_flight(marks=MARKS, reports=TOUCHED, rulings=ADDED))
    results = score(event)
    book = load_workbook(BytesIO(write_workbook(results, event, STAMP)))
    for title in ("Infringements", "Penalties", "Decisions", "Open matters", "Logs"):
        head = book[title].iter_rows(max_row=HEAD_ROWS, values_only=True)
        assert any(DEFERS in str(value) for row in head for value in row), title

    about = json.loads(write_tables(results, event, STAMP)["csv-metadata.json"])
    own = {one["url"]: one.get("dc:description", "") for one in about["tables"]}
    for name in ("infringements", "penalties", "decisions", "open-matters", "logs"):
        assert DEFERS in own[f"{name}.csv"]
    assert "It is no forecast" in own["winds.csv"]


def test_rules_printed_for_a_briefing_defer_to_those_who_decide(capsys):
    assert main(["rules", "festival"]) == 0
    told = capsys.readouterr().out
    assert DEFERS in told
    assert "a minimum height is a limit of the game" in told


ADDED = (
    "task,pilot,finding,decision,amount,unit,reason\n1,2,,impose,50,task points,late\n"
)
OWN = (
    FIN
    + """rules.contact.source = { penalty = "§ 12.1", within = "§ 12" }
rules.points.source = { method = "task sheet 2" }
"""
)
TOUCHED = "task,pilot,kind,by\n1,1,ground-contact,Eve\n"


@pytest.fixture(scope="module")
def of_task():
    """An event whose task has paragraphs of its own, and a breach."""
    rules = RULES + 'contact.source = "§ 3"\n'
    rulings = (
        "task,pilot,finding,decision,amount,unit,reason,rule\n"
        "1,2,,impose,50,task points,late,contact.penalty\n"
    )
    flight = tiny_flight(tasks=OWN, marks=MARKS, reports=TOUCHED, rulings=rulings)
    event = tiny(flight, rules=rules)
    return event, score(event)


def test_a_tasks_own_paragraph_stands_in_breakdown_remarks_and_infringement(of_task):
    event, results = of_task
    first = "\n".join(explain(event, results, 1))
    assert "(§ 12, penalty § 12.1)" in first
    assert "points formula (task sheet 2)" in first
    assert "§ 3" not in first

    second = "\n".join(explain(event, results, 2))
    assert "(§ 12.1)" in second
    own = results.tasks[0].score_of(2)
    assert "(§ 12.1): 50 task points" in remarks(results.voice, results.tasks[0], own)

    sheet = Sheet(results=results, event=event, stamp=STAMP)
    (ruled,) = results.findings
    facts = dict(finding_facts(sheet, ruled))
    assert "(§ 12, penalty § 12.1)" in facts["Rule"]


def test_the_paragraph_of_a_period_stands_beside_it():
    tasks = FIN + 'scoring_period = ["06:00", "07:00"]\n'
    rules = RULES + 'scoring.source = "§ 8"\n'
    marks = "task,pilot,method,distance,time\n1,1,tape,5,07:30\n"
    results = score(tiny(tiny_flight(tasks=tasks, marks=marks), rules=rules))
    (ruled,) = results.findings
    assert "scoring period (§ 8)" in results.voice.say(ruled.finding.rule)


def test_published_rules_name_those_that_a_task_has_for_itself(of_task):
    event, results = of_task
    sheet = Sheet(results=results, event=event, stamp=STAMP)
    titles = [row[0] for row in method_rules(sheet)]
    assert "points formula" in titles
    assert "points formula (task sheet 2), task 1" in titles
    assert verify(read_results(to_json(results), "results.json")) == []


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
