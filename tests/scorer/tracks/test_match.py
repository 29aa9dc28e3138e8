from dataclasses import replace

import numpy as np
import pytest

from scorer.event import matters
from scorer.event.model import Period, Pilot
from scorer.tracks.choose import choose
from scorer.tracks.heads import LogHead
from scorer.tracks.igc import read_igc
from scorer.tracks.match import whose
from scorer.tracks.names import one_off
from tests.helpers import said
from tests.scorer.tracks.logs import START_S, drift, igc

PILOTS = (
    Pilot(number=3, name="Li Wei", registration="N123AB", logger="LG-0042"),
    Pilot(number=7, name="Jürgen Groß", registration="D-OABC"),
    Pilot(number=12, name="Ana García López", registration="EC-XYZ", logger="4F7"),
    Pilot(number=112, name="Max Muster"),
)


def head(name, *, by_hand=None, fixes=10, sha256=None, **headers):
    return LogHead(
        name=name, sha256=sha256 or name, headers=headers, pilot=by_hand, fixes=fixes
    )


def identify(log, pilots):
    """A log alone."""
    return whose([log], pilots)[0]


def match_logs(logs, pilots, flight=""):
    return choose(whose(list(logs), pilots), flight=flight)


@pytest.mark.parametrize(
    "name",
    [
        *("12.igc", "012.igc", "logs/12.csv", "logs\\012.gpx", "#12.igc", "No.12.igc"),
        *("pilot 12.igc", "Pilot_0012.nmea", "pilot no 12.igc", "nr-12.gpx"),
        *("pilot 12 flight 3.igc", "PILOT12_task2.igc", "competitor 12.igc"),
    ],
)
def test_the_file_name_may_be_the_number_or_call_it_the_pilot_s(name):
    assert identify(head(name), PILOTS).pilot == 12


STYLES = (
    *("{n} Sep 2026 at 07_26", "{n:02}SEP0729", "{n:02}.09.2026 012", "track({n})"),
    *("LOG{n:05}", "LOG{n:05}_2", "{n}_012", "012_{n}", "{n:04}", "x {n:04}", "{n}b"),
    *("flight-{n}", "flight {n}", "Flight{n:03}", "2026-09-12_{n:02}", "{n:02}0912"),
    *("2026-09-{n:02}", "202609{n:02}", "20260912_0641{n:02}", "{n:02}-09-26 0641"),
    *("{n}_morning", "{n} evening", "morning {n}", "track {n}", "track_{n:03}"),
    *("activity_{n}", "gps{n}", "recording ({n})", "pilot ({n})", "copy {n} of log"),
    *("log ({n}) 2026", "Sep {n}", "Sep {n} 2026", "{n}h26", "07h{n:02}", "T{n}"),
    *("07-26-{n:02}", "pilot {n}.09.2026", "no {n} 0641", "{n}.9.26", "day {n}"),
    *("task {n}", "{n} - 3", "-{n}-", "({n})", "GPSLOG{n:02}", "NMEA_{n:03}", "{n}.1"),
    *("2026{n:02}12", "69C{n:05}", "{n:03}_2026-09-12", "2026-09-12-XYZ-ZZZ-{n:02}"),
    *("\u0661\u0662 {n}", "juno {n}", "volcano{n:02}", "nr of day {n}", "{n}\u00b2"),
)
"""Names that loggers, phones and file managers give (common practice, no source)."""


@pytest.mark.parametrize("style", STYLES)
def test_a_number_among_dates_and_counters_matches_nobody(style):
    roster = [
        Pilot(number=number, name="", logger=f"{2000 + number}")
        for number in (*range(1, 300), 726, 729, 2026)
    ]

    for number in (1, 3, 7, 12, 26, 31):
        found = identify(head(f"{style.format(n=number)}.igc"), roster)
        warning = found.warning("1")

        assert found.pilot is None, found
        assert warning.kind is matters.LOG_UNMATCHED
        assert found.head.name in said(warning)


