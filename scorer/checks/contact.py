"""Touching the ground before the task is done.

Landing inside the place where the rule holds is a contact as such.  A touch in passing is
weighed from four signs at once, each as the logarithm of how much likelier it is under a
touch than under a low pass:

- **height**: under a touch the basket's height is 0 within its uncertainty; under a low
  pass it is anything, low values rarer than not (an exponential law of `PASS_M`);
- **lowest place**: nothing flies under the ground, so whoever touches it is nowhere near
  flying lower, however little is known of how high the ground is;
- **drift**: a basket on the ground loses a part of its way at once, in about 3 s, while
  the wind's own changes reach a balloon with a lag of ten seconds and more;
- **vertical speed**: the ground may stop a sinking basket within a second, a burner needs
  several; a soft touch looks like a burner.

The sum, with `PRIOR_ODDS` of a touch in a low pass, times `SHARPNESS`, is the logarithm of
the odds.  The sizes below were fitted to some hundred invented
flights (not those of the tests, which hold the result against others); they are our choice
and no published figures.
`python -m tests.bench.contacts` says how often findings are true.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.checks.base import (
    CERTAIN_FROM,
    Circumstances,
    FindingNumbers,
    Seen,
    basket_m,
    check,
    dropped_s,
    finding_of,
    in_air,
)
from scorer.checks.gaps import unknown_heights
from scorer.checks.runs import merge, runs_of
from scorer.checks.stays import first_entry_s, inside_any
from scorer.event.finding import Drawing, Finding, Verdict, finding_kind
from scorer.event.model import ReportKind
from scorer.event.rulebook import Until
from scorer.facts import (
    Fact,
    Value,
    chance,
    fact,
    inner,
    number,
    place,
    several,
    span,
    speed,
    term,
)
from scorer.facts import height as height_value
from scorer.tracks.flown import Flown
from scorer.tracks.plain import diffs, marked

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

GROUND_CONTACT = finding_kind(
    "ground-contact",
    rule="contact.within",
    picture=Drawing.HEIGHTS,
    reported=ReportKind.GROUND_CONTACT,
)

SCORING_AREA = "scoring-area"
"""As `within` of the book's contact section: the task's scoring areas."""

LOOK_M = 3.0
LOOK_SIGMAS = 3.0
"""Passes higher than both are not looked at."""
PAUSE_S = 15.0
"""Low passes with less between them are one."""
LANDING_S = 20.0
"""A low pass that ends so soon before a landing that counts belongs to it."""

GRID_S = 0.5
DRIFT_S = 9.0
"""Drift is taken over so long before and after the touch: longer against errors of places,
shorter than the dozen seconds in which the wind gives a basket back what it lost."""
BEFORE_S = 0.5
AFTER_S = 2.5
"""The drift before ends so long before it, the one after begins so long after it."""
STOP_S = 2.0
"""The change of the vertical speed is taken from so long before it to so long after."""
BOTTOM_S = 4.0
"""The lowest height is looked for so long after the touch."""
SPARSE_S = 8.0
"""Where fixes lie farther apart than this, drift and vertical speed say nothing."""

PASS_M = 1.8
"""Scale of the law of clean low passes: most likely at this height, a man's, from which
markers are let go, and twice it on average."""
SINK_M = 0.5
"""A touching basket seems this much lower or higher: tall grass, a tilted basket."""
UNEVEN_M = 500.0
"""Along so much of the way, what is not known of the ground's height grows by one sigma:
waves of ground two or three kilometres long rise so."""
CLEAN_LOSS, CLEAN_SPREAD = 0.15, 0.06
"""Share of the drift that a clean low pass loses at its worst moment."""
TOUCH_LOSS, TOUCH_SPREAD = 0.43, 0.12
"""The same of a touch."""
NOISE_SHARE = 0.044
"""Error of a change of drift, m/s, for each metre of a fix's accuracy.

