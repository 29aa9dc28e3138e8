"""Evidence that cannot be true: one reading of it in every task kind."""

import pytest

from scorer.event import matters
from scorer.event.matter import Closes
from tests.scorer.tasks.evidence import (
    declare,
    make_flown,
    make_keying,
    make_mark,
    make_site,
    period,
    result,
    taped,
)

SITE = make_site(
    {"T": (0, 0), "G": (0, 0)},
    {"box": ((-50, -50), (50, 50)), "far": ((900, -50), (1000, 50))},
)
KINDS = [
    ("FIN", {"targets": ("T",)}, {}),
    ("XDI", {"targets": ("T",), "scoring_areas": ("box",)}, {}),
    ("XDT", {"targets": ("T",)}, {"most_time": "2 h", "time_from": "launch-period"}),
    ("ANG", {"targets": ("T",)}, {"direction": "45"}),
]


def kinds_of(got):
    return {m.says.kind for m in got.matters if m.kind is matters.IMPOSSIBLE}


def dropped(kind, task, settings, time, **more):
    keyings = {"": make_keying(time=time), **more.pop("keyings", {})}
    return result(
        kind,
        site=SITE,
        **task,
        marks={"": make_mark((3, 4))},
        keyings=keyings,
        settings=settings,
        **more,
    )


@pytest.mark.parametrize(("kind", "task", "settings"), KINDS)
def test_a_drop_before_anybody_could_launch_is_asked_about(kind, task, settings):
    task = {**task, "launch_period": period(1800, 3600)}

    early = dropped(kind, task, settings, 600)
    assert kinds_of(early) & {"dropped-before-period", "fell-before-start"}
    assert (early.value is None) == (kind == "XDT")  # there the time is the result
    assert not kinds_of(dropped(kind, task, settings, 2400))


@pytest.mark.parametrize(("kind", "task", "settings"), KINDS)
def test_a_drop_before_the_launch_or_after_the_landing(kind, task, settings):
    task = {**task, "launch_period": period(0, 3600)}
    own = {
        "LAUNCH": make_keying("LAUNCH", time=1000),
        "LANDING": make_keying("LANDING", time=2000),
    }
    told = [
        kinds_of(dropped(kind, task, settings, t, keyings=own))
        for t in (500, 1500, 2500)
    ]
    assert told == [{"dropped-before-launch"}, set(), {"dropped-after-landing"}]


def by_log(got, log):
    """Return what is told of a log, which each matter names: it may be the wrong one."""
    found = [m for m in got.matters if m.kind is matters.IMPOSSIBLE]
    assert {m.closes for m in found} <= {Closes.LOGS}
    assert {(m.evidence, m.says.get("log")) for m in found} <= {((log,), log)}
    return {m.says.get("told").kind for m in found}


def test_the_log_tells_the_launch_where_nobody_wrote_it():
    flown = make_flown(
        [(0, 0, 0), (600, 0, 0), (1200, 3, 4), (1800, 9, 9)], launch=1, landing=3
    )
    task = {"targets": ("T",)}

    told = [
        by_log(dropped("FIN", task, {}, t, flown=flown), flown.log)
        for t in (400, 570, 1200, 1840, 1900)
    ]
    # a minute of slack: people note times by the minute
    assert told == [
        {"dropped-before-launch"},
        set(),
        set(),
        set(),
        {"dropped-after-landing"},
    ]


def letters(kind, times, settings=None):
    spots = {"A": (0, 0), "B": (40, 0), "C": (40, 40)}
    roles = [r for r in "ABC" if r in times]
    task = {"scoring_areas": ("box", "far")} if kind == "MDD" else {}
    if kind == "MDD":
        spots["B"] = (950, 0)
    return result(
        kind,
        site=SITE,
        **task,
        marks={r: make_mark(spots[r]) for r in roles},
        keyings={r: make_keying(r, time=t) for r, t in times.items()},
        settings=settings or {},
    )


@pytest.mark.parametrize(
    ("kind", "right", "wrong"),
    [
        ("ELB", {"A": 1, "B": 2, "C": 3}, {"A": 1, "B": 3, "C": 2}),
        ("LRN", {"A": 1, "B": 1, "C": 3}, {"A": 9, "B": 2, "C": 8}),
        ("XDD", {"A": 1, "B": 2}, {"A": 2, "B": 1}),
        ("MDD", {"A": 1, "B": 2}, {"A": 2, "B": 1}),
    ],
)
def test_marks_fall_in_the_order_of_their_letters(kind, right, wrong):
    assert kinds_of(letters(kind, right)) == set()

    asked = letters(kind, wrong)
    assert kinds_of(asked) == {"marks-out-of-order"}
    assert asked.value is not None
    assert all(m.holds_up for m in asked.matters if m.kind is matters.IMPOSSIBLE)

    strict = letters(kind, wrong, {"out_of_order": "no result"})
    assert strict.value is None
    assert strict.reason.kind == "marks-out-of-order"


def test_a_mark_before_the_one_it_counts_from():
    got = result(
        "XDI",
        site=SITE,
        scoring_areas=("box",),
        marks={"A": (0, 0), "B": (30, 40)},
        keyings={"A": make_keying("A", time=900), "B": make_keying("B", time=300)},
        settings={"reference": "A"},
    )
    assert kinds_of(got) == {"marks-out-of-order"}