@pytest.mark.parametrize(
    "name",
    [
        *("track.igc", "12345.igc", "20260912_0641.gpx", "2026-09-12.igc", "99.igc"),
        *("2026-09-12-XYZ-AAA-03.igc", "69CXAAA3.igc", ".igc"),
    ],
)
def test_dates_times_and_recorders_names_are_no_numbers(name):
    """Recorders' names: FAI IGC technical specification, file naming; from memory."""
    found = identify(head(name), PILOTS)

    assert found.pilot is None
    assert found.warning("1").kind == matters.LOG_UNMATCHED


@pytest.mark.parametrize(
    "log",
    [
        head("x.igc", logger="XYZ4F7"),
        head("x.igc", logger="4f7"),
        head("2026-09-12-XYZ-4F7-01.igc"),
        head("69CX4F71.igc"),
        head("x.igc", registration="ecxyz"),
        head("12.igc", competition_id="012"),
        head("no 12.igc", competition_id="#12"),
        head("x.igc", competition_id="EC-XYZ"),
        head("x.igc", pilot="GARCIA LOPEZ, Ana"),
        head("x.igc", pilot="ana garcia"),
        head("garcia_lopez_ana.gpx"),
    ],
)
def test_serial_registration_id_and_name_tell_the_pilot(log):
    found = identify(log, PILOTS)

    assert found.pilot == 12
    assert not found.trouble


def test_serials_with_signs_are_found_in_file_names():
    assert identify(head("LG-0042_morning.csv"), PILOTS).pilot == 3


@pytest.mark.parametrize("written", ["Jurgen Gross", "GROSS Jürgen", "groß, jürgen"])
def test_accents_capitals_and_order_of_a_name_do_not_matter(written):
    assert identify(head("x.igc", pilot=written), PILOTS).pilot == 7


def test_one_common_word_is_no_name():
    twins = (*PILOTS, Pilot(number=8, name="Ana Bianchi"))

    assert identify(head("x.igc", pilot="Ana"), twins).pilot is None


def test_two_pilots_of_one_name_are_not_told_apart_by_it():
    twins = (*PILOTS, Pilot(number=13, name="Ana García López"))

    found = identify(head("x.igc", pilot="Ana García López"), twins)
    numbered = identify(head("13.igc", pilot="Ana García López"), twins)

    assert found.pilot is None
    assert found.trouble.kind == "log-ambiguous"
    assert (found.likely, found.probability) == (12, pytest.approx(0.5, abs=0.01))
    assert "it may be pilot 13’s" in said(found.trouble)
    assert numbered.pilot == 13
    assert not numbered.trouble


def test_signs_are_weighed_and_the_clash_is_asked_about():
    found = identify(head("12.igc", registration="D-OABC", pilot="Li Wei"), PILOTS)

    assert found.pilot == 3
    assert found.signs == ("sign-pilot-name",)
    warning = found.warning("1")
    assert warning.kind == matters.LOG_PILOT
    assert warning.holds_up
    assert warning.says.kind == "log-contradicted"
    assert "the pilot’s name inside it" in said(warning)
    assert "the registration inside it fits pilot 7" in said(warning)
    assert "the number in its name fits pilot 12" in said(warning)


def test_a_borrowed_logger_does_not_outweigh_name_registration_and_number():
    log = head("7.igc", logger="4F7", registration="D-OABC", pilot="Jürgen Groß")
    found = identify(log, PILOTS)

    assert found.pilot == 7
    assert "the logger’s serial fits pilot 12" in said(found.trouble)
    assert found.warning("1").holds_up


@pytest.mark.parametrize(
    "log",
    [
        *(head("12.igc"), head("no 12.gpx"), head("012/track.gpx")),
        *(head("x.igc", competition_id="12"), head("lopez.gpx")),
    ],
)
def test_one_weak_sign_alone_counts_for_now_and_is_asked_about(log):
    found = identify(log, PILOTS)

    assert found.pilot == found.likely == 12
    assert not found.sure
    assert found.warning("1").kind is matters.LOG_PILOT
    assert found.warning("1").says.kind == "log-likely"