An error of sigma s with a memory of 120 s changes by s √(2 · 9 / 120) in 9 s; over 9 s,
in two windows, that is 0.061 s, of which a third lies in the means above: they are those
of the worst moment of a pass, errors included."""
NOISE_M_S = 0.055
"""The same from coordinates in thousandths of a minute: 0.5 m √2 / 9 s is 0.08."""
SOFT_STOP_M_S, SOFT_STOP_SPREAD = 0.35, 0.30
HARD_STOP_M_S, HARD_STOP_SPREAD, HARD_SHARE = 1.5, 0.7, 0.3
"""Change of the vertical speed in 4 s: by the burner or a soft touch, and by a hard one."""
MOST_DRIFT, MOST_STOP = 6.0, 3.0
"""Neither of these signs weighs more than this, either way."""
PRIOR_ODDS = 0.35
"""Touches for each clean low pass in a scoring area, before looking (our choice): one low
pass of four."""
SHARPNESS = 1.5
"""The laws are wide, for balloons unlike those they were fitted to: what they say together
is surer than their product.  A logistic regression over 2,400 invented flights that no size
here was fitted to gives 1.45, and 0.35 for the odds."""
ACCURACY_M = 2.0
"""Of a fix where the log does not say."""
POSSIBLE_FROM = 0.6
"""Probability under which a contact is not brought up: nine of ten touches are, and few of
the passes at 1 to 3 m (rates: `tests.bench.contacts`)."""
KNOWN_M = 3.0
"""One sigma of the height beyond which it says nothing of a touch.  Then drift and vertical
speed alone make none certain: a balloon meets other winds aloft, too."""
LANDED = 0.999
"""Probability of a landing that the whole of the log shows."""


class Touch(NamedTuple):
    """The likeliest moment of a touch in one low pass."""

    at_s: float
    height_m: float
    sigma_m: float
    lost_share: float
    """Of the drift; NaN where the log cannot tell."""
    stop_m_s: float
    """Change of the vertical speed; NaN where the log cannot tell."""
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ContactSigns:
    """The three signs at each moment of a low pass; all arrays are (K,)."""

    time_s: Array
    height_m: Array
    sigma_m: Array
    drift_m_s: Array
    loss_m_s: Array
    noise_m_s: Array
    stop_m_s: Array


@check("ground contact")
def check_contact(flown: Flown, about: Circumstances) -> Seen:
    """Find where the basket touched, or may have touched, the ground."""
    rule = about.book.contact
    if rule.within is None and not rule.penalty:
        return Seen()
    if rule.within != SCORING_AREA and rule.until is Until.EXIT and not about.leads:
        return Seen()  # the same for all tasks of the flight: found with its first
    height = basket_m(flown)
    look = np.maximum(LOOK_M, LOOK_SIGMAS * flown.height_sigma_m)
    low = height < look
    low[: _up_and_away(flown, low)] = False
    landed = flown.landing is not None and flown.landing < len(flown)
    if flown.landing is not None:
        low[flown.landing :] = False
    unknown = np.zeros(len(flown), dtype=bool)
    unknown[in_air(flown)] = ~np.isfinite(height[in_air(flown)])
    if not (landed or low.any() or unknown.any()):
        return Seen()
    holds = scope(flown, about)
    landing = _landing(flown, about, holds, height) if landed else None
    passes = _passes(flown, low & holds, before_landing=landing is not None)
    touches = [_weigh(flown, height, first, last) for first, last in passes]
    found = [
        _finding(t, flown, about) for t in touches if t.probability >= POSSIBLE_FROM
    ]
    if rule.within is None and _end_s(flown, about) is None:
        landing = None  # every flight ends on the ground: that alone breaks no rule
    return Seen(
        findings=(*found, landing) if landing else tuple(found),
        matters=unknown_heights(
            flown,
            unknown & holds,
            about,
            lambda **told: fact("contact-unknown", **told),
        ),
    )


def scope(flown: Flown, about: Circumstances) -> Mask:
    """Tell at which fixes, (N,), touching the ground is against the rule."""
    rule = about.book.contact
    if rule.within is None:
        held = np.ones(len(flown), dtype=bool)
    else:
        own = rule.within == SCORING_AREA
        names = about.task.scoring_areas if own else (rule.within,)
        areas = [about.site.area(name) for name in names]
        held = inside_any(areas, flown.east_m, flown.north_m)
    end = _end_s(flown, about)
    return held if end is None else held & (flown.time_s <= end)


def _end_s(flown: Flown, about: Circumstances) -> float | None:
    match about.book.contact.until:
        case Until.DROP:
            return dropped_s(flown, about)
        case Until.SCORING_AREA:
            air = in_air(flown)
            areas = [about.site.area(name) for name in about.task.scoring_areas]
            track = flown.time_s[air], flown.east_m[air], flown.north_m[air]
            return first_entry_s(areas, *track)
        case _:
            return None


def _up_and_away(flown: Flown, low: Mask) -> int:
    """Return the first fix after launch that is not low any more."""
    if flown.launch is None:
        return 0
    risen = marked(~low[flown.launch :])
    return flown.launch + int(risen[0]) if risen.size else len(flown)


def _passes(flown: Flown, low: Mask, *, before_landing: bool) -> list[tuple[int, int]]:
    runs = merge(runs_of(low), flown.time_s, PAUSE_S)
    passes = list(zip(runs.first.tolist(), runs.last.tolist(), strict=True))
    if before_landing and passes and flown.landing is not None:
        left = flown.time_s[flown.landing] - flown.time_s[passes[-1][1]]
        if left < LANDING_S:
            passes.pop()
    return passes


def _weigh(flown: Flown, height: Array, first: int, last: int) -> Touch:
    signs = _signs(flown, height, first, last)
    weights = _height_weight(signs) + _lowest_weight(signs)
    weights += _drift_weight(signs) + _stop_weight(signs)
    weights = np.where(np.isnan(weights), -np.inf, weights)  # no height, no touch
    best = int(np.argmax(weights))
    drift, prior = signs.drift_m_s[best], np.log(PRIOR_ODDS)
    return Touch(
        at_s=float(signs.time_s[best]),
        height_m=float(signs.height_m[best]),
        sigma_m=float(signs.sigma_m[best]),
        lost_share=float(signs.loss_m_s[best] / drift) if drift > 0 else float("nan"),
        stop_m_s=float(signs.stop_m_s[best]),
        probability=float(scipy.special.expit(SHARPNESS * (prior + weights[best]))),
    )


def _signs(flown: Flown, height: Array, first: int, last: int) -> ContactSigns:
    """Put the signs on an even grid of times over a low pass."""
    begin, end = flown.time_s[first], flown.time_s[last]
    grid = np.arange(begin, end + GRID_S, GRID_S)
    reach = DRIFT_S + AFTER_S + BOTTOM_S
    start = max(int(np.searchsorted(flown.time_s, begin - reach)) - 1, 0)
    stop = int(np.searchsorted(flown.time_s, end + reach)) + 1
    near = slice(start, stop)
    time = flown.time_s[near]
    told = _dense(grid, time)
    drift, loss = _drift_loss(grid, time, flown.east_m[near], flown.north_m[near])
    reached = np.interp(np.r_[grid, end + GRID_S * _steps()], time, height[near])
    known = np.where(np.isnan(reached), np.inf, reached)  # unknown terrain beside it
    size = len(_steps()) + 1
    lowest = scipy.ndimage.minimum_filter1d(known, size, origin=-(size // 2))[
        : len(grid)
    ]
    accuracy = flown.accuracy_m[near]
    accuracy = np.where(np.isfinite(accuracy), accuracy, ACCURACY_M)
    climb = flown.climb_m_s[near]
    before, after = (np.interp(grid + s, time, climb) for s in (-STOP_S, STOP_S))
    return ContactSigns(
        time_s=grid,
        height_m=lowest,
        sigma_m=np.interp(grid, time, flown.height_sigma_m[near]),
        drift_m_s=drift,
        loss_m_s=np.where(told, loss, np.nan),
        noise_m_s=np.hypot(NOISE_M_S, NOISE_SHARE * np.interp(grid, time, accuracy)),
        stop_m_s=np.where(told, after - before, np.nan),
    )


def _steps() -> Array:
    return np.arange(1.0, BOTTOM_S / GRID_S + 1.0)


def _dense(grid: Array, time: Array) -> Mask:
    """Tell where the log has fixes all through the windows before and after."""
    sparse = diffs(time) > SPARSE_S
    begins, ends = time[:-1][sparse], time[1:][sparse]
    low, high = grid - BEFORE_S - DRIFT_S, grid + AFTER_S + DRIFT_S
    # Gaps follow one another: one is met where more have begun than have ended.
    meets = np.searchsorted(begins, high) > np.searchsorted(ends, low, side="right")
    inside = (low >= time[0]) & (high <= time[-1])
    return np.asarray(inside & ~meets)


def _drift_loss(
    grid: Array, time: Array, east: Array, north: Array
) -> tuple[Array, Array]:
    """Return the drift before each moment and how much of it is lost after, m/s.

    The loss is along the way before: a turn with the same speed loses little.
    """

    def velocity(from_s: Array) -> tuple[Array, Array]:
        parts = (
            np.interp(from_s + DRIFT_S, time, xy) - np.interp(from_s, time, xy)
            for xy in (east, north)
        )
        east_m_s, north_m_s = (part / DRIFT_S for part in parts)
        return east_m_s, north_m_s

    before = velocity(grid - BEFORE_S - DRIFT_S)
    after = velocity(grid + AFTER_S)
    speed = np.hypot(*before)
    along = before[0] * after[0] + before[1] * after[1]
    kept = np.divide(along, speed, out=np.zeros_like(speed), where=speed > 0)
    return speed, speed - kept


def _height_weight(signs: ContactSigns) -> Array:
    """Weigh the height: normal about 0 against the same noise on the law of low passes.

    The density of the gamma law u exp(−u/a) / a² seen with a normal error s is
    exp(s²/2a² − h/a) (m Φ(m/s) + s φ(m/s)) / a², with m = h − s²/a.
    """
    sigma = np.hypot(signs.sigma_m, SINK_M)
    height = np.maximum(signs.height_m, 0.0)  # under the ground is no more than on it
    touch = -0.5 * (height / sigma) ** 2 - np.log(sigma * np.sqrt(2.0 * np.pi))
    mean = height - sigma**2 / PASS_M
    inner = mean * scipy.special.ndtr(mean / sigma)
    inner += sigma / np.sqrt(2.0 * np.pi) * np.exp(-0.5 * (mean / sigma) ** 2)
    passing = 0.5 * (sigma / PASS_M) ** 2 - height / PASS_M - 2.0 * np.log(PASS_M)
    return np.asarray(touch - passing - np.log(np.maximum(inner, 1e-300)))


def _lowest_weight(signs: ContactSigns) -> Array:
    """Weigh by how much lower the basket was nearby than the ground may fall until there.

    Each fix bounds the ground from above, here by no more than that and the rise between.
    """
    step = np.diff(signs.time_s, prepend=signs.time_s[0]) * signs.drift_m_s
    known = np.where(np.isfinite(signs.sigma_m), signs.sigma_m, 0.0)
    rise = np.cumsum(step) * float(known.max()) / UNEVEN_M
    high = np.where(np.isfinite(signs.height_m), signs.height_m, np.inf)
    before = np.minimum.accumulate(high - rise) + rise
    after = np.minimum.accumulate((high + rise)[::-1])[::-1] - rise
    above = np.where(np.isfinite(high), high, 0.0) - np.minimum(before, after)
    both = np.hypot(SINK_M, SINK_M)  # either may seem lower or higher than it is
    return np.asarray(
        scipy.special.log_ndtr(-above / both) - scipy.special.log_ndtr(0.0)
    )


def _drift_weight(signs: ContactSigns) -> Array:
    speed, noise = signs.drift_m_s, signs.noise_m_s
    hard, soft = TOUCH_LOSS * speed, CLEAN_LOSS * speed
    # A loss beyond the middle of one of the laws is no less a touch, or no less clean.
    most, least = np.minimum(signs.loss_m_s, hard), np.maximum(signs.loss_m_s, soft)
    touch = _log_normal(most, hard, np.hypot(TOUCH_SPREAD * speed, noise))
    clean = _log_normal(least, soft, np.hypot(CLEAN_SPREAD * speed, noise))
    return np.nan_to_num(np.clip(touch - clean, -MOST_DRIFT, MOST_DRIFT), nan=0.0)


def _stop_weight(signs: ContactSigns) -> Array:
    told = np.isfinite(signs.stop_m_s)
    stop = np.where(told, signs.stop_m_s, 0.0)
    soft = _log_normal(stop, SOFT_STOP_M_S, SOFT_STOP_SPREAD)
    hard = _log_normal(stop, HARD_STOP_M_S, HARD_STOP_SPREAD)
    weight = np.logaddexp(np.log1p(-HARD_SHARE), np.log(HARD_SHARE) + hard - soft)
    return np.where(told, np.clip(weight, -MOST_STOP, MOST_STOP), 0.0)


def _log_normal(value: Array, mean: Array | float, sigma: Array | float) -> Array:
    return np.asarray(-0.5 * ((value - mean) / sigma) ** 2 - np.log(sigma))


def _landing(
    flown: Flown, about: Circumstances, holds: Mask, height: Array
) -> Finding | None:
    """Return the finding of a landing where and while the rule holds."""
    at = flown.landing
    assert at is not None
    if not holds[at]:
        return None
    time = float(flown.time_s[at])
    measure = FindingNumbers(
        kind=GROUND_CONTACT,
        verdict=Verdict.CERTAIN if flown.anchored else Verdict.POSSIBLE,
        probability=LANDED,
        from_s=time,
        to_s=float(flown.time_s[-1]),
        measured=float(np.maximum(height[at], 0.0)),
        limit=0.0,
        excess=0.0,
        sigma=float(flown.height_sigma_m[at]),
        at=at,
        rule=about.book.cite("contact.within"),
        says=fact("seen-landing", place=_where(about.book.contact.within)),
        details={"landing": "yes"},
    )
    return finding_of(measure, about.book.contact.penalty, flown, about)


def _where(within: str | None) -> Value:
    """Return where the rule holds, as the sentence on a landing names it."""
    if within is None:
        return term("a-place")
    return term("the-scoring-area") if within == SCORING_AREA else place(within)


def _finding(touch: Touch, flown: Flown, about: Circumstances) -> Finding:
    known = flown.anchored and touch.sigma_m <= KNOWN_M
    sure = known and touch.probability >= CERTAIN_FROM
    at = int(np.searchsorted(flown.time_s, touch.at_s))
    measure = FindingNumbers(
        kind=GROUND_CONTACT,
        verdict=Verdict.CERTAIN if sure else Verdict.POSSIBLE,
        probability=touch.probability,
        from_s=touch.at_s,
        to_s=touch.at_s + BOTTOM_S,
        measured=max(touch.height_m, 0.0),
        limit=0.0,
        excess=0.0,
        sigma=touch.sigma_m,
        at=min(at, len(flown) - 1),
        rule=about.book.cite("contact.within"),
        says=_says(touch),
        details=_details(touch),
    )
    return finding_of(measure, about.book.contact.penalty, flown, about)


def _details(touch: Touch) -> dict[str, float | str]:
    signs = {"drift_lost_share": touch.lost_share, "vertical_stop_m_s": touch.stop_m_s}
    return {name: value for name, value in signs.items() if np.isfinite(value)}


def _says(touch: Touch) -> Fact:
    signs = [
        fact(
            "contact-height",
            height=height_value(max(touch.height_m, 0.0)),
            give_or_take=height_value(touch.sigma_m),
        )
    ]
    if np.isfinite(touch.lost_share):
        percent = round(100.0 * float(np.clip(touch.lost_share, 0.0, 1.0)))
        signs.append(fact("contact-drift", percent=number(percent)))
    if np.isfinite(touch.stop_m_s):
        change, within = speed(abs(touch.stop_m_s)), span(2.0 * STOP_S)
        signs.append(fact("contact-stop", change=change, within=within))
    return fact(
        "seen-contact",
        sure=chance(touch.probability),
        signs=several(map(inner, signs)),
    )
