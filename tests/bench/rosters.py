"""Pilots entered twice under names spelt anew: how many are told, and how many others.

A roster of invented names, first names and surnames drawn from small lists so that many
share one; some pilots stand in it once more, under another number and as somebody else
would write them (common practice, no source).

    python -m tests.bench.rosters            # rosters of 10, 100, 275 pilots
"""

import sys
from random import Random

from scorer.event import matters
from scorer.event.model import Pilot
from scorer.scoring.check_in import of_roster

SYLLABLES = "ba be bo da de do fa ga ka ke la le lo ma me mi na ne no ra ro sa so ta te"
ENDINGS = ("ström", "berg", "ez", "ski", "mann", "sson", "é", "ovic", "lund", "ák")
HEAD = f"{'entered again':<24} {'pairs':>6} {'told %':>7}"


def names_of(count: int, rng: Random) -> list[str]:
    """Return so many names, some first names and surnames shared."""
    parts = SYLLABLES.split()
    firsts = ["".join(rng.sample(parts, 3)).capitalize() for _ in range(count)]
    lasts = ["".join(rng.sample(parts, 2)).capitalize() for _ in range(count)]
    found: dict[str, None] = {}
    while len(found) < count:
        last = rng.choice(lasts) + rng.choice(ENDINGS)
        found[f"{rng.choice(firsts)} {last}"] = None
    return list(found)


def _left_out(word: str, rng: Random) -> str:
    at = rng.randrange(1, len(word))
    return word[:at] + word[at + 1 :]


def _exchanged(word: str, rng: Random) -> str:
    at = rng.randrange(1, len(word) - 1)
    return word[:at] + word[at + 1] + word[at] + word[at + 2 :]


ANEW = {
    "letter left out": lambda f, s, rng: f"{f} {_left_out(s, rng)}",
    "letters exchanged": lambda f, s, rng: f"{_exchanged(f, rng)} {s}",
    "letter wrong": lambda f, s, _: f"x{f[1:].lower()} {s}",
    "both words misspelt": lambda f, s, rng: f"{_left_out(f, rng)} {_left_out(s, rng)}",
    "without accents": lambda f, s, _: f"{f} {s}".translate(_PLAIN),
    "capitals, turned": lambda f, s, _: f"{s.upper()}, {f}",
    "middle name": lambda f, s, _: f"{f} Maria {s}",
    "initial": lambda f, s, _: f"{f[0]}. {s}",
    "initial, turned": lambda f, s, _: f"{s}, {f[0]}.",
    "run together": lambda f, s, _: f"{f}{s.lower()} Maria",
    "parted": lambda f, s, _: f"{f[:3]} {f[3:]} {s}",
}
_PLAIN = str.maketrans("öéá", "oea")


def tried(count: int, seed: int) -> tuple[dict[str, tuple[int, int]], int, int]:
    """Return pairs and those told by how they are spelt; false pairs, and pilots."""
    rng = Random(seed)
    names = names_of(count, rng)
    again = rng.sample(names, max(1, count // 6))
    ways = [list(ANEW)[k % len(ANEW)] for k in range(seed, seed + len(again))]
    pilots = [Pilot(number=n, name=name) for n, name in enumerate(names, 1)]
    twins = {}
    for number, (name, way) in enumerate(zip(again, ways, strict=True), count + 1):
        first, last = name.split()
        spelt = ANEW[way](first, last, rng)
        if way == "run together":
            pilots[names.index(name)] = Pilot(
                number=names.index(name) + 1, name=f"{first} {last} Maria"
            )
        pilots.append(Pilot(number=number, name=spelt))
        twins[names.index(name) + 1, number] = way
    told = {
        pair
        for m in of_roster(pilots)
        if m.kind in {matters.SAME_PERSON, matters.ALIKE_NAMES}
        for pair in ((a, b) for a in m.pilots for b in m.pilots if a < b)
    }
    found = {
        way: (
            sum(w == way for w in twins.values()),
            sum(w == way and pair in told for pair, w in twins.items()),
        )
        for way in ANEW
    }
    return found, len(told - twins.keys()), len(pilots)


def table(count: int, seeds: int) -> tuple[list[str], int, int, int]:
    """Return the lines of a table, pairs, those told, and false ones a hundred pilots."""
    total = {way: [0, 0] for way in ANEW}
    false = people = 0
    for seed in range(seeds):
        found, wrong, size = tried(count, seed)
        for way, (pairs, told) in found.items():
            total[way][0] += pairs
            total[way][1] += told
        false, people = false + wrong, people + size
    lines = [
        f"{way:<24} {pairs:>6} {100 * told / max(pairs, 1):>7.1f}"
        for way, (pairs, told) in total.items()
    ]
    lines.append(f"{'others told':<24} {false:>6} in {people} pilots")
    pairs, told = (sum(one[k] for one in total.values()) for k in (0, 1))
    return [HEAD, *lines], pairs, told, false


def main() -> None:
    """Print the tables."""
    for count, seeds in ((10, 60), (100, 8), (275, 3)):
        lines, *_ = table(count, seeds)
        sys.stdout.write(f"\n{seeds} rosters of {count} pilots\n" + "\n".join(lines))
        sys.stdout.write("\n")


if __name__ == "__main__":
    main()