@pytest.mark.parametrize(
    ("log", "holds"),
    [
        (head("12.igc", pilot="Somebody Else"), True),
        (head("12.igc", pilot="Somebody Else", registration="EC-XYZ"), True),
        (head("12.igc", pilot="unknown", registration="EC-XYZ"), False),
        (head("12.igc", pilot="Γιάννης Άλλος", registration="EC-XYZ"), False),
    ],
)
def test_a_name_of_nobody_on_the_roster_is_asked_about(log, holds):
    """Not what devices say where nothing was entered, nor letters nobody compares."""
    found = identify(log, PILOTS)
    asked = found.warning("1")

    assert (asked is not None and asked.holds_up) is holds
    if holds:
        assert "(“Somebody Else”) fits nobody on the roster" in said(asked)


@pytest.mark.parametrize(
    "name",
    [
        *("AnaGarcia_0912.igc", "ana-garcia 07_26.gpx", "ANAGARCIALOPEZ.igc"),
        *("EC-XYZ.igc", "ecxyz_morning.gpx", "2026-09-12 EC XYZ.gpx"),
        *("zip/Ana García López/track.igc", "day 1/pilot 12/LOG00055.IGC"),
        *("Flight 3/EC-XYZ/track(7).gpx", "12 Ana Garcia/LOG00007.IGC"),
    ],
)
def test_names_and_registrations_are_found_in_names_of_files_and_folders(name):
    found = identify(head(name), PILOTS)

    assert found.pilot == 12
    assert found.sure


@pytest.mark.parametrize(
    ("name", "headers"),
    [
        ("芳 王.igc", {}),
        ("王芳_2026-09-12.gpx", {}),
        ("x.igc", {"pilot": "芳 王"}),
        ("x.igc", {"pilot": "Mr 王 芳"}),
        ("day 2/7_王/LOG00012.IGC", {}),
    ],
)
def test_names_of_words_of_one_sign_are_known_however_they_are_parted(name, headers):
    pilots = [Pilot(number=7, name="王芳"), Pilot(number=8, name="王 伟")]

    found = identify(head(name, **headers), pilots)

    assert (found.pilot, found.sure) == (7, True)


@pytest.mark.parametrize("written", ["王芳丽", "王", "李芳"])
def test_a_sign_more_or_less_makes_another_name(written):
    pilots = [Pilot(number=7, name="王芳"), Pilot(number=8, name="王 伟")]

    assert not identify(head("x.igc", pilot=written), pilots).sure


def test_a_surname_with_two_capitals_is_one_word_and_no_whole_name():
    pilots = [Pilot(number=7, name="Ann MacDonald"), Pilot(number=8, name="Bo Alm")]

    for log in (head("x.igc", pilot="MacDonald"), head("MacDonald.igc")):
        found = identify(log, pilots)
        assert (found.likely, found.sure) == (7, False)
    assert identify(head("x.igc", pilot="MacDonald Ann"), pilots).sure


@pytest.mark.parametrize("name", ["Ulf 204.gpx", "April 171.gpx"])
def test_a_short_name_or_a_month_beside_no_day_contradicts_a_lent_logger(name):
    pilots = [
        Pilot(number=7, name="Ulf Alm"),
        Pilot(number=8, name="April Ceder"),
        Pilot(number=9, name="Bodil Dahl", logger="4F7"),
    ]

    assert not identify(head(name, logger="XYZ4F7"), pilots).sure


@pytest.mark.parametrize("name", ["7_Ek.igc", "Ek 007.gpx", "zip/#7 Ek/track(3).gpx"])
def test_a_number_beside_a_part_of_that_pilot_s_name_suffices(name):
    pilots = [Pilot(number=7, name="Ann Ek"), Pilot(number=3, name="Bo Ek")]

    found = identify(head(name), pilots)

    assert (found.pilot, found.sure) == (7, True)
    assert found.signs[0] == "sign-file-number-name"


