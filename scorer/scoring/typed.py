"""An entry of a mark beside its pilot's track while it is typed.

It is judged as scoring will judge it: by the reach of a throw and by how markers of this
flight fall, as its marks have taught so far.
"""

from dataclasses import dataclass

from scorer.checks.mark_doubts import Weighing
from scorer.checks.mark_told import unlike
from scorer.checks.mark_track import Aloft, Course, Doubt, Marks
from scorer.checks.throws import Throw, own_signs
from scorer.event.model import Event, Flight, Keying
from scorer.facts import Fact
from scorer.geodesy.site import Site
from scorer.scoring.evidence import placed_alone
from scorer.scoring.keyings import Agreed, Keyed
from scorer.scoring.meant import GuessBasis, doubted, guesses_of


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TypedBeside:
    """What an entry is held against."""

    site: Site
    aloft: Aloft
    course: Course
    throw: Throw | None
    """None = too few marks have taught how markers fall."""


def unlike_track(
    event: Event, flight: Flight, keying: Keying, beside: TypedBeside
) -> tuple[Fact, Fact | None] | None:
    """Return how an entry does not fit its pilot's track, and what would fit.

    None = it fits, or nobody can tell.
    """
    agreed = Agreed(keying=keying, mark=None, state=Keyed.ONCE, keyings=(keying,))
    hand = GuessBasis(
        event=event,
        flight=flight,
        site=beside.site,
        agreed={keying.task: {keying.pilot: {keying.mark: agreed}}},
        courses={keying.pilot: lambda: beside.course},
    )
    marks = _alone(hand, [keying], beside)
    if not marks.marks:
        return None
    doubt = _doubt(marks, hand, beside.throw)
    meant = None if doubt is None else doubt.meant
    if not marks.fits(0, keying.pilot):
        if marks.paused(0, keying.pilot):
            return None
        meant = meant or _fitting(hand, agreed, beside)
    elif doubt is None:
        return None
    return unlike(marks, 0, doubt), meant


def _alone(hand: GuessBasis, keyings: list[Keying], beside: TypedBeside) -> Marks:
    known = placed_alone(hand.event, hand.flight, hand.site, keyings)
    placed = [one for one in known if one is not None]
    near = beside.aloft.approaches(beside.course.near(placed))
    books = (hand.event.book_of(task) for task in hand.flight.tasks)
    throw_m = max(book.tracks.throw_m for book in books)
    tracks = {beside.aloft.pilot: near}
    return Marks(marks=placed, tracks=tracks, throw_m=throw_m, flight=hand.flight.id)


def _doubt(marks: Marks, hand: GuessBasis, throw: Throw | None) -> Doubt | None:
    if throw is None:
        return None
    own = own_signs(marks.marks, marks.tracks)
    return next(iter(doubted(Weighing(marks, throw, own, frozenset()), hand)), None)


def _fitting(hand: GuessBasis, agreed: Agreed, beside: TypedBeside) -> Fact | None:
    """Return the commonest slip without which the track would reach the mark."""
    for says, _, keying in sorted(guesses_of(hand, agreed), key=lambda one: -one[1]):
        marks = _alone(hand, [keying], beside)
        if marks.marks and marks.fits(0, keying.pilot):
            return says
    return None
