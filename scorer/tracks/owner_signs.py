"""The signs by which logs tell whose they are, and how much each weighs.

Weights are natural logarithms of likelihood ratios: how much more often a log of this
pilot shows the sign than a log of somebody else does.  They are our choice, from common
practice: names and registrations are typed once and seldom wrong, loggers are lent,
competition numbers stay in devices from the last event, bare numbers are counters as
often as not.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from scorer.tracks import file_signs as files
from scorer.tracks import header_signs as inside
from scorer.tracks.file_signs import LEAST_CODE
from scorer.tracks.heads import LogHead
from scorer.tracks.names import code, one_off
from scorer.tracks.roster import Roster, SignReading


@dataclass(frozen=True, slots=True)
class IdentitySign:
    """One sign: how it is read, and what it weighs."""

    name: str
    """As in the catalogue: `term-NAME`."""
    read: "Callable[[LogHead, Roster], SignReading | None]"
    """None = the log does not show this sign."""
    fits: float
    """For each pilot it fits."""
    other: float
    """For each pilot it does not fit, where it fits another one."""
    nobody: float = 0.0
    """For each pilot whose entry it contradicts, where it fits nobody."""


SIGNS = (
    IdentitySign(
        "sign-pilot-name", inside.whole_name, fits=8.0, other=-6.0, nobody=-4.0
    ),
    IdentitySign("sign-name-alike", inside.alike_name, fits=5.0, other=-3.0),
    IdentitySign("sign-name-part", inside.part_of_name, fits=2.5, other=-2.0),
    IdentitySign(
        "sign-registration",
        inside.registration,
        fits=6.0,
        other=-4.0,
        nobody=-1.0,
    ),
    IdentitySign("sign-logger", inside.logger, fits=6.0, other=-4.0, nobody=-0.5),
    IdentitySign("sign-competition-id", inside.competition_id, fits=2.5, other=-1.5),
    IdentitySign("sign-file-name", files.file_name, fits=8.0, other=-6.0),
    IdentitySign("sign-file-name-part", files.part_in_file_name, fits=2.5, other=-2.0),
    IdentitySign(
        "sign-file-registration",
        files.registration_in_file_name,
        fits=6.0,
        other=-4.0,
    ),
    IdentitySign("sign-file-logger", files.logger_in_file_name, fits=6.0, other=-4.0),
    IdentitySign("sign-file-called", files.called, fits=6.0, other=-5.0, nobody=-3.0),
    IdentitySign("sign-file-number-name", files.number_and_name, fits=6.0, other=-4.0),
    IdentitySign("sign-folder-number", files.folder_number, fits=2.5, other=-2.5),
    IdentitySign("sign-file-number", files.file_number, fits=2.5, other=-2.5),
)
"""All signs, the most telling first where they are told."""


# Where no sign fits: what is nearly somebody's.

MOST_NEAR = 3
"""More pilots whose codes are near are no proposal."""


class NearEntry(NamedTuple):
    """Whose entry on the roster is one sign off what a log says."""

    pilot: int
    sign: str
    written: str


def near_ones(head: LogHead, roster: Roster) -> tuple[NearEntry, ...]:
    """Return whose serial or registration a log gives but for one letter or digit.

    It decides nothing: people are asked.  Letters and digits are compared, one of which
    may be another one, lacking, too many or exchanged with the next.
    """
    found: dict[int, NearEntry] = {}
    for sign, key, table in (
        ("sign-logger", "logger", roster.by_logger),
        ("sign-registration", "registration", roster.by_registration),
        ("sign-registration", "competition_id", roster.by_registration),
    ):
        written = head.headers.get(key, "")
        for text in filter(None, (code(written), code(written)[3:])):
            for known, numbers in table.items():
                if len(known) >= LEAST_CODE and one_off(text, known):
                    for number in numbers:
                        found.setdefault(number, NearEntry(number, sign, written))
    return tuple(found[n] for n in sorted(found)) if len(found) <= MOST_NEAR else ()