@pytest.mark.parametrize("name", ["Ek (3).igc", "EK~3.IGC", "7 Alm.igc"])
def test_a_copy_s_counter_or_another_name_beside_a_number_does_not(name):
    pilots = [Pilot(number=7, name="Ann Ek"), Pilot(number=3, name="Bo Ek")]

    assert not identify(head(name), pilots).sure


@pytest.mark.parametrize("name", ["Gunnar.igc", "Gunnar morning.igc"])
def test_a_first_name_against_a_lent_logger_is_asked_about(name):
    pilots = [
        Pilot(number=7, name="Gunnar Alm"),
        Pilot(number=8, name="Gunnar Bergman"),
        Pilot(number=9, name="Xenia Alm", logger="4F7"),
    ]

    assert not identify(head(name, logger="XYZ4F7"), pilots).sure


@pytest.mark.parametrize(
    "written", ["Anna.igc", "Anna 204.gpx", "day 2/Anna/track.gpx"]
)
def test_a_first_name_that_many_bear_speaks_against_whoever_does_not(written):
    annas = [Pilot(number=n, name=f"Anna {last}") for n, last in enumerate(SURNAMES, 1)]
    pilots = [*annas, Pilot(number=40, name="Bo Quist", registration="D-OABC")]
    log = head(written, registration="D-OABC")

    found = identify(log, pilots)

    assert (found.likely, found.sure) == (40, False)
    assert f"fits {len(annas)} other pilots" in said(found.trouble)
    assert identify(head(written), pilots).likely is None


SURNAMES = ("Alm", "Bergman", "Ceder", "Dahl", "Falk", "Gren", "Holm")


@pytest.mark.parametrize(
    "name",
    ["Almgren/Bodil Ceder.gpx", "Bodil Ceder, Almgren.gpx", "Almgren.gpx", "Ek.gpx"],
)
def test_a_part_of_another_s_name_beside_a_whole_one_is_asked_about(name):
    pilots = [
        Pilot(number=7, name="Ann Almgren"),
        Pilot(number=8, name="Bodil Ceder", logger="4F7"),
        Pilot(number=9, name="Ann Ek"),
    ]

    found = identify(head(name, logger="XYZ4F7"), pilots)

    assert (found.likely, found.sure) == (8, False)


@pytest.mark.parametrize(
    "name",
    [
        *("12 May 47.gpx", "May 12.gpx", "Sat 12 April.igc", "12. märz.gpx"),
        *("12 mai.gpx", "12 North field 3.gpx", "Field 3 12.igc"),
    ],
)
def test_a_month_or_a_word_apart_from_the_number_is_no_name(name):
    words = ("May", "April", "März", "Mai", "Field")
    pilots = [Pilot(number=12, name=f"Ann {word}") for word in words]

    for pilot in pilots:
        assert not identify(head(name), [pilot]).sure


@pytest.mark.parametrize(
    "name",
    ["12 A. Field.igc", "Field_012_T2.igc", "F02_012_Field.igc", "#12 Field.igc"],
)
def test_a_number_next_to_its_pilot_s_name_is_his(name):
    assert identify(head(name), [Pilot(number=12, name="Ann Field")]).sure


def test_two_whole_names_in_one_file_s_name_are_asked_about():
    pilots = [Pilot(number=7, name="Ann Ek"), Pilot(number=8, name="Bodil Alm")]

    assert not identify(head("Ann Ek + Bodil Alm.gpx"), pilots).sure


@pytest.mark.parametrize("written", ["Anna Garcia Lopez", "Ana Garzia Lopez"])
def test_a_name_spelt_a_little_differently_is_known(written):
    found = identify(head("x.igc", pilot=written), PILOTS)

    assert found.pilot == 12
    assert found.signs[0] == "sign-name-alike"