ONE_MARK = [*KINDS, ("JDG", {"targets": ("T",)}, {"several_marks": "sum"})]


@pytest.mark.parametrize(("kind", "task", "settings"), ONE_MARK)
@pytest.mark.parametrize("names", ["ABC", ["9", "10", "11"]])
def test_letters_and_numbers_fall_in_order_in_kinds_with_one_mark_too(
    kind, task, settings, names
):
    def flown(*times, how=None):
        return result(
            kind,
            site=SITE,
            **task,
            launch_period=period(0, 3600),
            marks={role: make_mark((3, 4)) for role in names},
            keyings={
                role: make_keying(role, time=time)
                for role, time in zip(names, times, strict=True)
            },
            settings=settings | ({"out_of_order": how} if how else {}),
        )

    assert kinds_of(flown(100, 200, 300)) == set()
    assert kinds_of(flown(100, 300, 200)) == {"marks-out-of-order"}
    assert kinds_of(flown(100, 300, 200, how="counts")) == set()
    strict = flown(100, 300, 200, how="no result")
    assert (strict.value, strict.reason.kind) == (None, "marks-out-of-order")


@pytest.mark.parametrize(("kind", "task", "settings"), KINDS)
def test_a_landing_before_the_launch_or_before_anybody_could(kind, task, settings):
    def landed(landing, **launch):
        own = {"LANDING": make_keying("LANDING", time=landing), **launch}
        given = {**task, "launch_period": period(1000, 3600)}
        return kinds_of(dropped(kind, given, settings, 2000, keyings=own))

    launch = {"LAUNCH": make_keying("LAUNCH", time=1800)}
    assert "landed-before-launch" in landed(1700, **launch)
    assert landed(2100, **launch) == set()
    assert "landed-before-period" in landed(900)
    assert "landed-before-period" not in landed(1100)


def test_what_cannot_be_is_told_where_there_is_no_result_either():
    task = {"targets": ("T",), "launch_period": period(1800, 3600)}
    got = dropped("FIN", {**task, "scoring_areas": ("far",)}, {}, 600)
    assert got.value is None
    assert kinds_of(got) == {"dropped-before-period"}


@pytest.mark.parametrize(
    ("north_m", "after_s", "asked"),
    [(3790, 0, False), (3810, 0, True), (9790, 100, False), (9810, 100, True)],
)
def test_nobody_flies_from_mark_to_mark_faster_than_a_balloon(north_m, after_s, asked):
    """By hand: 2 × 100 m of throw, 60 m/s, a minute of slack: 200 + 60 × 60 = 3,800 m."""
    got = result(
        "XDD",
        site=SITE,
        marks={"A": make_mark((0, 0)), "B": make_mark((0, north_m))},
        keyings={
            "A": make_keying("A", time=900),
            "B": make_keying("B", time=900 + after_s),
        },
    )
    assert kinds_of(got) == ({"marks-too-far-apart"} if asked else set())


@pytest.mark.parametrize(
    ("declare_by", "declared", "asked"),
    [(None, 1061, True), (None, 1059, False), ("drop", 1061, False)],
)
def test_a_goal_declared_after_the_drop_is_asked_about(declare_by, declared, asked):
    got = result(
        "FON",
        site=SITE,
        marks={"": make_mark((3, 4))},
        keyings={"": make_keying(time=1000)},
        declarations=(declare("G", time=declared),),
        settings={"declare_by": declare_by} if declare_by else {},
    )
    assert got.value == 5.0
    assert kinds_of(got) == ({"declared-after-drop"} if asked else set())


@pytest.mark.parametrize(
    ("distance", "value", "asked"),
    [
        (49.0, 49.0, False),  # the whole circle inside
        (60.0, 60.0, True),  # partly: half a side is 50, half a diagonal 70.7
        (70.0, 70.0, True),
        (72.0, None, False),  # beyond the corners
        (800.0, None, False),  # short of the other area, which begins at 900
        (950.0, 950.0, True),
        (1100.0, None, False),
    ],
)
@pytest.mark.parametrize("kind", ["FIN", "GBM", "JDG", "HNH"])
def test_a_taped_circle_that_no_area_reaches_is_outside(kind, distance, value, asked):
    got = result(
        kind,
        site=SITE,
        targets=("T",),
        scoring_areas=("box", "far"),
        marks={"": taped(distance)},
    )
    assert got.value == value
    assert ("inside-unknown" in {m.says.kind for m in got.matters}) is asked
    if value is None:
        assert got.reason.kind == "outside-area"


@pytest.mark.parametrize(
    ("how", "value"), [("sum", 17.0), ("mean", 17 / 3), ("most-advantageous", 5.0)]
)
def test_several_drops_add_up_or_count_by_their_mean_or_best(how, value):
    got = result(
        "FIN",
        site=SITE,
        targets=("T",),
        marks={"A": make_mark((3, 4)), "B": make_mark((6, 0)), "C": make_mark((0, 6))},
        settings={"several_marks": how},
    )
    assert got.value == pytest.approx(value, abs=1e-6)


def test_a_drop_too_few_gives_no_result():
    got = result(
        "FIN",
        site=SITE,
        targets=("T",),
        marks={"A": make_mark((3, 4))},
        settings={"several_marks": "sum", "drops": 2},
    )
    assert got.value is None
    assert got.reason.kind == "too-few-drops"