def test_a_name_that_many_bear_is_neither_one_s_nor_a_stranger_s():
    many = [Pilot(number=n, name=f"{chr(64 + n)}da Novak") for n in range(1, 9)]

    assert identify(head("x.igc", pilot="Novak"), many).likely is None
    assert identify(head("pilot 3.igc", pilot="Novak"), many).sure


def test_thousands_of_logs_of_one_name_are_no_burden():
    twins = [*PILOTS, Pilot(number=13, name="Ana García López")]
    logs = [head(f"{n}x.igc", pilot="Ana García López") for n in range(3000)]

    assert {found.pilot for found in whose(logs, twins)} == {None}


def test_umlauts_may_be_written_in_two_letters():
    assert identify(head("x.igc", pilot="Juergen Gross"), PILOTS).sure


def test_a_number_of_the_last_event_is_asked_about_unless_a_name_outweighs_it():
    """Devices keep competition numbers from event to event (common practice)."""
    alone = identify(head("track.gpx", competition_id="7"), PILOTS)
    named = identify(head("x.igc", competition_id="7", pilot="Ana Garcia"), PILOTS)
    borne = identify(head("x.igc", competition_id="7", registration="EC-XYZ"), PILOTS)

    assert not alone.sure
    assert named.pilot == 12
    assert named.sure
    assert borne.pilot == 12
    assert "the competition number inside it fits pilot 7" in said(borne.trouble)


def test_of_two_likely_owners_one_has_a_log_of_his_own():
    twins = (*PILOTS, Pilot(number=13, name="Ana García López", registration="EC-NEW"))
    logs = [
        head("x.igc", pilot="Ana García López"),
        head("y.igc", pilot="Ana García López", registration="EC-XYZ"),
    ]

    other, own = whose(logs, twins)

    assert own.pilot == 12
    assert own.sure
    assert other.pilot == 13
    assert not other.sure


def test_marks_speak_for_a_pilot_whose_track_reaches_them_where_few_do():
    def flown(name, *marks):
        return replace(head(name), reaches=frozenset(marks))

    named = flown("12.igc", 0, 1), flown("lopez 12.igc"), flown("12.igc")
    few = [flown(f"x{n}.igc") for n in range(30)]
    most = [flown(f"x{n}.igc", 0, 1) for n in range(30)]

    on, *_ = whose([named[0], *few], PILOTS, {12: (0, 1)})
    off, *_ = whose([named[2], *most], PILOTS, {12: (0, 1)})
    nothing = identify(named[2], PILOTS)

    assert on.signs == ("sign-file-number", "sign-marks")
    assert on.probability > nothing.probability > off.probability
    assert not on.sure  # a lone number never suffices
    assert "2 of the pilot’s marks lie off its track" in said(off.trouble)


def test_logs_that_were_in_two_places_at_once_are_not_both_a_pilot_s():
    def flown(name, start_s, end_s):
        return replace(head(name), start_s=start_s, end_s=end_s)

    both = [flown("pilot 12.igc", 0.0, 4000.0), flown("EC-XYZ.igc", 600.0, 5000.0)]
    after = [flown("pilot 12.igc", 0.0, 4000.0), flown("EC-XYZ.igc", 4500.0, 5000.0)]

    kinds = [m.kind for m in match_logs(both, PILOTS).matters]

    assert kinds == [matters.LOG_DUPLICATE, matters.LOG_PILOT]
    assert [m.kind for m in match_logs(after, PILOTS).matters] == kinds[:1]


def test_todays_log_counts_before_another_day_s_and_a_lone_one_of_another_day_asks():
    today = head("pilot 12.igc", fixes=10)
    other = replace(head("EC-XYZ.igc", fixes=500), within=False)

    assert match_logs([today, other], PILOTS).chosen[12] is today
    (asked,) = match_logs([other], PILOTS).matters
    assert asked.holds_up
    assert asked.says.kind == "log-other-time"


def test_a_log_assigned_by_hand_stays_so_and_tells_of_the_clash_without_blocking():
    found = identify(head("12.igc", by_hand=7), PILOTS)

    assert found.pilot == 7
    warning = found.warning("1")
    assert warning.kind == matters.LOG_BY_HAND
    assert not warning.holds_up
    assert "fits pilot 12" in said(warning)


def test_a_number_by_hand_that_nobody_bears_blocks():
    found = identify(head("x.igc", by_hand=99), PILOTS)

    assert found.pilot == 99
    assert "there is no pilot 99" in said(found.trouble)
    assert found.warning("1").kind == matters.LOG_PILOT


def test_of_two_logs_the_one_with_more_fixes_in_the_day_counts():
    match = match_logs(
        [head("EC-XYZ.igc", fixes=5), head("pilot 12.igc", fixes=50)],
        PILOTS,
        flight="1",
    )

    assert match.chosen[12].name == "pilot 12.igc"
    (warning,) = match.matters
    assert (warning.kind, warning.pilot, warning.flight) == (
        matters.LOG_DUPLICATE,
        12,
        "1",
    )
    assert said(warning) == (
        "Pilot 12 has several logs. Counted: pilot 12.igc (50 fixes). "
        "Not counted: EC-XYZ.igc (5 fixes)."
    )


def test_by_hand_outweighs_more_fixes():
    logs = [head("x.igc", by_hand=12, fixes=1), head("12.igc", fixes=50)]

    assert match_logs(logs, PILOTS).chosen[12].name == "x.igc"


def test_the_same_file_twice_is_no_duplicate():
    logs = [head("12.igc", sha256="a"), head("pilot 12.igc", sha256="a")]

    assert match_logs(logs, PILOTS).matters == ()


def test_the_order_of_the_logs_does_not_matter():
    logs = [head("12.igc"), head("pilot 12.igc"), head("7.igc"), head("lost.igc")]

    assert match_logs(logs, PILOTS) == match_logs(logs[::-1], PILOTS)


def test_a_head_counts_the_fixes_of_the_day():
    track = read_igc(igc(*drift(100), name="12.igc"))
    day = Period(start_s=START_S + 10, end_s=START_S + 19)

    assert LogHead.of(track).fixes == 100
    assert LogHead.of(track, day=day).fixes == 10
    assert identify(LogHead.of(track), PILOTS).signs[0] == "sign-logger"
    assert np.isfinite(track.time_s).all()


@pytest.mark.parametrize(
    ("one", "other", "near"),
    [
        ("4f7", "4f8", True),
        ("4f7", "4f", True),
        ("4f7", "44f7", True),
        ("12345", "12435", True),
        ("4f7", "4f7", False),
        ("4f7", "5f8", False),
        ("12345", "12534", False),
        ("", "4", True),
        ("", "", False),
    ],
)
def test_codes_are_one_sign_apart_or_not(one, other, near):
    assert one_off(one, other) is near
    assert one_off(other, one) is near


def test_a_log_of_nobody_is_proposed_to_whose_serial_is_one_sign_off():
    roster = [
        Pilot(number=118, name="Wenke Stroud", logger="4F7Q2"),
        Pilot(number=119, name="Bo Ek", logger="9K1A8"),
    ]
    (found,) = whose([head("track.igc", logger="XYZ4F7Q3")], roster)
    warning = found.warning("1")

    assert found.pilot is None
    assert warning.kind is matters.LOG_UNMATCHED
    assert warning.pilot == 118
    assert "one sign off that of 118" in said(warning.says)


def test_a_code_that_is_near_to_many_proposes_nobody():
    roster = [Pilot(number=n, name="", logger=f"4F{n}") for n in range(10, 60)]
    (found,) = whose([head("track.igc", logger="XYZ4F99")], roster)

    assert found.near == ()
    assert found.warning("1").pilots == ()
